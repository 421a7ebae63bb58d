"""The children a request means on a day: by name, through a group, through "everyone"."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from storage.records import Roster, Student


@dataclass(frozen=True, slots=True)
class Meant:
    """Students named one by one and students meant through a group, those left out taken away."""

    named: frozenset[int]
    in_groups: frozenset[int]
    left_out: tuple[Student, ...]
    not_on_roster: tuple[Student, ...]

    @property
    def all(self) -> frozenset[int]:
        """Every student meant, however."""
        return self.named | self.in_groups


def children_meant(
    roster: Roster,
    day: date,
    *,
    groups: tuple[int, ...],
    students: tuple[int, ...],
    everyone: bool,
    but_groups: tuple[int, ...] = (),
    but_students: tuple[int, ...] = (),
) -> Meant:
    """Sort out who is meant on a day; nobody is meant who was not on the roster then."""
    present = {student.id for student in roster.present_roster(day)}
    through = set(present) if everyone else set()
    for group_id in groups:
        through |= {student.id for student in roster.members_of(group_id, day)}
    out = set(but_students)
    for group_id in but_groups:
        out |= {student.id for student in roster.members_of(group_id, day)}
    meant = through | set(students)
    return Meant(
        named=frozenset((set(students) & present) - out),
        in_groups=frozenset(through - out),
        left_out=tuple(s for s in roster.students if s.id in out & meant),
        not_on_roster=tuple(s for s in roster.students if s.id in set(students) - present),
    )
