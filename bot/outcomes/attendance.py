"""What comes of requests: who was where, and what is covered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.classroom.coverage import Covered
from bot.outcomes.outcome import Outcome
from storage.records import Bin, Claim, Student


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance(Outcome):
    """Who was at which bin: visits on record, and children asked about who have none."""

    visits: tuple[Claim, ...]
    without: tuple[Student, ...]
    bins: tuple[Bin, ...]
    is_yes_or_no: bool
    day: date | None
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage(Outcome):
    """What the class has covered this school year: children who have been, of those it is for."""

    about: str
    covered: tuple[Covered, ...]
    not_out: tuple[Bin, ...]
