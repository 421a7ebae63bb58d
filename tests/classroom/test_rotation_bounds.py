"""Bounds, finishing days and mends on problems small enough to see the answer."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bot.classroom.rotation.bounds import (
    Reach,
    earliest_finish,
    fewest_rotations,
    planned_finish,
    reach,
)
from bot.classroom.rotation.mends import Mend, MendKind, cheapest_mends
from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import PlanProblem, PlanStint, PlanStudent
from tests.classroom.invented import slots, stints, students

MONDAY, TUESDAY, WEDNESDAY = date(2026, 11, 23), date(2026, 11, 24), date(2026, 11, 25)


def five_children() -> PlanProblem:
    """Five children, one stint of two seats, one rotation a day from Monday to Friday."""
    return PlanProblem(
        slots=slots(5),
        students=students(5, count_slots=5),
        stints=stints([2], count_slots=5),
        needs={(s, 0): 1 for s in range(5)},
    )


def closing(problem: PlanProblem, rotations: int) -> PlanProblem:
    """The same with the stint closed after so many rotations."""
    return replace(problem, stints=(PlanStint(0, 2, frozenset(range(rotations))),))


def test_the_stint_with_most_needs_for_its_seats_or_the_child_with_most_needs_decides() -> None:
    assert fewest_rotations({}, {}) == 0
    assert fewest_rotations({(s, 0): 1 for s in range(5)}, {0: 2}) == 3
    assert fewest_rotations({(0, b): 1 for b in range(4)}, dict.fromkeys(range(4), 9)) == 4
    assert fewest_rotations({(0, 0): 3, (1, 0): 0}, {0: 2}) == 3
    with pytest.raises(ValueError, match="no seats"):
        fewest_rotations({(0, 0): 1}, {0: 0})


def test_matching_moves_others_along_and_gives_each_line_different_slots() -> None:
    assert reach([((0, 1), 1), ((0,), 1)], [1, 1]) == Reach(2, 2)
    assert reach([((0, 1), 2)], [2, 2]) == Reach(2, 2)
    assert reach([((0,), 2)], [2, 2]) == Reach(1, 1)
    assert reach([], [1]) == Reach(0, 0)


def test_a_stint_finishes_when_its_last_child_can_have_been_there() -> None:
    problem = five_children()
    assert earliest_finish(problem, 0) == WEDNESDAY


def test_a_child_who_cannot_come_any_more_delays_nobody() -> None:
    problem = five_children()
    never = PlanStudent(4, None, frozenset())
    problem = replace(problem, students=(*problem.students[:4], never))
    assert earliest_finish(problem, 0) == TUESDAY
    assert earliest_finish(replace(problem, needs={(4, 0): 1}), 0) is None


def test_the_plan_knows_when_it_finishes_a_stint() -> None:
    problem = five_children()
    plan = plan_rotations(problem)
    assert planned_finish(problem, plan, 0) == WEDNESDAY
    nothing_needed = replace(problem, needs={})
    assert planned_finish(nothing_needed, plan_rotations(nothing_needed), 0) is None


def test_mends_are_a_rotation_a_seat_or_a_day_more() -> None:
    assert cheapest_mends(five_children()) == ()
    assert cheapest_mends(closing(five_children(), 2)) == (
        Mend(MendKind.ROTATIONS, 1, None, TUESDAY, 0),
        Mend(MendKind.SEATS, 1, 0, None, 0),
        Mend(MendKind.DAYS, 1, 0, WEDNESDAY, 0),
    )


def test_a_mend_that_needs_less_is_told_first() -> None:
    assert cheapest_mends(closing(five_children(), 1)) == (
        Mend(MendKind.ROTATIONS, 2, None, MONDAY, 0),
        Mend(MendKind.DAYS, 2, 0, WEDNESDAY, 0),
        Mend(MendKind.SEATS, 3, 0, None, 0),
    )


def test_nothing_mends_what_a_caution_forbids() -> None:
    problem = five_children()
    barred = replace(problem.students[0], kept_from=frozenset({0}))
    problem = replace(problem, students=(barred, *problem.students[1:]))
    assert cheapest_mends(problem) == ()
