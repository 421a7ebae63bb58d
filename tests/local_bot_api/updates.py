"""The queue of updates, given again and again until a higher offset is asked for."""

import asyncio
import json
from bisect import bisect_left
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from tests.local_bot_api.refusals import Refused
from tests.local_bot_api.table import UPDATE_KINDS

CONFLICT = (
    "Conflict: terminated by other getUpdates request; "
    "make sure that only one bot instance is running"
)
ONLY_WHEN_ASKED = frozenset({"chat_member", "message_reaction", "message_reaction_count"})
MOST_SECONDS = 50
Answer = Callable[[bytes | Refused], None]


@dataclass(frozen=True, slots=True)
class Queued:
    """One update waiting to be confirmed, as the bytes that go out."""

    update_id: int
    body: bytes


class Waiting:
    """One long poll that has found nothing so far."""

    def __init__(self, offset: int, limit: int, answer: Answer) -> None:
        self.offset, self.limit, self.answer = offset, limit, answer
        self.timer: asyncio.TimerHandle | None = None

    def end(self, result: bytes | Refused | None) -> None:
        """Answer (None: the caller has gone) and let the timer go."""
        if self.timer is not None:
            self.timer.cancel()
        if result is not None:
            self.answer(result)


class UpdateQueue:
    """Updates in order of id; ``confirmed`` is the highest offset a poller has asked for."""

    def __init__(self, first_update_id: int) -> None:
        self.next_id = first_update_id
        self.confirmed = first_update_id
        self.conflicts = 0
        self.filtered: list[dict[str, Any]] = []
        self.on_confirmed: Callable[[], None] = lambda: None
        self._queue: list[Queued] = []
        self._given: dict[int, tuple[str, dict[str, Any]]] = {}
        self._allowed = UPDATE_KINDS - ONLY_WHEN_ASKED
        self._waiting: Waiting | None = None

    @property
    def pending(self) -> list[Queued]:
        """The updates not confirmed yet, oldest first."""
        return list(self._queue)

    def add(self, kind: str, content: dict[str, Any]) -> int | None:
        """Queue an update of a kind; None where the poller did not ask for that kind."""
        if kind not in self._allowed:
            self.filtered.append({kind: content})
            return None
        update_id = self.next_id
        self._given[update_id] = kind, content
        return self.add_raw(json.dumps({"update_id": update_id, kind: content}), update_id)

    def repeat(self, update_id: int) -> int | None:
        """Queue the content of an earlier update once more, under a new id."""
        return self.add(*self._given[update_id])

    def add_raw(self, body: str, update_id: int | None = None) -> int:
        """Queue any text as an update, whether or not it can be parsed."""
        self.next_id = max(self.next_id, update_id or 0)
        queued = Queued(self.next_id, body.encode())
        self.next_id += 1
        self._queue.append(queued)
        if self._waiting is not None:
            waiting, self._waiting = self._waiting, None
            waiting.end(_array(self._from(waiting.offset, waiting.limit)))
        return queued.update_id

    def poll(self, typed: dict[str, Any], answer: Answer) -> Waiting | None:
        """Carry out getUpdates; a Waiting is returned when the answer comes later."""
        if self._waiting is not None:
            other, self._waiting = self._waiting, None
            self.conflicts += 1
            other.end(Refused(409, CONFLICT))
        if "allowed_updates" in typed:
            asked = frozenset(typed["allowed_updates"])
            self._allowed = asked or UPDATE_KINDS - ONLY_WHEN_ASKED
        offset, limit = typed.get("offset", 0), typed.get("limit", 100)
        found = self._from(self._confirm(offset), limit)
        if found or not typed.get("timeout", 0):
            answer(_array(found))
            return None
        self._waiting = Waiting(self.confirmed, limit, answer)
        return self._waiting

    def give_up(self, waiting: Waiting, *, answered: bool) -> None:
        """End a long poll: its time is over (answered with nothing) or its caller has gone."""
        if self._waiting is waiting:
            self._waiting = None
            waiting.end(b"[]" if answered else None)

    def drop_all(self) -> None:
        """Forget what is pending, as deleteWebhook with drop_pending_updates does."""
        self._confirm(self.next_id)

    def _confirm(self, offset: int) -> int:
        """Forget what an offset confirms; give the id to read from."""
        if offset < 0:
            kept = self._queue[offset:]
            offset = kept[0].update_id if kept else self.next_id
        # From memory of the public server: an offset far in the future confirms nothing.
        if self.confirmed < offset <= self.next_id + 10:
            self.confirmed = offset
            del self._queue[: self._place(offset)]
            self.on_confirmed()
        return self.confirmed

    def _place(self, update_id: int) -> int:
        return bisect_left(self._queue, update_id, key=lambda queued: queued.update_id)

    def _from(self, offset: int, limit: int) -> list[Queued]:
        start = self._place(offset)
        return self._queue[start : start + limit]


def _array(updates: Iterable[Queued]) -> bytes:
    return b"[" + b",".join(queued.body for queued in updates) + b"]"
