"""What may be asked for: closing days that move."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from bot.requests.meant import Place
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class MoveClosing(Request):
    """A bin stays out till another day, or so many weeks or school days longer."""

    name: ClassVar[str] = "schedule"
    place: Place
    day: date | None = None
    longer: tuple[int, str] | None = None
