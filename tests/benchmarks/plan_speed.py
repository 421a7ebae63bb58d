"""How long a plan takes and how often it is proven best; python -m tests.benchmarks.plan_speed.

Prints for each shape of class, over 50 invented classes in the middle of a term: seconds (median,
95th percentile, worst), the share proven best, and rotations used to the bound that no plan beats.
"""

from __future__ import annotations

import argparse
import statistics
import time
from dataclasses import replace

from bot.classroom.rotation.bounds import bound_of
from bot.classroom.rotation.openings import openings_of
from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import KeepGroups
from tests.benchmarks.classes import Shape, busy_class

SHAPES = {
    "24 children, 6 bins, 2 weeks": Shape(24, 6, 4, 4, 2),
    "30 children, 10 bins, 4 weeks": Shape(30, 10, 4, 4, 4),
    "30 children in fives, 10 bins of 4, 4 weeks": Shape(30, 10, 4, 5, 4),
}


def measure(shape: Shape, count: int, keep: KeepGroups, *, verbose: bool) -> str:
    """Plan `count` classes and put the figures in a line."""
    seconds = []
    proven = 0
    used = 0
    bound = 0
    for seed in range(count):
        problem = replace(busy_class(shape, seed), keep_groups=keep)
        started = time.perf_counter()
        plan = plan_rotations(problem)
        seconds.append(time.perf_counter() - started)
        proven += plan.proven
        if not plan.unmet:
            used += plan.rotations_used
            bound += bound_of(openings_of(problem)).rotations
        if verbose:
            print(
                f"  {seed}: {seconds[-1]:.2f} s, needs {sum(problem.needs.values())}, rotations "
                f"{plan.rotations_used}, unmet {len(plan.unmet)}, away {plan.away_share:.3f}, "
                f"proven {plan.proven}"
            )
    ordered = sorted(seconds)
    late = ordered[int(0.95 * count)]
    return (
        f"{keep:8}  median {statistics.median(seconds):.2f} s  95% {late:.2f} s"
        f"  worst {ordered[-1]:.2f} s  proven {proven / count:.0%}"
        f"  rotations/bound {used / bound if bound else 1:.3f}"
    )


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--classes", type=int, default=50)
    parser.add_argument("--weights", nargs="*", default=["mostly"], choices=list(KeepGroups))
    parser.add_argument("--verbose", action="store_true")
    arguments = parser.parse_args()
    plan_rotations(busy_class(Shape(4, 2, 2, 2, 1), 0))
    for name, shape in SHAPES.items():
        print(name)
        for weight in arguments.weights:
            keep = KeepGroups(weight)
            print(" ", measure(shape, arguments.classes, keep, verbose=arguments.verbose))


if __name__ == "__main__":
    main()
