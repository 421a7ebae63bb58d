"""Told of children who leave the class: "ava moved away", "ben's last day is friday"."""

from __future__ import annotations

from bot.requests import Request, StudentLeft, Who
from bot.understanding.clause import Clause
from bot.understanding.moves.doubts import said_words
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_said

_F = (
    "is|are|has|have|had|been|be|will|was|were|just|also|both|all|officially|unfortunately|family|"
    "now"
)
_OUR = "the|our|my|us|this|off|from|in|on|part|of|to|with|a|another|different|new|mrs|ms|mr"
_CLASS = "class|school|us|roster|classroom|room|list|district|schools|program"
_LEFT = (
    f"<who> {_F}* left|leaves|leaving|leave {_OUR}* {_CLASS}",
    "<who> left|leaves|leaving|leave for good|us",
    f"<who> {_F}* moved|moves|moving|move away|schools|states|{_CLASS}",
    f"<who> {_F}* moved|moves|moving|move {_OUR}* {_CLASS}",
    f"<who> {_F}* moved|moves|moving out of|from? state|town|the|district|area",
    "<who> ... last day",
    "last day for|of ... <who>",
    f"<who> {_F}* transferred|withdrew|transferring|withdrawn|unenrolled|withdrawing|disenrolled|"
    "dropped|unenrolling|transfers",
    f"<who> {_F}* no longer be|a|attends|attending|going|to* {_OUR}* {_CLASS}",
    f"<who> {_F}* not|isnt|arent in|on|part|with {_OUR}* {_CLASS}",
    f"<who> {_F}* not|isnt|arent {_OUR}* student|{_CLASS} anymore|more",
    f"<who> {_F}* gone for good|forever",
    f"<who> {_F}* got|being? moved|switched|transferred to ... class|school",
    f"<who> {_F}* in a different|another|new class|school",
    f"<who> {_F}* not|no|isnt|arent longer|in|part|of|on|with* <who> anymore",
    f"<who> {_F}* no longer in|part|of|on* <who>",
    f"<who> {_F}* left|leaving|leaves|leave <who>",
    "take|remove|drop|delete|cross <who> off|from|out|of* <who>",
    f"<who> {_F}* changed|changing|switched|switching|changes|switches {_OUR}* "
    f"schools|{_CLASS}|classes",
    "<who> ... leaving|leaves for good",
    f"take|remove|drop|delete|cross <who> {_OUR}* {_CLASS}",
    f"take|remove|drop|delete <who> off|from {_OUR}* {_CLASS}",
)
_HOLDS = frozenset((
    "if", "might", "maybe", "wants", "want", "unless", "almost", "asked", "think", "probably",
    "hope", "wish", "when", "group", "table", "before", "break", "vacation", "speech", "ot",
))  # fmt: skip


def _hear_left(clause: Clause) -> Request | None:
    who, words = clause.who(), said_words(clause)
    if clause.is_question or clause.bins or not who.students or who.groups:
        return None
    if any(i.kind is Kind.EVERYONE and "class" not in i.keys for i in clause.children):
        return None
    if words & _HOLDS or ({"seat", "seats", "cubby", "spot"} & words):
        return None
    past = bool(words & {"left", "was", "were", "withdrew", "moved", "transferred"})
    [span, *_] = spans_said(clause, past=past)
    if "last day" in clause.outline and not span.names_day:
        return None
    vague = any(item.kind is Kind.DAY and item.sense.value is None for item in clause.items)
    return None if vague else StudentLeft(Who(students=who.students), span.last or span.first)


TOLD_LEFT = Listener(_LEFT, _hear_left, asks_of="move_student", rank=2, apart=True)
