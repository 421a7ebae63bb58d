"""What may be asked for: children who are away, and back."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from typing import ClassVar

from bot.requests.meant import Span, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class NoteAway(Request):
    """These children cannot be at a bin then."""

    name: ClassVar[str] = "away"
    who: Who
    spans: tuple[Span, ...]
    reason: str = ""
    corrects: bool = False  # what was logged of them meanwhile is not so


@dataclass(frozen=True, slots=True)
class NoteBack(Request):
    """These children are here after all, or again."""

    name: ClassVar[str] = "away"
    who: Who
    day: date | None = None
    starts: time | None = None
    after_all: bool = False  # they never were away


@dataclass(frozen=True, slots=True)
class WhoIsAway(Request):
    """Who is away on a day; whether these children are."""

    name: ClassVar[str] = "who_is_away"
    day: date | None = None
    last: date | None = None
    who: Who = field(default_factory=Who)
