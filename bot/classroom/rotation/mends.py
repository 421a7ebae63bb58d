"""What would help where needs cannot be met: a rotation more, a seat more, a later closing day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from bot.classroom.rotation.bounds import bound_of
from bot.classroom.rotation.openings import left_out, openings_of
from bot.classroom.rotation.problem import PlanProblem, PlanStint
from bot.classroom.rotation.search import most_visits
from bot.classroom.rotation.solving import Solving

MOST_ROTATIONS = 3
MOST_SEATS = 3
MOST_DAYS = 5
# How many mends are worked out in full and told.
TOLD = 3


class MendKind(StrEnum):
    """What is changed; the order is that in which equal mends are told."""

    ROTATIONS = "rotations"
    SEATS = "seats"
    DAYS = "days"


@dataclass(frozen=True, slots=True)
class Mend:
    """One change to a class and the needed visits it still leaves unmet.

    `amount` rotations more on a `day`, seats more at a `stint`, or school days more for a `stint`
    until the `day`.
    """

    kind: MendKind
    amount: int
    stint: int | None
    day: date | None
    unmet: int


def cheapest_mends(problem: PlanProblem) -> tuple[Mend, ...]:
    """Up to three single changes that meet the most needs, the smallest first among equals.

    Of each kind of change only the smallest amount that meets the most is told. Nothing where all
    needs can be met, or where no single change helps.
    """
    before = visits_unmet(problem)
    if before == 0:
        return ()
    hoped = []
    for steps in _changes(problem):
        best = min(steps, key=lambda step: (_unmet_at_least(step[1]), step[0].amount))
        if _unmet_at_least(best[1]) < before:
            hoped.append((_unmet_at_least(best[1]), best[0].amount, best))
    hoped.sort(key=lambda entry: entry[:2])
    mends = [replace(mend, unmet=visits_unmet(mended)) for _, _, (mend, mended) in hoped[:TOLD]]
    helpful = [mend for mend in mends if mend.unmet < before]
    return tuple(sorted(helpful, key=lambda mend: (mend.unmet, mend.amount)))


def visits_unmet(problem: PlanProblem) -> int:
    """The needed visits that cannot be met before the stints close, cautions included."""
    openings = openings_of(problem)
    arrangement, _ = most_visits(openings, Solving(problem.effort))
    asked = sum(max(0, visits) for visits in problem.needs.values())
    met = sum(openings.wants.values()) - sum(left_out(openings, arrangement.at).values())
    return asked - met


def _unmet_at_least(problem: PlanProblem) -> int:
    """What no plan can go below, without solving."""
    asked = sum(max(0, visits) for visits in problem.needs.values())
    return asked - bound_of(openings_of(problem)).visits


_Step = tuple[Mend, PlanProblem]


def _changes(problem: PlanProblem) -> Iterator[list[_Step]]:
    """For each thing that could be changed, the changed problems by growing amount."""
    every_slot = frozenset(range(len(problem.slots)))
    needed = [
        replace(stint, open=stint.open & every_slot)
        for stint in problem.stints
        if any(what == stint.id and visits > 0 for (_, what), visits in problem.needs.items())
    ]
    for last in sorted({max(stint.open) for stint in needed if stint.open}):
        yield [_with_rotations(problem, last, more) for more in range(1, MOST_ROTATIONS + 1)]
    for stint in needed:
        yield [_with_seats(problem, stint, more) for more in range(1, MOST_SEATS + 1)]
    for stint in needed:
        steps = list(_with_days(problem, stint))
        if steps:
            yield steps


def _with_rotations(problem: PlanProblem, last: int, more: int) -> _Step:
    """More rotations like a given slot: the same children here, the same stints open."""
    added = frozenset(range(len(problem.slots), len(problem.slots) + more))
    mended = replace(
        problem,
        slots=problem.slots + (problem.slots[last],) * more,
        students=tuple(
            replace(student, here=student.here | added) if last in student.here else student
            for student in problem.students
        ),
        stints=tuple(
            replace(stint, open=stint.open | added) if last in stint.open else stint
            for stint in problem.stints
        ),
    )
    return Mend(MendKind.ROTATIONS, more, None, problem.slots[last].day, 0), mended


def _with_seats(problem: PlanProblem, stint: PlanStint, more: int) -> _Step:
    """More seats at one stint."""
    mended = _with_stint(problem, replace(stint, seats=stint.seats + more))
    return Mend(MendKind.SEATS, more, stint.id, None, 0), mended


def _with_days(problem: PlanProblem, stint: PlanStint) -> Iterator[_Step]:
    """One stint open for more of the days on the calendar."""
    closes = max((problem.slots[t].day for t in stint.open), default=None)
    later = sorted({slot.day for slot in problem.slots if closes and slot.day > closes})
    for more, day in enumerate(later[:MOST_DAYS], start=1):
        added = {t for t, slot in enumerate(problem.slots) if closes and closes < slot.day <= day}
        mended = _with_stint(problem, replace(stint, open=stint.open | added))
        yield Mend(MendKind.DAYS, more, stint.id, day, 0), mended


def _with_stint(problem: PlanProblem, changed: PlanStint) -> PlanProblem:
    """The problem with one stint changed."""
    stints = tuple(changed if stint.id == changed.id else stint for stint in problem.stints)
    return replace(problem, stints=stints)
