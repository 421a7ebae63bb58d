"""The columns of each file: their names, how cells are read, what a blank one means."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, time
from typing import Any, Generic, TypeVar

from bot.folder import cell_types as cell
from bot.folder.cell_types import Refused
from bot.folder.values import KeepGroups, SupplyKind

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Column(Generic[T]):
    """One column; a blank cell means `default`, unless the cell is `needed`."""

    name: str
    parse: Callable[[str], T | Refused]
    default: T
    needed: bool = False


def _optional(name: str, parse: Callable[[str], T | Refused]) -> Column[T | None]:
    column: Column[T | None] = Column(name, parse, None)
    return column


def _needed(name: str) -> Column[str]:
    return Column(name, cell.text, "", needed=True)


def _list(name: str) -> Column[tuple[str, ...]]:
    return Column(name, cell.texts, ())


def _weekdays(name: str, default: tuple[int, ...] = ()) -> Column[tuple[int, ...]]:
    return Column(name, cell.weekdays, default)


# class.csv; the name and the zone also have defaults, known only to the reader
CLASS_NAME = _optional("name", cell.text)
TIME_ZONE = _optional("time_zone", cell.zone)
DIGEST_AT = Column("digest_at", cell.clock, time(7, 0))
QUIET_BEFORE = Column("quiet_before", cell.clock, time(6, 30))
QUIET_AFTER = Column("quiet_after", cell.clock, time(18, 0))
SCHOOL_DAYS = _weekdays("school_days", (0, 1, 2, 3, 4))
ABSENCE_RATE = Column("absence_rate", cell.rate, 0.06)
KEEP_GROUPS = Column("keep_groups", cell.choice(KeepGroups), KeepGroups.MOSTLY)

# students.csv
STUDENT_NAME = _needed("name")
GROUP = _optional("group", cell.text)
GOES_BY = _list("goes_by")
CODE = _optional("code", cell.text)
AVOIDS = _list("avoids")
KEEP_APART = _list("keep_apart")
JOINED = _optional("joined", cell.day)
LEFT = _optional("left", cell.day)

# bins.csv and what belongs to a bin
BIN = _needed("bin")
ALSO_CALLED = _list("also_called")
COLOR = _optional("color", cell.text)
OPENS = _optional("opens", cell.day)
CLOSES = _optional("closes", cell.day)
BIN_SEATS = Column("seats", cell.whole(1, 100), 4)
VISITS_EACH = Column("visits_each", cell.whole(1, 50), 1)
BIN_UNIT = _optional("unit", cell.text)
STANDARDS = _list("standards")
CAUTIONS = _list("cautions")

# supplies.csv
ITEM = _needed("item")
SUPPLY_KIND = _optional("kind", cell.choice(SupplyKind))
PER_VISIT = Column("per_visit", cell.number(0, 10_000), 1.0)
PER_TUB = _optional("per_tub", cell.number(0, 10_000))
ON_HAND = _optional("on_hand", cell.number(0, 1_000_000))
COUNTED_ON = _optional("counted_on", cell.day)
PACK_SIZE = Column("pack_size", cell.number(0.001, 100_000), 1.0)
LEAD_DAYS = Column("lead_days", cell.whole(0, 365), 1)
CONTAINS = _list("contains")

# stations.csv and rotations.csv
STATION = _needed("station")
STATION_SEATS = _optional("seats", cell.whole(1, 1000))
ROTATION_WEEKDAY = _weekdays("weekday")
ROTATION_STARTS = Column("starts", cell.school_clock, time(0, 0), needed=True)
MINUTES = Column("minutes", cell.whole(1, 480), 20)

# away.csv, units.csv and visits.csv
WHO = _needed("student")
FROM = _optional("from", cell.day)
TO = _optional("to", cell.day)
AWAY_WEEKDAY = _weekdays("weekday")
STARTS = _optional("starts", cell.school_clock)
ENDS = _optional("ends", cell.school_clock)
REASON = Column("reason", cell.text, "")
UNIT = _needed("unit")
DAY = Column("day", cell.day, date(2000, 1, 1), needed=True)

CLASS, STUDENTS, BINS, SUPPLIES = "class.csv", "students.csv", "bins.csv", "supplies.csv"
STATIONS, ROTATIONS, AWAYS = "stations.csv", "rotations.csv", "away.csv"
UNITS, VISITS, CALENDAR = "units.csv", "visits.csv", "calendar.ics"

# In the order in which problems are listed. Columns whose cells are needed must be in the header.
FILES: dict[str, tuple[Column[Any], ...]] = {
    CLASS: (
        *(CLASS_NAME, TIME_ZONE, DIGEST_AT, QUIET_BEFORE, QUIET_AFTER),
        *(SCHOOL_DAYS, ABSENCE_RATE, KEEP_GROUPS),
    ),
    STUDENTS: (STUDENT_NAME, GROUP, GOES_BY, CODE, AVOIDS, KEEP_APART, JOINED, LEFT),
    BINS: (
        *(BIN, ALSO_CALLED, COLOR, OPENS, CLOSES, BIN_SEATS, VISITS_EACH),
        *(BIN_UNIT, STANDARDS, CAUTIONS),
    ),
    SUPPLIES: (
        *(BIN, ITEM, SUPPLY_KIND, PER_VISIT, PER_TUB, ON_HAND, COUNTED_ON),
        *(PACK_SIZE, LEAD_DAYS, CONTAINS),
    ),
    STATIONS: (STATION, STATION_SEATS),
    ROTATIONS: (ROTATION_WEEKDAY, ROTATION_STARTS, MINUTES),
    AWAYS: (WHO, FROM, TO, AWAY_WEEKDAY, STARTS, ENDS, REASON),
    UNITS: (UNIT, FROM, TO, STANDARDS),
    VISITS: (WHO, BIN, DAY),
    CALENDAR: (),
}
