"""A folder read line by line, before its files are held against each other."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from bot.folder.columns import BINS, STUDENTS
from bot.folder.nearest import Register, fold
from bot.folder.rows import Line
from bot.folder.values import (
    Away,
    BinLine,
    ClassSettings,
    Closure,
    FileRead,
    RotationLine,
    Station,
    Student,
    Supply,
    TimedBlock,
    Unit,
    Visit,
)


@dataclass(frozen=True)
class Draft:
    """Every line, with names as written. `unread` are files whose text or header failed."""

    settings: Line[ClassSettings]
    students: tuple[Line[Student], ...]
    bins: tuple[Line[BinLine], ...]
    supplies: tuple[Line[Supply], ...]
    stations: tuple[Line[Station], ...]
    rotations: tuple[Line[RotationLine], ...]
    aways: tuple[Line[Away], ...]
    units: tuple[Line[Unit], ...]
    visits: tuple[Line[Visit], ...]
    closures: tuple[Closure, ...]
    blocks: tuple[TimedBlock, ...]
    files: tuple[FileRead, ...]
    unread: frozenset[str]

    @cached_property
    def roster(self) -> Register:
        """Students by full name or code."""
        known = [line.value for line in self.students]
        codes = ((student.code, student.name) for student in known if student.code)
        return Register.of((student.name for student in known), codes)

    @cached_property
    def bin_names(self) -> Register:
        """Bins by name, or by another name that only one of them has."""
        known = [line.value for line in self.bins]
        others = ((other, self.first_name(one)) for one in known for other in one.also_called)
        return Register.of((one.bin for one in known), others)

    @cached_property
    def stints(self) -> dict[str, tuple[Line[BinLine], ...]]:
        """The stints of each bin, by folded name, in the order of the file."""
        found: dict[str, tuple[Line[BinLine], ...]] = {}
        for line in self.bins:
            if line.value.is_stint:
                key = fold(line.value.bin)
                found[key] = (*found.get(key, ()), line)
        return found

    @cached_property
    def closed_days(self) -> frozenset[date]:
        """The days on which the calendar closes school."""
        return frozenset(closure.day for closure in self.closures)

    def has(self, file: str) -> bool:
        """Whether `file` is in the folder, read or not."""
        return file in self.unread or any(one.name == file for one in self.files)

    def first_name(self, one: BinLine) -> str:
        """The spelling of the bin's name on its first line."""
        key = fold(one.bin)
        return next(line.value.bin for line in self.bins if fold(line.value.bin) == key)

    def knows_students(self) -> bool:
        """Whether a name missing from the roster is really unknown."""
        return STUDENTS not in self.unread

    def knows_bins(self) -> bool:
        """Whether a name missing from the bins is really unknown."""
        return BINS not in self.unread
