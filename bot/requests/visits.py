"""What may be asked for: turns logged, held back, taken back."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from bot.requests.meant import Place, When, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class LogVisits(Request):
    """These children had a turn at this bin."""

    name: ClassVar[str] = "log_visits"
    who: Who
    place: Place
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class LogAsBefore(Request):
    """These children had a turn at the bin where they were on a day before: "same as yesterday"."""

    name: ClassVar[str] = "log_visits"
    who: Who
    before: date
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class HoldBack(Request):
    """Something that sounds like a turn and must not be logged: future, wish, only started."""

    name: ClassVar[str] = "log_visits"
    reason: str
    who: Who
    place: Place
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class RemoveVisits(Request):
    """These children had no turn at this bin (at any bin where `place` is None)."""

    name: ClassVar[str] = "remove_visits"
    who: Who
    place: Place | None = None
    when: When = field(default_factory=When)
    is_sure: bool = True  # said outright; else a turn on record is taken back only after asking


@dataclass(frozen=True, slots=True)
class CorrectLog(Request):
    """The sender's last log, said differently: other children, another bin, another day."""

    name: ClassVar[str] = "log_visits"
    instead_of: int
    logs: tuple[LogVisits, ...]
