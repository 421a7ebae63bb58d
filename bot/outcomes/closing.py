"""What comes of requests: closing days that move."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.outcomes.outcome import Outcome
from bot.requests import Place
from storage.records import Bin, Stint, Student


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingMoved(Outcome):
    """A bin stays out till another day."""

    stint: Stint
    closes: date
    asked_for: date
    today: date
    misses: tuple[Student, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingStays(Outcome):
    """A closing day that cannot be moved so, and why."""

    reason: str
    today: date
    place: Place
    bin_: Bin | None = None
    stint: Stint | None = None
    in_the_way: Stint | None = None
    day: date | None = None
