"""Plain values of the class book: one frozen dataclass for each word of the trade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class Class:
    """One teacher's class and its settings; `school_days` are weekdays, Monday = 0."""

    id: int
    name: str
    time_zone: str
    digest_at: time
    quiet_before: time
    quiet_after: time
    school_days: tuple[int, ...]
    absence_rate: float
    keep_groups: str
    version: int

    @property
    def zone(self) -> ZoneInfo:
        """The zone in which every day and time of this class is meant."""
        return ZoneInfo(self.time_zone)


@dataclass(frozen=True, slots=True)
class Member:
    """A person who may text about a class; `account` is the platform's user, once known."""

    id: int
    class_id: int
    name: str
    role: str
    account: int | None


@dataclass(frozen=True, slots=True)
class Group:
    """Children who rotate together."""

    id: int
    name: str


@dataclass(frozen=True, slots=True)
class Student:
    """A child as the class knows it; `left` is the last day."""

    id: int
    name: str
    goes_by: tuple[str, ...] = ()
    code: str | None = None
    avoids: tuple[str, ...] = ()
    joined: date | None = None
    left: date | None = None
    position: int = 0

    def is_on_roster(self, day: date) -> bool:
        """Whether the child belongs to the class on this day."""
        return (self.joined is None or self.joined <= day) and (
            self.left is None or day <= self.left
        )


@dataclass(frozen=True, slots=True)
class Apart:
    """Two students whom the teacher keeps apart."""

    id: int
    student_id: int
    other_id: int


@dataclass(frozen=True, slots=True)
class Membership:
    """A student in a group between two days, both included; None leaves that side open."""

    id: int
    student_id: int
    group_id: int
    first: date | None = None
    last: date | None = None

    def holds(self, day: date) -> bool:
        """Whether the student is with this group on this day."""
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class Bin:
    """One activity with its kit."""

    id: int
    name: str
    also_called: tuple[str, ...] = ()
    unit: str | None = None
    standards: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    seats: int = 4
    visits_each: int = 1


@dataclass(frozen=True, slots=True)
class Stint:
    """One period in which one bin is out in one color; `closes` None means year-round."""

    id: int
    bin_id: int
    color: str
    opens: date
    closes: date | None
    seats: int
    visits_each: int

    def is_out(self, day: date) -> bool:
        """Whether the bin is out on this day."""
        return self.opens <= day and (self.closes is None or day <= self.closes)


@dataclass(frozen=True, slots=True)
class Supply:
    """A consumable (used per visit) or a piece (counted into tubs) that belongs to a bin."""

    id: int
    bin_id: int
    item: str
    kind: str
    per_visit: float = 1.0
    per_tub: float | None = None
    pack_size: float = 1
    lead_days: int = 1
    contains: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Count:
    """How much of a supply was found on a day: at a time, or (None) by the end of it."""

    id: int
    supply_id: int
    on_hand: float
    counted_on: date
    counted_at: time | None = None
    learns: bool = True  # False where things were thrown out: it tells nothing of the use
    made_by: int = 0


@dataclass(frozen=True, slots=True)
class Move:
    """What came to a supply (above zero) or went from it other than by visits; `kind` is added,
    found, lost, or wanted (told to be low, no amount)."""

    id: int
    supply_id: int
    amount: float
    kind: str
    moved_on: date
    moved_at: time | None = None
    tub: int | None = None
    made_by: int = 0


@dataclass(frozen=True, slots=True)
class Station:
    """A place in the rotation that is not a bin and is not counted."""

    id: int
    name: str
    seats: int | None


@dataclass(frozen=True, slots=True)
class Rotation:
    """One time slot of a weekday (Monday = 0) in which groups are at bins."""

    id: int
    weekday: int
    starts: time
    minutes: int


@dataclass(frozen=True, slots=True)
class Away:
    """When a student cannot be at a bin: from-to, on one weekday or all, all day or a part."""

    id: int
    student_id: int
    first: date | None = None
    last: date | None = None
    weekday: int | None = None
    starts: time | None = None
    ends: time | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """A no-school day, or (with times) a block of a day in which no rotation runs."""

    id: int
    day: date
    reason: str
    starts: time | None = None
    ends: time | None = None


@dataclass(frozen=True, slots=True)
class Extra:
    """A rotation more than usual, on one day."""

    id: int
    day: date
    starts: time
    minutes: int


@dataclass(frozen=True, slots=True)
class Seated:
    """Who was told to go to one stint or station, by id."""

    kind: str  # stint, station
    id: int
    students: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Announcement:
    """What a member was told of one rotation: who goes where."""

    id: int
    day: date
    starts: time
    places: tuple[Seated, ...]


@dataclass(frozen=True, slots=True)
class Unit:
    """What the class is taught between two days."""

    id: int
    name: str
    first: date | None
    last: date | None
    standards: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Turn:
    """One student at one stint on one day, with the start of the rotation where known: a visit."""

    student_id: int
    stint_id: int
    day: date
    rotation: time | None = None

    @property
    def key(self) -> tuple[int, int, date]:
        """What makes it one visit: student, stint and day."""
        return self.student_id, self.stint_id, self.day


@dataclass(frozen=True, slots=True)
class Claim:
    """One entry's word that a visit took place; a visit stands while one claim stands."""

    id: int
    turn: Turn
    entry_id: int


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that came in or went out, and what came of it."""

    id: int
    class_id: int
    member_id: int | None
    kind: str
    at: datetime
    text: str
    said: str | None = None
    outcome: str | None = None
    requests: tuple[str, ...] = ()
    reply: str | None = None
    result: Mapping[str, Any] = field(default_factory=dict)
    effect: bool = False
    undone_by: int | None = None
    replaces: int | None = None
    place: str | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A choice that is pending for one member in one place: labels and the texts they stand for,
    and texts with a gap (what fills it, the text, whom "all" means) for an answer that is none
    of the choices."""

    id: int
    entry_id: int
    choices: tuple[tuple[str, str], ...]
    frames: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Nudging:
    """Whether a member wants nudges: on, off, or off until a moment, when the nudge named in
    `again` comes once more."""

    id: int
    member_id: int
    is_on: bool
    until: datetime | None = None
    again: int | None = None


@dataclass(frozen=True, slots=True)
class Nudge:
    """A message the bot started, or had ready and passed over, and how bad what it told of was."""

    id: int
    member_id: int
    kind: str
    day: date
    about: str
    levels: Mapping[str, float]
    due: datetime
    expires: datetime
    state: str
    at: datetime
    times: int = 1
    entry_id: int | None = None


@dataclass(frozen=True, eq=False)
class Roster:
    """The class as it stands, without its visits: everything a text is read against.

    Compared by identity: two readings of the class are two rosters.
    """

    class_: Class
    groups: tuple[Group, ...] = ()
    students: tuple[Student, ...] = ()
    memberships: tuple[Membership, ...] = ()
    apart: tuple[Apart, ...] = ()
    bins: tuple[Bin, ...] = ()
    stints: tuple[Stint, ...] = ()
    supplies: tuple[Supply, ...] = ()
    stations: tuple[Station, ...] = ()
    rotations: tuple[Rotation, ...] = ()
    aways: tuple[Away, ...] = ()
    closures: tuple[Closure, ...] = ()
    extras: tuple[Extra, ...] = ()
    units: tuple[Unit, ...] = ()

    @cached_property
    def group(self) -> dict[int, Group]:
        """Groups by id."""
        return {group.id: group for group in self.groups}

    @cached_property
    def student(self) -> dict[int, Student]:
        """Students by id, those who left among them."""
        return {student.id: student for student in self.students}

    @cached_property
    def bin(self) -> dict[int, Bin]:
        """Bins by id, those on the shelf among them."""
        return {bin_.id: bin_ for bin_ in self.bins}

    @cached_property
    def stint(self) -> dict[int, Stint]:
        """Stints by id, past and future ones among them."""
        return {stint.id: stint for stint in self.stints}

    @cached_property
    def closed_days(self) -> frozenset[date]:
        """Days on which there is no school at all."""
        return frozenset(closure.day for closure in self.closures if closure.starts is None)

    @cached_property
    def _memberships_of(self) -> dict[int, list[Membership]]:
        found: dict[int, list[Membership]] = {}
        for membership in self.memberships:
            found.setdefault(membership.student_id, []).append(membership)
        return found

    @cached_property
    def aways_of(self) -> dict[int, list[Away]]:
        """Aways by student."""
        found: dict[int, list[Away]] = {}
        for away in self.aways:
            found.setdefault(away.student_id, []).append(away)
        return found

    @cached_property
    def contents_of(self) -> dict[int, list[str]]:
        """What the supplies of each bin contain."""
        found: dict[int, list[str]] = {}
        for supply in self.supplies:
            found.setdefault(supply.bin_id, []).extend(supply.contains)
        return found

    def bin_of(self, stint: Stint) -> Bin:
        """The bin that is out in this stint."""
        return self.bin[stint.bin_id]

    def present_roster(self, day: date) -> tuple[Student, ...]:
        """The students on the roster on this day, in roster order."""
        return tuple(student for student in self.students if student.is_on_roster(day))

    def group_on(self, student_id: int, day: date) -> int | None:
        """The group a student is with on this day; a membership with both ends named wins."""
        held = [m for m in self._memberships_of.get(student_id, ()) if m.holds(day)]
        if not held:
            return None
        return max(held, key=lambda m: (m.last is not None, m.first or date.min, m.id)).group_id

    def members_of(self, group_id: int, day: date) -> tuple[Student, ...]:
        """The students who are with a group on this day, in roster order."""
        return tuple(s for s in self.present_roster(day) if self.group_on(s.id, day) == group_id)
