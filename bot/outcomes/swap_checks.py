"""What comes of requests: whether a bin may go, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.classroom.readiness import Readiness
from bot.classroom.suggestions import Suggestion
from bot.outcomes.outcome import Outcome
from storage.records import Bin, Stint


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapChecked(Outcome):
    """Whether each bin may go, and (for one bin) what could come."""

    states: tuple[Readiness, ...]
    next_: tuple[Suggestion, ...]
    incoming: Bin | None
    set_down: Stint | None  # what is to come into that color anyway
    about: str
    today: date
    on_shelf: tuple[tuple[Bin, Stint | None], ...] = ()  # with the stint to come
    no_such_color: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSuggested(Outcome):
    """What could go into a color next, best first."""

    color: str | None
    outgoing: Stint | None
    day: date
    next_: tuple[Suggestion, ...]
    set_down: Stint | None
    today: date
    names_kept: bool  # the owner is told for whom a bin is not
