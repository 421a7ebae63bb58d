"""What may be asked for: counts, losses, restocks, and what is short."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from bot.requests.meant import When
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class ReportSupply(Request):
    """What became of a supply: `kind` is counted, added, found, lost, discarded or wanted."""

    name: ClassVar[str] = "supply_report"
    kind: str
    supply_id: int
    amount: float | None = None  # in single things; None where all of it, or none is said
    when: When = field(default_factory=When)
    tub: int | None = None
    again: bool = False  # "another 20": said outright that it is not the same 20 as before


@dataclass(frozen=True, slots=True)
class HoldSupply(Request):
    """Something of supplies that changes nothing: still to be done, a maybe, an unknown item."""

    name: ClassVar[str] = "supply_report"
    reason: str  # future, unknown
    words: str = ""


@dataclass(frozen=True, slots=True)
class AskRestock(Request):
    """What is short, or how much there is of these supplies."""

    name: ClassVar[str] = "restock"
    supplies: tuple[int, ...] = ()  # every one where none is named
    until: date | None = None  # what has to be done by this day


@dataclass(frozen=True, slots=True)
class WhySupply(Request):
    """The arithmetic behind what is short."""

    name: ClassVar[str] = "why"
    supplies: tuple[int, ...]
