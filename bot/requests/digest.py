"""What may be asked for: the morning summary, and nudges on and off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import ClassVar

from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class Digest(Request):
    """The morning summary of a day, now; of today where none is named."""

    name: ClassVar[str] = "digest"
    day: date | None = None


@dataclass(frozen=True, slots=True)
class SetNudges(Request):
    """Nudges on, off, or off until a moment; `again`: the last one then comes once more, and the
    text means nothing without one where it is an answer to it ("later")."""

    name: ClassVar[str] = "digest"
    is_on: bool
    until: datetime | None = None
    again: bool = False
    is_answer: bool = False


@dataclass(frozen=True, slots=True)
class MoveDigest(Request):
    """The morning summary at another time; None where the text named none."""

    name: ClassVar[str] = "digest"
    at: time | None


@dataclass(frozen=True, slots=True)
class SayHow(Request):
    """Something of today changes, and the sender is told how to say it: away, plan."""

    name: ClassVar[str] = "digest"
    what: str
