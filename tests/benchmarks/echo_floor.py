"""The least a message can cost: take it, commit its text, send it back. Nothing of the trade.

``python -m tests.benchmarks.echo_floor [--messages 500] [--blocks 4] [--folder DIR]
[--against MODULE:CALLABLE ...]`` prints median and 90th percentile milliseconds for each message.
``--against`` adds a SystemUnderTest (see interleaved.py) to the same run.
"""

import argparse
import asyncio
import contextlib
import importlib
import sqlite3
import tempfile
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

from telegram import Update
from telegram.ext import ExtBot

from tests.benchmarks.interleaved import Course, SystemUnderTest, report, timed

KINDS = ["message", "edited_message", "callback_query"]


@asynccontextmanager
async def bare_echo(base_url: str, token: str, *, folder: Path) -> AsyncIterator[None]:
    """A bare echo on python-telegram-bot, default connection pools, no rate limiter."""
    bot: ExtBot[None] = ExtBot(token, f"{base_url}/bot", f"{base_url}/file/bot")
    async with bot:
        database = _database(folder / "echo.db")
        task = asyncio.create_task(_echo(bot, database))
        try:
            yield
        finally:
            task.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await task
            database.close()


async def _echo(bot: ExtBot[None], database: sqlite3.Connection) -> None:
    offset = 0
    while True:
        updates = await bot.get_updates(offset, timeout=10, allowed_updates=KINDS)
        for update in updates:
            await _answer(bot, database, update)
            offset = update.update_id + 1


async def _answer(bot: ExtBot[None], database: sqlite3.Connection, update: Update) -> None:
    message = update.message
    if message is None or message.text is None:
        return
    database.execute("BEGIN IMMEDIATE")
    database.execute("INSERT OR IGNORE INTO said VALUES (?, ?)", (update.update_id, message.text))
    database.execute("COMMIT")
    await bot.send_message(message.chat_id, message.text)


def _database(path: Path) -> sqlite3.Connection:
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("PRAGMA journal_mode = WAL")
    database.execute("PRAGMA synchronous = FULL")
    database.execute("CREATE TABLE IF NOT EXISTS said (update_id INTEGER PRIMARY KEY, text TEXT)")
    return database


def _named(place: str) -> SystemUnderTest:
    module, _, name = place.partition(":")
    system: SystemUnderTest = getattr(importlib.import_module(module), name)
    return system


def main() -> None:
    """Time the echo, and whatever it is to be compared with, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=500, help="for each system")
    parser.add_argument("--blocks", type=int, default=4, help="the systems take turns this often")
    parser.add_argument("--folder", type=Path, help="where the database is; default: temporary")
    parser.add_argument("--against", action="append", default=[], metavar="MODULE:CALLABLE")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        echo = partial(bare_echo, folder=asked.folder or Path(temporary))
        systems: dict[str, SystemUnderTest] = {"bare echo": echo}
        systems |= {place: _named(place) for place in asked.against}
        course = Course(messages=asked.messages, blocks=asked.blocks)
        print(report(asyncio.run(timed(systems, course))))


if __name__ == "__main__":
    main()
