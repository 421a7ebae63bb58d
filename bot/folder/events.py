"""One event of an iCalendar file: when it starts and ends, and what is wrong with it (RFC 5545)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar

from bot.folder.cells import clean
from bot.folder.problems import Kind, Problem
from bot.folder.rules import ContentLine
from bot.folder.values import Place, TimedBlock

LONGEST_EVENT = 400
# Address books date birthdays without a year to 1604.
FIRST_YEAR, LAST_YEAR = 1583, 9000
REPEATING = ("RRULE", "RDATE", "RECURRENCE-ID")
_TIMES = ("DTSTART", "DTEND", "DURATION", *REPEATING, "EXDATE", "EXRULE")
_LINE = "X-FOLDER-LINE"


@dataclass(frozen=True, slots=True)
class Event:
    """One occurrence; `ends` is exclusive for days, None where the event does not say."""

    starts: date
    ends: date | None
    summary: str
    place: Place


def read_event(event: icalendar.Component, *, file: str) -> Event:
    """The occurrence that `event` describes. Raises ValueError where it has no start."""
    summary = clean(str(event.get("SUMMARY", "")))[:200]
    return Event(first_of(event), _last_of(event), summary, Place(file, line_of(event)))


def number_lines(events: list[icalendar.Component], lines: Sequence[ContentLine]) -> None:
    """Remember in each event the line of the file on which it begins."""
    begun = (line.number for line in lines if line.text.strip().upper() == "BEGIN:VEVENT")
    for event, number in zip(events, begun, strict=False):
        event[_LINE] = str(number)


def line_of(event: icalendar.Component) -> int:
    """The line on which the event, or the series it is of, begins."""
    return int(str(event.get(_LINE, 1)))


def is_cancelled(event: icalendar.Component) -> bool:
    """Whether the event, or this one occurrence, was called off."""
    return str(event.get("STATUS", "")).strip().upper() == "CANCELLED"


def first_of(event: icalendar.Component) -> date:
    """The start: a date for an all-day event, else a datetime. Raises ValueError without one."""
    starts = _value(event, "DTSTART")
    if not isinstance(starts, date):
        raise ValueError("no DTSTART that is a day")
    return starts


def _last_of(event: icalendar.Component) -> date | None:
    if "DTEND" in event:
        ends = _value(event, "DTEND")
    elif "DURATION" in event:
        ends = first_of(event) + _value(event, "DURATION")
    else:
        return None
    if not isinstance(ends, date):
        raise ValueError("no DTEND that is a day")
    return ends


def _value(event: icalendar.Component, name: str) -> Any:
    return getattr(event.get(name), "dt", None)


def fault_of(event: icalendar.Component, *, file: str) -> Problem | None:
    """What keeps the event from being taken, or None."""
    line = line_of(event)
    for name, reason in event.errors:
        if name in _TIMES:
            return Problem(file, Kind.EVENT_UNREADABLE, line, name, clean(str(reason))[:80])
    try:
        starts, ends = first_of(event), _last_of(event)
    except Exception as error:  # the parser raises what its many parts raise
        column = "DTEND" if "DTEND" in str(error) else "DTSTART"
        return Problem(file, Kind.EVENT_UNREADABLE, line, column, clean(str(error))[:80])
    if not FIRST_YEAR <= starts.year <= LAST_YEAR:
        return Problem(file, Kind.EVENT_UNREADABLE, line, "DTSTART", str(starts))
    if ends is not None and _bare(ends) < _bare(starts):
        return Problem(file, Kind.ENDS_BEFORE, line, "DTEND", str(ends), (str(starts),))
    if ends is not None and _bare(ends) - _bare(starts) > timedelta(LONGEST_EVENT):
        return Problem(file, Kind.EVENT_TOO_LONG, line, "DTEND", accepted=(str(LONGEST_EVENT),))
    return None


def _bare(moment: date) -> datetime:
    """Any start or end without a zone, near enough to hold one against the other."""
    if isinstance(moment, datetime):
        return moment.replace(tzinfo=None) - (moment.utcoffset() or timedelta(0))
    return datetime.combine(moment, time())


def closed_days(event: Event) -> Iterator[date]:
    """The days of an all-day event: up to the day before its end, one where it has none."""
    last = event.ends - timedelta(1) if event.ends else event.starts
    yield from _each(event.starts, max(last, event.starts))


def blocks_of(event: Event, *, zone: ZoneInfo) -> Iterator[TimedBlock]:
    """What it takes of each day, in `zone`; without a length it is a reminder and takes none."""
    if event.ends is None:
        return
    starts, ends = _local(event.starts, zone), _local(event.ends, zone)
    for day in _each(starts.date(), ends.date()):
        opens = starts.time() if day == starts.date() else time()
        shuts = ends.time() if day == ends.date() else time(23, 59)
        if opens < shuts:
            yield TimedBlock(day, opens, shuts, event.summary, event.place)


def _local(moment: date, zone: ZoneInfo) -> datetime:
    if not isinstance(moment, datetime):
        return datetime.combine(moment, time())
    return (moment.astimezone(zone) if moment.tzinfo else moment).replace(tzinfo=None)


def _each(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(step) for step in range((last - first).days + 1))
