"""Invented classes for benchmarks and checks: in the middle of a term, with what happens there."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import date, time, timedelta

from bot.classroom.rotation.problem import PlanProblem, PlanStint, PlanStudent, RotationSlot

MONDAY = date(2026, 11, 30)


@dataclass(frozen=True, slots=True)
class Shape:
    """How large a class and its calendar are."""

    children: int
    bins: int
    seats: int
    group_size: int
    weeks: int
    rotations_a_day: int = 2

    @property
    def slots(self) -> int:
        """All rotations of the weeks."""
        return self.weeks * 5 * self.rotations_a_day


def calendar(shape: Shape) -> tuple[RotationSlot, ...]:
    """The rotations of some school weeks, five days each."""
    days = [
        MONDAY + timedelta(days=7 * week + day) for week in range(shape.weeks) for day in range(5)
    ]
    starts = [time(10, 15), time(10, 40), time(13, 10)]
    return tuple(
        RotationSlot(day, at, 20) for day in days for at in starts[: shape.rotations_a_day]
    )


def busy_class(shape: Shape, seed: int) -> PlanProblem:
    """A class some rotations into its bins: the group wheel so far, with 6% absences a day.

    One child in ten is pulled out of the same weekly rotation, one visit in fifty is barred by a
    caution, one pair is kept apart, two bins in five close half-way or later, and 6% of the
    children are away on the first day.
    """
    rng = random.Random(seed)
    groups = -(-shape.children // shape.group_size)
    done = rng.randrange(shape.bins)
    barred = [
        frozenset(b for b in range(shape.bins) if rng.random() < 0.02)
        for _ in range(shape.children)
    ]
    needs = {(s, b): 1 for s in range(shape.children) for b in range(shape.bins)}
    for turn in range(done):
        for s in range(shape.children):
            if rng.random() >= 0.06:
                needs[s, (s // shape.group_size + turn) % max(groups, shape.bins)] = 0
    needs = {(s, b): n for (s, b), n in needs.items() if n and b not in barred[s]}
    needs = {(s, b): n for (s, b), n in needs.items() if b < shape.bins}
    per_week = 5 * shape.rotations_a_day
    students = []
    for s in range(shape.children):
        here = set(range(shape.slots))
        if rng.random() < 0.06:
            here -= set(range(shape.rotations_a_day))
        if rng.random() < 0.10:
            out = rng.randrange(per_week)
            here -= {t for t in here if t % per_week == out}
        students.append(PlanStudent(s, s // shape.group_size, frozenset(here), barred[s]))
    stints = []
    for b in range(shape.bins):
        closes = shape.slots
        if rng.random() < 0.4:
            closes = rng.randrange(
                max(shape.slots // 2, min(shape.bins + 4, shape.slots)), shape.slots + 1
            )
        stints.append(PlanStint(b, shape.seats, frozenset(range(closes))))
    pair = tuple(rng.sample(range(shape.children), 2))
    return PlanProblem(
        slots=calendar(shape),
        students=tuple(students),
        stints=tuple(stints),
        needs=needs,
        keep_apart=((pair[0], pair[1]),),
    )
