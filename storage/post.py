"""The post: updates kept before they are acknowledged, replies kept until they are sent."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Insert, bindparam, select
from sqlalchemy.dialects import postgresql, sqlite

from storage.tables import outbox, updates

_BUTTON = re.compile(r"(\d{1,18}):(\d{1,3})")


@dataclass(frozen=True, slots=True)
class Letter:
    """A reply on its way out, with the labels of its buttons in order."""

    id: int
    chat: int
    text: str
    labels: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """What became of a letter: taken by the platform (as which message), or refused for good."""

    letter_id: int
    state: str  # sent, failed
    message: int | None = None


@dataclass(frozen=True, slots=True)
class Waiting:
    """An update that was kept and not yet handled."""

    id: int
    raw: str
    received_at: datetime


@dataclass(frozen=True)
class Post:
    """Durable intake and outbox."""

    connection: Connection

    def keep(self, raw: Mapping[int, str], now: datetime) -> None:
        """Store updates as they came, by id; one that is known already is left as it is."""
        rows = [
            {"id": update_id, "raw": text, "received_at": now, "state": "waiting"}
            for update_id, text in raw.items()
        ]
        if rows:
            self.connection.execute(_KEEP[self.connection.dialect.name], rows)

    def waiting(self) -> tuple[Waiting, ...]:
        """Updates that were kept and not yet handled, in the order in which they came."""
        rows = self.connection.execute(_WAITING)
        return tuple(Waiting(row.id, row.raw, row.received_at) for row in rows)

    def mark_handled(self, update_id: int, now: datetime) -> bool:
        """Say that this unit of work holds what an update brings about, whether it was kept or not.

        False where that had been said before (or nothing could be made of it): do nothing.
        """
        row = {"id": update_id, "raw": "", "received_at": now, "state": "handled"}
        return self.connection.execute(_HANDLED[self.connection.dialect.name], row).rowcount > 0

    def mark_dead(self, update_id: int, raw: str, fault: str, now: datetime) -> bool:
        """Keep an update that nothing can be made of, with the kind of fault.

        False where it had been handled or given up before.
        """
        row = {"id": update_id, "raw": raw, "received_at": now, "state": "dead", "fault": fault}
        return self.connection.execute(_DEAD[self.connection.dialect.name], row).rowcount > 0

    def dead(self) -> tuple[tuple[int, str], ...]:
        """The updates nothing could be made of: id and kind of fault."""
        query = select(updates.c.id, updates.c.fault).where(updates.c.state == "dead")
        return tuple((row.id, row.fault) for row in self.connection.execute(query))

    def forget_handled(self, before: datetime) -> None:
        """Drop the ids of updates handled before a moment: the platform may use them again."""
        query = updates.delete().where(updates.c.state == "handled", updates.c.received_at < before)
        self.connection.execute(query)

    def send(
        self,
        chat: int,
        text: str,
        *,
        choices: Sequence[tuple[str, str]] = (),
        class_id: int | None = None,
        update_id: int | None = None,
    ) -> Letter:
        """Put a reply into the outbox, its choices as (label, text to send) pairs."""
        row: dict[str, object] = {
            "chat": chat,
            "class_id": class_id,
            "update_id": update_id,
            "text": text,
            "choices": [list(choice) for choice in choices],
            "state": "waiting",
        }
        key = self.connection.execute(_SEND, row).inserted_primary_key
        assert key is not None
        return Letter(int(key[0]), chat, text, tuple(label for label, _ in choices))

    def unsent(self) -> tuple[Letter, ...]:
        """Replies that have not been sent, oldest first."""
        return tuple(
            Letter(row.id, row.chat, row.text, tuple(label for label, _ in row.choices))
            for row in self.connection.execute(_UNSENT)
        )

    def mark(self, marks: Iterable[Mark]) -> None:
        """Write down what became of letters."""
        rows = [
            {"letter_id": mark.letter_id, "state": mark.state, "message": mark.message}
            for mark in marks
        ]
        if rows:
            self.connection.execute(_MARK, rows)

    def pressed(self, button: str, chat: int) -> tuple[str, int | None] | None:
        """The text behind a button and the class it is meant for; None where no such button was
        sent to this chat. A button is named by its letter and its place there: "412:0"."""
        named = _BUTTON.fullmatch(button)
        if named is None:
            return None
        letter_id, place = int(named[1]), int(named[2])
        query = select(outbox.c.choices, outbox.c.class_id).where(
            outbox.c.id == letter_id, outbox.c.chat == chat
        )
        row = self.connection.execute(query).first()
        if row is None or place >= len(row.choices):
            return None
        return row.choices[place][1], row.class_id


def _for_each(dialect_insert: Any) -> tuple[Insert, Insert, Insert]:
    """The three ways in which an update is written, in one dialect's words."""
    row = dialect_insert(updates)
    still = updates.c.state == "waiting"
    handled = {"state": row.excluded.state, "raw": row.excluded.raw}
    dead = {"state": row.excluded.state, "fault": row.excluded.fault}
    return (
        row.on_conflict_do_nothing(index_elements=["id"]),
        row.on_conflict_do_update(index_elements=["id"], set_=handled, where=still),
        row.on_conflict_do_update(index_elements=["id"], set_=dead, where=still),
    )


# Built once: what is said for every message costs more to build than to carry out.
_IN_BOTH = {"sqlite": _for_each(sqlite.insert), "postgresql": _for_each(postgresql.insert)}
_KEEP = {name: keep for name, (keep, _, _) in _IN_BOTH.items()}
_HANDLED = {name: handled for name, (_, handled, _) in _IN_BOTH.items()}
_DEAD = {name: dead for name, (_, _, dead) in _IN_BOTH.items()}
_WAITING = (
    select(updates.c.id, updates.c.raw, updates.c.received_at)
    .where(updates.c.state == "waiting")
    .order_by(updates.c.received_at, updates.c.id)  # ids may begin anew after a quiet week
)
_SEND = outbox.insert()
_UNSENT = select(outbox).where(outbox.c.state == "waiting").order_by(outbox.c.id)
_MARK = (
    outbox.update()
    .where(outbox.c.id == bindparam("letter_id"))
    .values(state=bindparam("state"), message=bindparam("message"))
)
