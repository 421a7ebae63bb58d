"""What may be asked for: calendar."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class SentFile:
    """A file that came with a message: its name and its bytes, or why there are none.

    `trouble`: too_big, lost (it could not be had from where it was kept), or nothing.
    """

    name: str
    content: bytes = b""
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class ReadCalendar(Request):
    """A calendar file was sent: which of its events would close school? Nothing changes yet."""

    name: ClassVar[str] = "schedule"
    file: SentFile


@dataclass(frozen=True, slots=True)
class ChooseEvents(Request):
    """Which events of a calendar are to count: those chosen so far (None: all), which of them to
    show first, and words that name none of them for sure."""

    name: ClassVar[str] = "schedule"
    calendar: int  # the entry that brought it
    chosen: tuple[int, ...] | None = None  # numbers as shown, from 1
    first: int = 1
    strange: str = ""


@dataclass(frozen=True, slots=True)
class TakeCalendar(Request):
    """Let events of a calendar count, by their numbers (None: all; empty: none)."""

    name: ClassVar[str] = "schedule"
    calendar: int
    chosen: tuple[int, ...] | None = None


@dataclass(frozen=True, slots=True)
class AskCalendar(Request):
    """How a calendar is sent."""

    name: ClassVar[str] = "schedule"
