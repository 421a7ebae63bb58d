"""What one entry does to the class book: rows it adds, changes and voids, and how that is undone.

An added row names its entry in `made_by`. Every other change of a row is a line in `changes` with
the values before and after. An entry stands until a standing entry steps it back; a row says what
the standing entries say, whatever the order in which others were stepped back. Rows are settled so
in the name of the entry that steps back, by lines marked as such: stepping back can itself be
stepped back.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from sqlalchemy import Connection, Table, select

from storage.tables import (
    OF_CLASS,
    announcements,
    changes,
    claims,
    classes,
    counts,
    entries,
    moves,
)

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
        return self._put(table, row_id, values, settles=False)

    def void(self, table: Table, row_ids: Iterable[int]) -> None:
        """Take rows back; they stay, and point to this entry."""
        for row_id in row_ids:
            self._write(table, row_id, {"voided_by": None}, {"voided_by": self.entry_id})

    def step_back(self, entry_id: int) -> None:
        """Take an entry out of those that stand; every row it touched says what the rest say.

        What the entry itself had stepped back stands again. The order in which entries are stepped
        back makes no difference.
        """
        self.mark_undone(entry_id)
        turned = [entry_id]  # entries that stood and do not, or the other way round
        for one in turned:
            for _, row_id in self._marked_by(one):
                if self._settle(entries, row_id):
                    turned.append(row_id)
        for table, row_id in dict.fromkeys(row for one in turned for row in self._rows_of(one)):
            self._settle(table, row_id)

    def mark_undone(self, entry_id: int) -> None:
        """Note that an entry no longer stands because of this one."""
        self.change(entries, entry_id, undone_by=self.entry_id)

    def _marked_by(self, entry_id: int) -> list[tuple[Table, int]]:
        """The entries that an entry stepped back itself."""
        return [(t, row_id) for t, row_id in self._lines_of(entry_id) if t is entries]

    def _rows_of(self, entry_id: int) -> Iterator[tuple[Table, int]]:
        """The rows of the class that an entry added, changed or voided."""
        for table in OF_CLASS.values():
            made = select(table.c.id).where(table.c.made_by == entry_id)
            yield from ((table, row_id) for row_id in self.connection.scalars(made).all())
        yield from ((t, row_id) for t, row_id in self._lines_of(entry_id) if t is not entries)

    def _lines_of(self, entry_id: int) -> list[tuple[Table, int]]:
        query = (
            select(changes.c.subject, changes.c.row_id)
            .where(changes.c.entry_id == entry_id, changes.c.settles.is_(False))
            .order_by(changes.c.id)
        )
        return [(_SUBJECTS[row.subject], row.row_id) for row in self.connection.execute(query)]

    def _settle(self, table: Table, row_id: int) -> bool:
        """Give a row the values that the standing entries gave it, the last word last; whether
        that changed it."""
        values = self._said_of(table, row_id)
        if "made_by" in table.c:
            values["voided_by"] = self._maker_undone_by(table, row_id) or values.get("voided_by")
        return bool(values) and self._put(table, row_id, values, settles=True)

    def _said_of(self, table: Table, row_id: int) -> dict[str, object]:
        """Columns that were ever changed: the first value, or that of the last standing change."""
        query = (
            select(changes.c.before, changes.c.after, entries.c.undone_by)
            .join(entries, entries.c.id == changes.c.entry_id)
            .where(
                changes.c.subject == table.name,
                changes.c.row_id == row_id,
                changes.c.settles.is_(False),
            )
            .order_by(changes.c.id)
        )
        values: dict[str, object] = {}
        for before, after, undone_by in self.connection.execute(query):
            values = {**_decoded(table, before), **values}
            if undone_by is None:
                values |= _decoded(table, after)
        return values

    def _maker_undone_by(self, table: Table, row_id: int) -> int | None:
        """The entry that took back the one that made this row, if any did."""
        maker = entries.c.id == table.c.made_by
        query = select(entries.c.undone_by).join(table, maker).where(table.c.id == row_id)
        return self.connection.execute(query).scalar()

    def _put(self, table: Table, row_id: int, values: Row, *, settles: bool) -> bool:
        columns = [table.c[name] for name in values]
        row = self.connection.execute(select(*columns).where(table.c.id == row_id)).one()
        before = dict(zip(values, row, strict=True))
        if before == dict(values):
            return False
        self._write(table, row_id, before, values, settles=settles)
        return True

    def _write(
        self, table: Table, row_id: int, before: Row, after: Row, *, settles: bool = False
    ) -> None:
        self.connection.execute(table.update().where(table.c.id == row_id), dict(after))
        self.connection.execute(
            changes.insert(),
            {
                "entry_id": self.entry_id,
                "subject": table.name,
                "row_id": row_id,
                "before": _encoded(before),
                "after": _encoded(after),
                "settles": settles,
            },
        )
        self._touched(table)

    def _touched(self, table: Table) -> None:
        """A change of anything that a roster holds makes every copy of it stale."""
        if table not in (claims, counts, moves, announcements, entries):
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
