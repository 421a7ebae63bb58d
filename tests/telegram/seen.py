"""What a test looks at: the texts in a chat, the entries and letters in the database."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select

from storage.database import Database
from storage.tables import entries, outbox, updates
from tests.local_bot_api import BOT, LocalBotApi
from tests.telegram.rooms import ROBIN


def replies(api: LocalBotApi, chat: int = ROBIN) -> list[str]:
    """What the bot has said in a chat, oldest first."""
    return [m["text"] for m in api.visible(chat) if m["from"] == BOT]


async def until_replies(api: LocalBotApi, count: int, chat: int = ROBIN) -> list[str]:
    """Wait for so many replies in a chat and give them."""
    await api.until(lambda: len(replies(api, chat)) >= count)
    return replies(api, chat)


def labels(api: LocalBotApi, chat: int = ROBIN) -> list[str]:
    """The buttons below the newest reply."""
    rows = api.visible(chat)[-1].get("reply_markup", {}).get("inline_keyboard", [])
    return [button["text"] for row in rows for button in row]


def entry_rows(database: Database) -> list[dict[str, Any]]:
    """The entries that people made, oldest first."""
    query = select(entries).where(entries.c.kind != "load").order_by(entries.c.id)
    return _rows(database, query)


def update_rows(database: Database) -> list[dict[str, Any]]:
    """Every update known."""
    return _rows(database, select(updates).order_by(updates.c.id))


def letter_rows(database: Database) -> list[dict[str, Any]]:
    """Every letter written."""
    return _rows(database, select(outbox).order_by(outbox.c.id))


def visits(database: Database) -> set[tuple[str, str, str]]:
    """The visits that stand and were texted: student, bin, day."""
    with database.reading() as work:
        book = work.book(1)
        roster, told = book.roster(), book.entries({v.entry_id for v in book.visits()})
        return {
            (
                roster.student[v.turn.student_id].name,
                roster.bin_of(roster.stint[v.turn.stint_id]).name,
                v.turn.day.isoformat(),
            )
            for v in book.visits()
            if told[v.entry_id].kind != "load"
        }


def _rows(database: Database, query: Any) -> list[dict[str, Any]]:
    with database.reading() as work:
        return [dict(row._mapping) for row in work.connection.execute(query)]
