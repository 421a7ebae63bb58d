"""Told whom to keep apart: "keep ruby and omar apart", "they can sit together again"."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import Ask, KeepApart, Option, Request
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.clause import Clause
from bot.understanding.moves.doubts import said_words
from bot.understanding.orders import is_order, is_wish
from bot.understanding.reading import Listener

_BE = "be|to|get|sit|work|go|stay|rotate|partner|partnered|pair|paired|put|in|placed|grouped|seated"
_NEVER = "cant|cannot|shouldnt|mustnt|not|dont|never|wont|no"
_PHRASES = (
    "keep|put|hold|sit|seat|keeping <who> apart|separate|separated|away",
    "<who> need|needs|have|has|must|should|to|be|kept|keep|are|is* apart|separate|separated",
    "separate|split|separating <who>",
    f"<who> ... {_NEVER} {_BE}|a|the|same|group* together|near|with|by|beside|next|same|the",
    f"{_NEVER} pairing|pair|put|seat|place|group|mix|sit|partner|let|grouping|putting <who>",
    "<who> must|should|can|may|do not? be|work|sit|go together",
    "<who> away from <who>",
    "^ no <who>",
    "<who> needs|need|should|must|has|have|to|be|in|a* different|separate|another group|groups|"
    "table|team|bin",
    "<who> ... never be|sit|work|go|at|in|the|put* same|together",
    "<who> need|needs|has|have|must|should to stay|be|keep|sit away from <who>",
    "<who> dont|doesnt|do|cant get along",
    "<who> fight|fights|fighting|argue|arguing|bicker ... split|separate|apart",
    "<who> together again|is|are|ok|okay|fine",
    f"<who> are|is|can|be|both|all|let|ok|okay|fine|now|{_BE}* together|with again|now",
    "<who> can be|work|sit|go together|with again|now",
    "let <who> be|work|sit|go* together",
    "<who> no longer|dont need|needs|have|has to be kept|keep|stay? apart|separate",
)
_AGAIN = frozenset(("again", "okay", "fine", "ok", "now", "longer"))
_APART = frozenset((
    "not", "dont", "cant", "cannot", "shouldnt", "never", "apart", "separate", "separated", "away",
    "wont", "mustnt", "split", "no",
))  # fmt: skip
_NO_MORE = ("no longer", "dont need to be", "doesnt need to be", "dont have to", "not need to")


def _hear_apart(clause: Clause) -> Heard | Request | None:
    who, words = clause.who(), said_words(clause)
    two = tuple(dict.fromkeys((*who.students, *who.but_students)))
    asks = clause.is_question and not (is_order(clause) or is_wish(clause))
    if asks or clause.bins or who.groups or len(two) < 2 or words & {"if", "think", "maybe"}:
        return None
    said = " ".join(clause.words)
    again = bool(_AGAIN & clause.word_set and not _APART & words) or any(
        no in said for no in _NO_MORE
    )
    beside = {"with", "near", "together", "beside", "same", "apart", "away", "w", "by"}
    if clause.word_set & {"no"} and not clause.word_set & beside and "longer" not in words:
        return None  # "no ava and ben today"
    if not again and not (_APART | {"different"}) & clause.word_set:
        return None  # "ava and ben work together now"
    if len(two) > 2:
        return _each_pair(two, clause) if not again else None
    return KeepApart(replace(who, students=two, but_students=(), everyone=False), not again)


def _each_pair(several: tuple[int, ...], clause: Clause) -> Heard | None:
    """Three who are to be kept apart are three pairs: said in full, and asked about."""
    if len(several) > 4:
        return None
    names = [clause.roster.student[i].name for i in several]
    text = "\n".join(
        f"keep {one} and {other} apart" for at, one in enumerate(names) for other in names[at + 1 :]
    )
    options = (Option(YES, text), Option(NO, "no"))
    return Heard(asks=[Ask("confirm_note", "", options, KeepApart.name)])


TOLD_APART = Listener(_PHRASES, _hear_apart, asks_of="move_student", rank=2)
