"""What comes of requests: turns logged, held back, taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time

from bot.classroom.credit import Credit
from bot.classroom.needs import Needs
from bot.outcomes.outcome import Outcome
from bot.requests import HoldBack, Place
from storage.records import Bin, Rotation, Stint, Student, Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitsLogged(Outcome):
    """Turns were logged, or were on record already."""

    stint: Stint
    day: date
    rotation: time | None
    today: date
    already: tuple[Turn, ...]
    already_at: datetime | None
    credit: Credit
    excepted: tuple[Student, ...]
    not_on_roster: tuple[Student, ...]
    needs: Needs | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotLogged(Outcome):
    """A log that cannot be: the bin was not out, the day is not yet, nobody is left to credit."""

    reason: str
    place: Place
    bin_: Bin | None = None
    stint: Stint | None = None  # the one to speak of instead
    day: date | None = None
    students: tuple[Student, ...] = ()
    rotation: Rotation | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBack(Outcome):
    """Understood, and on purpose not logged: a future turn, a wish, one only started."""

    request: HoldBack
    bin_: Bin | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichDay(Outcome):
    """A log that may mean today or the last school day."""

    today: date
    is_school_day: bool
    is_vague: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitsRemoved(Outcome):
    """Turns were taken back, or there were none to take back."""

    stint: Stint | None
    bin_: Bin | None
    day: date
    today: date
    students: tuple[Student, ...]
