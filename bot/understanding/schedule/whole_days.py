"""Told of whole days: "no school friday", "snow day", "school after all"."""

from __future__ import annotations

from collections.abc import Iterator

from bot.requests import Request
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as
from bot.understanding.senses import Item, Kind

_BE = "is|are|was|were|will|be|been|being|has|have|got|gets|getting|just|now|also|<day>|today|re"
_CLOSED = "closed|cancelled|canceled|out|off|closing|shut"
_NO_SCHOOL = (
    "no school|skool|schol",
    f"school|schools|district {_BE}* {_CLOSED}",
    f"class|classes {_BE}* cancelled|canceled|off",
    f"school|schools {_BE}* called off",
    "cancelled|canceled|cancel|cancels|closed|closing|closes|canceling|cancelling school|schools",
    "called|calling off school",
    "called|calling|call a? snow day",
    "snow day",
    "<day> is|will|be|are|a|an|our|the* holiday|off|closed|break",
    "day off <day>",
    "<day> off $",
    "teacher|teachers workday|work|inservice|training|planning",
    "pd|professional|inservice|conference|institute|staff development? day",
    "inservice <day>",
    "<day> is|are|for|a|teacher* inservice|pd|workday",
    "we|kids|students|everyone|everybody|class|school are|re|have|get|is|were|all|got* off "
    "<day>|for|this|next|all|the",
    "weve|were|well|theyre|theyve got|get|have|all|both? off <day>|for|this|next|all",
    "were|was|are|is off on? <day>",
    "winter|spring|fall|thanksgiving|christmas|holiday|autumn|february|easter|summer|mid "
    "break|recess "
    "is|starts|from|begins|runs? <day>|from",
    "off for thanksgiving|christmas|break|holiday|holidays",
    "closed on? <day>",
    "school wont|will not? be? open|in session?",
    "school not|isnt open|happening|in|on",
    "no class|classes|kids|students|children on? <day>|today|tomorrow",
    "<day> no class|classes|kids|students|children|school $",
    "kids|students|children dont|wont|not come|be|coming here|in|to|school* "
    "<day>|on|today|tomorrow",
)
_SCHOOL = (
    "school after all",
    "there|theres is|will be? school",
    "theres school",
    "we do|still have school",
    "we have school|class <day>|on",
    "have school <day>|on",
    "school is|will be? open|back on|on",
    "schools open|on|back",
    "<day> is|will be? a? school day",
    "school <day> after all",
    "no snow day",
)


def _hear_no_school(clause: Clause) -> Heard | Request | None:
    known = {"school", "snow", "class", "classes", "workday", "holiday", "development", "inservice"}
    known |= {
        "break",
        "recess",
        "skool",
        "schol",
        "pd",
        "professional",
        "institute",
        "planning",
        "conference",
    }
    words = clause.word_set
    if words & {"half", "some", "most", "part", "everyone"}:
        return None
    strange = any(item.kind is Kind.UNKNOWN for item in _before_off(clause))
    if strange and not known & words:
        return None  # "thoe is off friday"
    if words & {"extra", "after", "early"} and "school" in words and not words & {"no", "closed"}:
        return None
    return heard_as("no_school", clause)


def _before_off(clause: Clause) -> Iterator[Item]:
    """What stands before the word for being closed: who is off."""
    closed = frozenset(("off", "closed", "cancelled", "canceled", "out"))
    for item in clause.items:
        if closed & set(item.keys):
            return
        yield item


def _hear_school(clause: Clause) -> Request | None:
    denied = clause.word_set & {"no", "not", "dont", "isnt", "wont", "closed", "cancelled"}
    return None if denied - {"no"} else heard_as("school", clause)


TOLD_NO_SCHOOL = Listener(_NO_SCHOOL, _hear_no_school, rank=1, apart=True)
TOLD_SCHOOL = Listener(_SCHOOL, _hear_school, rank=2, apart=True)
