"""What comes of requests: calendar."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from bot.classroom.calendars import Found, SchoolEvent
from bot.outcomes.outcome import Outcome
from bot.outcomes.plans import Moved, Unplanned


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarRead(Outcome):
    """What a calendar that was sent would change, or why it changes nothing.

    `trouble`: not_a_calendar, empty, too_many, too_big, lost, how (nothing was sent), or nothing.
    """

    file: str
    today: date
    trouble: str = ""
    found: Found = field(default_factory=Found)
    later: int = 0  # events too far ahead
    unread: tuple[int, ...] = ()  # lines of events that cannot be read


@dataclass(frozen=True, slots=True, kw_only=True)
class EventsOffered(Outcome):
    """A calendar's events by number, to choose from: those chosen so far, those shown."""

    calendar: int
    today: date
    events: tuple[SchoolEvent, ...]
    chosen: tuple[int, ...]
    shown: tuple[int, ...]
    strange: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarTaken(Outcome):
    """What a calendar changed: events with the days that were news, and what that changes.

    `trouble`: unknown (there is no such calendar), none (nothing was chosen), known, or nothing.
    """

    today: date
    trouble: str = ""
    events: tuple[SchoolEvent, ...] = ()
    left_out: tuple[SchoolEvent, ...] = ()  # events not chosen
    moved: tuple[Moved, ...] = ()
    at_risk: tuple[Unplanned, ...] = ()
    logged: int = 0  # turns on record on days that are closed now
