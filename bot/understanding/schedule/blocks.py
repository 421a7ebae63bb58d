"""Told of a part of a day: "half day tomorrow", "assembly 10 to 11", "the 10:40 runs after all"."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

from bot.classroom.days import rotations_on
from bot.requests import ChangeSchedule, Request, Span
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import asked, heard_as, one_of
from bot.understanding.schedule.words import EARLY, EVENT
from bot.understanding.spans import NOON

_HALF = ("1/2|half|minimum|min|short|shortened day|days",)
_EARLY = (
    f"early|noon {EARLY}",
    "<time> dismissal|release|pickup",
    "no afternoon|pm school|classes",
    f"{EARLY} early",
    "dismissing|dismiss|dismisses early|kids|students|school|us|them|at|<time>|<day>",
    "school|we|releasing|release closing|closes|close|kids|students early|at",
    "dismissal|release is|at|will|be|<day>|tomorrow|today* <time>|at|early",
    "let|lets|letting|get|gets|getting kids|us|them|out* out|home early|<day>|tomorrow|at|<time>",
    "school ends|closes|closing|over|finishes|done|gets early|at|<time>|<day>|out",
    "kids|students|we|everyone|everybody|class|buses go|goes|going|get|gets|leave|leaves|leaving|"
    "are|is|all|sent|being|dismissed* home|early at|early|<day>|tomorrow|today|<time>",
    "buses|bus come|comes|leave|leaves|at|arrive|coming|here|<day>|tomorrow|are* <time>|at|early",
)
_LATE = (
    "late start|opening|arrival",
    "start|starting|starts|open|opening|begin|beginning late",
    "delay|delayed start|opening|school",
    "hour|hr|hrs|hours delay",
    "school|we|day|kids starts|start|starting|begins|begin|opens|open late|at|<time>|later",
)
_HOUR = "8|9|10|11|12|1|2|3"
_EVENTS = (
    f"{EVENT} ... <time>|from|at|between",
    f"<time> ... {EVENT}",
    f"{EVENT} <day>? {_HOUR} -|–|to",
    f"{EVENT} <day>? <time>? -|–|to",
)
_ON = (
    "we|have|are|is|going|on|a|an|the|our|all|class|theres|there|<day>|today|tomorrow|whole|day|re"
)
_TRIP = (f"^ {_ON}* field trip|trips {_ON}* $",)
_RUNS = (
    "<time>|rotation|rotations <day>|today|tomorrow|is|are|will|runs|happens|happening|on|back|"
    "still* after all",
    "<time>|rotation ... runs|happens|happening|on|back after all",
    "<time>|rotation is|are back on",
    "no assembly|drill|early|half after|release|day ... all",
    "not a half day",
    f"{EVENT} is|was|got|has|been|just|<day>|today|tomorrow* cancelled|canceled|off|postponed",
)
_LATE_WORDS = frozenset(("late", "delay", "delayed", "starts", "start", "begins", "opens", "open"))


def _hear_half(clause: Clause) -> Heard | Request | None:
    heard = heard_as("block", clause)
    if heard is None:
        return None
    heard = replace(heard, reason="half day")
    return _blocked(heard, NOON) if not heard.spans[0].is_part else _ends_early(heard, clause)


def _hear_early(clause: Clause) -> Heard | Request | None:
    heard = heard_as("block", clause)
    return None if heard is None else _ends_early(heard, clause)


def _ends_early(heard: ChangeSchedule, clause: Clause) -> Heard | Request | None:
    """From that time on no rotation runs; where none is said, it is asked."""
    [span, *_] = heard.spans
    starts = span.starts or span.ends
    if span.slots:
        return ChangeSchedule("lost", heard.spans, heard.reason)
    if starts is None:
        return one_of(_from_each(clause, span), "From which rotation on?")
    return _blocked(heard, starts)


def _blocked(heard: ChangeSchedule, starts: time) -> ChangeSchedule:
    spans = tuple(Span(s.first, s.last, None, starts, None) for s in heard.spans)
    return ChangeSchedule("block", spans, heard.reason or "early dismissal")


def _from_each(clause: Clause, span: Span) -> list[ChangeSchedule]:
    day = span.first or clause.at.date()
    return [
        ChangeSchedule("block", (Span(day, day, None, rotation.starts, None),))
        for rotation in rotations_on(clause.roster, day)
    ]


def _hear_late(clause: Clause) -> Heard | Request | None:
    heard = heard_as("block", clause)
    if heard is None or not clause.word_set & _LATE_WORDS:
        return None
    [span, *_] = heard.spans
    ends = span.ends or span.starts
    told = span.names_day or clause.word_set & {"late", "later", "delay", "delayed"}
    if span.slots or not told:
        return None
    if ends is None:
        day = span.first or clause.at.date()
        until = [
            ChangeSchedule("block", (Span(day, day, None, None, rotation.starts),))
            for rotation in rotations_on(clause.roster, day)
        ]
        return one_of(until, "Which rotation is the first to run?")
    spans = tuple(Span(s.first, s.last, None, None, ends) for s in heard.spans)
    return ChangeSchedule("block", spans, heard.reason or "late start")


def _hear_event(clause: Clause) -> Heard | Request | None:
    """An assembly from-to; one whose end is not told is heard of as a rotation lost."""
    heard = heard_as("block", clause)
    if heard is None:
        return None
    [span, *_] = heard.spans
    if span.starts is None or span.ends is None:
        return None
    return ChangeSchedule("block", heard.spans, heard.reason)


def _hear_trip(clause: Clause) -> Heard | None:
    """ "field trip dec 3": is that a day without rotations?"""
    heard = heard_as("lost", clause)
    if heard is None or not heard.spans[0].names_day or heard.spans[0].is_part:
        return None
    return asked(replace(heard, reason="field trip"), clause)


def _hear_runs(clause: Clause) -> Request | None:
    return heard_as("runs", clause)


TOLD_HALF = Listener(_HALF, _hear_half, rank=3, apart=True)
TOLD_EARLY = Listener(_EARLY, _hear_early, rank=3, apart=True)
TOLD_LATE = Listener(_LATE, _hear_late, rank=3, apart=True)
TOLD_EVENT = Listener(_EVENTS, _hear_event, rank=2, apart=True)
TOLD_TRIP = Listener(_TRIP, _hear_trip, rank=1)
TOLD_RUNS = Listener(_RUNS, _hear_runs, rank=3, apart=True)
