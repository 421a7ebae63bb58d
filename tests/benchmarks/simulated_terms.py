"""Rotations until every child has been everywhere; python -m tests.benchmarks.simulated_terms.

24 children in groups of four, six bins of four seats, one rotation a day, children away at random.
In one run, over the same absences: a fixed wheel, a planner that plans again after each rotation
(for each weight of keeping groups), and the fewest rotations for one who knows the absences.
`--hard` adds closing days, weekly pull-outs and a caution, and counts needs left unmet.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from collections.abc import Sequence
from dataclasses import dataclass

from bot.classroom.rotation.bounds import bound_of
from bot.classroom.rotation.openings import openings_of
from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import (
    KeepGroups,
    PlaceKind,
    PlanProblem,
    PlanStint,
    PlanStudent,
)
from tests.benchmarks.classes import Shape, calendar

CLASS = Shape(children=24, bins=6, seats=4, group_size=4, weeks=4, rotations_a_day=1)
CLOSES = (9, 9, 12, 12, 14, 14)
LONGEST = 60


@dataclass(frozen=True, slots=True)
class Term:
    """What happens in one term: who is away in which rotation, and what is open to whom."""

    away: tuple[frozenset[int], ...]
    pulled_out: tuple[int | None, ...]
    barred: tuple[int | None, ...]
    closes: tuple[int, ...]

    def kept_from(self, student: int) -> frozenset[int]:
        """What a caution bars a child from."""
        bars = self.barred[student]
        return frozenset() if bars is None else frozenset({bars})

    def knows(self, student: int, now: int) -> frozenset[int]:
        """The rotations from now on in which a child is expected, numbered from now."""
        out = self.pulled_out[student]
        return frozenset(
            t
            for t in range(CLASS.slots)
            if (t > 0 or student not in self.away[now]) and (out is None or (now + t) % 5 != out)
        )


@dataclass(frozen=True, slots=True)
class Ran:
    """How a term went: rotations until done, needs never met, share of placements away."""

    rotations: int
    unmet: int
    away_share: float


def invented_term(rate: float, seed: int, *, hard: bool) -> Term:
    """A term with children away at a rate each day; hard ones bar and close things too."""
    rng = random.Random(seed)
    away = tuple(
        frozenset(s for s in range(CLASS.children) if rng.random() < rate) for _ in range(LONGEST)
    )
    nobody: tuple[int | None, ...] = (None,) * CLASS.children
    if not hard:
        return Term(away, nobody, nobody, (LONGEST,) * CLASS.bins)
    pulled = [rng.randrange(5) if rng.random() < 0.1 else None for _ in range(CLASS.children)]
    barred = list(nobody)
    barred[rng.randrange(CLASS.children)] = rng.randrange(CLASS.bins)
    return Term(away, tuple(pulled), tuple(barred), CLOSES)


def all_needs(term: Term) -> dict[tuple[int, int], int]:
    """Everybody needs everything but what a caution bars."""
    return {
        (s, b): 1 for s in range(CLASS.children) for b in range(CLASS.bins) if term.barred[s] != b
    }


def problem_at(
    term: Term, now: int, needs: dict[tuple[int, int], int], keep: KeepGroups, rate: float
) -> PlanProblem:
    """What is known before one rotation."""
    return PlanProblem(
        slots=calendar(CLASS),
        students=tuple(
            PlanStudent(
                id=s,
                group=s // CLASS.group_size,
                here=term.knows(s, now),
                kept_from=term.kept_from(s),
            )
            for s in range(CLASS.children)
        ),
        stints=tuple(
            PlanStint(b, CLASS.seats, frozenset(range(max(0, min(CLASS.slots, closes - now)))))
            for b, closes in enumerate(term.closes)
        ),
        needs={pair: n for pair, n in needs.items() if n},
        keep_groups=keep,
        absence_rate=rate,
    )


def fixed_wheel(term: Term) -> Ran:
    """Group g at bin (g + rotation) modulo bins, round after round."""
    needs = all_needs(term)
    now = 0
    while any(needs[s, b] and now < term.closes[b] for s, b in needs):
        for s in range(CLASS.children):
            bin_now = (s // CLASS.group_size + now) % CLASS.bins
            if 0 in term.knows(s, now) and now < term.closes[bin_now] and (s, bin_now) in needs:
                needs[s, bin_now] = 0
        now += 1
    return Ran(now, sum(needs.values()), 0.0)


def replanned(term: Term, keep: KeepGroups, rate: float, seconds: list[float]) -> Ran:
    """Plan, run the first rotation of the plan, see who is away, plan again."""
    needs = all_needs(term)
    now = placed = away = 0
    while any(needs[s, b] and now < term.closes[b] for s, b in needs):
        started = time.perf_counter()
        plan = plan_rotations(problem_at(term, now, needs, keep, rate))
        seconds.append(time.perf_counter() - started)
        for placement in plan.placements:
            if placement.slot == 0 and placement.place.kind is PlaceKind.STINT:
                placed += len(placement.students)
                for student in placement.students:
                    needs[student, placement.place.id] = 0
        away += sum(slot == 0 for slot, _ in plan.away)
        now += 1
    return Ran(now, sum(needs.values()), away / placed)


def known_in_advance(term: Term) -> Ran:
    """The least that anybody could do who knows all absences: a bound, not a plan."""
    students = tuple(
        PlanStudent(
            s,
            None,
            frozenset(t for t in range(LONGEST) if 0 in term.knows(s, t)),
            term.kept_from(s),
        )
        for s in range(CLASS.children)
    )
    stints = tuple(
        PlanStint(b, CLASS.seats, frozenset(range(closes))) for b, closes in enumerate(term.closes)
    )
    slots = calendar(CLASS) * (LONGEST // CLASS.slots)
    needs = all_needs(term)
    bound = bound_of(openings_of(PlanProblem(slots, students, stints, needs)))
    return Ran(bound.rotations, sum(needs.values()) - bound.visits, 0.0)


def line(name: str, ran: Sequence[Ran]) -> str:
    """One line of figures."""
    return (
        f"  {name:18} rotations {statistics.mean(r.rotations for r in ran):5.2f}"
        f" (worst {max(r.rotations for r in ran)})"
        f"  unmet {statistics.mean(r.unmet for r in ran):.2f}"
        f"  away {statistics.mean(r.away_share for r in ran):.1%}"
    )


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--terms", type=int, default=100)
    parser.add_argument("--rates", nargs="*", type=float, default=[0.06, 0.10])
    parser.add_argument("--weights", nargs="*", default=list(KeepGroups), choices=list(KeepGroups))
    parser.add_argument("--hard", action="store_true")
    arguments = parser.parse_args()
    for rate in arguments.rates:
        terms = [invented_term(rate, seed, hard=arguments.hard) for seed in range(arguments.terms)]
        print(f"{rate:.0%} away, {arguments.terms} terms")
        print(line("fixed wheel", [fixed_wheel(term) for term in terms]))
        for weight in arguments.weights:
            seconds: list[float] = []
            ran = [replanned(term, KeepGroups(weight), rate, seconds) for term in terms]
            print(line(weight, ran), f" {statistics.median(seconds):.2f} s a plan", flush=True)
        print(line("known (bound)", [known_in_advance(term) for term in terms]))


if __name__ == "__main__":
    main()
