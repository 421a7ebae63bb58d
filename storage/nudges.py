"""Nudges: what was said unasked, to whom, and who wants none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Row, select
from sqlalchemy.dialects import postgresql, sqlite

from storage.of_class import OfClass
from storage.records import Nudge, Nudging
from storage.tables import nudges, nudging

SENT = "sent"


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
        query = _INSERT[self.connection.dialect.name].on_conflict_do_nothing(
            index_elements=["class_id", "day", "kind", "member_id"]
        )
        if self.connection.execute(query, {**row, **values}).rowcount == 0:
            return None
        same = [nudges.c[name] == value for name, value in row.items()]
        return self.connection.execute(select(nudges.c.id).where(*same)).scalar_one()

    def claim_again(self, nudge: Nudge, now: datetime) -> bool:
        """Take a nudge that is to come once more; False where another has taken it."""
        query = nudges.update().where(nudges.c.id == nudge.id, nudges.c.at == nudge.at)
        return self.connection.execute(query, {"at": now}).rowcount > 0

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


_INSERT = {"sqlite": sqlite.insert(nudges), "postgresql": postgresql.insert(nudges)}


def _nudge(row: Row[tuple[object, ...]]) -> Nudge:
    return Nudge(**{name: getattr(row, name) for name in Nudge.__slots__})


def _nudging(row: Row[tuple[object, ...]]) -> Nudging:
    return Nudging(**{name: getattr(row, name) for name in Nudging.__slots__})
