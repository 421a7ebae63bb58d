"""What may be asked for: who still needs what."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from bot.requests.meant import Place, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class WhoNeeds(Request):
    """Who still needs these bins; every bin that is out where none is named."""

    name: ClassVar[str] = "who_needs"
    places: tuple[Place, ...] = ()
    among: Who = field(default_factory=Who)


@dataclass(frozen=True, slots=True)
class StudentNeeds(Request):
    """What these children still need."""

    name: ClassVar[str] = "student_needs"
    who: Who
    places: tuple[Place, ...] = ()
