"""What comes of requests: children who change groups, join, leave, or are kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.outcomes.outcome import Outcome
from bot.outcomes.plans import Moved
from storage.records import Student


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentMoved(Outcome):
    """A child is in another group, joins, leaves, or is kept apart."""

    what: str  # moved, new, left, stays, apart, together, already, near
    students: tuple[Student, ...]
    group: str
    first: date | None
    last: date | None
    today: date
    size: int = 0
    moved: tuple[Moved, ...] = ()
    called: str = ""
