"""When children are away, when there is no school, and what was told of a day's rotations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time

from sqlalchemy import bindparam, select

from storage.of_class import OfClass
from storage.records import Announcement, Away, Seated
from storage.tables import announcements, aways, closures, extras

_TOLD = (
    select(announcements)
    .where(
        announcements.c.class_id == bindparam("class_id"),
        announcements.c.day >= bindparam("first"),
        announcements.c.voided_by.is_(None),
    )
    .order_by(announcements.c.day, announcements.c.starts, announcements.c.id)
)


@dataclass(frozen=True)
class Schedule(OfClass):
    """The aways, closures, extra rotations and announcements of one class."""

    def add_away(self, entry_id: int, student_id: int, **when: object) -> None:
        """Note when a student cannot be at a bin: first, last, weekday, starts, ends, reason."""
        self.journal(entry_id).add(aways, student_id=student_id, **when)

    def end_away(self, entry_id: int, away: Away, last: date | None) -> None:
        """Let an away end on an earlier day; where none is left, take it back."""
        if last is None:
            self.journal(entry_id).void(aways, [away.id])
        else:
            self.journal(entry_id).change(aways, away.id, last=last)

    def add_closure(
        self,
        entry_id: int,
        day: date,
        reason: str,
        starts: time | None = None,
        ends: time | None = None,
    ) -> None:
        """Note a day without school or, with times, a block in which no rotation runs."""
        row = {"day": day, "reason": reason, "starts": starts, "ends": ends}
        self.journal(entry_id).add(closures, **row)

    def add_closures(self, entry_id: int, rows: Sequence[Mapping[str, object]]) -> None:
        """Note many days without school, or blocks: day, reason, starts, ends of each."""
        self.journal(entry_id).add_all(closures, rows)

    def void_closures(self, entry_id: int, closure_ids: Iterable[int]) -> None:
        """Take back days without school, or blocks."""
        self.journal(entry_id).void(closures, closure_ids)

    def add_extra(self, entry_id: int, day: date, starts: time, minutes: int) -> None:
        """Add a rotation on one day."""
        self.journal(entry_id).add(extras, day=day, starts=starts, minutes=minutes)

    def void_extras(self, entry_id: int, extra_ids: Iterable[int]) -> None:
        """Take back rotations that were added."""
        self.journal(entry_id).void(extras, extra_ids)

    def announcements(self, first: date, last: date | None = None) -> tuple[Announcement, ...]:
        """What was last told of each rotation from one day to another, in order of time."""
        rows = self.connection.execute(_TOLD, {"class_id": self.class_id, "first": first})
        return tuple(
            Announcement(
                row.id,
                row.day,
                row.starts,
                tuple(Seated(kind, id_, tuple(ids)) for kind, id_, ids in row.places),
            )
            for row in rows
            if last is None or row.day <= last
        )

    def announce(self, entry_id: int, told: Mapping[tuple[date, time], Sequence[Seated]]) -> None:
        """Keep what a member is told of some rotations, in place of what was told before."""
        if not told:
            return
        days = [day for day, _ in told]
        before = {(a.day, a.starts): a for a in self.announcements(min(days), max(days))}
        changed = {key: seats for key, seats in told.items() if _places(before, key) != (*seats,)}
        journal = self.journal(entry_id)
        journal.void(announcements, [before[key].id for key in changed if key in before])
        rows = [
            {
                "day": day,
                "starts": starts,
                "places": [[seat.kind, seat.id, list(seat.students)] for seat in seats],
            }
            for (day, starts), seats in changed.items()
        ]
        journal.add_all(announcements, rows)

    def withdraw(self, entry_id: int, told: Iterable[Announcement]) -> None:
        """Forget what was told of rotations that will not run."""
        self.journal(entry_id).void(announcements, [announcement.id for announcement in told])


def _places(
    before: Mapping[tuple[date, time], Announcement], key: tuple[date, time]
) -> tuple[Seated, ...] | None:
    return before[key].places if key in before else None
