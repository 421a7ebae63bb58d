"""What may be asked for: who was where, and what is covered."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from bot.requests.meant import Place, When, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class WasThere(Request):
    """Whether, or when, these children have been at these bins."""

    name: ClassVar[str] = "was_there"
    who: Who
    places: tuple[Place, ...] = ()
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class Covered(Request):
    """What the class has covered this school year: bins and standards."""

    name: ClassVar[str] = "was_there"
    about: str = "bins"  # or standards, or units
