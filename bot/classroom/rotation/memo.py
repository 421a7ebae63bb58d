"""Plans already made: so that planning, which takes its time, happens outside the unit of work."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field

from bot.classroom.rotation.mends import Mend, cheapest_mends
from bot.classroom.rotation.planning import plan_rotations
from bot.classroom.rotation.problem import Plan, PlanProblem

_KEPT = 16


class PlanFirst(Exception):
    """A plan is needed that has not been made: let the unit of work go, make it, and begin anew.

    `make` makes it and keeps it; it takes its time, and touches nothing but the plans.
    """

    def __init__(self, problem: PlanProblem, make: Callable[[PlanProblem], object]) -> None:
        super().__init__()
        self.problem = problem
        self._make = make

    def make(self) -> None:
        """Make what was lacking."""
        self._make(self.problem)


@dataclass
class Plans:
    """The last plans made, by the problem each solves: the same problem has the same plan."""

    at_once: bool = True  # plan on the spot; else PlanFirst is raised for a plan not made yet
    _made: deque[tuple[PlanProblem, Plan]] = field(default_factory=lambda: deque(maxlen=_KEPT))
    _mended: deque[tuple[PlanProblem, tuple[Mend, ...]]] = field(
        default_factory=lambda: deque(maxlen=_KEPT)
    )

    def plan(self, problem: PlanProblem) -> Plan:
        """The plan of a problem; raises PlanFirst where it has yet to be made."""
        for known, plan in self._made:
            if known == problem:
                return plan
        if not self.at_once:
            raise PlanFirst(problem, self.make)
        return self.make(problem)

    def mends(self, problem: PlanProblem) -> tuple[Mend, ...]:
        """What would help where needs cannot be met; raises PlanFirst as `plan` does."""
        for known, mends in self._mended:
            if known == problem:
                return mends
        if not self.at_once:
            raise PlanFirst(problem, self.mend)
        return self.mend(problem)

    def make(self, problem: PlanProblem) -> Plan:
        """Make a plan and keep it."""
        plan = plan_rotations(problem)
        self._made.appendleft((problem, plan))
        return plan

    def mend(self, problem: PlanProblem) -> tuple[Mend, ...]:
        """Work out what would help, and keep it."""
        mends = cheapest_mends(problem)
        self._mended.appendleft((problem, mends))
        return mends
