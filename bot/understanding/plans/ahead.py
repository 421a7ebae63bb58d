"""Whether a question looks ahead: who goes where, now or later; not where they were or must still.

    [stars are all done]  where | do they go      a question word, and what stands behind it
                          who   | is at ice at 1:45
                          what  | are we doing after lunch
                          does  | g5 have tubes tomorrow

Told from what was ("who did ice"), from what is needed ("who still has to go") and from who is away
by the words behind the question word; from other sayings by the children, the bin and the time.
"""

from __future__ import annotations

import itertools

from bot.understanding.clause import Clause
from bot.understanding.senses import Kind

_WHERE = frozenset(("where", "wheres", "wher"))
_WHO = frozenset(("who", "whos", "whose", "whom", "whod"))
_WHAT = frozenset(("what", "whats", "which", "wut", "wat"))
_WHEN = frozenset(("when", "whens"))
_PAST = frozenset((
    "did", "didnt", "was", "wasnt", "were", "werent", "been", "had", "went", "visited", "gone",
    "yesterday", "finished", "done", "completed", "ever", "already", "last", "got", "gotten",
))  # fmt: skip
_NEEDS = frozenset((
    "need", "needs", "left", "missing", "still", "hasnt", "havent", "yet", "remaining", "lack",
    "else", "behind", "more", "not", "isnt", "arent", "miss", "must", "ready", "can", "could",
))  # fmt: skip
_OTHERS = frozenset((
    "away", "absent", "sick", "here", "late", "leaves", "leaving", "pulled", "swap", "change",
    "summary", "digest", "copy", "copies", "order", "buy", "bring", "put", "set", "close",
    "closes", "open", "opens", "out", "close", "ends", "school", "cover", "covered", "text", "say",
    "type", "wear", "lunch", "recess", "snack", "feeling", "name", "called",
))  # fmt: skip
_NOW = frozenset(("next", "now", "then", "later", "afternoon", "upcoming", "rn"))
_GOES = frozenset((
    "go", "goes", "going", "headed", "heading", "send", "sending", "supposed", "should", "shall",
    "shld", "shud", "sent", "off", "belong", "belongs", "be", "assigned", "scheduled",
))  # fmt: skip
_AT = frozenset((
    "at", "on", "in", "with", "to", "has", "have", "doing", "does", "do", "goes", "go", "going",
    "is", "are", "gets", "get", "for", "be", "playing", "working", "visiting",
))  # fmt: skip
_THEM = frozenset((
    "they", "them", "we", "everyone", "everybody", "kids", "groups", "students", "class",
    "children", "friends", "all", "he", "she", "him", "her", "kiddos",
))  # fmt: skip
_WHOM = frozenset(("kids", "kid", "groups", "group", "students", "student", "children", "child"))
_BINS = frozenset(("bin", "bins", "center", "centers", "station", "stations", "tub", "box", "spot"))
_DOES = frozenset(("doing", "do", "does", "have", "has", "at", "on", "go", "goes", "next", "get"))
_AUX = frozenset(("does", "do", "is", "are", "will", "has", "have"))


def looks_ahead(clause: Clause) -> bool:
    """Whether a clause asks who goes where, now or later."""
    tokens = clause.outline.split()
    at = next((n for n, word in enumerate(tokens) if word in _ASKS), None)
    if at is None or not (clause.is_question or _leads_in(tokens[:at])):
        return bool(tokens) and clause.is_question and _asks_whether(clause, tokens)
    words = frozenset(tokens[at:])
    if words & _OTHERS - _meals(tokens) or _speaks_of_past(clause):
        return False
    when = tokens[at] in _WHEN or tokens[at : at + 2] in (["what", "time"], ["which", "day"])
    where = tokens[at] in _WHERE
    if words & _PAST or words & (_NEEDS - _MAY if where else _NEEDS):
        return False
    numbered = any(token.isdecimal() for token in tokens)
    children = "<who>" in tokens or bool(words & _THEM) or (where and numbered)
    if when:
        return "<who>" in tokens and "<bin>" in words and bool(words & _AT)
    if where:
        sends = bool({"send", "sending"} & words)
        return children and ("<who>" in tokens or sends or _is_soon(clause, words) or
                             bool(words & _GOES))  # fmt: skip
    if tokens[at] in _WHO or (tokens[at] in _WHAT and set(tokens[at + 1 : at + 2]) & _WHOM):
        return _asks_who(clause, words, tokens[at:])
    return _asks_what(clause, words, tokens, at)


_ASKS = _WHERE | _WHO | _WHAT | _WHEN


def _leads_in(head: list[str]) -> bool:
    """ "stars finished where ...", "4 where", "first rotation tomorrow who ...", "3 kids early"."""
    if "<who>" in head or (len(head) == 1 and head[0].isdecimal()):
        return True
    return bool(head) and (set(head) <= {"<time>", "<day>"} or bool(_IDLE & set(head)))


_IDLE = frozenset(("early", "done", "finished", "through"))
_MAY = frozenset(("can", "could", "else", "more", "ready"))


def _meals(tokens: list[str]) -> frozenset[str]:
    """ "after lunch" is a time, "for lunch" is not."""
    return frozenset(meal for before, meal in itertools.pairwise(tokens) if before == "after")


def _speaks_of_past(clause: Clause) -> bool:
    days = [item.sense.value for item in clause.items if item.kind is Kind.DAY]
    return any(day is not None and str(day) < str(clause.at.date()) for day in days[:1])


def _is_soon(clause: Clause, words: frozenset[str]) -> bool:
    return bool(words & _NOW) or bool({"<time>", "<day>"} & words) or "after" in words


def _asks_who(clause: Clause, words: frozenset[str], tail: list[str]) -> bool:
    if words & _WHERE or (words & _WHAT and words & _BINS and tail[0] in _WHOM | _WHAT):
        return True  # "who's where", "what groups are at what bins"
    if "<bin>" not in words or "first" in words or not words & (_AT | {"whos"}):
        return False
    soon = _is_soon(clause, words) or bool(words & {"going", "headed", "heading", "supposed"})
    return soon or tail[1:3] in (["is", "at"], ["are", "at"]) or tail[:2] == ["whos", "at"]


def _asks_what(clause: Clause, words: frozenset[str], tokens: list[str], at: int) -> bool:
    soon = _is_soon(clause, words)
    if words & {"happens", "happening", "on"} and "<time>" in words and "<bin>" not in words:
        return True
    if "<who>" in tokens:
        moves = soon or bool(words & {"doing", "headed", "heading", "going", "supposed"})
        return moves and "<bin>" not in words and bool(words & (_DOES | _BINS | _GOES | _NOW))
    if "<bin>" in tokens:
        return False
    moves = bool(words & {"doing", "do", "have", "going", "at", "on", "headed"})
    return bool(words & _THEM) and moves and soon and "about" not in words


def _asks_whether(clause: Clause, tokens: list[str]) -> bool:
    """ "does g5 have tubes tomorrow", "is g4 at rain or clay next"."""
    words = frozenset(tokens)
    lead = next((n for n, word in enumerate(tokens) if word in _AUX), None)
    if lead is None or tokens[lead + 1 : lead + 2] != ["<who>"] or "<bin>" not in words:
        return False
    if words & (_PAST | _NEEDS | _OTHERS) or not words & (_AT | {"going"}):
        return False
    days = [item.sense.value for item in clause.items if item.kind is Kind.DAY]
    ahead = any(day is not None and str(day) > str(clause.at.date()) for day in days)
    return ahead or bool(words & (_NOW | {"<time>", "going"}))
