"""Told of whole days: "no school friday", "snow day", "school after all"."""

from __future__ import annotations

from bot.requests import Request
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as
from bot.understanding.senses import Kind

_NO_SCHOOL = (
    "no school",
    "school|schools is|was|will be? closed|cancelled|canceled|out|off",
    "school|schools closed|cancelled|canceled",
    "snow day",
    "<day> is|will be? a? ... holiday|day off|closed",
    "day off <day>",
    "<day> off $",
    "teacher workday|work|inservice",
    "pd|professional|inservice|conference development? day",
    "we are|re|have off <day>",
    "were|was|are|is off on? <day>",
    "closed on? <day>",
    "school wont|will not be? open|in session?",
    "no class|classes on? <day>",
)
_SCHOOL = (
    "school after all",
    "there is|will be? school",
    "we do have school",
    "have school <day>",
    "school is|will be? open|back on|on",
    "<day> is|will be? a? school day",
    "school <day> after all",
    "no snow day",
)


def _hear_no_school(clause: Clause) -> Request | None:
    known = {"school", "snow", "class", "classes", "workday", "holiday", "development"}
    strange = any(item.kind is Kind.UNKNOWN for item in clause.items)
    if strange and not known & clause.word_set:
        return None  # "thoe is off friday"
    return heard_as("no_school", clause)


def _hear_school(clause: Clause) -> Request | None:
    return heard_as("school", clause)


TOLD_NO_SCHOOL = Listener(_NO_SCHOOL, _hear_no_school, rank=1, apart=True)
TOLD_SCHOOL = Listener(_SCHOOL, _hear_school, rank=2, apart=True)
