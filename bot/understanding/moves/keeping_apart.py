"""Told whom to keep apart: "keep ruby and omar apart", "they can sit together again"."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import KeepApart, Request
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener

_PHRASES = (
    "keep|put|hold|sit|seat <who> apart|separate|separated|away",
    "<who> apart|separate|separated",
    "separate|split <who>",
    "<who> ... cant|cannot|shouldnt|should|can|not|dont|mustnt ... together|near",
    "dont|not|never put|pair|seat|place|group|mix <who>",
    "<who> must|should|can|may not? be|work|sit|go together",
    "<who> away from <who>",
    "<who> together again|is|are? fine|ok|okay",
    "<who> can be|work|sit|go together|with again|now",
)
_AGAIN = frozenset(("again", "okay", "fine", "ok", "now"))
_APART = frozenset(("not", "dont", "cant", "cannot", "shouldnt", "never", "apart", "separate"))


def _hear_apart(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    two = (*who.students, *who.but_students)
    if clause.is_question or clause.bins or who.groups or len(two) != 2:
        return None
    again = _AGAIN & words and not _APART & words
    return KeepApart(replace(who, students=two, but_students=(), everyone=False), not again)


TOLD_APART = Listener(_PHRASES, _hear_apart, asks_of="move_student", rank=2)
