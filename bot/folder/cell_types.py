"""Parsers for one cell that is not blank: clean text in, a typed value or a `Refused` out."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum
from functools import cache
from typing import TypeVar
from zoneinfo import available_timezones

from bot.folder.nearest import fold, nearest_of
from bot.folder.problems import Kind

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
FIRST_YEAR, LAST_YEAR = 2000, 2100
_FULL_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SHORT_NAMES = {"tues": 1, "weds": 2, "thur": 3, "thurs": 3}
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::00)? ?([ap]\.?m\.?)?", re.IGNORECASE | re.ASCII)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)", re.ASCII)

Choice = TypeVar("Choice", bound=StrEnum)


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a cell was not taken, what it may hold, and the nearest thing to it."""

    kind: Kind
    accepted: tuple[str, ...] = ()
    nearest: str = ""


def text(cell: str) -> str:
    """Any text, as it stands; a cell like a formula is text too."""
    return cell


def texts(cell: str) -> tuple[str, ...]:
    """A list separated by `;`: blanks dropped, each entry once."""
    entries = (" ".join(entry.split()) for entry in cell.split(";"))
    return tuple(dict.fromkeys(entry for entry in entries if entry))


def day(cell: str) -> date | Refused:
    """A date YYYY-MM-DD in this century."""
    refused = Refused(Kind.NOT_A_DATE)
    if not _DAY.fullmatch(cell):
        return refused
    try:
        found = date.fromisoformat(cell)
    except ValueError:
        return refused
    return found if FIRST_YEAR <= found.year <= LAST_YEAR else refused


def clock(cell: str) -> time | Refused:
    """A time HH:MM; H:MM, seconds of 00 and am or pm are taken too."""
    match = _CLOCK.fullmatch(cell)
    if not match:
        return Refused(Kind.NOT_A_TIME)
    hour, minute = int(match[1]), int(match[2])
    if half := match[3]:
        if not 1 <= hour <= 12:
            return Refused(Kind.NOT_A_TIME)
        hour = hour % 12 + (12 if half[0] in "pP" else 0)
    return time(hour, minute) if hour < 24 and minute < 60 else Refused(Kind.NOT_A_TIME)


def school_clock(cell: str) -> time | Refused:
    """A time in a school's day: 1:10 is far likelier meant for 13:10 than for the night."""
    found = clock(cell)
    if isinstance(found, time) and 1 <= found.hour <= 5 and not cell.lower().endswith(("m", "m.")):
        return Refused(Kind.NIGHT_TIME, (f"{found.hour + 12}:{found.minute:02}",))
    return found


def whole(lowest: int, highest: int) -> Callable[[str], int | Refused]:
    """A parser for whole numbers from `lowest` to `highest`; "4.0" is 4."""

    def parse(cell: str) -> int | Refused:
        found = number(lowest, highest)(cell)
        if isinstance(found, Refused):
            return found
        return int(found) if found.is_integer() else Refused(Kind.NOT_A_NUMBER, ("a whole number",))

    return parse


def number(lowest: float, highest: float) -> Callable[[str], float | Refused]:
    """A parser for numbers from `lowest` to `highest`, with a decimal point."""

    def parse(cell: str) -> float | Refused:
        if not _NUMBER.fullmatch(cell):
            return Refused(Kind.NOT_A_NUMBER, ("a number",))
        found = float(cell)
        if not lowest <= found <= highest:
            return Refused(Kind.OUT_OF_RANGE, (f"{lowest:.10g}", f"{highest:.10g}"))
        return found

    return parse


def rate(cell: str) -> float | Refused:
    """A share from 0 to 0.5; "6%" is 0.06."""
    share = cell.removesuffix("%").rstrip()
    found = number(0, 50 if share != cell else 0.5)(share)
    if isinstance(found, Refused):
        return Refused(found.kind, ("0", "0.5"))
    return round(found / 100, 10) if share != cell else found


def choice(options: type[Choice]) -> Callable[[str], Choice | Refused]:
    """A parser for one of a few words, in any case, singular or plural."""

    def parse(cell: str) -> Choice | Refused:
        said = fold(cell)
        for option in options:
            if said in (option, option + "s"):
                return option
        return Refused(Kind.NOT_A_CHOICE, tuple(options), nearest_of(cell, options))

    return parse


def weekdays(cell: str) -> tuple[int, ...] | Refused:
    """Weekdays as numbers from 0: names or their first letters, in lists or ranges."""
    joined = re.sub(r"\s*(?:[-\u2013\u2014]|\bto\b)\s*", "-", cell, flags=re.IGNORECASE)
    found: set[int] = set()
    for part in re.split(r"[;,/&\s]+", joined):
        if part and part.casefold() != "and":
            days = _weekday_range(part)
            if days is None:
                return Refused(Kind.NOT_A_WEEKDAY, WEEKDAYS, nearest_of(part, _FULL_NAMES).title())
            found.update(days)
    return tuple(sorted(found)) or Refused(Kind.NOT_A_WEEKDAY, WEEKDAYS)


def _weekday_range(part: str) -> Iterable[int] | None:
    ends = [_weekday(name) for name in part.split("-")]
    if len(ends) > 2 or None in ends:
        return None
    first, last = ends[0], ends[-1]
    assert first is not None
    assert last is not None
    return ((first + step) % 7 for step in range((last - first) % 7 + 1))


def _weekday(name: str) -> int | None:
    said = name.casefold().removesuffix(".")
    if said in _SHORT_NAMES:
        return _SHORT_NAMES[said]
    for index, full in enumerate(_FULL_NAMES):
        if said in (full[:2], full[:3], full, full + "s"):
            return index
    return None


@cache
def _zones() -> dict[str, str]:
    known = available_timezones() - {"localtime", "Factory"}
    return {name.casefold(): name for name in sorted(known)}


def zone(cell: str) -> str | Refused:
    """An IANA time zone name, in any case, spaces for underscores."""
    known = _zones()
    said = cell.casefold().replace(" ", "_")
    if said in known:
        return known[said]
    cities = {name.rpartition("/")[2].replace("_", " "): name for name in known.values()}
    # Many zones have short names that are a little like anything.
    near = nearest_of(cell, known.values(), cutoff=80.0)
    near = near or cities.get(nearest_of(cell, cities, cutoff=80.0), "")
    return Refused(Kind.NOT_A_ZONE, ("America/Chicago",), near)
