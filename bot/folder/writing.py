"""Writing a load: differences between a folder and the class book as rows of the class book."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, time, timedelta

from bot.classroom.stints import stint_of
from bot.folder.facts import Facts, Fields, class_rows, key_of, parts_of
from storage import tables
from storage.classbook import ClassBook
from storage.journal import Journal
from storage.records import Turn

_DAYS = frozenset(("joined", "left", "closes", "first", "last", "counted_on"))
_COUNT = frozenset(("on_hand", "counted_on"))


@dataclass
class Writer:
    """Writes one difference at a time; rows are found by the names a folder uses."""

    book: ClassBook
    journal: Journal
    facts: Facts
    today: date
    _students: dict[str, int] = field(default_factory=dict)
    _bins: dict[str, int] = field(default_factory=dict)
    _groups: dict[str, int] = field(default_factory=dict)
    _turns: list[Turn] = field(default_factory=list)

    def __post_init__(self) -> None:
        roster = self.book.roster()
        self._students = {s.name: s.id for s in roster.students}
        self._bins = {b.name: b.id for b in roster.bins}
        self._groups = {g.name: g.id for g in roster.groups}

    def write(self, action: str, subject: str, key: str, name: str) -> None:
        """Write one difference."""
        if action == "added":
            _ADD[subject](self, key, self.facts[subject][key])
        elif action == "changed":
            self._change(subject, key, name, self.facts[subject][key][name])
        elif action == "left":
            gone = self.today - timedelta(days=1)
            self.journal.change(tables.students, self._students[key], left=gone)
        elif action == "removed":
            self._remove(subject, key)

    # Rows added

    def _add_student(self, key: str, row: Fields) -> None:
        values = _typed({name: value for name, value in row.items() if name != "group"})
        self._students[key] = self.journal.add(tables.students, name=key, **values)
        self._join(key, row["group"], first=None)

    def _join(self, student: str, group: object, *, first: date | None) -> None:
        if group is None:
            return
        name = str(group)
        if name not in self._groups:
            self._groups[name] = self.journal.add(tables.groups, name=name)
        self.journal.add(
            tables.memberships,
            student_id=self._students[student],
            group_id=self._groups[name],
            first=first,
        )

    def _add_apart(self, key: str, row: Fields) -> None:
        one, other = (self._students[name] for name in parts_of(key))
        self.journal.add(tables.apart, student_id=one, other_id=other)

    def _add_bin(self, key: str, row: Fields) -> None:
        self._bins[key] = self.journal.add(tables.bins, name=key, **row)

    def _add_stint(self, key: str, row: Fields) -> None:
        name, opens = parts_of(key)
        day, values = date.fromisoformat(opens), _typed(row)
        self.journal.add(tables.stints, bin_id=self._bins[name], opens=day, **values)

    def _add_supply(self, key: str, row: Fields) -> None:
        name, item = parts_of(key)
        kit = {field: value for field, value in row.items() if field not in _COUNT}
        supply_id = self.journal.add(tables.supplies, bin_id=self._bins[name], item=item, **kit)
        self._add_count(supply_id, row)

    def _add_count(self, supply_id: int, row: Fields) -> None:
        if row["on_hand"] is not None:
            counted = _typed(row)["counted_on"] or self.today
            self.journal.add(
                tables.counts, supply_id=supply_id, on_hand=row["on_hand"], counted_on=counted
            )

    def _add_station(self, key: str, row: Fields) -> None:
        self.journal.add(tables.stations, name=key, **row)

    def _add_rotation(self, key: str, row: Fields) -> None:
        weekday, starts = parts_of(key)
        self.journal.add(
            tables.rotations, weekday=int(weekday), starts=time.fromisoformat(starts), **row
        )

    def _add_away(self, key: str, row: Fields) -> None:
        self.journal.add(tables.aways, **self._away(key), **row)

    def _away(self, key: str) -> dict[str, object]:
        student, first, last, weekday, starts, ends = parts_of(key)
        return {
            "student_id": self._students[student],
            "first": date.fromisoformat(first) if first else None,
            "last": date.fromisoformat(last) if last else None,
            "weekday": int(weekday) if weekday else None,
            "starts": time.fromisoformat(starts) if starts else None,
            "ends": time.fromisoformat(ends) if ends else None,
        }

    def _add_unit(self, key: str, row: Fields) -> None:
        self.journal.add(tables.units, name=key, **_typed(row))

    def _add_closure(self, key: str, row: Fields) -> None:
        day, starts, ends = parts_of(key)
        self.journal.add(
            tables.closures,
            day=date.fromisoformat(day),
            starts=time.fromisoformat(starts) if starts else None,
            ends=time.fromisoformat(ends) if ends else None,
            **row,
        )

    def _add_visit(self, key: str, row: Fields) -> None:
        student, name, day = parts_of(key)
        on = date.fromisoformat(day)
        stint = stint_of(self.book.roster(), self._bins[name], on)
        if stint is not None:
            self._turns.append(Turn(self._students[student], stint.id, on))

    def finish(self) -> None:
        """Write what was gathered: visits go in all at once."""
        self.book.claim(self.journal.entry_id, self._turns)

    # Rows changed

    def _change(self, subject: str, key: str, name: str, value: object) -> None:
        if subject == "student" and name == "group":
            self._regroup(key, value)
        elif subject == "supply" and name in _COUNT:
            if name == "on_hand" or not self._differs("supply", key, "on_hand"):
                self._add_count(self._row_id("supply", key), self.facts["supply"][key])
        elif subject == "class":
            self.journal.change(tables.classes, self.book.class_id, **_typed({name: value}))
        else:
            table = _TABLES[subject]
            self.journal.change(table, self._row_id(subject, key), **_typed({name: value}))

    def move_stint(self, key: str, opens: str) -> None:
        """Let a stint that opened on another day until now open on the day in `key`."""
        name, day = parts_of(key)
        row_id = self._row_id("stint", key_of(name, opens))
        self.journal.change(tables.stints, row_id, opens=date.fromisoformat(day))

    def _differs(self, subject: str, key: str, name: str) -> bool:
        before = (self.book.loaded() or {}).get(subject, {}).get(key, {})
        return bool(before.get(name) != self.facts[subject][key][name])

    def _regroup(self, student: str, group: object) -> None:
        """From today on with another group; what was before keeps its meaning."""
        student_id = self._students[student]
        for membership in self.book.roster().memberships:
            if membership.student_id == student_id and membership.last is None:
                self.journal.change(
                    tables.memberships, membership.id, last=self.today - timedelta(days=1)
                )
        self._join(student, group, first=self.today)

    def _row_id(self, subject: str, key: str) -> int:
        return class_rows(self.book.roster())[subject][key][0]

    # Rows removed

    def _remove(self, subject: str, key: str) -> None:
        if subject == "visit":
            student, name, day = parts_of(key)
            bin_id = self._bins[name]
            stints = [s.id for s in self.book.roster().stints if s.bin_id == bin_id]
            claims = self.book.claims(
                students=(self._students[student],), stints=stints, day=date.fromisoformat(day)
            )
            told = self.book.entries({claim.entry_id for claim in claims})
            mine = [claim for claim in claims if told[claim.entry_id].kind == "load"]
            self.book.take_back(self.journal.entry_id, mine)
            return
        self.journal.void(_TABLES[subject], [self._row_id(subject, key)])


_ADD: Mapping[str, Callable[[Writer, str, Fields], None]] = {
    "student": Writer._add_student,
    "apart": Writer._add_apart,
    "bin": Writer._add_bin,
    "stint": Writer._add_stint,
    "supply": Writer._add_supply,
    "station": Writer._add_station,
    "rotation": Writer._add_rotation,
    "away": Writer._add_away,
    "unit": Writer._add_unit,
    "closure": Writer._add_closure,
    "visit": Writer._add_visit,
}

_TABLES = {
    "student": tables.students,
    "apart": tables.apart,
    "bin": tables.bins,
    "stint": tables.stints,
    "supply": tables.supplies,
    "station": tables.stations,
    "rotation": tables.rotations,
    "away": tables.aways,
    "unit": tables.units,
    "closure": tables.closures,
}


def _typed(row: Mapping[str, object]) -> dict[str, object]:
    """Days and times of day out of their plain form."""
    typed: dict[str, object] = {}
    for name, value in row.items():
        if isinstance(value, str) and name in _DAYS:
            typed[name] = date.fromisoformat(value)
        elif isinstance(value, str) and name in ("digest_at", "quiet_before", "quiet_after"):
            typed[name] = time.fromisoformat(value)
        else:
            typed[name] = value
    return typed
