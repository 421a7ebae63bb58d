"""Asked for the plan: "plan", "todays rotations", "who goes to ramps next?"."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import Request, ShowPlan
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_PHRASES = (
    "^ ok|hey|so? the|todays|our|show|give|make|see|get|print|whats|what|send? "
    "me|us|is? the|a|my|our|todays? plan|plans|schedule|rotations $",
    "show|give|make|see|get|print|send|tell me|us? the|a|my|our? plan|plans|schedule",
    "whats|what|wheres is? the|todays|our? plan|rotation|rotations|schedule",
    "plan|plans|rotations for|on|of the|this? <day>|<time>|<who>|week|next|now|day|"
    "rotation|rotations",
    "rotation|rotations|center|bin|todays|the|our|my plan|schedule|chart",
    "^ plan|rotations <day>|<who>|<time>|next|today|the|this|out|it",
    "^ plan|schedule pls|please|plz|again|thanks? $",
    "<day> plan|rotations|schedule",
    "<who> plan|schedule $",
    "who goes|go|is|are|should|will ... where",
    "who goes|go|is going|should go ... <bin> next|now|first|<time>|<day>|after",
    "who goes|go to|at|on|in <bin>",
    "whos|who|whod|whose next|first|up|on|at|going ... <bin> next|now|first|after",
    "plan it",
    "make|do|redo a|the|it? new? plan again?",
    "whats|what is|comes? next|now $",
    "next rotation",
    "which bin|bins|center|station ... <who> ... next|now",
    "what bin|center|station ... <who> ... next|now|after|<day>",
    "early finishers",
    "free seat|seats|spot|spots",
)
OTHERS = frozenset(("change", "summary", "digest", "briefing", "recap", "swap"))


def hear_plan(clause: Clause) -> Request | None:
    """The days, children and bins whose plan a clause asks for."""
    words = clause.word_set
    if words & OTHERS:
        return None
    [span, *more] = spans_of(clause.items, clause.at)
    first, last = span.first, span.last
    if more:
        last = more[-1].last or last
    when = clause.said_when()
    who = clause.who()
    if who.everyone:
        who = replace(who, everyone=False)
    goes = bool(words & {"next", "now", "where", "wheres", "early"})
    asks_next = goes and not span.names_day and when.slot is None and when.starts is None
    return ShowPlan(
        first=first,
        last=last,
        who=who,
        places=clause.places(),
        starts=when.starts,
        slot=when.slot,
        is_next=asks_next,
    )


ASKED_PLAN = Listener(_PHRASES, hear_plan, rank=1)
