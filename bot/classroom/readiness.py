"""Whether a bin may go: who needs it, who can still come, and when all of them can have been."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from bot.classroom.days import rotations_left
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
    roster: Roster, tally: Tally, stint: Stint, students: Sequence[Student], slots: Slots
) -> date | None:
    """The first day by whose end all visits missing can have been, one a day for each child.

    Seats are given as a maximum flow from children over their days to rotations (Ford and Fulkerson
    1956), day by day, so that no other way of seating the children ends sooner.
    """
    seating = _Flow()
    wanted = 0
    for student in students:
        missing = missing_visits(tally, stint, student)
        seating.widen(_FROM, student.id, missing)
        wanted += missing
    chances = {student.id: _chances(roster, student, slots) for student in students}
    seated = 0
    for day in dict.fromkeys(day for day, _ in slots):
        for _, slot in (pair for pair in slots if pair[0] == day):
            seating.widen((day, slot.starts), _TO, stint.seats)
        for student_id, able in chances.items():
            seating.widen(student_id, (student_id, day), 1)
            for on, slot in able:
                if on == day:
                    seating.widen((student_id, day), (day, slot.starts), 1)
        while seated < wanted and seating.push():
            seated += 1
        if seated == wanted:
            return day
    return None


_FROM, _TO = "from", "to"


class _Flow:
    """A network with room on its edges, through which units are pushed one by one."""

    def __init__(self) -> None:
        self._room: dict[object, dict[object, int]] = {}

    def widen(self, start: object, end: object, room: int) -> None:
        """Let so many more units through from one node to another."""
        edges = self._room.setdefault(start, {})
        edges[end] = edges.get(end, 0) + room
        self._room.setdefault(end, {}).setdefault(start, 0)

    def push(self) -> bool:
        """Push one unit through on a shortest way, turning others aside where that frees room."""
        came: dict[object, object] = {_FROM: _FROM}
        ahead: deque[object] = deque([_FROM])
        while ahead and _TO not in came:
            here = ahead.popleft()
            for following, room in self._room[here].items():
                if room > 0 and following not in came:
                    came[following] = here
                    ahead.append(following)
        if _TO not in came:
            return False
        node: object = _TO
        while node != _FROM:
            self._room[came[node]][node] -= 1
            self._room[node][came[node]] += 1
            node = came[node]
        return True
