"""Asked where children go next: "where does g3 go next?", "ruby is done early, where next"."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import Request, ShowPlan
from bot.understanding.clause import Clause
from bot.understanding.plans.showing import hear_plan
from bot.understanding.reading import Listener

_WHERE_NEXT = (
    "where do|does|is|are|should|will|can|shall|to ... <who>",
    "where next|to|now|then ... <who>",
    "where|wheres|what|whats ... <who> next|now|then|go|going|to|supposed|after",
    "<who> ... where next|to|now|do|does|should|will|go|then|are|is",
    "<who> ... what next|now|do they do|then",
    "<who> ... whats next",
    "<who> next|now where|what $",
    "<who> done|finished early",
    "next for|place for|bin for|spot for|seat for <who>",
    "<who> ^? next $",
    "<who> next place|bin|station|spot|center",
    "where next|to|now",
    "wheres next",
    "where do|does|should|can|will they|he|she|we|i|it|kids|the|early|everyone",
    "what do|does|should they|he|she|we|i do now|next|then",
    "what can <who> do now|next|then",
)
_DONE_EARLY = (
    "^ <who> next $",
    "<who> ... early ... where|what|whats|next|place",
    "^ if <who> ... early|done|finished ... where|what|whats|next",
    "early finishers",
)


def _hear_where_next(clause: Clause) -> Request | None:
    """ "g3 is done early, where next": a bin named is the one they are done with."""
    words = clause.word_set
    if words & {"still", "need", "needs", "left", "missing", "has", "have", "hasnt", "havent"}:
        return None
    heard = hear_plan(clause)
    if isinstance(heard, ShowPlan) and heard.who:
        return replace(heard, places=(), is_next=not heard.first)
    return heard


ASKED_WHERE_NEXT = Listener(
    _WHERE_NEXT, _hear_where_next, questions_only=True, asks_of="plan", rank=1
)


def _is_asked_on(clause: Clause, following: Clause) -> bool:
    """ "moons finished early. where to?": one question, about those children."""
    idle = clause.children and not clause.bins and not clause.is_question
    asks_on = following.is_question and not following.children and not following.bins
    where = following.word_set & {"where", "wheres", "what", "whats", "next"}
    is_done = clause.word_set & {"done", "finished", "early", "through", "free"}
    return bool(idle and asks_on and where and is_done)


TOLD_DONE_EARLY = Listener(
    _DONE_EARLY, _hear_where_next, asks_of="plan", rank=1, takes_in=_is_asked_on
)
