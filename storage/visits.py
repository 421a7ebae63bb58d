"""Visits: claims that children had their turn, made and taken back by entries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Row, Select, and_, bindparam, func, or_, select

from storage.of_class import OfClass
from storage.records import Claim, Turn
from storage.tables import changes, claims, entries

Tally = Mapping[int, Mapping[int, int]]
"""Visits held: stint id -> student id -> number of days."""


# What every message asks for is built once: putting a query together costs as much as running it.
_TALLY = (
    select(claims.c.stint_id, claims.c.student_id, func.count(claims.c.day.distinct()))
    .where(claims.c.stint_id.in_(bindparam("stints", expanding=True)), claims.c.voided_by.is_(None))
    .group_by(claims.c.stint_id, claims.c.student_id)
)


_STANDING = (
    select(claims)
    .where(
        claims.c.class_id == bindparam("class_id"),
        claims.c.student_id.in_(bindparam("students", expanding=True)),
        claims.c.stint_id == bindparam("stint_id"),
        claims.c.day == bindparam("day"),
        claims.c.voided_by.is_(None),
    )
    .order_by(claims.c.id)
)


@dataclass(frozen=True)
class Visits(OfClass):
    """The visits of one class."""

    def tally(self, stint_ids: Collection[int]) -> Tally:
        """How many visits each student holds at each of these stints."""
        held: dict[int, dict[int, int]] = defaultdict(dict)
        for stint_id, student_id, days in self.connection.execute(
            _TALLY, {"stints": list(stint_ids)}
        ):
            held[stint_id][student_id] = days
        return held

    def claims(
        self,
        *,
        students: Collection[int] | None = None,
        stints: Collection[int] | None = None,
        day: date | None = None,
        entry_id: int | None = None,
        voided: bool = False,
    ) -> tuple[Claim, ...]:
        """Claims that fit every condition given, oldest first; voided ones only if asked."""
        query = select(claims)
        if day is not None or (students is None and stints is None and entry_id is None):
            # Not beside the rest, which belong to one class: its index would be taken for theirs.
            query = query.where(claims.c.class_id == self.class_id)
        if students is not None:
            query = query.where(claims.c.student_id.in_(students))
        if stints is not None:
            query = query.where(claims.c.stint_id.in_(stints))
        if day is not None:
            query = query.where(claims.c.day == day)
        if entry_id is not None:
            query = query.where(claims.c.made_by == entry_id)
        if not voided:
            query = query.where(claims.c.voided_by.is_(None))
        return tuple(map(_claim, self.connection.execute(query.order_by(claims.c.id))))

    def visits(self) -> tuple[Claim, ...]:
        """Every visit that stands, each by its oldest standing claim, in order of day."""
        first: dict[tuple[int, int, date], Claim] = {}
        for claim in self.claims():
            first.setdefault(claim.turn.key, claim)
        return tuple(sorted(first.values(), key=lambda c: (c.turn.day, c.id)))

    def visits_loaded(self) -> tuple[Claim, ...]:
        """The claims that class folders made and that stand, in order of day."""
        query = (
            select(claims)
            .where(claims.c.made_by.in_(self._loads()), claims.c.voided_by.is_(None))
            .order_by(claims.c.day, claims.c.id)
        )
        return tuple(map(_claim, self.connection.execute(query)))

    def stints_spoken_of(self) -> frozenset[int]:
        """Stints at which anything but a load ever claimed a visit or took one back."""
        loads = self._loads()
        query = (
            select(claims.c.stint_id)
            .distinct()
            .where(
                claims.c.class_id == self.class_id,
                or_(
                    claims.c.made_by.not_in(loads),
                    and_(claims.c.voided_by.is_not(None), claims.c.voided_by.not_in(loads)),
                ),
            )
        )
        return frozenset(self.connection.scalars(query))

    def _loads(self) -> Select[tuple[int]]:
        return select(entries.c.id).where(
            entries.c.class_id == self.class_id, entries.c.kind == "load"
        )

    def days_at(self, turns: Iterable[Turn]) -> dict[tuple[int, int, date], list[Claim]]:
        """The standing claims on the visits that these turns speak of."""
        wanted = {turn.key for turn in turns}
        if not wanted:
            return {}
        found: dict[tuple[int, int, date], list[Claim]] = defaultdict(list)
        for stint_id, day in {(stint, day) for _, stint, day in wanted}:
            students = {student for student, stint, at in wanted if (stint, at) == (stint_id, day)}
            meant = {
                "class_id": self.class_id,
                "students": list(students),
                "stint_id": stint_id,
                "day": day,
            }
            for claim in map(_claim, self.connection.execute(_STANDING, meant)):
                found[claim.turn.key].append(claim)
        return found

    def claim(self, entry_id: int, turns: Sequence[Turn]) -> None:
        """Say, in the name of an entry, that these turns took place."""
        rows = [
            {
                "student_id": turn.student_id,
                "stint_id": turn.stint_id,
                "day": turn.day,
                "rotation": turn.rotation,
            }
            for turn in turns
        ]
        self.journal(entry_id).add_all(claims, rows)

    def take_back(self, entry_id: int, taken: Iterable[Claim]) -> None:
        """Void claims in the name of an entry."""
        self.journal(entry_id).void(claims, [claim.id for claim in taken])

    def touched(self, entry_id: int) -> tuple[Turn, ...]:
        """The turns an entry claimed, took back or put back, and those of what it stepped back."""
        lines = select(changes.c.row_id).where(
            changes.c.entry_id == entry_id, changes.c.subject == claims.name
        )
        stepped = select(entries.c.id).where(entries.c.undone_by == entry_id)
        spoken_of = or_(
            claims.c.made_by == entry_id, claims.c.made_by.in_(stepped), claims.c.id.in_(lines)
        )
        query = select(claims).where(spoken_of)
        found = (_claim(row).turn for row in self.connection.execute(query.order_by(claims.c.id)))
        return tuple({turn.key: turn for turn in found}.values())


def _claim(row: Row[tuple[object, ...]]) -> Claim:
    turn = Turn(row.student_id, row.stint_id, row.day, row.rotation)
    return Claim(row.id, turn, row.made_by)
