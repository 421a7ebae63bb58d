"""The rows of one file under its declared columns: header to columns, cells to typed values."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from bot.folder.cell_types import Refused
from bot.folder.cells import Cells, Sheet
from bot.folder.columns import Column
from bot.folder.nearest import nearest_of
from bot.folder.problems import Kind, Problem
from bot.folder.values import Place

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Line(Generic[T]):
    """A value read from one line, the columns told there, and those that could not be read."""

    value: T
    told: frozenset[str]
    bad: frozenset[str]


@dataclass(slots=True)
class Row:
    """One row being read: `take` a column at a time; problems gather as it goes."""

    place: Place
    cells: Mapping[str, str]
    problems: list[Problem] = field(default_factory=list)

    def take(self, column: Column[T]) -> T:
        """The value in `column`, or its default where the cell is blank or refused."""
        found = self.cells.get(column.name, "")
        if not found:
            if column.needed:
                self._refuse(column, "", Refused(Kind.CELL_BLANK))
            return column.default
        value = column.parse(found)
        if isinstance(value, Refused):
            self._refuse(column, found, value)
            return column.default
        return value

    def tells(self, column: Column[Any]) -> bool:
        """Whether the cell in `column` holds something."""
        return bool(self.cells.get(column.name))

    def line(self, value: T) -> Line[T]:
        """The finished value with what is known about its cells."""
        told = frozenset(name for name, found in self.cells.items() if found)
        bad = frozenset(problem.column for problem in self.problems if problem.column)
        return Line(value, told, bad)

    def _refuse(self, column: Column[Any], found: str, why: Refused) -> None:
        place = (self.place.file, why.kind, self.place.line, column.name)
        self.problems.append(Problem(*place, found, why.accepted, why.nearest))


@dataclass(frozen=True, slots=True)
class Rows:
    """All rows of one file, the columns its header named, and what is wrong with the header."""

    rows: tuple[Row, ...]
    columns: tuple[str, ...]
    problems: tuple[Problem, ...]


def read_rows(sheet: Sheet, columns: tuple[Column[Any], ...], *, file: str) -> Rows:
    """Match the header of `sheet` to `columns` and hand out its rows."""
    if not sheet.rows:
        names = tuple(column.name for column in columns)
        nothing = (Problem(file, Kind.NO_HEADER, accepted=names),)
        return Rows((), (), sheet.problems or nothing)
    header, records = sheet.rows[0], sheet.rows[1:]
    problems = [*sheet.problems, *_header_problems(header, columns, file)]
    problems += [fault for record in records if (fault := _too_long(record, header, file))]
    keys = [_column_key(name) for name in header.cells]
    rows = tuple(Row(Place(file, record.line), _named(keys, record)) for record in records)
    return Rows(rows, tuple(key for key in keys if key), tuple(problems))


def _column_key(name: str) -> str:
    return re.sub(r"[\s_-]+", "_", name.casefold().strip()).strip("_")


def _named(names: list[str], record: Cells) -> dict[str, str]:
    # Backwards, so that of two columns of one name the first holds.
    pairs = list(zip(names, record.cells, strict=False))
    return {name: found for name, found in reversed(pairs) if name}


def _header_problems(header: Cells, columns: tuple[Column[Any], ...], file: str) -> list[Problem]:
    known = tuple(column.name for column in columns)
    problems: list[Problem] = []
    seen: set[str] = set()
    for found in filter(None, header.cells):
        key = _column_key(found)
        if key not in known:
            near = nearest_of(found, known)
            problems.append(
                Problem(file, Kind.COLUMN_UNKNOWN, header.line, found, found, known, near)
            )
        elif key in seen:
            problems.append(Problem(file, Kind.COLUMN_TWICE, header.line, key, found))
        seen.add(key)
    needed = {column.name for column in columns if column.needed}
    return problems + [
        Problem(file, Kind.COLUMN_MISSING, header.line, name, accepted=known)
        for name in known
        if name in needed - seen
    ]


def _too_long(record: Cells, header: Cells, file: str) -> Problem | None:
    for index, found in enumerate(record.cells):
        name = header.cells[index] if index < len(header.cells) else ""
        if found and not name:
            past = index >= len(header.cells)
            kind = Kind.ROW_TOO_LONG if past else Kind.COLUMN_UNNAMED
            return Problem(file, kind, record.line, str(index + 1), found)
    return None
