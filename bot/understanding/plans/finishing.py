"""Asked whether all get everywhere: "can everyone finish ramps by friday?"."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import CanFinish, Request
from bot.understanding.clause import Clause
from bot.understanding.plans.showing import OTHERS
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_PHRASES = (
    "^ ok|so|and|but? can|could|will|does|do|would <who> ... "
    "finish|get|make|be|go|fit|manage|complete",
    "^ ok|so|and|but? can|could|will we|they|all|i ... finish|get|make|fit|manage|complete",
    "^ can|could|will|would it|this|that|everything|<bin> ... work|fit|finish|be done",
    "are|will we ... on track|time|make it|done by",
    "are|will we gonna|going|able to? finish|make|get",
    "on track",
    "enough time|rotations|days|turns ... <bin>|everyone|all|<who>|left",
    "^ will|does|can <who> get to? <bin>",
    "who wont|cant|can not|will not ... get|finish|make|reach",
    "who will miss",
    "who wont|cant make|get|have",
    "who is|s|are? gonna|going|about to? miss",
    "whos gonna|going|about to? miss",
    "who might|could|would|may not? miss|make",
    "before <bin> closes|goes|ends|is",
)


def _hear_finish(clause: Clause) -> Request | None:
    if clause.word_set & OTHERS:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    who = clause.who()
    if who.everyone:
        who = replace(who, everyone=False)
    return CanFinish(clause.places(), span.last or span.first, who)


ASKED_CAN_FINISH = Listener(_PHRASES, _hear_finish, questions_only=True, asks_of="plan", rank=2)
