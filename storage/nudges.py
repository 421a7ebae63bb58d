"""Nudges: what was said unasked, to whom, and who wants none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time

from sqlalchemy import Row, select
from sqlalchemy.dialects import postgresql, sqlite

from storage.of_class import OfClass
from storage.records import Nudge, Nudging
from storage.tables import classes, nudges, nudging

SENT, NOTHING, LATE, ENOUGH, OFF = "sent", "nothing", "late", "enough", "off"
"""What became of a nudge: sent; nothing worth saying; too late; enough that day; not wanted."""


@dataclass(frozen=True)
class Nudges(OfClass):
    """The nudges of one class."""

    def nudges(self, first: date) -> tuple[Nudge, ...]:
        """Every nudge sent or passed over since a day of the class, oldest first."""
        query = select(nudges).where(nudges.c.class_id == self.class_id, nudges.c.day >= first)
        return tuple(map(_nudge, self.connection.execute(query.order_by(nudges.c.id))))

    def claim_nudge(self, member_id: int, kind: str, day: date, **values: object) -> int | None:
        """Write a nudge's row and give its id; None where another has written it already."""
        row = {"class_id": self.class_id, "member_id": member_id, "kind": kind, "day": day}
        claim = _CLAIM[self.connection.dialect.name]
        if self.connection.execute(claim, {**row, **values}).rowcount == 0:
            return None
        same = [nudges.c[name] == value for name, value in row.items()]
        return int(self.connection.execute(select(nudges.c.id).where(*same)).scalar_one())

    def claim_again(self, nudge: Nudge, now: datetime) -> bool:
        """Take a nudge that is to come once more; False where another has taken it."""
        query = nudges.update().where(nudges.c.id == nudge.id, nudges.c.at == nudge.at)
        return self.connection.execute(query, {"at": now, "times": nudge.times + 1}).rowcount > 0

    def note_nudge(self, nudge_id: int, **values: object) -> None:
        """Write down what became of a claimed nudge: its entry, its levels."""
        self.connection.execute(nudges.update().where(nudges.c.id == nudge_id), values)

    def nudging(self) -> Mapping[int, Nudging]:
        """What each member (by id) has last said about nudges."""
        query = (
            select(nudging)
            .where(nudging.c.class_id == self.class_id, nudging.c.voided_by.is_(None))
            .order_by(nudging.c.id)
        )
        rows = self.connection.execute(query)
        return {row.member_id: _nudging(row) for row in rows}

    def set_nudging(
        self,
        entry_id: int,
        member_id: int,
        *,
        is_on: bool,
        until: datetime | None,
        again: int | None,
    ) -> None:
        """Say, in the name of an entry, whether a member wants nudges."""
        row = {"member_id": member_id, "is_on": is_on, "until": until, "again": again}
        self.journal(entry_id).add(nudging, **row)

    def move_digest(self, entry_id: int, at: time) -> None:
        """Give the morning digest another time, in the name of an entry."""
        self.journal(entry_id).change(classes, self.class_id, digest_at=at)


_ONE = ["class_id", "day", "kind", "member_id"]
_CLAIM = {
    "sqlite": sqlite.insert(nudges).on_conflict_do_nothing(index_elements=_ONE),
    "postgresql": postgresql.insert(nudges).on_conflict_do_nothing(index_elements=_ONE),
}


def _nudge(row: Row[tuple[object, ...]]) -> Nudge:
    return Nudge(**{name: getattr(row, name) for name in Nudge.__slots__})


def _nudging(row: Row[tuple[object, ...]]) -> Nudging:
    return Nudging(**{name: getattr(row, name) for name in Nudging.__slots__})
