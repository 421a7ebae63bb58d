"""A change of the schedule as a clause tells it: which days, and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from bot.classroom.days import rotations_on
from bot.requests import Ask, ChangeSchedule, Option, Span
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import schedule_in_full
from bot.understanding.clause import Clause
from bot.understanding.days import weekday
from bot.understanding.orders import is_order, is_wish
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_said

_REASONS = (
    "snow", "fire drill", "drill", "assembly", "field trip", "early release", "early dismissal",
    "half day", "conference", "conferences", "holiday", "teacher workday", "late start", "delay",
    "picture day", "lockdown", "storm", "power outage", "pd day", "inservice", "parade", "concert",
    "guest", "testing", "screening", "rehearsal", "party",
)  # fmt: skip
_UNSURE = frozenset((
    "if", "maybe", "might", "unless", "hope", "wish", "should", "think", "probably", "perhaps",
    "possibly", "wondering", "guess", "hopefully", "supposed", "rumor", "rumors", "whether",
    "suppose", "imagine", "pretend", "when", "whenever", "until", "till", "before", "after",
))  # fmt: skip
_ON_A_CLOCK = frozenset(("until", "till", "before", "after", "when"))


def heard_as(what: str, clause: Clause) -> ChangeSchedule | None:
    """The change of this kind that a clause tells; None where it asks, wonders or names more."""
    named = [item for item in clause.children if item.kind is not Kind.EVERYONE]
    if is_unsure(clause) or named or clause.bins or _is_every_week(clause):
        return None
    spans = spans_said(clause, past=_is_past(clause))
    if clause.when.unsure and not any(span.names_day for span in spans):
        return None
    return ChangeSchedule(what, tuple(_dated(span, clause) for span in spans), _reason(clause))


def is_unsure(clause: Clause) -> bool:
    """Whether it asks, or only thinks of it: "if it snows", "maybe no school"."""
    words = clause.word_set
    asks = clause.is_question or _opens_like_a_question(clause)
    if asks and not (is_order(clause) or is_wish(clause)):
        return True
    unsure = words & _UNSURE
    timed = any(item.kind in (Kind.TIME, Kind.DAY, Kind.SLOT) for item in clause.items)
    return bool(unsure - _ON_A_CLOCK) or bool(unsure and not timed)


def _opens_like_a_question(clause: Clause) -> bool:
    """ "is the 10:45 cancelled": no mark behind it, but no statement."""
    first, second = (*(item.text.casefold() for item in clause.items[:2]), "", "")[:2]
    if first in ("do", "did", "does", "will") and second not in _ABOUT:
        return False
    return first in _ASKING and second not in ("not", "off", "on", "having", "doing")


_ABOUT = frozenset(("we", "you", "i", "they", "the", "any", "kids", "it", "there", "school"))
_ASKING = frozenset(
    ("is", "are", "was", "were", "does", "do", "did", "will", "any", "isnt", "wasnt")
)


def sure_or_asked(request: ChangeSchedule, clause: Clause) -> Heard | ChangeSchedule:
    """The request; of "can we skip the 10:40?" whether that is to be done."""
    return asked(request, clause) if is_wish(clause) else request


def asked(request: ChangeSchedule, clause: Clause) -> Heard:
    """Whether it is to be noted, in full words."""
    text = schedule_in_full(with_day(request, clause.at.date()))
    ask = Ask("confirm_note", "", (Option(YES, text), Option(NO, "no")), ChangeSchedule.name)
    return Heard(asks=[ask])


def with_day(request: ChangeSchedule, today: date) -> ChangeSchedule:
    """The request with today for a day, where it names none."""
    spans = tuple(
        span if span.first is not None else replace(span, first=today, last=today)
        for span in request.spans
    )
    return replace(request, spans=spans)


def _is_every_week(clause: Clause) -> bool:
    """ "no stations on fridays": no single day."""
    if clause.word_set & {"every", "each", "always"}:
        return True
    days = [item for item in clause.items if item.kind is Kind.DAY and "'" not in item.text]
    if any(item.kind is Kind.TIME for item in clause.items):
        days = [item for item in days if item.keys[0] == "on"]  # "cancel fridays 10:40"
    return any(
        key.endswith("days") and weekday(key[:-1]) is not None for i in days for key in i.keys
    )


def _dated(span: Span, clause: Clause) -> Span:
    """ "friday's 10:40" is the next Friday's, never today's."""
    if span.first is not None or span.weekday is None:
        return span
    today = clause.at.date()
    return replace(span, first=today + timedelta(days=(span.weekday - today.weekday()) % 7))


def _is_past(clause: Clause) -> bool:
    words = clause.word_set
    if words & {"was", "lost", "skipped", "missed", "had", "didnt", "ate"}:
        return True
    led = (("we", "were"), ("kids", "were"), ("they", "were"), ("students", "were"))
    return any(pair in led for pair in pairwise(clause.words))  # "were off friday": we're


def _reason(clause: Clause) -> str:
    said = " ".join(clause.words)
    return next((reason for reason in _REASONS if reason in said), "")


def which_rotation(clause: Clause, words: str = "Which rotation?") -> Heard | None:
    """ "we lost a rotation": which of that day's?"""
    day = next((s.first for s in spans_said(clause) if s.first), clause.at.date())
    lost = [
        ChangeSchedule("lost", (Span(day, day, None, r.starts),))
        for r in rotations_on(clause.roster, day)
    ]
    return one_of(lost, words)


def one_of(requests: Iterable[ChangeSchedule], words: str) -> Heard | None:
    """A question with a rotation's start for each choice."""
    options = tuple(
        Option(f"{moment:%H:%M}", schedule_in_full(request))
        for request in requests
        if (moment := request.spans[0].starts or request.spans[0].ends)
    )
    return Heard(asks=[Ask("when", words, options, ChangeSchedule.name)]) if options else None
