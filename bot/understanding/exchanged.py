"""Corrections that name little: bins mixed up, the wrong namesake, "take her off"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from bot.requests import LogVisits
from bot.understanding.clause import Clause, Last
from bot.understanding.corrected import children_of
from bot.understanding.senses import Item, Kind
from bot.understanding.vocabulary import first_name, vocabulary_of

_MIXED_UP = re.compile(
    r"\b(other|opposite|wrong) way (a?round|about)?\b|\bvice versa\b"
    r"|\b(swap|switch|flip|reverse|exchange) (those|these|them|the two|both|it|that|<who>)(?!\S)"
    r"|\b(swap|switch|flip|reverse|exchange) \d+ and \d+\b"
    r"|\b(mixed|mix|muddled) up (<who>|\d+ and \d+)(?!\S)"
    r"|\b(mixed|mix|muddled|got|had) (them|those|these|the two|it|that) (up|backwards|reversed)\b"
    r"|\b(backwards|reversed|mixed up|swapped)\b"
)
_TAKES_OFF = re.compile(
    r"\b(take|took|cross) off <who>"
    r"|\b(take|took|remove|scratch|drop|uncheck|erase|delete|leave|cross|count|mark)"
    r" (her|him|them|that one|<who>) (off|out|back|away|absent)\b"
    r"|\b(remove|uncheck|erase|delete|scratch|unmark) (her|him|them|that one)\b"
    r"|\b(dont|do not) (count|credit|log|mark) (her|him|them)\b"
)
_OTHER_ONE = frozenset(("wrong", "other"))


def exchanged(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "sorry, other way round", "switch 2 and 3": two logs of the last text change bins."""
    if clause.bins or clause.is_question or _MIXED_UP.search(clause.outline) is None:
        return None
    pair = _two_of(last, _groups_named(clause), clause)
    if pair is None or pair[0].place == pair[1].place:
        return None
    places = {pair[0]: pair[1].place, pair[1]: pair[0].place}
    return [replace(log, place=places.get(log, log.place)) for log in last.logs]


def _groups_named(clause: Clause) -> set[int]:
    """The groups that a clause names, by number too: "2 and 3 are swapped"."""
    numbers = vocabulary_of(clause.roster).group_by_number
    named = {i for item in clause.children if item.kind is Kind.GROUP for i in item.sense.ids}
    return named | {numbers[int(w)] for w in clause.words if w.isdecimal() and int(w) in numbers}


def _two_of(last: Last, groups: set[int], clause: Clause) -> tuple[LogVisits, LogVisits] | None:
    """The two logs spoken of: those of these groups, or all there are."""
    logs = list(last.logs)
    if groups:
        logs = [log for log in logs if groups & set(log.who.groups)]
    elif clause.children:
        return None
    return (logs[0], logs[1]) if len(logs) == 2 and len(groups) in (0, 2) else None


def namesake_instead(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "wrong leo", "the other sofia", "the other one": the child of that name not meant."""
    if clause.is_question or clause.bins or not clause.word_set & _OTHER_ONE:
        return None
    named = clause.children
    if not named and "other one" in clause.outline:
        ids = _namesakes(last, clause)
    elif len(named) == 1 and named[0].kind is Kind.STUDENT:
        ids = set(named[0].sense.ids)
    else:
        return None
    meant = ids & {i for log in last.logs for i in log.who.students}
    others = ids - meant
    if len(meant) != 1 or len(others) != 1 or others & children_of(last, clause):
        return None
    [wrong], [right] = meant, others
    return [_with(log, wrong, right) for log in last.logs]


def _namesakes(last: Last, clause: Clause) -> set[int]:
    """The one child logged last and all of the same first name."""
    logged = [i for log in last.logs for i in log.who.students]
    if len(logged) != 1:
        return set()
    roster = clause.roster
    name = first_name(roster.student[logged[0]])
    return {s.id for s in roster.present_roster(clause.at.date()) if first_name(s) == name}


def _with(log: LogVisits, wrong: int, right: int) -> LogVisits:
    students = tuple(right if i == wrong else i for i in log.who.students)
    return replace(log, who=replace(log.who, students=students))


def taken_off(clause: Clause, last: Last) -> list[LogVisits] | None:
    """ "summer was in the bathroom the whole time, take her off": out of the log she was in."""
    named = [item for item in clause.children if item.kind is Kind.STUDENT]
    if clause.is_question or clause.bins or not named or len(named) < len(clause.children):
        return None
    if _TAKES_OFF.search(clause.outline) is None and not _NOT_DONE.search(clause.outline):
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


_NOT_DONE = re.compile(
    r"\b(only|just) (got )?(started|starting|began)\b|\b(didnt|did not|never|hasnt|havent) finish"
    r"|\bnot (done|finished)( yet)?\b"
)


def only_started(clause: Clause) -> bool:
    """ "only started, actually": the whole last log was no turn."""
    mentions = clause.children or clause.bins or clause.is_question
    mentions = mentions or any(item.can_be(Kind.PARTIAL) for item in clause.items)
    return not mentions and len(clause.words) <= _SHORT and bool(_NOT_DONE.search(clause.outline))


_SHORT = 6
