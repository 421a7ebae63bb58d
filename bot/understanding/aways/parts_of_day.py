"""When a child is away, by how it is said: "leaves at one" is from then on, "in by ten" until then,
"speech at 10:15" for that rotation; and asking where it is not said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta

from bot.classroom.days import nth_rotation, rotation_end, rotations_on, running_at
from bot.requests import Ask, NoteAway, Option, Span, Who
from bot.understanding.aways.words import ERRANDS, PAST, SERVICES
from bot.understanding.canonical import away_in_full, who_in_full
from bot.understanding.clause import Clause
from bot.understanding.senses import Kind
from bot.understanding.spans import NOON, spans_said

_UNTIL = frozenset(("until", "till", "til", "untill"))
_GONE_BY_NOW = frozenset((
    "went", "sent", "picked", "left", "taken", "signed", "checked", "released", "dismissed",
    "came",
))  # fmt: skip
_LEAVES = frozenset(("leave", "leaves", "leaving", "picked", "picking", "picks", "pickup", "home"))
_NOT_TILL = frozenset(("wont", "isnt", "not", "cant", "arent", "didnt", "doesnt"))
_WAS = frozenset(("was", "were", "had", "yesterday"))
_USUAL = timedelta(minutes=30)  # of a service that no rotation tells the length of


def spans_of_kind(kind: str, clause: Clause) -> tuple[Span, ...]:
    """The days and times of an away said in one of the ways of `phrases`."""
    spans = spans_said(clause, past=bool(PAST & clause.word_set))
    if len(spans) == 1 and _comes_and_goes(clause, spans[0]):
        [span] = spans
        return replace(span, starts=None, ends=span.starts), replace(
            span, starts=span.ends, ends=None
        )
    return tuple(_as_said(kind, span, clause) for span in spans)


def _comes_and_goes(clause: Clause, span: Span) -> bool:
    """ "arrives 10:15, leaves 1:00", "in at 10, out at 1": here between the two."""
    if span.starts is None or span.ends is None:
        return False
    words = list(clause.words)
    comes = next((n for n, word in enumerate(words) if word in _ARRIVES), None)
    goes = next((n for n, word in enumerate(words) if word in _DEPARTS), None)
    return comes is not None and goes is not None and comes < goes


_ARRIVES = frozenset(("arrives", "arriving", "comes", "coming", "in", "here", "gets"))
_DEPARTS = frozenset(("leaves", "leaving", "leave", "out", "picked", "goes", "departs"))


def _as_said(kind: str, span: Span, clause: Clause) -> Span:
    words = clause.word_set
    starts, ends = span.starts, span.ends
    if kind == "busy" and _LEAVES & words:
        kind = "leaves"
    if kind == "late" and _UNTIL & words and not (_NOT_TILL | {"late"}) & words:
        kind = "leaves"  # "only here until noon"
    if span.slots and kind in ("late", "leaves"):
        return _beside_rotation(kind, span, clause)
    if kind == "away" and span.last and span.first and _NOT_TILL & words and _UNTIL & words:
        return replace(span, last=max(span.first, span.last - timedelta(days=1)))
    if kind == "leaves" and not (span.is_part or span.names_day) and _GONE_BY_NOW & words:
        return replace(span, starts=clause.at.time().replace(second=0, microsecond=0, tzinfo=None))
    if kind == "leaves" and starts is None and ends is not None:
        return replace(span, starts=ends, ends=None)
    if starts is not None and ends is not None and ends <= starts and kind in ("leaves", "busy"):
        return replace(span, starts=ends, ends=None)  # "dentist at 1:30, so she leaves at 1"
    if starts is None or ends is not None:
        return span
    comes_at = {"back", "late"} & words or (_UNTIL & words and starts == NOON)
    if kind == "late" or (kind == "away" and comes_at):
        return replace(span, starts=None, ends=starts)
    if kind == "away" and {"rotation", "round", "slot", "session"} & words and "from" not in words:
        return replace(span, ends=_end_of(clause, span, starts))
    if kind in ("busy", "around", "misses") and not ERRANDS & words and "from" not in words:
        return replace(span, ends=_end_of(clause, span, starts))
    return span


def _beside_rotation(kind: str, span: Span, clause: Clause) -> Span:
    """ "leaves after the first rotation", "here by the second": up to it, or from its end on."""
    day = span.first or clause.at.date()
    rotation = nth_rotation(rotations_on(clause.roster, day), span.slots[0])
    if rotation is None:
        return span
    moment = rotation_end(rotation) if "after" in clause.word_set else rotation.starts
    starts, ends = (moment, None) if kind == "leaves" else (None, moment)
    return replace(span, slots=(), starts=starts, ends=ends)


def _end_of(clause: Clause, span: Span, starts: time) -> time:
    """When what begins then is over: with the rotation that runs, else after half an hour."""
    day = span.first or clause.at.date()
    weekday = day.weekday() if span.weekday is None else span.weekday
    usual = [rotation for rotation in clause.roster.rotations if rotation.weekday == weekday]
    running = running_at(usual, starts)
    if running is not None:
        return rotation_end(running)
    return (datetime.combine(day, starts) + _USUAL).time()


# Asking


def when_asked(kind: str, clause: Clause, who: Who) -> Ask | None:
    """The question of when, where a part of the day is meant and none is said."""
    words = clause.word_set
    spans = spans_said(clause, past=bool(PAST & words))
    if _ends_sometime(clause, spans):
        return _till_when(clause, who)
    if len(spans) > 1 and all(s.weekday is None for s in spans) and SERVICES & words:
        return _once_or_again(clause, who, spans)
    begins = spans[0].first and spans[0].last is None and spans[0].weekday is None
    if kind == "busy" and begins and not {"every", "daily", "each"} & words:
        return _daily_or_weekly(clause, who, spans[0])
    only_morning = kind == "late" and not any(
        i.kind in (Kind.TIME, Kind.SLOT) for i in clause.items
    )
    if only_morning and {"min", "mins", "minutes", "morning"} & words and not _UNTIL & words:
        return _part_asked(clause, who, replace(spans[0], starts=None, ends=None), kind)
    if any(span.is_part for span in spans):
        return None
    if kind == "leaves" and "left" in words and not _FOR_TODAY & words:
        return _gone_or_left(clause, who)
    if kind in ("busy", "around") and (_WAS & words or clause.last is not None):
        return None  # "g3 did ramps but mia was at the nurse": told of that turn
    if kind == "busy" and ERRANDS & words and not spans[0].names_day:
        return None  # "mia has a dentist appt": some day
    by_now = bool(_GONE_BY_NOW & words)
    on_errand = kind == "busy" and spans[0].names_day and bool(ERRANDS & words)
    if kind == "away" or on_errand or (kind == "leaves" and (by_now or spans[0].names_day)):
        early = kind == "leaves" and "early" in words and not by_now
        return _part_asked(clause, who, spans[0], kind) if early else None
    return _part_asked(clause, who, spans[0], kind)


def _part_asked(clause: Clause, who: Who, span: Span, kind: str) -> Ask:
    """From or until which rotation of that day, or all of it."""
    day = span.first or clause.at.date()
    leaves = kind == "leaves"
    now = clause.at.time() if day == clause.at.date() else time.min
    parts = [
        (
            f"{r.starts:%H:%M}",
            Span(day, day, None, r.starts if leaves else None, None if leaves else r.starts),
        )
        for r in rotations_on(clause.roster, day)
        if (rotation_end(r) if leaves else r.starts) > now
    ]
    words = "From when on?" if leaves else "Until when?"
    return _asked(words, [*parts, ("All day", Span(day, day))], who, clause)


def _gone_or_left(clause: Clause, who: Who) -> Ask:
    """ "mia left": for today, or the class?"""
    today = clause.at.date()
    now = clause.at.time().replace(second=0, microsecond=0, tzinfo=None)
    names = who_in_full(who, clause.roster)
    away = away_in_full(NoteAway(who, (Span(today, today, None, now),)), clause.roster)
    options = (
        Option("Gone for today", away),
        Option("Left the class", f"{names} left our school on {today.isoformat()}"),
    )
    return Ask("when", "For today, or for good?", options, NoteAway.name)


_FOR_TODAY = frozenset(
    ("early", "home", "school", "now", "today", "just", "sick", "day", "already")
)


def _till_when(clause: Clause, who: Who) -> Ask:
    """ "until he feels better": today, this week, or open?"""
    today = clause.at.date()
    friday = today + timedelta(days=(4 - today.weekday()) % 7)
    spans = [("Today only", Span(today, today))]
    for last in (friday, friday + timedelta(days=7)):
        if last > today:
            spans.append((f"Till {last:%a} {last.day} {last:%b}", Span(today, last)))
    return _asked("Until when?", spans, who, clause)


def _once_or_again(clause: Clause, who: Who, spans: Sequence[Span]) -> Ask:
    """ "speech tues/thurs at 10:15": of this week, or every week?"""
    spans = [_as_said("busy", span, clause) for span in spans]
    weekly = [
        replace(span, first=None, last=None, weekday=span.first.weekday())
        for span in spans
        if span.first is not None
    ]
    options = tuple(
        Option(label, away_in_full(NoteAway(who, tuple(meant)), clause.roster))
        for label, meant in (("Every week", weekly), ("Just this once", spans))
    )
    return Ask("when", "Every week, or just this once?", options, NoteAway.name)


def _daily_or_weekly(clause: Clause, who: Who, span: Span) -> Ask:
    """ "starting monday she has speech at 10": each day, or each monday?"""
    assert span.first is not None, "asked of a first day"
    daily = _as_said("busy", span, clause)
    weekly = replace(daily, weekday=span.first.weekday())
    spans = [("Every day", daily), (f"Every {span.first:%A}", weekly)]
    return _asked("Every day, or once a week?", spans, who, clause)


def _asked(words: str, spans: Sequence[tuple[str, Span]], who: Who, clause: Clause) -> Ask:
    options = tuple(
        Option(label, away_in_full(NoteAway(who, (span,)), clause.roster)) for label, span in spans
    )
    return Ask("when", words, options, NoteAway.name)


_SOMETIME = (
    "for a while", "for awhile", "for the month", "for the year", "for the summer", "week after",
    "for the season", "for the semester", "for the quarter", "indefinitely", "for a few",
    "for now", "over break", "for break", "weeks after", "for the time", "a few days",
    "several days", "foreseeable", "for the future", "for the holidays", "over the holidays",
    "for good", "for a month", "for months",
)  # fmt: skip


def _ends_sometime(clause: Clause, spans: Sequence[Span]) -> bool:
    """ "until further notice", "till she feels better": an end that no calendar tells."""
    if any(span.ends or (span.last and span.last != span.first) for span in spans):
        return False
    said = " ".join(clause.words)
    if any(words in said for words in _SOMETIME):
        return True
    items = [item for item in clause.items if item.kind is not Kind.MARK]
    for at, item in enumerate(items[:-1]):
        if _UNTIL & set(item.keys[-1:]):
            behind = items[at + 1 : at + 4]
            named = any(i.can_be(Kind.DAY, Kind.TIME, Kind.SLOT, Kind.NUMBER) for i in behind)
            return not named and not _TOLD & {key for i in behind for key in i.keys}
    return False


_TOLD = frozenset(("noon", "lunch", "morning", "afternoon", "week", "recess", "midday"))
