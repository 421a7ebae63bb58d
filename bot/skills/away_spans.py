"""The days and times that a text about children away means in this class."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, time, timedelta

from bot.classroom.days import nth_rotation, rotation_end, rotations_on, school_days
from bot.classroom.presence import covers_day
from bot.requests import NoteAway, Span
from bot.skills.skill import Situation
from storage.records import Away, Student


def from_today(span: Span, today: date) -> Span:
    """A span without a day is of today; a weekday again and again begins today."""
    if span.weekday is not None:
        return Span(span.first or today, None, span.weekday, span.starts, span.ends, span.slots)
    if not span.names_day:
        return Span(today, today, None, span.starts, span.ends, span.slots)
    return span


def joined(spans: Sequence[Span]) -> list[Span]:
    """ "today and tomorrow" is one away."""
    found: list[Span] = []
    for span in spans:
        before = found[-1] if found else None
        follows = (
            before is not None
            and before.last is not None
            and span.first == before.last + timedelta(days=1)
            and replace(before, first=span.first, last=span.last) == span
        )
        if follows and before is not None:
            found[-1] = replace(before, last=span.last)
        else:
            found.append(span)
    return found


def trouble_with(spans: Sequence[Span], now: Situation) -> str:
    """Why nobody can be away then: backwards, no_school; empty where they can."""
    for span in spans:
        if span.first is not None and span.last is not None and span.last < span.first:
            return "backwards"
        if span.starts is not None and span.ends is not None and span.ends <= span.starts:
            return "backwards"
    days = [
        day
        for span in spans
        for day in school_days(
            now.roster, span.first or now.today, span.last or now.today + timedelta(days=60)
        )
        if span.weekday is None or day.weekday() == span.weekday
    ]
    return "" if days else "no_school"


def is_known(now: Situation, student: Student, span: Span) -> bool:
    """Whether an away that covers all of this is on record."""
    if span.slots:
        return False
    return any(
        (away.first is None or (span.first is not None and away.first <= span.first))
        and (away.last is None or (span.last is not None and span.last <= away.last))
        and (away.weekday is None or away.weekday == span.weekday or _is_one_day(span, away))
        and (away.starts is None or (span.starts is not None and away.starts <= span.starts))
        and (away.ends is None or (span.ends is not None and span.ends <= away.ends))
        for away in now.roster.aways_of.get(student.id, ())
    )


def _is_one_day(span: Span, away: Away) -> bool:
    return span.first is not None and span.first == span.last and covers_day(away, span.first)


def aways_of_span(
    student: Student, span: Span, request: NoteAway, now: Situation
) -> Iterable[Away]:
    """The aways to note for one child: one, or one for each rotation named."""
    parts: list[tuple[time | None, time | None]] = [(span.starts, span.ends)]
    if span.slots:
        rotations = rotations_on(now.roster, span.first or now.today)
        chosen = (nth_rotation(rotations, number) for number in span.slots)
        parts = [(r.starts, rotation_end(r)) for r in chosen if r is not None] or parts
    for starts, ends in parts:
        yield Away(
            0, student.id, span.first, span.last, span.weekday, starts, ends, request.reason or None
        )
