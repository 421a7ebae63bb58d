"""What a class folder says, as frozen values: one for each line of each file.

Weekdays are numbers from 0 (Monday) to 6. Days and times are local to the class. Where a line came
from (`place`) is no part of its meaning: two values that say the same are equal.
"""

from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum


class KeepGroups(StrEnum):
    """How much it matters that children stay with their own group."""

    LOOSELY = "loosely"
    MOSTLY = "mostly"
    FIRMLY = "firmly"


class SupplyKind(StrEnum):
    """Used up by a visit, or counted into tubs and coming back."""

    CONSUMABLE = "consumable"
    PIECE = "piece"


@dataclass(frozen=True, slots=True)
class Place:
    """The file and the line (from 1, with the header) on which something stands."""

    file: str
    line: int


@dataclass(frozen=True, slots=True)
class ClassSettings:
    """The class itself: its zone, its hours and its habits."""

    name: str
    time_zone: str
    digest_at: time
    quiet_before: time
    quiet_after: time
    school_days: tuple[int, ...]
    absence_rate: float
    keep_groups: KeepGroups
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Student:
    """One child; `left` is the last day on the roster, `keep_apart` holds full names."""

    name: str
    group: str | None
    goes_by: tuple[str, ...]
    code: str | None
    avoids: tuple[str, ...]
    keep_apart: tuple[str, ...]
    joined: date | None
    left: date | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class BinLine:
    """One line of bins.csv: a bin on the shelf, or a stint where `color` and `opens` are given.

    Lines of one bin carry the same name, seats, unit, other names, standards and cautions.
    `last_day` is the school day on which the stint ends; None year-round and on the shelf.
    """

    bin: str
    also_called: tuple[str, ...]
    color: str | None
    opens: date | None
    closes: date | None
    last_day: date | None
    seats: int
    visits_each: int
    unit: str | None
    standards: tuple[str, ...]
    cautions: tuple[str, ...]
    place: Place = field(compare=False)

    @property
    def is_stint(self) -> bool:
        """Whether this line puts the bin out."""
        return self.color is not None and self.opens is not None


@dataclass(frozen=True, slots=True)
class Supply:
    """One item of a bin's kit; a count without `counted_on` was made on the day of the load."""

    bin: str
    item: str
    kind: SupplyKind
    per_visit: float
    per_tub: float | None
    on_hand: float | None
    counted_on: date | None
    pack_size: float
    lead_days: int
    contains: tuple[str, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Station:
    """A place in the rotation that is no bin; `seats` None means as many as come."""

    station: str
    seats: int | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class RotationLine:
    """One time slot on one or several weekdays."""

    weekdays: tuple[int, ...]
    starts: time
    minutes: int
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Away:
    """When a student cannot be at a bin: days from-to (None: open), on `weekdays` (empty: any).

    `starts` and `ends` bound it within the day (None: from its start, to its end).
    """

    student: str
    from_day: date | None
    to_day: date | None
    weekdays: tuple[int, ...]
    starts: time | None
    ends: time | None
    reason: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Unit:
    """What is taught between two days, both included (None: open)."""

    unit: str
    from_day: date | None
    to_day: date | None
    standards: tuple[str, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Visit:
    """One student at one bin on one day, from before the bot."""

    student: str
    bin: str
    day: date
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Closure:
    """A day without school, from an all-day event."""

    day: date
    summary: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class TimedBlock:
    """A part of a day that the calendar takes, such as an assembly; `ends` is at most 23:59."""

    day: date
    starts: time
    ends: time
    summary: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class FileRead:
    """A file that was in the folder and the columns its header named (none for the calendar)."""

    name: str
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ClassFolder:
    """A whole class folder without a problem in it."""

    settings: ClassSettings
    students: tuple[Student, ...]
    bins: tuple[BinLine, ...]
    supplies: tuple[Supply, ...]
    stations: tuple[Station, ...]
    rotations: tuple[RotationLine, ...]
    aways: tuple[Away, ...]
    units: tuple[Unit, ...]
    visits: tuple[Visit, ...]
    closures: tuple[Closure, ...]
    blocks: tuple[TimedBlock, ...]
    files: tuple[FileRead, ...]
