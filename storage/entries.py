"""Entries: what came in, and what came of it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Row, and_, bindparam, or_, select

from storage.of_class import OfClass
from storage.records import Entry
from storage.tables import entries

_MOST_NAMED = 500


_HIGHEST_ID = 2**31 - 1


# What every message asks for is built once: putting a query together costs as much as running it.
_BY_KEY = select(entries).where(
    entries.c.class_id == bindparam("class_id"), entries.c.key == bindparam("key")
)


_CLOSE = entries.update().where(entries.c.id == bindparam("entry_id"))


@dataclass(frozen=True)
class Entries(OfClass):
    """The journal of one class."""

    def open_entry(
        self,
        *,
        kind: str,
        text: str,
        at: datetime,
        received_at: datetime,
        member_id: int | None,
        key: str | None = None,
        place: str | None = None,
        message: str | None = None,
        replaces: int | None = None,
    ) -> int:
        """Take an entry and give its id."""
        row = {
            "class_id": self.class_id,
            "kind": kind,
            "text": text,
            "at": at,
            "received_at": received_at,
            "member_id": member_id,
            "key": key,
            "place": place,
            "message": message,
            "replaces": replaces,
            "effect": False,
        }
        result = self.connection.execute(entries.insert(), row).inserted_primary_key
        assert result is not None
        return int(result[0])

    def close_entry(self, entry_id: int, **came_of_it: object) -> None:
        """Note what came of an entry: outcome, requests, reply, said, result, effect."""
        self.connection.execute(_CLOSE, {"entry_id": entry_id, **came_of_it})

    def entry(self, entry_id: int) -> Entry | None:
        """One entry of this class; a number too large for a row is none."""
        if not 0 < entry_id <= _HIGHEST_ID:
            return None
        return self._first_entry(entries.c.id == entry_id)

    def entry_by_key(self, key: str) -> Entry | None:
        """The entry that an earlier delivery of the same thing made."""
        row = self.connection.execute(_BY_KEY, {"class_id": self.class_id, "key": key}).first()
        return None if row is None else _entry(row)

    def entry_of_message(self, place: str, message: str) -> Entry | None:
        """The newest entry made of a message of a chat: the text itself or its last edit."""
        return self._first_entry(entries.c.place == place, entries.c.message == message)

    def last_change(self, member_id: int | None) -> Entry | None:
        """The member's newest entry that changed something and still stands."""
        return self._first_entry(
            entries.c.member_id == member_id, entries.c.effect, entries.c.undone_by.is_(None)
        )

    def last_undone(self, member_id: int | None) -> Entry | None:
        """The member's newest undo that stands, unless something was changed since."""
        newest = self._first_entry(
            entries.c.member_id == member_id,
            entries.c.undone_by.is_(None),
            or_(entries.c.effect, entries.c.kind == "undo"),
        )
        return newest if newest is not None and newest.kind == "undo" else None

    def wordings(self, entry: Entry) -> tuple[Entry, ...]:
        """An entry and those it replaced, newest first: what one message has said so far."""
        chain = [entry]
        while chain[-1].replaces is not None:
            earlier = self.entry(chain[-1].replaces)
            if earlier is None:
                break
            chain.append(earlier)
        return tuple(chain)

    def undone_through(self, entry_id: int) -> Entry | None:
        """The entry that an undo took back."""
        return self._first_entry(entries.c.undone_by == entry_id)

    def recent_entries(self, member_id: int | None, limit: int) -> tuple[Entry, ...]:
        """The member's newest entries, newest first."""
        query = (
            select(entries)
            .where(entries.c.class_id == self.class_id, entries.c.member_id == member_id)
            .order_by(entries.c.id.desc())
            .limit(limit)
        )
        return tuple(map(_entry, self.connection.execute(query)))

    def entries(self, entry_ids: Collection[int]) -> dict[int, Entry]:
        """Entries by id; all are read where there are too many to name."""
        wanted = set(entry_ids)
        query = select(entries).where(entries.c.class_id == self.class_id)
        if len(wanted) <= _MOST_NAMED:
            query = query.where(entries.c.id.in_(wanted))
        return {row.id: _entry(row) for row in self.connection.execute(query) if row.id in wanted}

    def _first_entry(self, *conditions: object) -> Entry | None:
        query = (
            select(entries)
            .where(and_(entries.c.class_id == self.class_id, *conditions))  # type: ignore[arg-type]
            .order_by(entries.c.id.desc())
            .limit(1)
        )
        row = self.connection.execute(query).first()
        return None if row is None else _entry(row)


def _entry(row: Row[tuple[object, ...]]) -> Entry:
    values = {name: getattr(row, name) for name in Entry.__slots__}
    values["requests"] = tuple(values["requests"] or ())
    values["result"] = values["result"] or {}
    return Entry(**values)
