"""A class folder on disk to its values, or to everything that is wrong with it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path
from typing import TypeVar
from zoneinfo import ZoneInfo

from bot.folder import columns as col
from bot.folder import lines
from bot.folder.calendar import CalendarDays, read_calendar
from bot.folder.cell_types import Refused, zone
from bot.folder.cells import clean, read_sheet
from bot.folder.checks import problems_across
from bot.folder.draft import Draft
from bot.folder.listing import list_folder
from bot.folder.problems import Kind, Problem, Problems
from bot.folder.rows import Line, Row, Rows, read_rows
from bot.folder.settling import settle
from bot.folder.values import ClassFolder, ClassSettings, FileRead, Place

MOST_STUDENTS = 5000
_HEADER_KINDS = {Kind.COLUMN_MISSING, Kind.NO_HEADER, Kind.NOT_UTF8, Kind.BAD_QUOTES}
_FALLBACK_ZONE = "UTC"

T = TypeVar("T")


def read_folder(
    path: Path, *, machine_zone: str, today: date | None = None
) -> ClassFolder | Problems:
    """Read the class folder at `path`: the files of `columns.FILES`, of which students.csv must be.

    `machine_zone` is the IANA zone that holds where class.csv names none. Repeating calendar events
    are expanded around the days in the files and around `today`. Nothing is raised for what the
    folder holds: all problems come back at once, by file and line.
    """
    listing = list_folder(path)
    reading = _Reading(dict(listing.contents), list(listing.problems))
    draft = reading.draft(clean(path.resolve().name) or "class", machine_zone, today)
    problems = reading.problems + problems_across(draft)
    if problems:
        order = list(col.FILES)
        return Problems(tuple(sorted(problems, key=partial(_order, order))))
    return settle(draft)


def _order(files: list[str], problem: Problem) -> tuple[int, int]:
    at = files.index(problem.file) if problem.file in files else -1
    return at, problem.line or 0


@dataclass(slots=True)
class _Reading:
    """The files of one folder being read one after the other; problems gather as it goes."""

    contents: Mapping[str, bytes | None]
    problems: list[Problem]
    files: list[FileRead] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)

    def draft(self, name: str, machine_zone: str, today: date | None) -> Draft:
        settings = self._settings(name, machine_zone)
        students = self._lines(col.STUDENTS, lines.student_line)
        bins = self._lines(col.BINS, lines.bin_line)
        supplies = self._lines(col.SUPPLIES, lines.supply_line)
        stations = self._lines(col.STATIONS, lines.station_line)
        rotations = self._lines(col.ROTATIONS, lines.rotation_line)
        aways = self._lines(col.AWAYS, lines.away_line)
        units = self._lines(col.UNITS, lines.unit_line)
        visits = self._lines(col.VISITS, lines.visit_line)
        days = {line.value.day for line in visits if "day" not in line.bad}
        days |= {day for line in bins for day in (line.value.opens, line.value.closes) if day}
        days |= {day for line in aways for day in (line.value.from_day, line.value.to_day) if day}
        days |= {day for line in units for day in (line.value.from_day, line.value.to_day) if day}
        calendar = self._calendar(settings.value.time_zone, days | ({today} if today else set()))
        return Draft(
            *(settings, self._counted(students), bins, supplies, stations, rotations),
            *(aways, units, visits, calendar.closures, calendar.blocks),
            *(tuple(self.files), frozenset(self.unread)),
        )

    def _settings(self, name: str, machine_zone: str) -> Line[ClassSettings]:
        rows = self._rows(col.CLASS)
        for row in rows[1:]:
            self.problems.append(Problem(col.CLASS, Kind.TOO_MANY_ROWS, row.place.line))
        row = rows[0] if rows else Row(Place(col.CLASS, 1), {})
        known = zone(machine_zone)
        if isinstance(known, Refused):
            if not row.tells(col.TIME_ZONE):
                where = (col.CLASS, known.kind, None, "time_zone", machine_zone)
                self.problems.append(Problem(*where, known.accepted, known.nearest))
            known = _FALLBACK_ZONE
        value = lines.class_line(row, name=name, zone=known)
        self.problems += row.problems
        return row.line(value)

    def _lines(self, file: str, build: Callable[[Row], T]) -> tuple[Line[T], ...]:
        found: list[Line[T]] = []
        for row in self._rows(file):
            value = build(row)
            found.append(row.line(value))
            self.problems += row.problems
        return tuple(found)

    def _rows(self, file: str) -> tuple[Row, ...]:
        content = self.contents.get(file)
        if content is None:
            self.unread |= {file} & self.contents.keys()
            return ()
        read: Rows = read_rows(read_sheet(content, file=file), col.FILES[file], file=file)
        self.problems += read.problems
        self.files.append(FileRead(file, read.columns))
        if any(problem.kind in _HEADER_KINDS for problem in read.problems):
            self.unread.add(file)
        missing = {fault.column for fault in read.problems if fault.kind is Kind.COLUMN_MISSING}
        return () if missing else read.rows

    def _counted(self, students: tuple[Line[T], ...]) -> tuple[Line[T], ...]:
        if col.STUDENTS in self.unread or col.STUDENTS not in self.contents:
            self.unread.add(col.STUDENTS)
        elif not students:
            if not any(fault.file == col.STUDENTS for fault in self.problems):
                self.problems.append(Problem(col.STUDENTS, Kind.NO_ROWS))
            self.unread.add(col.STUDENTS)
        elif len(students) > MOST_STUDENTS:
            found, most = str(len(students)), (str(MOST_STUDENTS),)
            kind = Kind.TOO_MANY_ROWS
            self.problems.append(Problem(col.STUDENTS, kind, None, None, found, most))
            self.unread.add(col.STUDENTS)
            return ()
        return students

    def _calendar(self, zone_name: str, around: set[date]) -> CalendarDays:
        content = self.contents.get(col.CALENDAR)
        if content is None:
            return CalendarDays()
        self.files.append(FileRead(col.CALENDAR, ()))
        days = sorted(around)
        clock = ZoneInfo(zone_name)
        found = read_calendar(content, file=col.CALENDAR, zone=clock, around=days)
        self.problems += found.problems
        return found
