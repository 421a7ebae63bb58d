"""What may be asked for: bins put out, taken down, exchanged."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from bot.requests.meant import Place
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class Swap(Request):
    """A bin goes, another comes, or only one of the two.

    Of two bins named the one that is out goes. `into_color` is where the text puts the bin that
    comes without speaking of an exchange; `is_open` says that a bin goes and the text does not say
    what comes.
    """

    name: ClassVar[str] = "swap"
    outgoing: Place | None = None
    incoming: Place | None = None
    into_color: str | None = None
    day: date | None = None
    till: date | None = None
    is_now: bool = False
    is_anyway: bool = False
    is_open: bool = False
