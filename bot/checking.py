"""`check`: settings, database, time zones and token, each with what is wrong and how to mend it."""

from __future__ import annotations

import httpx
from tzlocal import get_localzone_name

from bot.settings import Settings
from bot.wording.commands import database_fault
from storage.database import DatabaseFault, open_database

_PATIENCE = 5.0  # seconds to wait for the platform


def check(settings: Settings) -> tuple[list[str], bool]:
    """Lines to print, and whether all is well."""
    parts = (_database(settings), _zone(), _token(settings))
    return [line for line, _ in parts], all(well for _, well in parts)


def _database(settings: Settings) -> tuple[str, bool]:
    try:
        database = open_database(settings.database)
    except DatabaseFault as fault:
        return f"database: {database_fault(fault)}", False
    with database.reading() as work:
        names = [class_.name for class_ in work.register.classes()]
    database.close()
    held = ", ".join(names) if names else "no class yet; load one: python -m bot load FOLDER"
    return f"database: fine, {settings.shown_database} ({held})", True


def _zone() -> tuple[str, bool]:
    name = get_localzone_name()
    if not name:
        return "time zone: unknown on this machine; name one in class.csv", False
    return f"time zone: {name} on this machine; a class's own counts", True


def _token(settings: Settings) -> tuple[str, bool]:
    if settings.token is None:
        return "token: none, so the bot runs as a practice chat; set TUBTALLY_TOKEN", True
    try:
        answer = httpx.get(f"{settings.api_url}/bot{settings.token}/getMe", timeout=_PATIENCE)
        told = answer.json()
    except (httpx.HTTPError, httpx.InvalidURL, ValueError):
        return (
            f"token: {settings.api_url} cannot be reached; try again, or check the network",
            False,
        )
    if not told.get("ok"):
        return "token: refused by the platform; copy it again from where it was given out", False
    return f"token: fine, the bot is @{told['result']['username']}", True
