"""A turn told of by another day's: "g6 same as yesterday", "same bin as monday for g2"."""

from __future__ import annotations

from datetime import date, timedelta

from bot.classroom.days import school_day_before
from bot.requests import Ask, LogAsBefore, Option, When
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause, when_of
from bot.understanding.reading import Listener
from bot.understanding.segments import is_subject
from bot.understanding.senses import Kind

_PHRASES = (
    "same ... as|like|from <day>",
    "same ... as|like last time|before",
    "same ... as last time",
    "repeat|repeated of? <day>",
    "like|as <day> $",
)
_MOST_GROUPS = 8


def _hear_as_before(clause: Clause) -> LogAsBefore | Heard | None:
    if clause.bins or clause.is_question or clause.is_negative:
        return None
    if any(item.can_be(Kind.FUTURE) for item in clause.items if not is_subject(item)):
        return None
    before = _day_before(clause)
    if before is None:
        return None
    times = [item for item in clause.items if item.kind in (Kind.TIME, Kind.SLOT)]
    who = clause.who()
    if who:
        return LogAsBefore(who, before, when_of(times, When()))
    if clause.children:
        return None
    options = tuple(
        Option(f"Group {group.name}", f"group {group.name} same as {before.isoformat()}")
        for group in clause.roster.groups[:_MOST_GROUPS]
    )
    return Heard(asks=[Ask("which_group", "the same bin", options)])


def _day_before(clause: Clause) -> date | None:
    """The day that is named, or the last school day."""
    named = [i.sense.value for i in clause.items if i.kind is Kind.DAY]
    days = [day for day in named if isinstance(day, date)]
    if days:
        return days[-1] if days[-1] < clause.at.date() else None
    return school_day_before(clause.roster, clause.at.date()) or clause.at.date() - timedelta(1)


TOLD_AS_BEFORE = Listener(_PHRASES, _hear_as_before, asks_of="log_visits")
