"""calendar.ics to the days without school and the parts of days that are taken (RFC 5545).

All-day events are closures; their DTEND is exclusive, and without one they last one day (section
3.6.1). Events with a time are blocks of a day. Cancelled ones count for nothing. Repeating events
are expanded by recurring-ical-events within 400 days of the days the class speaks of.
"""

import time as stopwatch
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import chain
from zoneinfo import ZoneInfo

import icalendar
import recurring_ical_events

from bot.folder.cells import clean
from bot.folder.events import (
    REPEATING,
    Event,
    blocks_of,
    closed_days,
    fault_of,
    first_of,
    is_cancelled,
    line_of,
    number_lines,
    read_event,
)
from bot.folder.problems import Kind, Problem
from bot.folder.repeating import comes_between
from bot.folder.rules import ContentLine, content_lines, rule_faults
from bot.folder.values import Closure, TimedBlock

DAYS_AROUND = 400
LONGEST_WINDOW = 2000
MOST_EVENTS = 20_000
MOST_SECONDS = 10.0


@dataclass(frozen=True, slots=True)
class CalendarDays:
    """The closed days and taken times in order of time, and what could not be read."""

    closures: tuple[Closure, ...] = ()
    blocks: tuple[TimedBlock, ...] = ()
    problems: tuple[Problem, ...] = ()


def read_calendar(
    content: bytes, *, file: str, zone: ZoneInfo, around: Sequence[date]
) -> CalendarDays:
    """Read `content`; `around` are days the class speaks of (none: those of the calendar)."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line, byte = content[: error.start].count(b"\n") + 1, content[error.start]
        return _only(Problem(file, Kind.NOT_UTF8, line, found=f"0x{byte:02x}"))
    if not text.lstrip().upper().startswith("BEGIN:VCALENDAR"):
        return _only(Problem(file, Kind.NOT_A_CALENDAR, 1, found=clean(text[:40])))
    lines = content_lines(text)
    faults = rule_faults(lines, file=file)
    kept = [line for line in lines if line.number not in faults]
    events = parsed_events(kept, file=file)
    if isinstance(events, Problem):
        return _only(events)
    if len(events) > MOST_EVENTS:
        return _only(_too_many(file))
    found = _days(events, file, zone, around)
    return replace(found, problems=(*faults.values(), *found.problems))


def parsed_events(
    lines: Sequence[ContentLine], *, file: str
) -> list[icalendar.Component] | Problem:
    """The events in the lines of a calendar, each knowing its line."""
    # Forgets the time zones of other files: they are kept by name.
    icalendar.use_zoneinfo()  # type: ignore[no-untyped-call]  # of the library
    try:
        plain = "\r\n".join(line.text for line in lines)
        calendars = icalendar.Calendar.from_ical(plain, multiple=True)
        events = [event for whole in calendars for event in whole.walk("VEVENT")]
    except Exception as error:  # the parser raises what its many parts raise
        return Problem(file, Kind.NOT_A_CALENDAR, found=clean(str(error))[:80])
    number_lines(events, lines)
    return events


def _only(problem: Problem) -> CalendarDays:
    return CalendarDays(problems=(problem,))


def _too_many(file: str, line: int | None = None) -> Problem:
    return Problem(file, Kind.TOO_MANY_EVENTS, line, accepted=(str(MOST_EVENTS),))


def _days(
    events: list[icalendar.Component], file: str, zone: ZoneInfo, around: Sequence[date]
) -> CalendarDays:
    problems: list[Problem] = []
    closures: set[Closure] = set()
    blocks: set[TimedBlock] = set()
    for found in occurrences(events, file=file, around=around, seconds=MOST_SECONDS):
        if isinstance(found, Problem):
            problems.append(found)
        else:
            _add(found, zone, closures, blocks)
        if len(closures) + len(blocks) > MOST_EVENTS:
            return _only(_too_many(file))
    return CalendarDays(
        tuple(sorted(closures, key=lambda shut: (shut.day, shut.summary))),
        tuple(sorted(blocks, key=lambda block: (block.day, block.starts, block.summary))),
        tuple(problems),
    )


def occurrences(
    events: Sequence[icalendar.Component],
    *,
    file: str,
    around: Sequence[date],
    seconds: float,
    window: tuple[date, date] | None = None,
) -> Iterator[Event | Problem]:
    """Every occurrence that is not called off: of events that happen once all, of repeating ones
    those around some days (or within `window`); what is wrong with an event in place of it.

    After `seconds` the repeating ones that are left are given up, with one problem.
    """
    faults = [fault_of(event, file=file) for event in events]
    yield from (fault for fault in faults if fault)
    sound = [event for event, fault in zip(events, faults, strict=True) if not fault]
    once, series = _parted(sound)
    within = window or _window(around, sound)
    for found in chain(once, _expanded(series, within, file, seconds)):
        if isinstance(found, Problem):
            yield found
        elif not is_cancelled(found):
            yield read_event(found, file=file)


def _add(
    event: Event,
    zone: ZoneInfo,
    closures: set[Closure],
    blocks: set[TimedBlock],
) -> None:
    if isinstance(event.starts, datetime):
        blocks.update(blocks_of(event, zone=zone))
    else:
        closures.update(Closure(day, event.summary, event.place) for day in closed_days(event))


def _parted(
    events: list[icalendar.Component],
) -> tuple[list[icalendar.Component], list[list[icalendar.Component]]]:
    """Events that happen once, and series with their exceptions (same UID)."""
    groups: dict[str, list[icalendar.Component]] = {}
    for index, event in enumerate(events):
        groups.setdefault(str(event.get("UID", f"event {index}")), []).append(event)
    once: list[icalendar.Component] = []
    series: list[list[icalendar.Component]] = []
    for group in groups.values():
        if any(name in event for event in group for name in REPEATING):
            series.append(group)
        else:
            once += group
    return once, series


def _window(around: Sequence[date], events: list[icalendar.Component]) -> tuple[date, date]:
    """The days in which to expand; where they are too many, the later ones."""
    days = list(around) or [_day_of(event) for event in events] or [date(2000, 1, 1)]
    first, last = min(days) - timedelta(DAYS_AROUND), max(days) + timedelta(DAYS_AROUND)
    return max(first, last - timedelta(LONGEST_WINDOW)), last


def _day_of(event: icalendar.Component) -> date:
    starts = first_of(event)
    return starts.date() if isinstance(starts, datetime) else starts


def _expanded(
    series: list[list[icalendar.Component]],
    window: tuple[date, date],
    file: str,
    seconds: float,
) -> Iterator[icalendar.Component | Problem]:
    began = stopwatch.thread_time()  # however busy the machine is
    for group in series:
        line = line_of(group[0])
        if stopwatch.thread_time() - began > seconds:
            yield _too_many(file, line)
            return
        whole = icalendar.Calendar()
        try:
            reach = min([window[0], *_exceptions(group)]), window[1]
            for event in group:
                _drop_idle_rules(event, reach)
                whole.add_component(event)
            yield from recurring_ical_events.of(whole).between(*window)
        except Exception as error:  # so does the expansion
            reason = clean(str(error))[:80]
            yield Problem(file, Kind.EVENT_UNREADABLE, line, "RRULE", reason)


def _exceptions(group: list[icalendar.Component]) -> list[date]:
    """The days of a series that were moved: an exception counts only where its rule comes then."""
    told = [getattr(event.get("RECURRENCE-ID"), "dt", None) for event in group]
    days = [day.date() if isinstance(day, datetime) else day for day in told]
    return [day for day in days if isinstance(day, date)]


def _drop_idle_rules(event: icalendar.Component, window: tuple[date, date]) -> None:
    """Take away the rules that do not come in the window, since looking for them takes seconds."""
    told = event.get("RRULE")
    rules = told if isinstance(told, list) else [told] if told is not None else []
    starts = first_of(event)
    coming = [r for r in rules if comes_between(r.to_ical().decode(), starts, *window)]
    if len(coming) < len(rules):
        del event["RRULE"]
        for rule in coming:
            event.add("RRULE", rule)
