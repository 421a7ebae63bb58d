"""What may be asked for: whether a bin may go, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from bot.requests.meant import Place
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class SwapCheck(Request):
    """Whether these bins may go; every bin that is out where none is named."""

    name: ClassVar[str] = "swap_check"
    places: tuple[Place, ...] = ()
    incoming: int | None = None  # the bin that would come instead
    about: str = "ready"  # or closes: till when it is out


@dataclass(frozen=True, slots=True)
class SuggestSwap(Request):
    """What goes out next: in this color, or after this bin."""

    name: ClassVar[str] = "suggest_swap"
    place: Place | None = None
    day: date | None = None
