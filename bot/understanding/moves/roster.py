"""Told who joins and who leaves: "new student zed in group 2", "ava moved away"."""

from __future__ import annotations

import re

from bot.requests import NewStudent, Request, StudentLeft
from bot.understanding.clause import Clause
from bot.understanding.moves.doubts import is_unsure
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_NEW_PHRASES = (
    "new student|kid|child|girl|boy|friend|kiddo|pupil|classmate",
    "is new",
    "joined|joins|joining the|our|my? class|roster|us",
    "joined|joins|joining the|our|my? <who>",
    "starts|started with us|in",
    "add ... to the|my|our class|roster",
    "welcome ... to the|our class|group",
)
_LEFT = (
    "<who> left|leaves|leaving the|our|my|us class|school|us|for",
    "<who> moved|moves|moving away|schools|out",
    "<who> ... last day",
    "last day for|of ... <who>",
    "<who> transferred|withdrew|transferring|withdrawn|unenrolled|withdrawing",
    "<who> is|are not|no longer in|on|with|part ... class|roster|us",
    "<who> isnt|no longer in|on|with ... class|roster|us ... anymore|more?",
    "<who> changed|changing|switched|switching schools|school|class|classes",
    "<who> is|are? leaving the|our|my? class|school|us",
    "<who> ... leaving|leaves for good",
    "take|remove|drop|delete <who> off|from the|my|our class|roster|list",
)
_NEW = re.compile(
    r"\bnew (?:student|kid|child|girl|boy|friend|kiddo|pupil|classmate)s?\b[\s,:]*"
    r"(?:is |named |called |today |starting |joining |- )*(?P<after>[^\W\d_][^,.:;()]*)",
    re.IGNORECASE,
)
_JOINS = re.compile(
    r"^(?:so |and |also |please |add |welcome )*(?P<name>[^\W\d_][\w'’\-. ]*?) "
    r"(?:is new|is joining|joins|joined|just joined|starts|is starting|started|to the roster"
    r"|to the class|to my class|to our class)\b",
    re.IGNORECASE,
)
_ENDS = re.compile(
    r"\s+\b(?:in|to|into|is|joins|joined|joining|starts|started|starting|with|for|and|today|"
    r"tomorrow|from|on|group|g\d|grp|this|next|goes|will|who|put|monday|tuesday|wednesday|"
    r"thursday|friday|are|has)\b.*$",
    re.IGNORECASE,
)


def _hear_new(clause: Clause) -> Request | None:
    if clause.is_question or clause.bins or clause.who().students:
        return None
    called = _called(clause)
    if not called:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    groups = clause.who().groups
    return NewStudent(called, groups[0] if groups else None, span.first)


def _called(clause: Clause) -> str:
    """The name of the child who is new, as written."""
    text = " ".join(item.text for item in clause.items)
    found = _NEW.search(text)
    name = found["after"] if found else ""
    if not name:
        joins = _JOINS.search(text)
        name = joins["name"] if joins else ""
    name = _ENDS.sub("", f" {name}").strip(" .,'’-")
    words = name.split()
    if not 0 < len(words) <= 3 or any(word.isdecimal() for word in words):
        return ""
    return " ".join(_capital(word) for word in words) + (
        "." if len(words) > 1 and len(words[-1]) == 1 else ""
    )


def _capital(word: str) -> str:
    return "-".join(part[:1].upper() + part[1:] for part in word.split("-"))


def _hear_left(clause: Clause) -> Request | None:
    who = clause.who()
    if is_unsure(clause) or clause.bins or not who.students or who.groups or who.everyone:
        return None
    [span, *_] = spans_of(clause.items, clause.at, past="left" in clause.word_set)
    last = span.last or span.first
    return StudentLeft(who, last)


TOLD_NEW = Listener(_NEW_PHRASES, _hear_new, rank=2, apart=True)
TOLD_LEFT = Listener(_LEFT, _hear_left, asks_of="move_student", rank=2, apart=True)
