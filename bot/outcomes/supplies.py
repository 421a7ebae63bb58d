"""What comes of requests: counts, losses, restocks, and what is short."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.classroom.restocking import Restock
from bot.outcomes.outcome import Outcome
from bot.requests import HoldSupply, ReportSupply


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyReported(Outcome):
    """A count, a loss, a restock was written down (or was on record already)."""

    request: ReportSupply
    line: Restock
    seats: int | None  # of the stint, where pieces leave fewer than it has
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyHeld(Outcome):
    """Understood, and on purpose not written down."""

    request: HoldSupply


@dataclass(frozen=True, slots=True, kw_only=True)
class RestockList(Outcome):
    """What is short, or how much there is of the supplies asked about."""

    lines: tuple[Restock, ...]
    asked: tuple[Restock, ...]  # supplies asked about by name; () where the whole list was
    uncounted: int
    until: date | None
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyExplained(Outcome):
    """The arithmetic behind a supply."""

    lines: tuple[Restock, ...]
    today: date
