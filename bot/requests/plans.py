"""What may be asked for: who goes where, who gets everywhere, what ran as planned."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from typing import ClassVar

from bot.requests.meant import Place, When, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class ShowPlan(Request):
    """Who goes where: on a day or until one, everywhere or of these children, at these bins."""

    name: ClassVar[str] = "plan"
    first: date | None = None
    last: date | None = None
    who: Who = field(default_factory=Who)
    places: tuple[Place, ...] = ()
    starts: time | None = None
    slot: int | None = None
    is_next: bool = False  # only the rotation that comes next


@dataclass(frozen=True, slots=True)
class CanFinish(Request):
    """Whether everybody gets to these bins (to all) before they close, or by a day."""

    name: ClassVar[str] = "plan"
    places: tuple[Place, ...] = ()
    by: date | None = None
    who: Who = field(default_factory=Who)


@dataclass(frozen=True, slots=True)
class LogAsPlanned(Request):
    """The children were where the plan sent them, but for those left out."""

    name: ClassVar[str] = "log_visits"
    when: When = field(default_factory=When)
    only: Who = field(default_factory=Who)
    but: Who = field(default_factory=Who)
    whole_day: bool = False
    but_places: tuple[Place, ...] = ()  # bins that did not run
