"""Classes made in memory, and what a text would change in them: no database, so that thousands of
texts are read in seconds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from bot.classroom.children import children_meant
from bot.classroom.moments import meant_for_log
from bot.classroom.stints import stint_in, stint_of
from bot.requests import CorrectLog, LogVisits, Place, RemoveVisits, Request, Who
from bot.skills import SKILLS
from bot.understanding.reading import Reading, read
from storage.records import (
    Bin,
    Class,
    Group,
    Membership,
    Roster,
    Rotation,
    Stint,
    Student,
    Supply,
)

LISTENERS = tuple(listener for skill in SKILLS for listener in skill.listeners)
ZONE = "America/Chicago"
NOW = datetime(2026, 11, 24, 10, 41, tzinfo=ZoneInfo(ZONE))  # a Tuesday, in a rotation
OPENS, CLOSES = date(2026, 11, 9), date(2026, 12, 4)

BINS: Mapping[str, str] = {
    "Ramps": "red",
    "Balance": "yellow",
    "Magnets": "green",
    "Shadows": "pink",
    "Sink or Float": "blue",
    "Patterns": "purple",
    "Mirrors": "white",
    "Bridges": "orange",
    "Circuits": "black",
    "Levers": "brown",
    "Bubbles": "silver",
    "Seeds": "gold",
}
NAMES: Sequence[str] = (
    "Luca B.", "Zoë P.", "Sofia R.", "Theo N.", "Hannah G.", "Sofia T.", "José M.", "Priya S.",
    "Kai Q.", "Omar H.", "Ava R.", "Ben T.", "Chidi O.", "Mia K.", "Mei-Lin C.", "D'Andre W.",
    "Mary Kate D.", "Jayden F.", "Anaïs L.", "Noor Z.", "Elijah J.", "Dara L.", "Will A.",
    "Grace V.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Change:
    """One turn that a text gives or takes: by ids, `gives` False where it is taken back."""

    student_id: int
    bin_id: int | None
    day: date
    gives: bool = True


@dataclass(frozen=True, slots=True)
class Effect:
    """What a text comes to: the turns it changes, the other requests in it, and whether it asks."""

    changes: frozenset[Change]
    others: tuple[str, ...]
    asks: bool


def make_roster(
    names: Sequence[str] = NAMES,
    *,
    nicknames: Mapping[str, Sequence[str]] | None = None,
    groups: int = 6,
    bins: Mapping[str, str] = BINS,
) -> Roster:
    """A class of these children, dealt into numbered groups, with these bins (name: color) out."""
    known = nicknames or {}
    students = tuple(
        Student(number, name, tuple(known.get(name, ())), position=number)
        for number, name in enumerate(names, start=1)
    )
    made = tuple(
        Bin(number, name, unit=None, standards=()) for number, name in enumerate(bins, start=1)
    )
    return Roster(
        class_=_class(),
        groups=tuple(Group(n, str(n)) for n in range(1, groups + 1)),
        students=students,
        memberships=tuple(
            Membership(s.id, s.id, (s.id - 1) * groups // len(students) + 1) for s in students
        ),
        bins=made,
        stints=tuple(Stint(b.id, b.id, bins[b.name], OPENS, CLOSES, b.seats, 1) for b in made),
        supplies=tuple(Supply(b.id, b.id, "record sheets", "consumable") for b in made),
        rotations=tuple(
            Rotation(weekday * 2 + order, weekday, starts, 20)
            for weekday in range(5)
            for order, starts in enumerate((time(10, 15), time(10, 40)), start=1)
        ),
    )


def _class() -> Class:
    return Class(
        id=1,
        name="Alder room",
        time_zone=ZONE,
        digest_at=time(7),
        quiet_before=time(6, 30),
        quiet_after=time(18),
        school_days=(0, 1, 2, 3, 4),
        absence_rate=0.06,
        keep_groups="mostly",
        version=1,
    )


def read_in(roster: Roster, text: str, at: datetime = NOW) -> Reading:
    """A text read as the conversation reads it, with nothing said before."""
    return read(text, roster, at, LISTENERS)


def effect_of(reading: Reading, roster: Roster, at: datetime = NOW) -> Effect:
    """What a reading would change, were nobody away."""
    changes: set[Change] = set()
    others: list[str] = []
    for request in reading.heard.requests:
        if isinstance(request, LogVisits):
            changes |= _given(request, roster, at)
        elif isinstance(request, CorrectLog):
            for log in request.logs:
                changes |= _given(log, roster, at)
        elif isinstance(request, RemoveVisits):
            changes |= _taken(request, roster, at)
        elif type(request).name not in _HARMLESS:
            others.append(_shown(request))
    return Effect(frozenset(changes), tuple(others), bool(reading.heard.asks))


_HARMLESS = ("log_visits", "who_needs", "student_needs", "was_there", "who_is_away", "why", "help",
             "smalltalk")  # fmt: skip


def _given(log: LogVisits, roster: Roster, at: datetime) -> set[Change]:
    """The turns of a log that names one day, of bins that are out on it."""
    when = log.when
    meant = meant_for_log(roster, at, when.day, when.starts, when.slot)
    if when.unsure or meant.trouble is not None:
        return set()
    stint = stint_of_place(log.place, roster, meant.day)
    if stint is None:
        return set()
    return {Change(i, stint.bin_id, meant.day) for i in who_is(log.who, roster, meant.day)}


def _taken(removal: RemoveVisits, roster: Roster, at: datetime) -> set[Change]:
    day = removal.when.day or at.date()
    stint = stint_of_place(removal.place, roster, day) if removal.place else None
    if removal.place and stint is None:
        return set()
    bin_id = stint.bin_id if stint else None
    return {Change(i, bin_id, day, gives=False) for i in who_is(removal.who, roster, day)}


def who_is(who: Who, roster: Roster, day: date) -> frozenset[int]:
    """The ids of the children meant on a day."""
    return children_meant(
        roster,
        day,
        groups=who.groups,
        students=who.students,
        everyone=who.everyone,
        but_groups=who.but_groups,
        but_students=who.but_students,
    ).all


def stint_of_place(place: Place, roster: Roster, day: date) -> Stint | None:
    """The stint a place stands for on a day."""
    if place.bin_id is not None:
        return stint_of(roster, place.bin_id, day)
    return stint_in(roster, place.color or "", day)


def _shown(request: Request) -> str:
    return repr(request)
