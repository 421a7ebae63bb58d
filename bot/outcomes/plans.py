"""What comes of requests: who goes where, who gets everywhere, what ran as planned."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from bot.classroom.plans import Sitting
from bot.outcomes.outcome import Outcome
from storage.records import Stint, Student


@dataclass(frozen=True, slots=True)
class Unplanned:
    """A need the plan cannot meet: who, which bin, how many visits, why (a planner's Reason)."""

    student: Student
    stint: Stint
    visits: int
    reason: str


@dataclass(frozen=True, slots=True)
class Mended:
    """What would help: rotations more on a day, seats more at a stint, days more for it; and how
    many needed visits would still be left."""

    what: str  # rotations, seats, days
    amount: int
    stint: Stint | None
    day: date | None
    unmet: int


@dataclass(frozen=True, slots=True)
class Moved:
    """What changes in a plan that was told: a child goes elsewhere in a rotation of a day."""

    day: date
    starts: time
    student: Student
    sitting: Sitting | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanShown(Outcome):
    """Who goes where: the sittings asked for, and what the whole plan cannot do."""

    today: date
    who: tuple[Student, ...]
    sittings: tuple[Sitting, ...] = ()
    label: str | None = None
    unmet: tuple[Unplanned, ...] = ()
    mends: tuple[Mended, ...] = ()
    done_by: date | None = None
    proven: bool = True
    reason: str = ""  # why there is nothing to show
    day: date | None = None
    is_next: bool = False
    is_whole: bool = False  # nothing but what was not asked for is left out


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishForeseen(Outcome):
    """Whether everybody gets to a bin in time."""

    stints: tuple[tuple[Stint, tuple[Student, ...], date | None], ...]  # who cannot, and when last
    by: date | None
    today: date
    unmet: tuple[Unplanned, ...]
    mends: tuple[Mended, ...]
    only_if_first: tuple[Stint, ...] = ()  # the plan has them later
    miss_out: tuple[Unplanned, ...] = ()  # elsewhere, if those go first


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedAsPlanned(Outcome):
    """What was told was logged as it was told, rotation by rotation."""

    today: date
    day: date
    sittings: tuple[Sitting, ...] = ()
    left_out: tuple[Student, ...] = ()
    away: tuple[Student, ...] = ()
    elsewhere: tuple[Student, ...] = ()
    reason: str = ""
