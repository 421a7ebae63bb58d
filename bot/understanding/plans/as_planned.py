"""Told that a rotation ran as planned: "everyone where the plan says"."""

from __future__ import annotations

from itertools import pairwise

from bot.requests import Ask, LogAsPlanned, Request, Who
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind

_PHRASES = (
    "where|like|as|what the? plan says|said|say|had|told|put|sent|has",
    "did|followed|kept ... what|as|like you|the ... plan|said|told",
    "as|like|according|per|by|following|followed to|with? the|our? plan|planned|schedule",
    "stuck|kept|sticking|keeping to|with the|our? plan|schedule",
    "went|ran|goes|going to plan|schedule",
    "as planned|planed|plannd|scheduled",
    "ran|went|run|go|all|everything|rotations|it|that|day ... as|to|per|according "
    "to|per|the? plan|planned|planed|plannd|schedule",
    "followed|did|ran|kept ... the|your|our plan",
    "plan ran|worked|held|went fine|well|perfectly|great",
    "no changes to the? plan",
)


def _hear_as_planned(clause: Clause) -> Heard | Request | None:
    words = clause.word_set
    if _asks(clause) or words & {"not", "didnt", "if", "will", "isnt", "wasnt", "cant"}:
        return None
    for before, item in pairwise(clause.items):
        if before.can_be(Kind.BUT, Kind.EXCEPT) and item.kind is Kind.UNKNOWN:
            return Heard(asks=[Ask("unknown_name", item.text, (), LogAsPlanned.name)])
    who = clause.who()
    but = Who(who.but_groups, who.but_students)
    only = Who(who.groups, who.students)
    whole = bool(words & {"today", "day", "all", "everything", "morning", "rotations", "both"})
    everyone = any(item.kind is Kind.EVERYONE and "all" in item.keys for item in clause.items)
    return LogAsPlanned(clause.said_when(), only, but, whole and not everyone)


def _asks(clause: Clause) -> bool:
    """ "we did what the plan said" asks nothing."""
    first = clause.items[0] if clause.items else None
    marked = any(item.kind is Kind.QUERY for item in clause.items)
    return marked or (first is not None and first.can_be(Kind.ASK, Kind.AUX) and clause.is_question)


TOLD_AS_PLANNED = Listener(_PHRASES, _hear_as_planned, rank=3)
