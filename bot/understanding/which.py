"""Asking which child is meant where several answer to a name, and which "next friday"."""

from __future__ import annotations

from datetime import date, timedelta

from bot.requests import Ask, Frame, Option
from bot.understanding.asking_back import ALL, BOTH
from bot.understanding.clause import Clause
from bot.understanding.days import NEXT_OR_AFTER
from bot.understanding.senses import Item, Kind


def which_child(clause: Clause, request: str) -> Ask | None:
    """The question back, each choice being the same text with one child's full name in it."""
    unsure = next((item for item in clause.children if _is_unsure(item)), None)
    if unsure is None:
        return None
    students = [i for s in unsure.senses if s.kind is Kind.STUDENT for i in s.ids]
    present = [i for i in students if clause.roster.student[i].is_on_roster(clause.at.date())]
    names = [clause.roster.student[i].name for i in present or students]
    groups = [i for s in unsure.senses if s.kind is Kind.GROUP for i in s.ids]
    labels = [f"Group {clause.roster.group[i].name}" for i in groups] + names
    options = [Option(label, _said(clause, unsure, label)) for label in labels]
    if len(names) > 1 and not groups:
        both = BOTH if len(names) == 2 else ALL
        options.append(Option(both, _said(clause, unsure, " and ".join(names))))
    frame = Frame("who", _said(clause, unsure, "{}"))
    return Ask("which_child", unsure.text, tuple(options), request, frame)


def which_day(clause: Clause, request: str) -> Ask | None:
    """The question back where "next friday" may be this week's or the one after, each choice being
    the same text with the date in it."""
    unsure = next((item for item in clause.items if item.sense.word == NEXT_OR_AFTER), None)
    if unsure is None or not isinstance(unsure.sense.value, date):
        return None
    lead = "on " if unsure.keys[0] == "on" else ""
    days = (unsure.sense.value, unsure.sense.value + timedelta(days=7))
    options = tuple(
        Option(f"{day:%a} {day.day} {day:%b}", _said(clause, unsure, f"{lead}{day.isoformat()}"))
        for day in days
    )
    return Ask("day_to_come", "", options, request)


def _is_unsure(item: Item) -> bool:
    if item.kind is Kind.STUDENT and len(item.sense.ids) > 1:
        return True
    return item.can_be(Kind.STUDENT) and item.can_be(Kind.GROUP)


def _said(clause: Clause, unsure: Item, name: str) -> str:
    return " ".join(name if item is unsure else item.text for item in clause.items)
