"""What may be asked for: children who change groups, join, leave, or are kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from bot.requests.meant import Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class MoveStudent(Request):
    """These children rotate with another group, from a day on or for some days."""

    name: ClassVar[str] = "move_student"
    who: Who
    group_id: int
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class SwapStudents(Request):
    """Two children take each other's place in their groups."""

    name: ClassVar[str] = "move_student"
    one: int
    other: int
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class NewStudent(Request):
    """A child joins the class."""

    name: ClassVar[str] = "move_student"
    called: str
    group_id: int | None = None
    first: date | None = None
    is_sure: bool = True  # no other child is called nearly so


@dataclass(frozen=True, slots=True)
class StudentLeft(Request):
    """A child leaves the class; `last` is its last day."""

    name: ClassVar[str] = "move_student"
    who: Who
    last: date | None = None


@dataclass(frozen=True, slots=True)
class KeepApart(Request):
    """These children are kept apart, or no longer."""

    name: ClassVar[str] = "move_student"
    who: Who
    apart: bool = True
