"""What one entry does to the class book: rows it adds, changes and voids, and how that is undone.

An added row names its entry in `made_by`. Every other change of a row is a line in `changes` with the
values before and after. Stepping back an entry voids what it added and puts back what it changed,
in the name of the entry that asked for it, so that stepping back can itself be stepped back.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from sqlalchemy import Connection, Table, select

from storage.tables import OF_CLASS, changes, claims, classes, entries

Row = Mapping[str, object]
_SUBJECTS: Mapping[str, Table] = {**OF_CLASS, entries.name: entries, classes.name: classes}


@dataclass(frozen=True)
class Journal:
    """Writing on behalf of one entry of one class."""

    connection: Connection
    class_id: int
    entry_id: int

    def add(self, table: Table, **values: object) -> int:
        """Add one row and give its id."""
        row = {"class_id": self.class_id, "made_by": self.entry_id, **values}
        result = self.connection.execute(table.insert(), row)
        self._touched(table)
        key = result.inserted_primary_key
        assert key is not None
        return int(key[0])

    def add_all(self, table: Table, rows: Sequence[Row]) -> None:
        """Add many rows at once."""
        if rows:
            made = {"class_id": self.class_id, "made_by": self.entry_id}
            self.connection.execute(table.insert(), [{**made, **row} for row in rows])
            self._touched(table)

    def change(self, table: Table, row_id: int, **values: object) -> bool:
        """Give columns of a row new values; False where it had them already."""
        columns = [table.c[name] for name in values]
        row = self.connection.execute(select(*columns).where(table.c.id == row_id)).one()
        before = dict(zip(values, row, strict=True))
        if before == dict(values):
            return False
        self._write(table, row_id, before, values)
        return True

    def void(self, table: Table, row_ids: Iterable[int]) -> None:
        """Take rows back; they stay, and point to this entry."""
        for row_id in row_ids:
            self._write(table, row_id, {"voided_by": None}, {"voided_by": self.entry_id})

    def step_back(self, entry_id: int) -> None:
        """Undo whatever another entry did that still stands."""
        for table in OF_CLASS.values():
            standing = select(table.c.id).where(
                table.c.made_by == entry_id, table.c.voided_by.is_(None)
            )
            self.void(table, self.connection.scalars(standing).all())
        self._put_back(entry_id)

    def mark_undone(self, entry_id: int) -> None:
        """Note that an entry no longer stands because of this one."""
        self._write(entries, entry_id, {"undone_by": None}, {"undone_by": self.entry_id})

    def _put_back(self, entry_id: int) -> None:
        mine = select(changes).where(changes.c.entry_id == entry_id).order_by(changes.c.id.desc())
        for line in self.connection.execute(mine).all():
            table = _SUBJECTS[line.subject]
            after, before = _decoded(table, line.after), _decoded(table, line.before)
            columns = [table.c[name] for name in after]
            now = self.connection.execute(select(*columns).where(table.c.id == line.row_id)).one()
            if dict(zip(after, now, strict=True)) == after:  # else someone changed it since
                self._write(table, line.row_id, after, before)

    def _write(self, table: Table, row_id: int, before: Row, after: Row) -> None:
        self.connection.execute(table.update().where(table.c.id == row_id), dict(after))
        self.connection.execute(
            changes.insert(),
            {
                "entry_id": self.entry_id,
                "subject": table.name,
                "row_id": row_id,
                "before": _encoded(before),
                "after": _encoded(after),
            },
        )
        self._touched(table)

    def _touched(self, table: Table) -> None:
        """A change of anything but visits makes every copy of the roster stale."""
        if table not in (claims, entries):
            grown = {"version": classes.c.version + 1}
            self.connection.execute(
                classes.update().where(classes.c.id == self.class_id).values(grown)
            )


def _encoded(row: Row) -> dict[str, object]:
    return {
        name: value.isoformat() if isinstance(value, date | time) else value
        for name, value in row.items()
    }


def _decoded(table: Table, row: Row) -> dict[str, object]:
    return {name: _value(table.c[name].type.python_type, value) for name, value in row.items()}


def _value(kind: type[Any], value: object) -> object:
    if isinstance(value, str) and kind in (date, time):
        return kind.fromisoformat(value)
    return value
