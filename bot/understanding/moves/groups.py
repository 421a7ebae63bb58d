"""Told that children change groups: "move ruby to group 2", "omar is with g1 today"."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bot.requests import MoveStudent, Request, SwapStudents
from bot.understanding.clause import Clause
from bot.understanding.moves.doubts import is_unsure
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_PHRASES = (
    "move|put|switch|shift|change|transfer|place|send|stick|swap|assign|moving|"
    "moved|switched|changed ... <who> ... to|in|into|with|from|onto ... <who>",
    "<who> ... move|moves|moved|moving|switches|switched|switching|changed|changes|"
    "goes|transferred|belongs|joins|joined to|into|in|from|with? ... <who>",
    "<who> is|are|will|rotates|works|stays|goes|be ... in|with <who>",
    "<who> is|are|be <who> now|today|<day>|from",
    "<who> in|with <who> <day>|now|today|from|this|for|until|till",
    "<who> joins|join|joined <who>",
    "swap|switch|trade|exchange <who>",
    "swap|switch|trade|exchange <who> and|with|for <who>",
    "add <who> to|in|into <who>",
)
_IN_SHORT = ("^ <who> <day>|now|from|till|until",)


def _hear_move(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if is_unsure(clause) or clause.bins or who.everyone or not who.students:
        return None
    first, last = _days(clause)
    is_swap = bool({"swap", "switch", "trade", "exchange"} & words)
    if not who.groups and is_swap and len(who.students) == 2:
        return SwapStudents(who.students[0], who.students[1], first, last)
    verbs = {"with", "in", "into", "to", "from", "joins", "join", "joined"} & words
    if not who.groups or not verbs:
        return None
    return MoveStudent(replace(who, groups=()), who.groups[-1], first, last)


def _days(clause: Clause) -> tuple[date | None, date | None]:
    """From when to when: "today" alone is a stay of one day, "from monday" is for good."""
    [span, *_] = spans_of(clause.items, clause.at)
    words = clause.word_set
    is_open = bool({"from", "starting", "now", "beginning", "permanently"} & words)
    if span.first is None:
        return None, span.last
    if span.first == span.last and (is_open or not {"today", "for", "only", "just"} & words):
        later = span.first > clause.at.date() and not {"for", "only", "just"} & words
        return (span.first, None) if is_open or later else (span.first, span.last)
    return span.first, span.last


TOLD_MOVE = Listener(_PHRASES, _hear_move, asks_of="move_student", apart=True)
TOLD_IN_SHORT = Listener(_IN_SHORT, _hear_move, asks_of="move_student")
