"""Told of rotations: "we lost the 10:40 rotation", "extra rotation at 1:10"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from bot.classroom.days import current_rotation
from bot.requests import Ask, ChangeSchedule, Request, Span
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as, which_rotation

_ROTATION = "rotation|rotations|round|slot|session|bins|centers|stem|<time>"
_LOST = (
    f"lost|lose|losing|skip|skipped|skipping|missed|miss|missing|cancel|canceled|"
    f"cancelled|cancelling|drop|dropped|scrap|scrapped|without ... {_ROTATION}",
    f"{_ROTATION} ... lost|skipped|cancelled|canceled|dropped|off|missed|scrapped",
    "<slot> ... lost|skipped|cancelled|canceled|dropped|off|missed|scrapped",
    f"{_ROTATION} ... didnt happen|run",
    f"{_ROTATION} ... not happening",
    f"no {_ROTATION} <day>|this|at|on|in",
    "no rotation|rotations|centers|bins|stem",
    "no <time>|<day> rotation|round|slot|session",
    "ate|took|killed|interrupted|cancelled|canceled ... <time>|rotation|rotations|round|slot",
    "fire drill ... <time>|rotation|slot",
    "didnt|did not get to|have|do|run ... rotation|rotations|<time>|centers|bins",
    "wont|cant|not have|do|run|doing|having|running ... rotation|rotations|<time>|centers|bins",
)
_EXTRA = (
    "extra|additional|bonus|another rotation|round|slot|session|<time>",
    "add|adding|added|have|insert|squeeze|fit|do in? a|an|one|another|extra "
    "rotation|round|slot|session|extra",
    "add|adding <time>",
    "one more rotation|round|slot",
    "rotation|round added|more",
)


def _hear_lost(clause: Clause) -> Heard | Request | None:
    heard = heard_as("lost", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    [span, *_] = heard.spans
    words = clause.word_set
    named = span.is_part or span.names_day or words & {"all", "any", "no", "every", "today"}
    if named or "rotations" in words:
        return heard
    running = current_rotation(clause.roster, clause.at)
    if words & {"this", "current"} and running is not None:
        return replace(heard, spans=(replace(span, starts=running.starts),))
    return which_rotation(clause)


def _hear_extra(clause: Clause) -> Heard | Request | None:
    heard = heard_as("extra", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    [span, *_] = heard.spans
    if span.starts is None:
        words = "At what time? Text it like “extra rotation at 1:10”."
        return Heard(asks=[Ask("when", words, (), ChangeSchedule.name)])
    return ChangeSchedule("extra", heard.spans, heard.reason, _minutes(clause, span))


def _minutes(clause: Clause, span: Span) -> int | None:
    if span.starts is not None and span.ends is not None:
        gap = (span.ends.hour - span.starts.hour) * 60 + span.ends.minute - span.starts.minute
        return gap if 0 < gap < 240 else None
    words = clause.words
    for word, unit in pairwise(words):
        if word.isdecimal() and unit in ("minutes", "minute", "min", "mins"):
            return int(word) if 0 < int(word) < 240 else None
    return None


TOLD_LOST = Listener(_LOST, _hear_lost, rank=1, apart=True)
TOLD_EXTRA = Listener(_EXTRA, _hear_extra, rank=2, apart=True)
