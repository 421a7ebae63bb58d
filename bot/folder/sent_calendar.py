"""A calendar file that was sent to the chat: what of it lies ahead, read leniently and fast.

It may hold years gone by, descriptions, broken lines. Only what tells when an event is goes to the
reader of calendar.ics, and only for events from a day on; what cannot be read is told by its line
and the rest stands.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from bot.folder.calendar import occurrences, parsed_events
from bot.folder.events import LONGEST_EVENT, Event
from bot.folder.problems import Kind, Problem
from bot.folder.rules import ContentLine, content_lines, rule_faults
from bot.requests import SentFile

DAYS_AHEAD = 400  # a school year and the summer
MOST_EVENTS = 2000  # that lie ahead, a series being one
MOST_OCCURRENCES = 8000
MOST_SECONDS = 0.8
LARGEST = 5_000_000  # bytes
_MOST_ZONES = 12
_LONGEST_ZONE = 300  # lines
_LONGEST_EVENT = 20_000  # characters of an event that tell when it is
_LONGEST_LINE = 300  # where days are not listed one by one
_SEVERAL_TIMES = re.compile(r"\bBY(?:HOUR|MINUTE|SECOND)=[^;]*,", re.IGNORECASE)
_FILE = "calendar"
_TOLD = frozenset((
    "DTSTART", "DTEND", "DURATION", "RRULE", "RDATE", "EXDATE", "RECURRENCE-ID", "SUMMARY",
    "STATUS", "UID", "SEQUENCE",
))  # fmt: skip
_NAME = re.compile(r"[A-Za-z-]+")
_DAY = re.compile(r"(?<!\d)\d{8}(?!\d)")
_UNTIL = re.compile(r"\bUNTIL=(\d{8})", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SentCalendar:
    """The occurrences from a day on, and what was left out.

    `trouble`: not_a_calendar, empty, too_many, or nothing. `past` and `later` count events before
    that day and beyond the days looked at; `unread` are lines of events that cannot be read.
    """

    events: tuple[Event, ...] = ()
    past: int = 0
    later: int = 0
    unread: tuple[int, ...] = ()
    trouble: str = ""


def is_calendar(name: str, content: bytes = b"") -> bool:
    """Whether a file is meant as a calendar, by its name or by how it begins."""
    begins = content[:40].lstrip(codecs.BOM_UTF8).replace(b"\x00", b"").strip()
    return name.lower().endswith((".ics", ".ical", ".icalendar")) or begins.upper().startswith(
        b"BEGIN:VCALENDAR"
    )


def file_at(path: Path) -> SentFile:
    """A file of this machine as if it had been sent; one too big is not read. Raises OSError."""
    if path.stat().st_size > LARGEST:
        return SentFile(path.name, trouble="too_big")
    return SentFile(path.name, path.read_bytes())


def calendar_at(content: bytes, at: datetime) -> SentCalendar:
    """What a calendar file sent at an aware moment says of the days to come, wherever it was
    sent: from the day before on, since it may still be yesterday there."""
    return read_sent_calendar(content, at.astimezone(UTC).date() - timedelta(1))


# The same file is read outside of a unit of work first, so that it takes no time within it.
@lru_cache(maxsize=2)
def read_sent_calendar(content: bytes, first: date) -> SentCalendar:
    """What a calendar file says of the days from `first` on. Nothing is raised for what it holds.

    The times of its events carry the zone they have in the file, or none.
    """
    lines = content_lines(_text_of(content).replace("\x00", ""))
    if not lines or lines[0].text.strip().upper() != "BEGIN:VCALENDAR":
        return SentCalendar(trouble="not_a_calendar")
    sieve = _Sieve(first, first + timedelta(DAYS_AHEAD))
    sieve.sift(lines)
    if sieve.kept_events + len(sieve.unread) > MOST_EVENTS:
        return SentCalendar(trouble="too_many")
    if not (sieve.kept_events or sieve.past or sieve.later or sieve.unread):
        return SentCalendar(trouble="empty")
    return _read(sieve)


def _text_of(content: bytes) -> str:
    """The text in the encoding it seems to be in: UTF-8 as it should be, or what else is met."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", "replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def _read(sieve: _Sieve) -> SentCalendar:
    faults = rule_faults(sieve.kept, file=_FILE)
    kept = [line for line in sieve.kept if line.number not in faults]
    parsed = parsed_events(kept, file=_FILE)
    if isinstance(parsed, Problem):
        return SentCalendar(trouble="not_a_calendar")
    window = sieve.first, sieve.last
    found: list[Event] = []
    unread = [*sieve.unread, *faults]
    told = occurrences(parsed, file=_FILE, around=(), seconds=MOST_SECONDS, window=window)
    for event in told:
        if isinstance(event, Problem) and event.kind is Kind.TOO_MANY_EVENTS:
            return SentCalendar(trouble="too_many")
        if isinstance(event, Problem):
            unread.append(event.line or 1)
        else:
            found.append(event)
        if len(found) > MOST_OCCURRENCES:
            return SentCalendar(trouble="too_many")
    return SentCalendar(tuple(found), sieve.past, sieve.later, tuple(sorted(unread)))


@dataclass(slots=True)
class _Sieve:
    """Lines of a calendar, those kept that tell when an event is that may lie ahead."""

    first: date
    last: date
    kept: list[ContentLine] = field(default_factory=list)
    kept_events: int = 0
    zones: int = 0
    past: int = 0
    later: int = 0
    unread: list[int] = field(default_factory=list)

    def sift(self, lines: Sequence[ContentLine]) -> None:
        """Take every whole event and time zone of the calendar."""
        self.kept.append(ContentLine(1, "BEGIN:VCALENDAR"))
        for block in self._blocks(lines):
            if block[0].text.strip().upper() == "BEGIN:VTIMEZONE":
                self._take_zone(block)
            else:
                self._take(block)
            if self.kept_events > MOST_EVENTS:
                return
        self.kept.append(ContentLine(lines[-1].number, "END:VCALENDAR"))

    def _blocks(self, lines: Sequence[ContentLine]) -> Iterator[list[ContentLine]]:
        """Events and time zones, each from its first line to its last."""
        block: list[ContentLine] = []
        for line in lines:
            marker = line.text[:16].strip().upper()
            if marker in ("BEGIN:VEVENT", "BEGIN:VTIMEZONE"):
                self._broken_off(block)
                block = [line]
            elif block:
                block.append(line)
                if marker == block[0].text.strip().upper().replace("BEGIN", "END"):
                    yield block
                    block = []
        self._broken_off(block)

    def _broken_off(self, block: Sequence[ContentLine]) -> None:
        if block and block[0].text.strip().upper() == "BEGIN:VEVENT":
            self.unread.append(block[0].number)

    def _take(self, block: Sequence[ContentLine]) -> None:
        told = list(_telling(block))
        if _is_too_much(told):
            self.unread.append(block[0].number)
        elif self._is_over(told):
            self.past += 1
        elif self._is_far_off(told):
            self.later += 1
        else:
            self.kept += [block[0], *told, block[-1]]
            self.kept_events += 1

    def _is_over(self, told: Sequence[ContentLine]) -> bool:
        """Whether all of an event lies before the first day, going by the dates in its lines."""
        names = {_name(line) for line in told}
        long_ago = f"{self.first - timedelta(LONGEST_EVENT):%Y%m%d}"
        if "RDATE" in names:
            return False
        if "RRULE" in names:
            rules = [line.text for line in told if _name(line) == "RRULE"]
            return all((end := _UNTIL.search(rule)) and end[1] < long_ago for rule in rules)
        days = _days_in(told)
        reach = long_ago if "DURATION" in names else f"{self.first:%Y%m%d}"
        return bool(days) and max(days) < reach

    def _is_far_off(self, told: Sequence[ContentLine]) -> bool:
        days = _days_in(told)
        return bool(days) and min(days) > f"{self.last:%Y%m%d}"

    def _take_zone(self, block: list[ContentLine]) -> None:
        """Keep a time zone whose clocks change by the year, as they do."""
        self.zones += 1
        is_sound = all(
            len(line.text) <= _LONGEST_LINE
            and (_name(line) != "RRULE" or "FREQ=YEARLY" in line.text.upper())
            for line in block
        )
        if is_sound and self.zones <= _MOST_ZONES and len(block) <= _LONGEST_ZONE:
            self.kept += block


def _telling(block: Sequence[ContentLine]) -> Iterator[ContentLine]:
    """The lines of an event that say when it is and what; nothing of what is inside of it."""
    inside = 0
    for line in block[1:-1]:
        name = _name(line)
        if name in ("BEGIN", "END"):
            inside += 1 if name == "BEGIN" else -1
        elif not inside and name == "SUMMARY":
            yield replace(line, text=line.text[:_LONGEST_LINE])
        elif not inside and name in _TOLD:
            yield line


def _is_too_much(told: Sequence[ContentLine]) -> bool:
    """Whether reading an event would take longer than any event of a school is worth."""
    lists = ("EXDATE", "RDATE")
    return (
        sum(len(line.text) for line in told) > _LONGEST_EVENT
        or any(len(x.text) > _LONGEST_LINE and _name(x) not in lists for x in told)
        or any(_name(x) == "RRULE" and _SEVERAL_TIMES.search(x.text) for x in told)
    )


def _name(line: ContentLine) -> str:
    match = _NAME.match(line.text)
    return match[0].upper() if match else ""


def _days_in(told: Sequence[ContentLine]) -> list[str]:
    """The days, as eight digits, on which an event begins, ends, or was to be."""
    dated = (line.text for line in told if _name(line) in ("DTSTART", "DTEND", "RECURRENCE-ID"))
    return [day for text in dated for day in _DAY.findall(text)]
