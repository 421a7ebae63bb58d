"""Asked for the plan: "plan", "todays rotations", "who goes to ramps next?"."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.requests import Request, ShowPlan, Who
from bot.understanding.clause import Clause
from bot.understanding.plans.ahead import looks_ahead
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_of
from bot.understanding.vocabulary import vocabulary_of

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
    "^ ok|so? next up? $",
    "plan 4|fr|fro <day>|<time>|<who>",
    "^ new|updated|fresh plan",
    "last|first|second|third|<time> rotation? plan",
    "^ who goes|is|are? where",
    "which bin|bins|center|station ... <who> ... next|now",
    "what bin|center|station ... <who> ... next|now|after|<day>",
    "early finishers",
    "free seat|seats|spot|spots",
)
_ORDERS = (
    "^ so|and|please|can|could|then|now? you? show|give|make|need|send|tell|do|redo me|us|i? the|a|"
    "my|our|new|another? new? plan",
    "^ whats|what|is? the|todays|new plan",
    "^ new|todays|the? plan <day>|now|please|pls|plz|for|again? please|pls|plz? $",
    "^ plan for? <day> please|pls|plz? $",
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


def hear_ahead(clause: Clause) -> Request | None:
    """ "stars are done, where do they go": a bin named before the question is where they were."""
    if clause.bins and not clause.children and "where" in clause.word_set:
        return None  # "where is clay"
    heard = hear_plan(clause)
    if not isinstance(heard, ShowPlan):
        return heard
    if not heard.who:
        heard = replace(heard, who=_numbered(clause))
    words = clause.word_set
    if heard.places and heard.who and words & {"where", "wheres"}:
        heard = replace(heard, places=())
    if words & {"when", "whens"} or {"what", "time"} <= words:
        today = clause.at.date()
        far = heard.last if heard.first is not None else today + _FAR
        return replace(heard, first=heard.first or today, last=far, is_next=False)
    told = heard.first is not None or heard.slot is not None or heard.starts is not None
    return replace(heard, is_next=not told and "after" not in words)


_FAR = timedelta(days=10)


def _numbered(clause: Clause) -> Who:
    """ "where does 4 go": the group of that number."""
    known = vocabulary_of(clause.roster).group_by_number
    numbers = {n.value for i in clause.items if (n := i.get(Kind.NUMBER)) is not None}
    ids = [group for number, group in known.items() if number in numbers]
    return Who(groups=tuple(ids)) if len(ids) == 1 else Who()


ASKED_PLAN = Listener(_PHRASES, hear_plan, rank=1)
ASKED_AHEAD = Listener((), hear_ahead, rank=1, asks_of="plan", notices=looks_ahead)
TOLD_TO_PLAN = Listener(_ORDERS, hear_plan, rank=1, apart=True)
