"""Promise: seats, cautions, keep-apart, absences and closed slots hold in every plan."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import (
    Announced,
    KeepGroups,
    PlanProblem,
    PlanStation,
    PlanStint,
    PlanStudent,
)
from tests.classroom.invented import MONDAY, slots, station, stint
from tests.classroom.plan_limits import broken_limits


@st.composite
def problems(draw: st.DrawFn) -> PlanProblem:
    """Any small class: every field is drawn, also announced places that cannot stay."""
    count, bins, slot_count = draw(
        st.tuples(st.integers(1, 7), st.integers(1, 4), st.integers(1, 5))
    )
    a_slot = st.integers(0, slot_count - 1)
    a_child = st.integers(0, count - 1)
    a_place = st.one_of(st.integers(0, bins - 1).map(stint), st.integers(0, 1).map(station))
    some_slots = st.frozensets(a_slot)
    a_group = st.one_of(st.none(), st.integers(1, 2))
    visits = st.dictionaries(st.tuples(a_child, st.integers(0, bins - 1)), st.integers(0, 2))
    return PlanProblem(
        slots=slots(slot_count, draw(st.integers(1, 3))),
        students=tuple(
            PlanStudent(
                s,
                draw(a_group),
                draw(some_slots),
                draw(st.frozensets(st.integers(0, bins - 1), max_size=1)),
                draw(st.dictionaries(a_slot, a_group, max_size=1)),
            )
            for s in range(count)
        ),
        stints=tuple(PlanStint(b, draw(st.integers(0, 3)), draw(some_slots)) for b in range(bins)),
        needs=draw(visits),
        stations=tuple(PlanStation(n, draw(st.integers(0, 2))) for n in range(draw(a_child) % 3)),
        keep_apart=tuple(draw(st.lists(st.tuples(a_child, a_child), max_size=2))),
        announced=tuple(
            draw(st.lists(st.builds(Announced, a_child, st.integers(0, 1), a_place), max_size=4))
        ),
        touched=draw(st.frozensets(a_child, max_size=2)),
        visited=draw(
            st.frozensets(st.tuples(a_child, st.integers(0, bins - 1), st.just(MONDAY)), max_size=3)
        ),
        keep_groups=draw(st.sampled_from(KeepGroups)),
        absence_rate=draw(st.sampled_from([0.0, 0.06, 1.0])),
        effort=draw(st.sampled_from([0.0, 1.0])),
    )


@settings(deadline=None, max_examples=100, suppress_health_check=[HealthCheck.too_slow])
@given(problems())
def test_hard_limits_hold_and_every_need_is_accounted_for(problem: PlanProblem) -> None:
    assert broken_limits(problem, plan_rotations(problem)) == []
