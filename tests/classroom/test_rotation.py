"""What a plan gives whom, on problems small enough to see the answer."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import pytest

from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import (
    Announced,
    KeepGroups,
    Placement,
    PlanProblem,
    PlanStation,
    PlanStint,
    PlanStudent,
    Reason,
    UnmetNeed,
)
from tests.classroom.invented import fresh_class, slots, station, stint, stints, students
from tests.classroom.plan_limits import broken_limits


def two_children(**changes: object) -> PlanProblem:
    """Two children without groups, two stints of one seat, four slots; both need both."""
    problem = PlanProblem(
        slots=slots(4),
        students=students(2, count_slots=4),
        stints=stints([1, 1], count_slots=4),
        needs={(s, b): 1 for s in range(2) for b in range(2)},
    )
    return replace(problem, **changes)  # type: ignore[arg-type]


def test_groups_go_round_together_as_in_a_latin_square() -> None:
    plan = plan_rotations(fresh_class(groups=3, size=2, bins=3, seats=2, count_slots=3))
    assert plan.rotations_used == 3
    assert plan.away == ()
    assert plan.unmet == ()
    assert plan.proven
    assert sorted(placement.students for placement in plan.placements) == sorted(
        [(0, 1), (2, 3), (4, 5)] * 3
    )


def test_the_same_problem_has_the_same_plan_in_whatever_order_the_needs_come() -> None:
    problem = fresh_class(groups=3, size=3, bins=4, seats=3, count_slots=6)
    turned = replace(problem, needs=dict(sorted(problem.needs.items(), reverse=True)))
    assert plan_rotations(problem) == plan_rotations(turned)


def test_the_same_problem_has_the_same_plan_in_another_process() -> None:
    code = (
        "from bot.classroom.rotation.planning import plan_rotations\n"
        "from tests.classroom.invented import fresh_class\n"
        "print(plan_rotations(fresh_class(groups=4, size=3, bins=5, seats=3, count_slots=8)))"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    plan = plan_rotations(fresh_class(groups=4, size=3, bins=5, seats=3, count_slots=8))
    assert printed == {f"{plan}\n"}


def test_a_plan_that_was_announced_comes_back_unchanged() -> None:
    problem = fresh_class(groups=3, size=3, bins=4, seats=3, count_slots=6)
    plan = plan_rotations(problem)
    today = frozenset({0, 1})
    told = replace(problem, announced=plan.announcements(today))
    again = plan_rotations(told)
    assert again.announcements(today) == plan.announcements(today)
    assert again.rotations_used == plan.rotations_used


def test_a_child_who_falls_ill_moves_nobody_else() -> None:
    problem = fresh_class(groups=3, size=3, bins=3, seats=3, count_slots=8)
    today = frozenset({0, 1})
    told = plan_rotations(problem).announcements(today)
    ill = replace(problem.students[4], here=problem.students[4].here - today)
    problem = replace(
        problem,
        students=(*problem.students[:4], ill, *problem.students[5:]),
        announced=told,
        touched=frozenset({4}),
    )
    plan = plan_rotations(problem)
    assert plan.announcements(today) == tuple(a for a in told if a.student != 4)
    assert plan.unmet == ()


def test_a_child_who_has_to_go_early_changes_places_with_one_other() -> None:
    problem = fresh_class(groups=2, size=4, bins=2, seats=4, count_slots=2)
    today = frozenset({0, 1})
    told = plan_rotations(problem).announcements(today)
    [late] = [a for a in told if a.student == 4 and a.slot == 1]
    early = replace(problem.students[4], here=frozenset({0}))
    needs = {key: n for key, n in problem.needs.items() if key[0] != 4}
    left = replace(
        problem,
        students=(*problem.students[:4], early, *problem.students[5:]),
        needs={**needs, (4, late.place.id): 1},
        announced=told,
        touched=frozenset({4}),
    )
    plan = plan_rotations(left)
    assert plan.unmet == ()
    kept = set(plan.announcements(today)) & set(told)
    moved = {a.student for a in told if a not in kept} - {4}
    assert len(moved) == 1
    assert len(kept) == len(told) - 4  # both places of each of the two


def test_an_announced_turn_gives_way_where_another_need_could_not_be_met() -> None:
    problem = two_children(
        needs={(0, 0): 1, (1, 0): 1},
        announced=(Announced(0, 0, stint(0)),),
        students=(
            PlanStudent(0, None, frozenset({0, 1})),
            PlanStudent(1, None, frozenset({0})),
        ),
    )
    plan = plan_rotations(problem)
    assert plan.unmet == ()
    assert plan.place_of(1, 0) == stint(0)
    assert plan.place_of(0, 1) == stint(0)


def test_an_announced_place_stays_though_a_rotation_could_be_saved() -> None:
    problem = two_children(
        needs={(0, 0): 1, (0, 1): 1, (1, 0): 1},
        announced=(Announced(1, 0, stint(0)), Announced(0, 1, stint(0))),
        stints=stints([1, 1], count_slots=4),
        students=(PlanStudent(0, None, frozenset({1, 2, 3})), PlanStudent(1, None, frozenset({0}))),
    )
    plan = plan_rotations(problem)
    assert plan.place_of(1, 0) == stint(0)
    assert plan.place_of(0, 1) == stint(0)
    assert plan.place_of(0, 2) == stint(1)


def test_a_station_that_was_announced_gives_way_to_finish_a_rotation_earlier() -> None:
    problem = two_children(
        needs={(0, 0): 1, (0, 1): 1},
        stations=(PlanStation(7, 2),),
        announced=(Announced(0, 0, station(7)),),
    )
    plan = plan_rotations(problem)
    assert plan.rotations_used == 2
    assert plan.place_of(0, 0) in {stint(0), stint(1)}
    touched = plan_rotations(replace(problem, needs={(0, 0): 1}, announced=problem.announced))
    assert touched.place_of(0, 0) == stint(0)


@pytest.mark.parametrize(
    ("keep", "rotations", "away"),
    [(KeepGroups.LOOSELY, 1, 1), (KeepGroups.MOSTLY, 2, 0), (KeepGroups.FIRMLY, 2, 0)],
)
def test_keeping_groups_weighs_against_rotations(
    keep: KeepGroups, rotations: int, away: int
) -> None:
    problem = PlanProblem(
        slots=slots(4),
        students=students(2, count_slots=4, groups=[1, 1]),
        stints=stints([2, 2], count_slots=4),
        needs={(0, 0): 1, (1, 1): 1},
        keep_groups=keep,
    )
    plan = plan_rotations(problem)
    assert (plan.rotations_used, len(plan.away)) == (rotations, away)
    assert plan.proven


def test_mostly_lets_one_in_seven_be_away() -> None:
    needs = {(s, 0): 1 for s in range(6)} | {(6, 1): 1}
    problem = PlanProblem(
        slots=slots(3),
        students=students(7, count_slots=3, groups=[1] * 7),
        stints=stints([7, 7], count_slots=3),
        needs=needs,
    )
    plan = plan_rotations(problem)
    assert plan.rotations_used == 1
    assert plan.away[0] == (0, 6)
    assert plan.away_share == pytest.approx(1 / 7)
    firmly = plan_rotations(replace(problem, keep_groups=KeepGroups.FIRMLY))
    assert (firmly.rotations_used, firmly.away) == (2, ())


def test_a_group_larger_than_any_stint_leaves_only_those_without_a_seat_away() -> None:
    problem = PlanProblem(
        slots=slots(4),
        students=students(3, count_slots=4, groups=[1, 1, 1]),
        stints=stints([2, 2], count_slots=4),
        needs={(s, b): 1 for s in range(3) for b in range(2)},
        keep_groups=KeepGroups.FIRMLY,
    )
    plan = plan_rotations(problem)
    assert plan.unmet == ()
    assert [slot for slot, _ in plan.away if slot < plan.rotations_used] == list(
        range(plan.rotations_used)
    )


def test_children_who_need_nothing_come_along_with_their_group() -> None:
    problem = PlanProblem(
        slots=slots(1),
        students=students(3, count_slots=1, groups=[1, 1, 1]),
        stints=stints([3, 3], count_slots=1),
        needs={(1, 1): 1},
    )
    assert plan_rotations(problem).placements == (Placement(0, stint(1), (0, 1, 2), (1,)),)


def test_a_needed_turn_comes_before_another_turn_with_the_group() -> None:
    problem = PlanProblem(
        slots=slots(1),
        students=students(4, count_slots=1, groups=[1, 1, 2, 2]),
        stints=stints([2], count_slots=1),
        needs={(0, 0): 1, (2, 0): 1},
        stations=(PlanStation(9, 4),),
    )
    plan = plan_rotations(problem)
    assert plan.placements == (
        Placement(0, stint(0), (0, 2), (0, 2)),
        Placement(0, station(9), (1, 3), ()),
    )


def test_a_child_without_seat_or_station_has_no_place() -> None:
    problem = two_children(slots=slots(1), stints=stints([1], count_slots=1), needs={(1, 0): 1})
    plan = plan_rotations(problem)
    assert plan.placements == (Placement(0, stint(0), (1,), (1,)),)
    assert plan.place_of(0, 0) is None


def test_a_child_kept_apart_changes_places_with_one_who_needs_nothing() -> None:
    nobody_else = PlanProblem(
        slots=slots(1),
        students=students(3, count_slots=1, groups=[1, 1, 1]),
        stints=stints([1], count_slots=1),
        needs={},
        stations=(PlanStation(0, 2),),
        keep_apart=((0, 2), (1, 2)),
    )
    plan = plan_rotations(nobody_else)
    assert {(p.place, p.students) for p in plan.placements} == {
        (station(0), (0, 1)),
        (stint(0), (2,)),
    }


def test_who_was_told_a_place_is_not_moved_for_one_who_needs_nothing() -> None:
    problem = PlanProblem(
        slots=slots(1),
        students=students(2, count_slots=1),
        stints=stints([1], count_slots=1),
        needs={},
        stations=(PlanStation(0, 1),),
        announced=(Announced(0, 0, stint(0)),),
    )
    barred = replace(problem.students[1], kept_from=frozenset({0}))
    held = replace(problem.announced[0], place=station(0))
    told = replace(problem, students=(problem.students[0], barred), announced=(held,))
    assert [p.students for p in plan_rotations(told).placements] == [(0,)]
    untold = replace(told, announced=())
    assert [p.students for p in plan_rotations(untold).placements] == [(0,), (1,)]


def test_a_second_turn_on_one_day_comes_after_a_station() -> None:
    problem = PlanProblem(
        slots=slots(4, a_day=2),
        students=students(1, count_slots=4),
        stints=stints([1], count_slots=4),
        needs={},
        stations=(PlanStation(0, 1),),
    )
    places = [stint(0), station(0), stint(0), station(0)]
    assert [p.place for p in plan_rotations(problem).placements] == places
    been = replace(problem, visited=frozenset({(0, 0, problem.slots[0].day)}))
    assert [p.place for p in plan_rotations(been).placements][:2] == [station(0)] * 2
    without = replace(been, stations=())
    assert [p.place for p in plan_rotations(without).placements] == [stint(0)] * 4


def test_a_guest_rotates_with_the_other_group_for_a_day() -> None:
    here = frozenset({0, 1})
    problem = PlanProblem(
        slots=slots(2),
        students=(
            PlanStudent(0, 1, here),
            PlanStudent(1, 1, here, guest={0: 2}),
            PlanStudent(2, 2, here),
        ),
        stints=stints([3, 3], count_slots=2),
        needs={(0, 0): 1, (0, 1): 1, (2, 1): 1, (2, 0): 1},
    )
    plan = plan_rotations(problem)
    assert plan.away == ()
    assert plan.place_of(1, 0) == plan.place_of(2, 0)
    assert plan.place_of(1, 1) == plan.place_of(0, 1)


def test_few_spare_chances_go_first() -> None:
    problem = two_children(
        needs={(0, 0): 1, (1, 0): 1},
        students=(
            PlanStudent(0, None, frozenset({0, 1, 2, 3})),
            PlanStudent(1, None, frozenset({0, 1})),
        ),
    )
    plan = plan_rotations(problem)
    assert [plan.place_of(1, 0), plan.place_of(0, 1)] == [stint(0), stint(0)]


def test_several_visits_to_one_stint_are_in_different_slots() -> None:
    plan = plan_rotations(two_children(needs={(0, 0): 2, (1, 0): 1}))
    assert plan.rotations_used == 3
    assert sum(0 in p.needed for p in plan.placements if p.place == stint(0)) == 2


@pytest.mark.parametrize(
    ("changes", "unmet"),
    [
        (
            {
                "students": (PlanStudent(0, None, frozenset({0, 1}), frozenset({1})),),
                "needs": {(0, 0): 1, (0, 1): 1},
            },
            UnmetNeed(0, 1, 1, Reason.CAUTION),
        ),
        (
            {
                "students": (PlanStudent(0, None, frozenset({0, 1})),),
                "needs": {(0, 0): 1, (0, 1): 1},
                "stints": (
                    PlanStint(0, 1, frozenset({0, 1})),
                    PlanStint(1, 1, frozenset({2, 3})),
                ),
            },
            UnmetNeed(0, 1, 1, Reason.NEVER_BOTH),
        ),
        (
            {"needs": {(0, 0): 1, (0, 1): 1}, "stints": stints([1, 0], count_slots=4)},
            UnmetNeed(0, 1, 1, Reason.SEATS_SHORT),
        ),
        (
            {"needs": {(0, 0): 1, (1, 0): 1}, "slots": slots(1)},
            UnmetNeed(1, 0, 1, Reason.SEATS_SHORT),
        ),
        (
            {
                "students": (PlanStudent(0, None, frozenset({2})),),
                "needs": {(0, 0): 1, (0, 1): 1},
                "announced": (Announced(0, 2, stint(0)),),
            },
            UnmetNeed(0, 1, 1, Reason.CHILD_HAS_TOO_FEW_ROTATIONS),
        ),
        (
            {
                "slots": slots(1),
                "stints": stints([2], count_slots=1),
                "needs": {(0, 0): 1, (1, 0): 1},
                "keep_apart": ((0, 1),),
                "announced": (Announced(0, 0, stint(0)),),
            },
            UnmetNeed(1, 0, 1, Reason.TOO_MUCH_AT_ONCE),
        ),
    ],
)
def test_a_need_that_cannot_be_met_is_told_with_its_reason(
    changes: dict[str, object], unmet: UnmetNeed
) -> None:
    problem = two_children(**changes)
    plan = plan_rotations(problem)
    assert plan.unmet == (unmet,)
    assert plan.proven
    assert broken_limits(problem, plan) == []


def test_a_need_of_a_child_or_stint_that_is_not_listed_is_an_error() -> None:
    with pytest.raises(ValueError, match="student 5, stint 0"):
        plan_rotations(two_children(needs={(5, 0): 1}))
    with pytest.raises(ValueError, match="student 0, stint 8"):
        plan_rotations(two_children(needs={(0, 8): 1}))


def test_without_needs_or_slots_there_is_nothing_to_plan() -> None:
    assert plan_rotations(two_children(needs={}, slots=())).placements == ()
    idle = plan_rotations(two_children(needs={}))
    assert (idle.rotations_used, idle.unmet, idle.away_share, idle.proven) == (0, (), 0.0, True)


def test_without_effort_the_plan_is_still_sound() -> None:
    problem = replace(fresh_class(groups=6, size=4, bins=6, seats=4, count_slots=12), effort=0.0)
    plan = plan_rotations(problem)
    assert broken_limits(problem, plan) == []
    assert sum(len(placement.needed) for placement in plan.placements) >= 120
