"""Small invented problems for the planner's tests."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, time, timedelta

from bot.classroom.rotation.problem import (
    Place,
    PlaceKind,
    PlanProblem,
    PlanStint,
    PlanStudent,
    RotationSlot,
)

MONDAY = date(2026, 11, 23)


def slots(count: int, a_day: int = 1) -> tuple[RotationSlot, ...]:
    """Rotations on days one after the other from a Monday, 10:15 first, then every hour."""
    return tuple(
        RotationSlot(MONDAY + timedelta(days=n // a_day), time(10 + n % a_day, 15), 20)
        for n in range(count)
    )


def students(
    count: int, *, count_slots: int, groups: Sequence[int | None] | None = None
) -> tuple[PlanStudent, ...]:
    """Children 0, 1, ... who are always here."""
    here = frozenset(range(count_slots))
    return tuple(PlanStudent(s, groups[s] if groups else None, here) for s in range(count))


def stints(seats: Iterable[int], *, count_slots: int) -> tuple[PlanStint, ...]:
    """Stints 0, 1, ... with these seats, always open."""
    return tuple(PlanStint(b, n, frozenset(range(count_slots))) for b, n in enumerate(seats))


def fresh_class(groups: int, size: int, bins: int, seats: int, count_slots: int) -> PlanProblem:
    """Groups of one size, everybody needs everything once, nobody is ever away."""
    count = groups * size
    return PlanProblem(
        slots=slots(count_slots),
        students=students(count, count_slots=count_slots, groups=[s // size for s in range(count)]),
        stints=stints([seats] * bins, count_slots=count_slots),
        needs={(s, b): 1 for s in range(count) for b in range(bins)},
    )


def stint(number: int) -> Place:
    """A stint as a place."""
    return Place(PlaceKind.STINT, number)


def station(number: int) -> Place:
    """A station as a place."""
    return Place(PlaceKind.STATION, number)
