"""Running CP-SAT so that the same question gets the same answer: one worker, counted effort."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, CpSolver, IntVar, LinearExpr


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of one model: a solution or none, and whether more search could change that."""

    solver: CpSolver
    found: bool
    closed: bool

    def cost(self) -> int:
        """The cost of the solution found."""
        return round(self.solver.objective_value)

    def floor(self) -> int:
        """The cost that no solution can go below."""
        return max(0, round(self.solver.best_objective_bound))

    def chosen(self, variable: IntVar) -> bool:
        """Whether a yes-or-no variable is yes in the solution."""
        return self.solver.value(variable) > 0


class Solving:
    """A store of effort in CP-SAT deterministic time, spent model by model."""

    def __init__(self, effort: float) -> None:
        """Start with all the effort there is."""
        self.left = effort

    def solve(self, model: CpModel, effort: float, *, by_cores: bool = False) -> Answer:
        """Solve one model within `effort`, or what is left of the whole.

        `by_cores` climbs from below without linear relaxation, which proves small costs fast;
        otherwise the full relaxation leads, which suits costs spread over all placements.
        """
        from ortools.sat.python import cp_model

        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.linearization_level = 0 if by_cores else 2
        solver.parameters.optimize_with_core = by_cores
        solver.parameters.max_deterministic_time = max(0.01, min(effort, self.left))
        status = solver.solve(model)
        self.left -= solver.deterministic_time
        return Answer(
            solver=solver,
            found=status in (cp_model.OPTIMAL, cp_model.FEASIBLE),
            closed=status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        )


def total(terms: Iterable[LinearExpr | int]) -> LinearExpr:
    """The sum of some terms as an expression, also of none."""
    from ortools.sat.python import cp_model

    return cp_model.LinearExpr.sum([0, *terms])
