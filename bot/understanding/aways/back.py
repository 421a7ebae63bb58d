"""Told that children are here again: "omar is back", "felix isn't absent"."""

from __future__ import annotations

from bot.requests import NoteBack, Request
from bot.understanding.aways.words import GONE, is_denied
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_PHRASES = (
    "<who> is|are|s|came|comes|coming|was|got|will|be ... back",
    "<who> back|returned|returns|arrived",
    "<who> is|are|was|were just|now|finally? here",
    "<who> just|finally? arrived|showed|got|came here|in|up|back",
    "<who> here now|today|after|again|<day>",
    "<who> is|are|was|were not|isnt|arent|wasnt absent|away|out|sick|gone",
    "<who> isnt|arent|wasnt absent|away|out|sick|gone",
    "^ <who> is|are? here $",
    "<who> made it in|after",
)


def _hear_back(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if who.groups or words & {"put", "move", "switch"}:
        return None
    denies = words & {"isnt", "arent", "wasnt", "werent", "not"} and words & {*GONE.split("|")}
    denied = is_denied(clause) and not denies
    if not who or who.everyone or clause.bins or clause.is_question or denied:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    day = span.first or span.last
    after_all = "after" in words or "actually" in words or bool(denies)
    return NoteBack(who, day, span.starts, after_all)


TOLD_BACK = Listener(_PHRASES, _hear_back, asks_of="away", rank=2, apart=True)
