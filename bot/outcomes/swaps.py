"""What comes of requests: bins put out, taken down, exchanged."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.classroom.swaps import Swap
from bot.outcomes.outcome import Outcome
from bot.requests import Option
from storage.records import Bin, Stint, Student


@dataclass(frozen=True, slots=True, kw_only=True)
class Swapped(Outcome):
    """A bin was put out, taken down, or exchanged."""

    swap: Swap
    today: date
    waits: bool  # it begins a school day later, since the bin that goes was used today
    still_to_come: tuple[Student, ...]
    kept_away: tuple[Student, ...]
    names_kept: bool  # the owner is told for whom a bin is not


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSwapped(Outcome):
    """A swap that cannot be, and why."""

    reason: str
    today: date
    day: date
    bin_: Bin | None = None
    stint: Stint | None = None
    color: str | None = None
    offers: tuple[Option, ...] = ()  # what could be done instead


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapAsked(Outcome):
    """A swap that waits for an answer: who would miss out, which color, or what comes."""

    about: str
    today: date
    outgoing: Stint | None = None
    incoming: Bin | None = None
    misses: tuple[Student, ...] = ()
    earliest: date | None = None
