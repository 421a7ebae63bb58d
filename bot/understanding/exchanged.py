"""Corrections that name little: bins mixed up, the wrong namesake, "take her off"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from bot.requests import LogVisits
from bot.understanding.clause import Clause, Last
from bot.understanding.corrected import children_of
from bot.understanding.senses import Item, Kind

_MIXED_UP = re.compile(
    r"\b(other|opposite|wrong) way (a?round|about)?\b|\bvice versa\b"
    r"|\b(swap|switch|flip|reverse|exchange) (those|these|them|the two|both|it|that)\b"
    r"|\b(mixed|mix|muddled|got|had) (them|those|these|the two|it|that) (up|backwards|reversed)\b"
    r"|\b(backwards|reversed|mixed up|swapped)\b"
)
_TAKES_OFF = re.compile(
    r"\b(take|took|remove|scratch|drop|uncheck|erase|delete|leave|cross|count|mark)"
    r" (her|him|them|that one|<who>) (off|out|back|away|absent)\b"
    r"|\b(remove|uncheck|erase|delete|scratch|unmark) (her|him|them|that one)\b"
    r"|\b(dont|do not) (count|credit|log|mark) (her|him|them)\b"
)
_OTHER_ONE = frozenset(("wrong", "other"))


def exchanged(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "sorry, other way round": the two logs of the last text change bins."""
    if clause.children or clause.bins or clause.is_question or len(last.logs) != 2:
        return None
    if _MIXED_UP.search(clause.outline) is None:
        return None
    one, other = last.logs
    if one.place == other.place:
        return None
    return [replace(one, place=other.place), replace(other, place=one.place)]


def namesake_instead(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "wrong leo", "the other sofia": the child of that name who was not meant, if just one."""
    named = [item for item in clause.children if item.kind is Kind.STUDENT]
    if clause.is_question or clause.bins or len(named) != 1 or len(clause.children) != 1:
        return None
    if not clause.word_set & _OTHER_ONE or not _is_namesake(named[0]):
        return None
    ids = set(named[0].sense.ids)
    meant = ids & {i for log in last.logs for i in log.who.students}
    others = ids - meant
    if len(meant) != 1 or len(others) != 1 or others & children_of(last, clause):
        return None
    [wrong], [right] = meant, others
    return [_with(log, wrong, right) for log in last.logs]


def _is_namesake(item: Item) -> bool:
    return len(item.sense.ids) > 1


def _with(log: LogVisits, wrong: int, right: int) -> LogVisits:
    students = tuple(right if i == wrong else i for i in log.who.students)
    return replace(log, who=replace(log.who, students=students))


def taken_off(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "summer was in the bathroom the whole time, take her off": out of the log she was in."""
    named = [item for item in clause.children if item.kind is Kind.STUDENT]
    if clause.is_question or clause.bins or not named or len(named) < len(clause.children):
        return None
    if _TAKES_OFF.search(clause.outline) is None:
        return None
    gone = _meant(named, children_of(last, clause))
    if gone is None:
        return None
    logs = []
    for log in last.logs:
        but = (*log.who.but_students, *gone)
        students = tuple(i for i in log.who.students if i not in gone)
        who = replace(log.who, but_students=but, students=students)
        if who:
            logs.append(replace(log, who=who))
    return logs


def _meant(named: Sequence[Item], among: set[int]) -> tuple[int, ...] | None:
    """The one child of the last log behind each name."""
    found = [[i for i in item.sense.ids if i in among] for item in named]
    if any(len(ids) != 1 for ids in found):
        return None
    return tuple(ids[0] for ids in found)
