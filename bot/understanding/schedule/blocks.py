"""Told of a part of a day: "half day tomorrow", "assembly at 10", "the 10:40 runs after all"."""

from __future__ import annotations

from bot.requests import ChangeSchedule, Request, Span
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as, which_rotation
from bot.understanding.spans import NOON

_BLOCK = (
    "half day|days",
    "early release|dismissal|out",
    "out|dismissed|released early",
    "dismissal|release at <time>",
    "assembly|concert|parade|drill|lockdown|ceremony|rehearsal ... <time>|<day>|from|at",
    "<day>|<time> ... assembly|concert|parade|drill",
    "late start|opening",
    "delay|delayed start|opening|school",
    "two|one|1|2 hour delay",
    "school starts|ends|lets ... at|out|late|early|<time>",
)
_RUNS = (
    "<time>|rotation ... runs|happens|happening|on|back after all",
    "<time>|rotation ... runs|happens after all",
    "<time>|rotation is|are back on",
    "no assembly|drill|early|half after|release|day ... all",
    "not a half day",
)


def _hear_block(clause: Clause) -> Heard | Request | None:
    heard = heard_as("block", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    said = " ".join(clause.words)
    [span, *more] = heard.spans
    starts, ends = span.starts, span.ends
    if span.slots:
        return ChangeSchedule("lost", heard.spans, heard.reason)
    late = any(words in said for words in ("late start", "delay", "delayed", "start late"))
    if late and starts is not None and ends is None:
        starts, ends = None, starts
    if "half" in said and not span.is_part:
        starts = NOON
    if starts is None and ends is None:
        return which_rotation(clause)
    return ChangeSchedule(
        "block",
        tuple(Span(s.first, s.last, None, starts, ends) for s in (span, *more)),
        heard.reason,
    )


def _hear_runs(clause: Clause) -> Request | None:
    return heard_as("runs", clause)


TOLD_BLOCK = Listener(_BLOCK, _hear_block, rank=1, apart=True)
TOLD_RUNS = Listener(_RUNS, _hear_runs, rank=3, apart=True)
