"""Asking for updates: our own getUpdates loop, which never gives up.

An update is given again until a higher offset is asked for, so an offset is asked for only after
what lies below it is committed. Ids may begin anew, lower, after a week without updates: so once an
empty answer shows that the offset was taken, the next calls are made without one. An update that
comes again because of that is known by its id and left alone.
"""

from __future__ import annotations

import asyncio
import json
import logging
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

from telegram.error import Conflict, InvalidToken, NetworkError, TelegramError, TimedOut
from telegram.request import HTTPXRequest

from bot.telegram.delivery import Patience
from bot.telegram.updates import KINDS
from bot.wording.telegram import BACK, CONFLICT, REFUSED, UNREACHABLE

_LOG = logging.getLogger("tubtally")
_MOST = 100
_ANSWER = re.compile(r'\s*\{\s*"ok"\s*:\s*true\s*,\s*"result"\s*:\s*\[(.*)\]\s*\}\s*', re.DOTALL)
_ID = re.compile(r'"update_id"\s*:\s*(\d+)')


@dataclass(frozen=True, slots=True)
class Garbled:
    """An answer that is no list of updates: the text inside the list's brackets, if it has any."""

    inner: str | None


class UpdatesRequest(HTTPXRequest):
    """The request for getUpdates: its result is the updates as they came, or Garbled."""

    @staticmethod
    def parse_json_payload(payload: bytes) -> dict[str, Any]:
        """The answer as a dict; nothing of it is logged, and nothing in it is given up."""
        text = payload.decode("utf-8", "replace")
        try:
            answer = json.loads(text)
        except (ValueError, RecursionError):
            answer = None
        if isinstance(answer, dict) and ("result" not in answer or _is_batch(answer["result"])):
            return answer
        match = _ANSWER.fullmatch(text)
        return {"result": Garbled(match[1] if match is not None else None)}


def _is_batch(result: object) -> bool:
    return isinstance(result, list) and all(
        isinstance(update, dict) and type(update.get("update_id")) is int for update in result
    )


@dataclass(slots=True)
class Reports:
    """Says what is wrong once, and once that it is over."""

    now: str | None = None

    def trouble(self, sentence: str, *details: object) -> None:
        """Something is wrong; said where it is not what was said last."""
        if self.now != sentence:
            self.now = sentence
            _LOG.warning(sentence, *details)

    def over(self, sentence: str) -> None:
        """All is well, said where it was not."""
        if self.now is not None:
            self.now = None
            _LOG.warning(sentence)


@dataclass(slots=True)
class Intake:
    """Where the next updates come from. `base_url` holds the token."""

    request: UpdatesRequest
    base_url: str
    patience: Patience
    poll_seconds: int = 30
    reports: Reports = field(default_factory=Reports)
    _offset: int | None = None
    _limit: int = _MOST
    _failures: int = 0

    async def next_batch(self) -> Sequence[dict[str, Any]] | tuple[int, str]:
        """The next updates, perhaps none; or the id and the text of one that is not JSON.

        They come again until `committed` is told of them. Waits for as long as the server is in
        trouble. Raises InvalidToken.
        """
        while True:
            try:
                found = await self._ask()
            except InvalidToken:
                raise
            except Conflict:
                self.reports.trouble(CONFLICT)
            except TimedOut as trouble:
                self.reports.trouble(UNREACHABLE, type(trouble).__name__)
            except TelegramError as trouble:
                is_network = type(trouble) is NetworkError
                self.reports.trouble(UNREACHABLE if is_network else REFUSED, type(trouble).__name__)
            else:
                batch = self._one_garbled(found) if isinstance(found, Garbled) else found
                if batch is not None:
                    self._well(is_empty=not batch)
                    return batch
                self.reports.trouble(REFUSED, "an answer that cannot be read")
            self._failures += 1
            await asyncio.sleep(self.patience.after(self._failures))

    async def _ask(self) -> list[dict[str, Any]] | Garbled:
        asked: dict[str, object] = {
            "timeout": self.poll_seconds,
            "limit": self._limit,
            "allowed_updates": json.dumps(KINDS),
        }
        if self._offset is not None:
            asked["offset"] = self._offset
        url = f"{self.base_url}/getUpdates?{urlencode(asked)}"
        result: Any = await self.request.post(url, read_timeout=self.poll_seconds + 15)
        found: list[dict[str, Any]] | Garbled = result  # as UpdatesRequest makes it
        return found

    def committed(self, highest_id: int) -> None:
        """Everything up to this id is in the database: the platform may forget it."""
        self._offset = highest_id + 1

    def _well(self, *, is_empty: bool) -> None:
        self._limit, self._failures = _MOST, 0
        if is_empty:
            self._offset = None
        self.reports.over(BACK)

    def _one_garbled(self, found: Garbled) -> tuple[int, str] | None:
        """The update that makes an answer unreadable, once it was asked for alone."""
        was_alone, self._limit = self._limit == 1, 1
        if not was_alone or found.inner is None:
            return None
        ids = _ID.findall(found.inner)
        update_id = int(ids[0]) if ids else self._offset
        if update_id is None:
            return None
        return update_id, found.inner


def clock() -> datetime:
    """Now."""
    return datetime.now(UTC)
