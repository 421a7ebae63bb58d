"""Who is in the class, in which group, and kept apart from whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from storage.of_class import OfClass
from storage.records import Membership, Student
from storage.tables import apart, groups, memberships, students


@dataclass(frozen=True)
class People(OfClass):
    """Students, groups and memberships of one class."""

    def add_student(self, entry_id: int, name: str, joined: date, position: int) -> int:
        """Add a child to the end of the roster and give its id."""
        return self.journal(entry_id).add(
            students,
            name=name,
            goes_by=[],
            code=None,
            avoids=[],
            joined=joined,
            left=None,
            position=position,
        )

    def mark_left(self, entry_id: int, student: Student, left: date | None) -> None:
        """Note a child's last day, or that it stays after all."""
        self.journal(entry_id).change(students, student.id, left=left)

    def add_group(self, entry_id: int, name: str) -> int:
        """Add a group and give its id."""
        return self.journal(entry_id).add(groups, name=name)

    def join_group(
        self,
        entry_id: int,
        student_id: int,
        group_id: int,
        held: Iterable[Membership],
        *,
        first: date | None,
        last: date | None = None,
    ) -> None:
        """Let a child be with a group from a day on, or between two days.

        For good, the memberships it held end the day before; those that would only begin later are
        taken back. A stay with both ends named leaves them alone.
        """
        journal = self.journal(entry_id)
        if last is None and first is not None:
            eve = first - timedelta(days=1)
            for membership in held:
                if membership.first is not None and membership.first >= first:
                    journal.void(memberships, [membership.id])
                elif membership.last is None or membership.last >= first:
                    journal.change(memberships, membership.id, last=eve)
        journal.add(memberships, student_id=student_id, group_id=group_id, first=first, last=last)

    def keep_apart(self, entry_id: int, student_id: int, other_id: int) -> None:
        """Keep two children apart."""
        self.journal(entry_id).add(apart, student_id=student_id, other_id=other_id)

    def let_together(self, entry_id: int, apart_ids: Iterable[int]) -> None:
        """Keep two children apart no longer."""
        self.journal(entry_id).void(apart, apart_ids)
