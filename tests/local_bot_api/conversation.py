"""A timed talk: the next text is sent at the moment the reply to the one before arrives."""

from __future__ import annotations

import asyncio
import time
from typing import TYPE_CHECKING

from tests.local_bot_api.phones import Phone

if TYPE_CHECKING:
    from tests.local_bot_api.server import Call, LocalBotApi


class Conversation:
    """``count`` texts, one at a time; a bot must call ``reply_method`` once for each.

    Driven inside the server, so that no control traffic falls into the time measured.
    """

    def __init__(
        self,
        api: LocalBotApi,
        phone: Phone,
        *,
        count: int,
        texts: list[str],
        reply_method: str = "sendMessage",
        seconds: float = 30.0,
    ) -> None:
        self._api, self._phone = api, phone
        self._count, self._texts = count, texts
        self._reply_method = reply_method
        self._seconds = seconds
        self._took: list[float] = []
        self._sent_at = 0.0
        self._over = asyncio.Event()

    async def take_place(self) -> list[float]:
        """Seconds from each text to its reply; TimeoutError after ``seconds`` without the last."""
        self._api.on_call = self._note
        try:
            self._say_next()
            async with asyncio.timeout(self._seconds):
                await self._over.wait()
        finally:
            self._api.on_call = None
        return self._took

    def _say_next(self) -> None:
        text = self._texts[len(self._took) % len(self._texts)]
        self._sent_at = time.perf_counter()
        self._phone.text(text)

    def _note(self, call: Call) -> None:
        if call.method != self._reply_method or call.status != 200:
            return
        self._took.append(time.perf_counter() - self._sent_at)
        if len(self._took) < self._count:
            self._say_next()
        else:
            self._over.set()
