"""Files that came with a message: fetched before the message is handled, outside of any unit of
work, while other messages go on.

The update is kept before, so that a crash loses nothing: it still waits at the next start. Trouble
on the way is tried again a few times; then the message is handled without its file, and answered
so.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy.exc import SQLAlchemyError
from telegram.error import BadRequest, Forbidden, InvalidToken, TelegramError
from telegram.ext import ExtBot

from bot.folder.sent_calendar import LARGEST, calendar_at
from bot.requests import SentFile
from bot.telegram.delivery import Patience
from bot.telegram.handling import Handling
from bot.telegram.updates import Attached
from bot.wording.telegram import FILE_LOST, FILE_TROUBLE

_LOG = logging.getLogger("tubtally")
_MOST_TRIES = 5
_MOST_SECONDS = 60.0  # for one try
_AT_ONCE = 2  # files in memory


class Fetching:
    """One task for each update whose file is under way."""

    def __init__(self, bot: ExtBot[Any], patience: Patience) -> None:
        self._bot = bot
        self._patience = patience
        self._tasks: dict[int, asyncio.Task[None]] = {}
        self._room = asyncio.Semaphore(_AT_ONCE)
        self._reading = asyncio.Lock()  # the reader knows the time zones of one file at a time

    def has(self, update_id: int) -> bool:
        """Whether the file of an update is under way."""
        return update_id in self._tasks

    def begin(
        self,
        handling: Handling,
        file: Attached,
        update_id: int,
        update: Mapping[str, Any] | str,
        received: datetime,
    ) -> None:
        """Fetch the file of an update that was kept, then handle it."""
        if self.has(update_id):
            return
        work = self._fetch_and_handle(handling, file, update_id, update, received)
        task = self._tasks[update_id] = asyncio.create_task(work)
        task.add_done_callback(lambda _: self._tasks.pop(update_id, None))

    async def close(self) -> None:
        """Stop; what is under way waits for the next start."""
        tasks = list(self._tasks.values())
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)

    async def _fetch_and_handle(
        self,
        handling: Handling,
        file: Attached,
        update_id: int,
        update: Mapping[str, Any] | str,
        received: datetime,
    ) -> None:
        async with self._room:
            sent = await self._fetch(file, update_id)
            # In a thread, so that it takes no time of the unit of work, nor of other messages;
            # what cannot be read is seen to by `handle`.
            async with self._reading:
                with contextlib.suppress(Exception):
                    await asyncio.to_thread(calendar_at, sent.content, file.at)
            failures = 0
            while True:
                try:
                    handling.handle(update_id, update, received, file=sent)
                    return
                except SQLAlchemyError:
                    failures += 1
                    await asyncio.sleep(self._patience.after(failures))

    async def _fetch(self, file: Attached, update_id: int) -> SentFile:
        """The file, or why it cannot be had."""
        for tried in range(1, _MOST_TRIES + 1):
            try:
                async with asyncio.timeout(_MOST_SECONDS):
                    return await self._download(file)
            except (BadRequest, Forbidden, InvalidToken) as refusal:
                _LOG.warning(FILE_LOST, update_id, type(refusal).__name__)
                is_big = "too big" in refusal.message.lower()
                return SentFile(file.name, trouble="too_big" if is_big else "lost")
            except (TelegramError, TimeoutError) as trouble:
                if tried == 1:
                    _LOG.warning(FILE_TROUBLE, update_id, type(trouble).__name__)
                if tried < _MOST_TRIES:
                    await asyncio.sleep(self._patience.after(tried))
            except Exception as fault:
                _LOG.error(FILE_LOST, update_id, type(fault).__name__)
                return SentFile(file.name, trouble="lost")
        _LOG.warning(FILE_LOST, update_id, "tried in vain")
        return SentFile(file.name, trouble="lost")

    async def _download(self, file: Attached) -> SentFile:
        found = await self._bot.get_file(file.file_id)
        if (found.file_size or 0) > LARGEST:
            return SentFile(file.name, trouble="too_big")
        return SentFile(file.name, bytes(await found.download_as_bytearray()))
