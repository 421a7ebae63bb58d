"""What comes of requests: the morning digest and the other nudges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from bot.classroom.plans import Sitting
from bot.classroom.restocking import Restock
from bot.classroom.risk import Risk
from bot.outcomes.outcome import Outcome
from bot.outcomes.plans import Mended, Unplanned
from storage.records import Entry, Seated, Stint, Student


@dataclass(frozen=True, slots=True)
class AwayToday:
    """Children away all day, and children away in some rotations of it."""

    all_day: tuple[Student, ...]
    in_part: tuple[tuple[Student, tuple[time, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class TodaysPlan:
    """Who goes where today, and the same as it is kept once it is told."""

    sittings: tuple[Sitting, ...]
    told: Mapping[tuple[date, time], Sequence[Seated]]
    unmet: tuple[Unplanned, ...] = ()  # at bins that close by the next school day


@dataclass(frozen=True, slots=True)
class LostRotations:
    """Rotations that do not run today, and why; `all_of_them` where none does."""

    starts: tuple[time, ...]
    reason: str
    all_of_them: bool


@dataclass(frozen=True, slots=True)
class SendToday:
    """Children to send first, each with the bin."""

    pairs: tuple[tuple[Student, Stint], ...]


@dataclass(frozen=True, slots=True)
class CopyToday:
    """What to copy or buy today, most urgent first."""

    lines: tuple[Restock, ...]
    day: date


@dataclass(frozen=True, slots=True)
class BoxesToday:
    """Bins everyone has been to, bins whose last day it is, bins that are out from today."""

    finished: tuple[Stint, ...]
    last_day: tuple[Stint, ...]
    first_day: tuple[Stint, ...]


Part = AwayToday | TodaysPlan | LostRotations | SendToday | CopyToday | BoxesToday


@dataclass(frozen=True, slots=True, kw_only=True)
class MorningDigest(Outcome):
    """What is worth knowing on a school day."""

    day: date
    parts: tuple[Part, ...]
    has_rotations: bool
    next_school_day: date | None = None  # named only where this day is none


@dataclass(frozen=True, slots=True, kw_only=True)
class AtRisk(Outcome):
    """Bins that not everyone will reach before they close."""

    risks: tuple[Risk, ...]
    today: date
    mends: tuple[Mended, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingLogged(Outcome):
    """No turn is on record for a day whose rotations are over."""

    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortSupplies(Outcome):
    """What has to be copied or bought by the next school day."""

    lines: tuple[Restock, ...]
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class NextWeek(Outcome):
    """A look at the next week with school: its days, what opens and closes, who is away."""

    today: date
    days: tuple[date, ...]
    closed: tuple[tuple[date, str], ...]
    opening: tuple[Stint, ...]
    closing: tuple[tuple[Stint, int], ...]  # with the children who still need it
    away: tuple[tuple[Student, tuple[date, ...]], ...]
    short: tuple[Restock, ...] = ()  # to copy or buy before that week is over


@dataclass(frozen=True, slots=True, kw_only=True)
class NudgesSet(Outcome):
    """A member wants nudges, none, or none until a moment; `again` where one comes once more."""

    is_on: bool
    until: datetime | None
    again: bool
    had_it_so: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestMoved(Outcome):
    """The morning summary comes at another time; refused where the text named none (`at` None) or
    one outside the hours allowed, from `first` to before `last`."""

    at: time | None
    first: time
    last: time


@dataclass(frozen=True, slots=True, kw_only=True)
class NudgeExplained(Outcome):
    """Why the bot spoke up by itself."""

    entry: Entry
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldHow(Outcome):
    """How to tell of what changes today."""

    what: str
