"""Exports: the class book as tables, raw CSV or a spreadsheet file."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TextIO

import xlsxwriter

from bot.classroom.needs import needs_of
from bot.classroom.restocking import most_urgent_first
from bot.classroom.rotation.memo import Plans
from bot.classroom.stints import out_on
from bot.skills.planning import make_plan
from bot.skills.skill import Situation
from bot.skills.stocktaking import take_stock
from storage.classbook import ClassBook
from storage.register import Register

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
Table = tuple[tuple[str, ...], list[tuple[str, ...]]]


def visits_table(book: ClassBook, register: Register, now: datetime) -> Table:
    """Every visit that stands, with the text that first told of it."""
    roster = book.roster()
    visits = book.visits()
    told = book.entries({claim.entry_id for claim in visits})
    members = {member.id: member.name for member in register.members(book.class_id)}
    rows: list[tuple[str, ...]] = []
    for claim in visits:
        turn, entry = claim.turn, told[claim.entry_id]
        stint = roster.stint[turn.stint_id]
        rows.append(
            (
                roster.student[turn.student_id].name,
                roster.bin_of(stint).name,
                stint.color,
                turn.day.isoformat(),
                f"{turn.rotation:%H:%M}" if turn.rotation else "",
                entry.at.astimezone(roster.class_.zone).isoformat(timespec="seconds"),
                members.get(entry.member_id or 0, "folder"),
                "" if entry.kind == "load" else entry.text,
            )
        )
    head = ("student", "bin", "color", "day", "rotation", "logged_at", "logged_by", "text")
    return head, rows


def needs_table(book: ClassBook, register: Register, now: datetime) -> Table:
    """Who still needs each bin that is out, in the order to send them: visits held, visits
    asked."""
    roster = book.roster()
    stints = out_on(roster, now.date())
    tally = book.tally([stint.id for stint in stints])
    rows: list[tuple[str, ...]] = []
    for stint in stints:
        for student in needs_of(roster, tally, stint, now).students:
            held = tally.get(stint.id, {}).get(student.id, 0)
            name = roster.bin_of(stint).name
            rows.append((name, student.name, str(held), str(stint.visits_each)))
    return ("bin", "student", "visits", "asked"), rows


def supplies_table(book: ClassBook, register: Register, now: datetime) -> Table:
    """Every supply with what is on hand and what it needs; what is short first."""
    roster = book.roster()
    lines = take_stock(book, roster, now).lines
    short = most_urgent_first(lines.values())
    rest = [line for line in lines.values() if not line.is_short]
    rows: list[tuple[str, ...]] = [
        (
            roster.bin[line.stock.supply.bin_id].name,
            line.stock.supply.item,
            line.stock.supply.kind,
            "" if line.stock.on_hand is None else f"{line.stock.on_hand:.10g}",
            f"{line.needed:.10g}",
            f"{line.short:.10g}",
            f"{line.order:.10g}",
            line.by.isoformat() if line.by else "",
        )
        for line in (*short, *rest)
    ]
    return ("bin", "item", "kind", "on_hand", "needed", "short", "order", "by"), rows


def plan_table(book: ClassBook, register: Register, now: datetime) -> Table:
    """Who goes to which bin in each rotation to come, as the plan stands now."""
    owner = register.members(book.class_id)[0]
    planned = make_plan(Situation(book, book.roster(), 0, owner, now, plans=Plans()))
    rows = [
        (sitting.day.isoformat(), f"{sitting.starts:%H:%M}", sitting.name, student.name)
        for sitting in planned.sittings
        if sitting.stint is not None
        for student in sitting.students
    ]
    return ("day", "starts", "bin", "student"), [*rows]


EXPORTS: Mapping[str, Callable[[ClassBook, Register, datetime], Table]] = {
    "visits": visits_table,
    "needs": needs_table,
    "supplies": supplies_table,
    "plan": plan_table,
}


def write_csv(table: Table, out: TextIO) -> None:
    """Raw CSV: header, then rows."""
    head, rows = table
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)


def harmless(table: Table) -> Table:
    """The same with an apostrophe before cells that a spreadsheet would run as a formula.

    The signs that begin one are those of OWASP's page "CSV Injection".
    """
    head, rows = table
    return head, [tuple(f"'{c}" if c.startswith(_FORMULA) else c for c in row) for row in rows]


def write_xlsx(table: Table, path: Path, name: str) -> None:
    """A spreadsheet file; every cell is text, so that none is taken for a formula."""
    head, rows = table
    with xlsxwriter.Workbook(str(path), {"in_memory": True}) as workbook:
        sheet = workbook.add_worksheet(name)
        for at, row in enumerate([head, *rows]):
            _write_row(sheet.write_string, at, row)
        sheet.freeze_panes(1, 0)


def _write_row(write: Callable[[int, int, str], object], at: int, row: Iterable[str]) -> None:
    for column, value in enumerate(row):
        write(at, column, value)
