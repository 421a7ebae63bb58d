"""What may be asked for: days without school, rotations lost and added."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from bot.requests.meant import Span
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class ChangeSchedule(Request):
    """No school, a rotation lost or added, school after all.

    `what`: no_school, lost (rotations by slot or time; all of the day where none is named), block
    (starts, ends), extra (starts), school, runs (a rotation that was lost runs after all).
    """

    name: ClassVar[str] = "schedule"
    what: str
    spans: tuple[Span, ...]
    reason: str = ""
    minutes: int | None = None
