"""The outbox on its way: in order within a chat, chats apart, again until the platform has decided.

A letter is written before it is sent and marked after, so a crash in between sends it twice rather
than never: the last one of a chat, since marks are written before the next one goes out there. With
no next one they ride along with the next unit of work, or are written a moment later.
"""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections import deque
from collections.abc import Coroutine
from dataclasses import dataclass
from typing import Any

from sqlalchemy.exc import SQLAlchemyError
from telegram.error import BadRequest, ChatMigrated, Forbidden, TelegramError
from telegram.ext import ExtBot

from bot.telegram.letters import fitted, keyboard
from bot.wording.telegram import SEND_FAILED, SEND_TROUBLE
from storage.database import Database
from storage.post import Letter, Mark

_LOG = logging.getLogger("tubtally")
_MARK_WITHIN = 0.05  # seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class Patience:
    """How long to wait after a failure, in seconds: twice as long each time, up to `most`."""

    first: float = 1.0
    most: float = 60.0

    def after(self, failures: int) -> float:
        """The wait after so many failures in a row."""
        return min(self.first * 2.0 ** min(failures - 1, 16), self.most)


PATIENT = Patience()


class Delivery:
    """Sends letters: one worker for each chat that has any."""

    def __init__(self, bot: ExtBot[Any], database: Database, patience: Patience) -> None:
        self._bot = bot
        self._database = database
        self._patience = patience
        self._queues: dict[int, deque[Letter]] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._marks: list[Mark] = []
        self._timer: asyncio.TimerHandle | None = None
        self._stopping = asyncio.Event()

    def post(self, letter: Letter) -> None:
        """Send a committed letter after those that wait for the same chat."""
        queue = self._queues.get(letter.chat)
        if queue is not None:
            queue.append(letter)
            return
        self._queues[letter.chat] = deque([letter])
        self._start(self._serve(letter.chat))

    def answer_press(self, query: str, notice: str | None) -> None:
        """End the waiting a pressed button shows; one too old to be answered is let be."""
        self._start(self._answer(query, notice))

    def marks(self) -> tuple[Mark, ...]:
        """What became of letters and is not written down yet."""
        return tuple(self._marks)

    def marked(self, marks: tuple[Mark, ...]) -> None:
        """These have been committed."""
        del self._marks[: len(marks)]

    async def close(self, seconds: float = 5.0) -> None:
        """Finish what is being sent, and leave the rest in the outbox."""
        self._stopping.set()
        if self._tasks:
            _, late = await asyncio.wait(self._tasks, timeout=seconds)
            for task in late:
                task.cancel()
        self._write_marks()

    def _start(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _serve(self, chat: int) -> None:
        queue = self._queues[chat]
        while queue and not self._stopping.is_set():
            mark = await self._deliver(queue[0])
            if mark is None:
                break
            self._note(mark)
            queue.popleft()
            if queue:  # else a crash could send more than the last one again, and out of order
                self._write_marks()
        del self._queues[chat]

    async def _deliver(self, letter: Letter) -> Mark | None:
        """Send until the platform has taken or refused it; None where the bot stops first."""
        chat, failures = letter.chat, 0
        text, markup = fitted(letter.text), keyboard(letter.id, letter.labels)
        while True:
            try:
                sent = await self._bot.send_message(chat, text, reply_markup=markup)
            except ChatMigrated as moved:
                chat = moved.new_chat_id
            except (Forbidden, BadRequest) as refusal:
                _LOG.warning(SEND_FAILED, letter.id, type(refusal).__name__)
                return Mark(letter.id, "failed")
            except TelegramError as trouble:
                failures += 1
                if failures == 1:
                    _LOG.warning(SEND_TROUBLE, letter.id, type(trouble).__name__)
                if await self._stops_within(self._patience.after(failures)):
                    return None
            except Exception as fault:
                _LOG.error(SEND_FAILED, letter.id, type(fault).__name__)
                return Mark(letter.id, "failed")
            else:
                return Mark(letter.id, "sent", sent.message_id)

    async def _stops_within(self, seconds: float) -> bool:
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(self._stopping.wait(), seconds)
        return self._stopping.is_set()

    async def _answer(self, query: str, notice: str | None) -> None:
        with contextlib.suppress(TelegramError):
            await self._bot.answer_callback_query(query, notice)

    def _note(self, mark: Mark) -> None:
        self._marks.append(mark)
        if self._timer is None:
            loop = asyncio.get_running_loop()
            self._timer = loop.call_later(_MARK_WITHIN, self._write_marks)

    def _write_marks(self) -> None:
        """Write what no unit of work has taken along; on trouble it waits for the next."""
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
        marks = self.marks()
        if not marks:
            return
        try:
            with self._database.writing() as work:
                work.post.mark(marks)
        except SQLAlchemyError:
            return
        self.marked(marks)
