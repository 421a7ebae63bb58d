"""What comes of requests: children who are away, and back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from bot.outcomes.outcome import Outcome
from bot.outcomes.plans import Moved, Unplanned
from storage.records import Away, Stint, Student


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayNoted(Outcome):
    """Children are away (or back); what that changes today."""

    students: tuple[Student, ...]
    today: date
    aways: tuple[Away, ...] = ()
    back: bool = False
    already: tuple[Student, ...] = ()
    moved: tuple[Moved, ...] = ()
    at_risk: tuple[Unplanned, ...] = ()
    logged: tuple[
        tuple[Student, Stint, time | None], ...
    ] = ()  # on record meanwhile: what of that?
    not_on_roster: tuple[Student, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayTold(Outcome):
    """Who is away on some days, by day."""

    days: tuple[tuple[date, tuple[tuple[Student, tuple[Away, ...]], ...]], ...]
    asked: tuple[Student, ...]
    today: date
