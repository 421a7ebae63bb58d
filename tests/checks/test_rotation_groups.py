"""Children away from their group: the planner against exhaustive search on tiny classes.

400 classes with --all-of-it, else a share of them.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import product

import pytest

from bot.classroom.rotation.horizon import allowed_away
from bot.classroom.rotation.openings import openings_of
from bot.classroom.rotation.problem import KeepGroups, PlanProblem, PlanStint, PlanStudent
from bot.classroom.rotation.search import EXTRA_ROTATIONS, best_arrangement
from bot.classroom.rotation.solving import Solving
from tests.classroom.invented import slots

CLASSES, SHARE = 400, 40


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Give each test its random classes, by seed."""
    if "seed" in metafunc.fixturenames:
        whole = metafunc.config.getoption("--all-of-it")
        metafunc.parametrize("seed", range(CLASSES if whole else SHARE))


IMPOSSIBLE = 1_000
# One child's place in one slot: a stint or nowhere.
Seat = int | None


def tiny_class(seed: int) -> PlanProblem:
    """3 or 4 children in one or two groups, 2 bins, 2 to 5 slots, some aways and a caution."""
    rng = random.Random(seed)
    count, count_slots = rng.randint(3, 4), rng.randint(2, 5)
    bars = {rng.randrange(count): frozenset({rng.randrange(2)})} if rng.random() < 0.4 else {}
    return PlanProblem(
        slots=slots(count_slots),
        students=tuple(
            PlanStudent(
                s,
                1 + (s * rng.randint(1, 2) // count),
                frozenset(t for t in range(count_slots) if rng.random() < 0.85),
                bars.get(s, frozenset()),
            )
            for s in range(count)
        ),
        stints=tuple(
            PlanStint(b, rng.randint(1, 3), frozenset(range(count_slots))) for b in (0, 1)
        ),
        needs={
            (s, b): 1
            for s in range(count)
            for b in (0, 1)
            if rng.random() < 0.7 and b not in bars.get(s, ())
        },
        keep_apart=((0, 1),) if rng.random() < 0.3 else (),
        keep_groups=KeepGroups.FIRMLY,
    )


def seatings(problem: PlanProblem, slot: int) -> Iterator[tuple[Seat, ...]]:
    """Every way to place the children in one slot within the hard limits."""
    choices: list[list[Seat]] = [
        [None, *(b for b in (0, 1) if slot in student.here and b not in student.kept_from)]
        for student in problem.students
    ]
    for seating in product(*choices):
        together = [
            seating[one] is not None and seating[one] == seating[other]
            for one, other in problem.keep_apart
        ]
        full = any(seating.count(stint.id) > stint.seats for stint in problem.stints)
        if not full and not any(together):
            yield seating


def away_in(problem: PlanProblem, slot: int, seating: tuple[Seat, ...]) -> int:
    """Children not with their group: where at least half of it is, or nowhere."""
    away = 0
    for group in (1, 2):
        seats = [seating[s.id] for s in problem.students if s.group == group and slot in s.here]
        most = max(Counter(seat for seat in seats if seat is not None).values(), default=0)
        placed = sum(seat is not None for seat in seats)
        away += len(seats) - most if most and 2 * most >= len(seats) else placed
    return away


def fewest_away(problem: PlanProblem, horizon: int) -> int:
    """The fewest children away with all needs met in so many slots."""

    @cache
    def best(slot: int, left: frozenset[tuple[int, int]]) -> int:
        if slot == horizon:
            return IMPOSSIBLE if left else 0
        return min(
            away_in(problem, slot, seating)
            + best(slot + 1, left - {(s, b) for s, b in enumerate(seating) if b is not None})
            for seating in seatings(problem, slot)
        )

    return best(0, frozenset(problem.needs))


# Exhaustive search over all placements of all slots, for as many rotations as "firmly" may spend.
def test_firmly_leaves_as_few_away_as_exhaustion_does(seed: int) -> None:
    problem = tiny_class(seed)
    by_horizon = [fewest_away(problem, h) for h in range(len(problem.slots) + 1)]
    possible = [h for h, away in enumerate(by_horizon) if away < IMPOSSIBLE]
    openings = openings_of(problem)
    outcome = best_arrangement(openings, {}, Solving(problem.effort))
    assert outcome.proven
    all_fit = sum(openings.wants.values()) == len(problem.needs)
    assert (all_fit and outcome.missing == 0) == bool(possible)
    if not possible:
        return
    # Children for whom no stint has a seat beside their group do not count.
    excused = allowed_away(openings, outcome.horizon)
    assert max(outcome.away, excused) == max(by_horizon[outcome.horizon], excused)
    assert 0 <= outcome.horizon - possible[0] <= EXTRA_ROTATIONS
