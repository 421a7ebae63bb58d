"""Whether a bin may go: who needs it, who can still come, and when all of them can have been."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from bot.classroom.days import minutes_of, rotations_left
from bot.classroom.needs import HORIZON, Tally, missing_visits, needs_of
from bot.classroom.presence import is_away_in
from storage.records import Roster, Rotation, Stint, Student

Slots = list[tuple[date, Rotation]]


@dataclass(frozen=True, slots=True)
class Readiness:
    """Whether a bin may go: who needs it, who of them can still come, and when all can have been.

    `earliest` is the day on which the last of those who can come can have been there; None where
    not all of them can before it closes.
    """

    stint: Stint
    needs: tuple[Student, ...]
    can_come: tuple[Student, ...]
    earliest: date | None

    @property
    def is_ready(self) -> bool:
        """Nobody who needs it can still come."""
        return not self.can_come


def readiness(
    roster: Roster,
    tally: Tally,
    stint: Stint,
    now: datetime,
    *,
    planned: date | None = None,
) -> Readiness:
    """Whether a bin may go; `tally` must hold every stint that is out now.

    `planned` is the day on which a plan has them all there. Without one the earliest day is a
    bound: no plan can be faster, as only this bin's seats and the children's aways are looked at.
    """
    slots = rotations_left(roster, now, stint.closes or now.date() + HORIZON)
    needs = needs_of(roster, tally, stint, now).students
    able = tuple(s for s in needs if _chances(roster, s, slots))
    if not able:
        return Readiness(stint, needs, (), now.date())
    bound = _all_been_by(roster, tally, stint, able, slots)
    return Readiness(stint, needs, able, planned if planned and bound else bound)


def missing_out(
    roster: Roster, tally: Tally, stint: Stint, now: datetime, last: date
) -> tuple[Student, ...]:
    """Who loses a turn if a bin's last day is this one: nobody where all can have been by then.

    Who could not come anyway before it closes loses nothing.
    """
    state = readiness(roster, tally, stint, now)
    if state.is_ready or (stint.closes is not None and stint.closes <= last):
        return ()
    slots = rotations_left(roster, now, last)
    if _all_been_by(roster, tally, stint, state.can_come, slots) is not None:
        return ()
    return state.can_come


def _chances(roster: Roster, student: Student, slots: Slots) -> Slots:
    return [
        (day, slot)
        for day, slot in slots
        if student.is_on_roster(day) and not is_away_in(roster, student.id, day, slot)
    ]


def _all_been_by(
    roster: Roster, tally: Tally, stint: Stint, students: Iterable[Student], slots: Slots
) -> date | None:
    """The first day by whose end all visits missing can have been, one a day for each child.

    Seats are matched to visits rotation by rotation with augmenting paths (Ford and Fulkerson
    1956), so that no other way of seating the children ends sooner.
    """
    seating = _Seating(stint.seats)
    for student in students:
        chances = _chances(roster, student, slots)
        missing = missing_visits(tally, stint, student)
        seating.expect(student.id, missing, [(day, minutes_of(r.starts)) for day, r in chances])
    for day in dict.fromkeys(day for day, _ in slots):
        if seating.all_seated_with(day):
            return day
    return None


class _Seating:
    """Seats of one bin, rotation by rotation, given to children who need visits."""

    def __init__(self, seats: int) -> None:
        self._seats = seats
        self._missing: dict[int, int] = {}
        self._chances: dict[int, list[tuple[date, int]]] = {}
        self._seated: dict[tuple[date, int], set[int]] = {}
        self._days: dict[int, dict[date, tuple[date, int]]] = {}

    def expect(self, student: int, missing: int, chances: list[tuple[date, int]]) -> None:
        """A child who needs so many visits, and the rotations in which the child can come."""
        self._missing[student], self._chances[student] = missing, chances
        self._days[student] = {}

    def all_seated_with(self, day: date) -> bool:
        """Whether everyone can have been when the rotations up to the end of this day are used."""
        for student in self._missing:
            while len(self._days[student]) < self._missing[student]:
                if not self._seat(student, day, set()):
                    break
        return all(len(self._days[s]) >= missing for s, missing in self._missing.items())

    def _seat(self, student: int, last: date, seen: set[tuple[date, int]]) -> bool:
        """Give a child one more seat, moving others where that frees one."""
        for slot in self._chances[student]:
            if slot[0] > last or slot in seen or slot[0] in self._days[student]:
                continue
            seen.add(slot)
            held = self._seated.setdefault(slot, set())
            if len(held) < self._seats:
                self._put(student, slot)
                return True
            for other in sorted(held):
                self._take(other, slot)
                if self._seat(other, last, seen):
                    self._put(student, slot)
                    return True
                self._put(other, slot)
        return False

    def _put(self, student: int, slot: tuple[date, int]) -> None:
        self._seated[slot].add(student)
        self._days[student][slot[0]] = slot

    def _take(self, student: int, slot: tuple[date, int]) -> None:
        self._seated[slot].discard(student)
        del self._days[student][slot[0]]
