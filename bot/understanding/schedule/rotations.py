"""Told of rotations: "we lost the 10:40 rotation", "extra rotation at 1:10"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from itertools import pairwise

from bot.classroom.days import current_rotation, nth_rotation, rotations_on, running_at
from bot.requests import Ask, ChangeSchedule, Span
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as, sure_or_asked, which_rotation
from bot.understanding.schedule.words import CENTERS, EVENT, GONE, LOSE, ROTATION, WHICH
from bot.understanding.senses import Kind

_THAT = f"{ROTATION}|{CENTERS}|<time>"
_LOST = (
    f"{LOSE} {WHICH}* {_THAT}",
    f"take|taking off|out|away {WHICH}* {_THAT}",
    f"take|taking {WHICH}* <time> off|out|away",
    f"{_THAT} is|are|was|were|got|gets|has|been|just|<day>|today|tomorrow|will|be|both|all* {GONE}",
    f"{_THAT} <day>|today|tomorrow|is|are|was|were* not happening|running|on|going",
    f"{_THAT} <day>|today|tomorrow* didnt|doesnt|wont|isnt happen|run|happening|running|work",
    f"no {WHICH}* {ROTATION}|{CENTERS}",
    "no <day>|today|tomorrow|the|our|pm|am* <time>",
    "ate|took|takes|taking|killed|interrupted|eats|eating|replaces|replacing|replaced|used|uses|"
    "ruined|wrecked|wiped|ruins|cancels|shortened|"
    f"needs up|out? {WHICH}* {_THAT}",
    f"{EVENT} during|instead|over|replaces|takes of|up? {WHICH}* {_THAT}",
    f"instead of {WHICH}* {_THAT}",
    f"didnt|did|couldnt|havent not? get|have|do|run|fit to|in|time|for? {WHICH}* {_THAT}",
    f"{_THAT} was|is a? wash|bust|goner|disaster",
    f"ran out of time for {WHICH}* {_THAT}",
    f"wont|cant|cannot|not|arent|isnt|were be|able|have|do|run|doing|having|running|to|going|get|"
    f"time|for|fit* {WHICH}* {_THAT}",
    f"{EVENT} <day>|today|tomorrow|is|at|during|in|the|from|on|this* <time>",
    f"<time> ... {EVENT}",
    f"<day> {EVENT} during|at|in the|our? <time>",
    f"only|just have|doing|do|running|the|one|1|two|2|a* {ROTATION}|<time>",
)
_NONE = (f"no {WHICH}* {ROTATION}|{CENTERS}",)
_BEHIND_NONE = frozenset((
    "this", "at", "on", "in", "for", "because", "bc", "today", "tomorrow", "due", "then", "since",
    "until", "till", "after", "before", "and", "we", "so", "please", "next", "from", "all",
    "either", "cause", "cuz", "as", "the", "with", "during", "again", "instead", "or", "thanks",
    "its", "just", "now", "time", "day", "morning", "afternoon", "happening", "running", "will",
    "are", "is", "only",
))  # fmt: skip
_EXTRA = (
    f"extra|additional|bonus|another {WHICH}* {ROTATION}",
    "extra|additional|bonus|another <time>",
    f"add|adding|added|insert|squeeze|squeezing|fit|fitting|have|do|schedule|put|stick in|a|an|one|"
    f"another|extra|new|<time>|more* {ROTATION}|extra",
    "add|adding|added a|an|the|one|in? <time>",
    f"one|1|two|2 more {ROTATION}",
    f"{ROTATION} added|more",
)
_SOME = frozenset((
    "two", "2", "three", "3", "some", "few", "couple", "half", "most", "both", "several",
))  # fmt: skip
_NO_EXTRA = frozenset((
    "need", "needs", "no", "not", "dont", "without", "only", "wont", "cant", "cannot", "didnt",
    "lost", "lose", "skip", "cancel", "just",
))  # fmt: skip
_ENTRIES = frozenset(("log", "logs", "entry", "visit", "visits", "turn", "message", "undo"))
_AFTERNOON = frozenset(("afternoon", "pm", "afternoons", "lunch"))
_SOON = timedelta(minutes=15)  # an assembly at 10:40 takes the place of the 10:45


def _hear_lost(clause: Clause) -> Heard | ChangeSchedule | None:
    heard = heard_as("lost", clause)
    words = clause.word_set
    if heard is None or words & _ENTRIES or _is_praised(clause) or {"cut", "short"} <= words:
        return None
    if _is_only_some(clause):
        return _others(heard, clause)
    if _TILL & words and words & {"no", "not", "wont", "arent", "cancelled", "canceled", "isnt"}:
        heard = replace(heard, spans=tuple(map(_up_to, heard.spans)))
    several = _several(clause)
    if several is None and _counted(clause) and not any(s.is_part for s in heard.spans):
        return which_rotation(clause)
    spans = tuple(_rotations_of(span, clause) for span in heard.spans)
    spans = tuple(replace(span, slots=several) for span in spans) if several else spans
    heard = replace(heard, spans=spans)
    span = spans[0]
    named = span.is_part or span.names_day or words & {"all", "any", "no", "every", "today"}
    if named or words & {"rotations", "stations", "centers", "bins", "rounds", "sessions"}:
        return sure_or_asked(heard, clause)
    running = current_rotation(clause.roster, clause.at)
    coming = [
        r for r in rotations_on(clause.roster, clause.at.date()) if r.starts > clause.at.time()
    ]
    if "next" in words and coming:
        return replace(heard, spans=(replace(span, starts=coming[0].starts),))
    if words & {"this", "current"} and running is not None:
        return replace(heard, spans=(replace(span, starts=running.starts),))
    return which_rotation(clause)


def _is_praised(clause: Clause) -> bool:
    """ "no rotation went wrong": not that there is none."""
    found = clause.find(_NONE)
    behind = found.rest.split()[:1] if found is not None else []
    return bool(behind) and behind[0].isalpha() and behind[0] not in _BEHIND_NONE


_TILL = frozenset(("until", "till", "til"))


def _up_to(span: Span) -> Span:
    """ "no rotations until monday": on that monday they run again."""
    if span.first is None or span.last is None or span.last <= span.first:
        return span
    return replace(span, last=span.last - timedelta(days=1))


def _counted(clause: Clause) -> bool:
    """Whether it speaks of some of the rotations, and not by their times."""
    when = (Kind.DAY, Kind.TIME, Kind.SLOT)
    return any(_SOME & set(item.keys) for item in clause.items if item.kind not in when)


def _several(clause: Clause) -> tuple[int, ...] | None:
    """ "the first two rotations": 1 and 2; "the last two": the second last and the last."""
    for which, count in pairwise(clause.words):
        number = NUMBER_WORDS.get(count) or (int(count) if count in ("2", "3", "4") else 0)
        if which in ("first", "last") and 1 < number < 5:
            return tuple(range(1, number + 1) if which == "first" else range(-number, 0))
    return None


def _is_only_some(clause: Clause) -> bool:
    """ "only one rotation tomorrow": others are lost, but which?"""
    words = clause.words
    return any(
        first in ("only", "just") and second in ("have", "one", "two", "the", "do", "doing", "a")
        for first, second in pairwise(words)
    )


def _others(heard: ChangeSchedule, clause: Clause) -> Heard | ChangeSchedule | None:
    """Every rotation of the day but the one that runs."""
    [span, *_] = heard.spans
    rotations = rotations_on(clause.roster, span.first or clause.at.date())
    kept = [nth_rotation(rotations, number) for number in span.slots]
    if span.starts is not None and not kept:
        kept = [running_at(rotations, span.starts)]
    if not kept or None in kept or len(kept) == len(rotations):
        return None
    slots = tuple(n for n, rotation in enumerate(rotations, 1) if rotation not in kept)
    return replace(heard, spans=(replace(span, starts=None, ends=None, slots=slots),))


def _rotations_of(span: Span, clause: Clause) -> Span:
    """ "this afternoon" is every rotation from noon on; an assembly at 10:40 takes that rotation or
    the one that begins right after."""
    words = clause.word_set
    open_ended = words & (_AFTERNOON | {"after", "from"}) and span.starts is not None
    if open_ended and span.ends is None:
        return replace(span, ends=time(23, 59))
    if span.ends is not None and span.starts is None:
        return replace(span, starts=time(0, 0))
    if span.starts is None or span.ends is not None:
        return span
    rotations = rotations_on(clause.roster, span.first or clause.at.date())
    soon = (datetime.combine(clause.at.date(), span.starts) + _SOON).time()
    if running_at(rotations, span.starts) is None and set(EVENT.split("|")) & words:
        near = next((r for r in rotations if span.starts < r.starts <= soon), None)
        return span if near is None else replace(span, starts=near.starts)
    return span


def _hear_extra(clause: Clause) -> Heard | ChangeSchedule | None:
    heard = heard_as("extra", clause)
    if heard is None or clause.word_set & _NO_EXTRA:
        return None
    [span, *_] = heard.spans
    if span.starts is None:
        words = "At what time? Text it like “extra rotation at 1:10”."
        return Heard(asks=[Ask("when", words, (), ChangeSchedule.name)])
    request = ChangeSchedule("extra", heard.spans, heard.reason, _minutes(clause, span))
    return sure_or_asked(request, clause)


def _minutes(clause: Clause, span: Span) -> int | None:
    if span.starts is not None and span.ends is not None:
        gap = (span.ends.hour - span.starts.hour) * 60 + span.ends.minute - span.starts.minute
        return gap if 0 < gap < 240 else None
    words = clause.words
    for word, unit in pairwise(words):
        if word.isdecimal() and unit in ("minutes", "minute", "min", "mins"):
            return int(word) if 0 < int(word) < 240 else None
    return None


TOLD_LOST = Listener(_LOST, _hear_lost, rank=2, apart=True)
TOLD_EXTRA = Listener(_EXTRA, _hear_extra, rank=2, apart=True)
