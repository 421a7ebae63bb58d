"""What comes of requests: days without school, rotations lost and added."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bot.outcomes.outcome import Outcome
from bot.outcomes.plans import Moved, Unplanned
from storage.records import Rotation


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleChanged(Outcome):
    """Days without school, rotations lost or added; what that changes."""

    what: str
    days: tuple[date, ...]
    rotations: tuple[Rotation, ...]
    reason: str
    today: date
    moved: tuple[Moved, ...]
    at_risk: tuple[Unplanned, ...]
    logged: int = 0  # turns on record that day
