"""The planner: who goes where in which rotation, from now to the closing days."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

from bot.classroom.rotation.announced import (
    announced_places,
    most_that_can_stay,
    urgency_of,
)
from bot.classroom.rotation.bounds import bound_of, unmet_needs
from bot.classroom.rotation.free_seats import away_from_group, fill_free_seats
from bot.classroom.rotation.horizon import Outcome, as_it_came
from bot.classroom.rotation.openings import Openings, left_out, needed_visits, openings_of
from bot.classroom.rotation.problem import Placement, Plan, PlanProblem
from bot.classroom.rotation.search import best_arrangement, last_counted, most_visits
from bot.classroom.rotation.solving import Solving


def plan_rotations(problem: PlanProblem) -> Plan:
    """Plan all the slots of a problem.

    Goals in this order: the most needs met before each stint closes; announced visits that count
    kept; the fewest rotations, weighed with groups kept together by `keep_groups`; the other
    announced places kept; urgent needs early, as room for absences to come. Seats, cautions,
    keep-apart, availability and open slots hold always, and a child has one place in a slot. The
    same problem gives the same plan.

    "With the group" is being where most of its members are in that slot, if that is at least half
    of those who are here. "Loosely" spends no rotation on groups; "mostly" spends up to two more
    where over one placement in seven would be away from the group; "firmly" spends up to two more
    on every child who would be. Idle children are counted as away while the plan is made.
    """
    openings = openings_of(problem)
    announced = announced_places(openings, urgency_of(openings))
    outcome = _with_announced(openings, announced)
    at = fill_free_seats(openings, outcome.arrangement, announced)
    at = _in_roster_order(openings, at)
    needed = needed_visits(openings, at)
    used = 1 + max((slot for _, slot in needed), default=-1)
    away, share = away_from_group(openings, at, used)
    return Plan(
        placements=_placements(openings, at, needed),
        unmet=tuple(unmet_needs(openings, left_out(openings, at))),
        proven=outcome.proven,
        rotations_used=used,
        away=tuple((slot, problem.students[s].id) for slot, s in away),
        away_share=share,
    )


def _with_announced(openings: Openings, announced: Mapping[tuple[int, int], int]) -> Outcome:
    """Hold all that was announced, or less of it where that serves the needs better.

    Announced places that count give way only to more needs met; the others also to fewer rotations.
    No more of them give way than it takes.
    """
    solving = Solving(openings.problem.effort)
    best = best_arrangement(openings.holding(announced), {}, solving)
    bound = bound_of(openings)
    missing = sum(openings.wants.values()) - bound.visits
    counted = {key: p for key, p in announced.items() if (key[0], p) in openings.wants}
    if len(counted) < len(announced):
        holding = openings.holding(counted)
        rotations = max(bound.rotations, last_counted(holding))
        if best.missing > missing or best.horizon > rotations:
            other = best_arrangement(holding, announced, solving)
            if (other.missing, other.horizon) < (best.missing, best.horizon):
                best = replace(other, proven=other.proven and best.proven)
                best = _least_moved(holding, announced, best, solving)
    if counted and best.missing > missing:
        arrangement, _ = most_visits(openings, solving)
        fewest = sum(left_out(openings, arrangement.at).values())
        if fewest < best.missing:
            other = as_it_came(openings, arrangement, openings.slots, fewest)
            best = replace(_least_moved(openings, announced, other, solving), proven=False)
    return best


def _least_moved(
    openings: Openings, announced: Mapping[tuple[int, int], int], known: Outcome, solving: Solving
) -> Outcome:
    """As many needs met in as few slots as is known to be possible, with the least that was
    announced given up; what is known, where none is found."""
    stay = most_that_can_stay(openings, announced, known.horizon, known.missing, solving)
    found = best_arrangement(openings.holding(stay), announced, solving)
    is_as_good = (found.missing, found.horizon) <= (known.missing, known.horizon)
    return replace(found, proven=found.proven and known.proven) if is_as_good else known


def _in_roster_order(
    openings: Openings, at: Mapping[tuple[int, int], int]
) -> dict[tuple[int, int], int]:
    """Deal the ways of children who are alike in everything out in roster order."""
    problem = openings.problem
    particular = {s for pair in openings.apart for s in pair}
    particular |= {s for s, student in enumerate(problem.students) if student.guest}
    told = {announced.student for announced in problem.announced}
    alike: dict[object, list[int]] = defaultdict(list)
    for s, student in enumerate(problem.students):
        if s not in particular and student.id not in told:
            wants = tuple(sorted((b, n) for (who, b), n in openings.wants.items() if who == s))
            fits = tuple(openings.fits[s, b] for b, _ in wants)
            key = (student.group, student.here, frozenset(student.kept_from), wants, fits)
            alike[key].append(s)
    dealt = dict(at)
    for rows in alike.values():
        ways = [{t: at[s, t] for t in range(openings.slots) if (s, t) in at} for s in rows]
        ways.sort(key=lambda way: [way.get(t, len(openings.seats)) for t in range(openings.slots)])
        for s, way in zip(rows, ways, strict=True):
            for t in range(openings.slots):
                dealt.pop((s, t), None)
                if t in way:
                    dealt[s, t] = way[t]
    return dealt


def _placements(
    openings: Openings,
    at: Mapping[tuple[int, int], int],
    needed: Mapping[tuple[int, int], int],
) -> tuple[Placement, ...]:
    """Slot by slot, stints before stations, children in roster order."""
    students = openings.problem.students
    together: dict[tuple[int, int], list[int]] = defaultdict(list)
    for (student, slot), place in sorted(at.items()):
        together[slot, place].append(student)
    return tuple(
        Placement(
            slot=slot,
            place=openings.place(place),
            students=tuple(students[s].id for s in rows),
            needed=tuple(students[s].id for s in rows if (s, slot) in needed),
        )
        for (slot, place), rows in sorted(together.items())
    )
