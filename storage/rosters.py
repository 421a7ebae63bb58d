"""Reading a whole class into one Roster."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import Connection, Row, Table, select

from storage import tables
from storage.records import (
    Apart,
    Away,
    Bin,
    Class,
    Closure,
    Extra,
    Group,
    Membership,
    Roster,
    Rotation,
    Station,
    Stint,
    Student,
    Supply,
    Unit,
)

Record = TypeVar("Record")
LISTS = {"goes_by", "avoids", "also_called", "standards", "cautions", "contains"}


def read_class(connection: Connection, class_id: int) -> Class:
    """The class and its settings."""
    row = connection.execute(select(tables.classes).where(tables.classes.c.id == class_id)).one()
    return class_of(row)


def class_of(row: Row[tuple[object, ...]]) -> Class:
    """A row of `classes` as a record."""
    values = {name: getattr(row, name) for name in Class.__slots__}
    return Class(**{**values, "school_days": tuple(values["school_days"])})


def read_roster(connection: Connection, class_id: int) -> Roster:
    """The class as it stands: every row that is not voided, in the order it was brought."""

    def rows(table: Table, record: Callable[..., Record]) -> tuple[Record, ...]:
        return read_standing(connection, class_id, table, record)

    students = rows(tables.students, Student)
    return Roster(
        class_=read_class(connection, class_id),
        groups=rows(tables.groups, Group),
        students=tuple(sorted(students, key=lambda student: (student.position, student.id))),
        memberships=rows(tables.memberships, Membership),
        apart=rows(tables.apart, Apart),
        bins=rows(tables.bins, Bin),
        stints=rows(tables.stints, Stint),
        supplies=rows(tables.supplies, Supply),
        stations=rows(tables.stations, Station),
        rotations=tuple(
            sorted(rows(tables.rotations, Rotation), key=lambda slot: (slot.weekday, slot.starts))
        ),
        aways=rows(tables.aways, Away),
        closures=rows(tables.closures, Closure),
        extras=rows(tables.extras, Extra),
        units=rows(tables.units, Unit),
    )


def read_standing(
    connection: Connection, class_id: int, table: Table, record: Callable[..., Record]
) -> tuple[Record, ...]:
    """The rows of one table that stand for one class, as records."""
    names: tuple[str, ...] = record.__slots__  # type: ignore[attr-defined]  # our own dataclasses
    query = (
        select(*(table.c[name] for name in names))
        .where(table.c.class_id == class_id, table.c.voided_by.is_(None))
        .order_by(table.c.id)
    )
    lists = [position for position, name in enumerate(names) if name in LISTS]
    return tuple(record(*_with_tuples(row, lists)) for row in connection.execute(query))


def _with_tuples(row: Row[tuple[object, ...]], lists: list[int]) -> list[object]:
    values: list[object] = list(row)
    for position in lists:
        values[position] = tuple(values[position])  # type: ignore[arg-type]  # a JSON list
    return values
