"""Stretches of time as people write them: "till friday", "10 to 10:30", "every tuesday".

Whole school days and parts of them, both ends included: "till friday" takes in the friday. How long
nudges rest is a moment on the clock, and read in digest/until.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from bot.requests import Span
from bot.understanding.days import EITHER, VAGUE, weekday
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.senses import Item, Kind
from bot.understanding.times import read_time

NOON = time(12, 0)
_UNTIL = frozenset(("until", "till", "til", "through", "thru", "untill", "unti", "'til"))
_TO = frozenset(("to", "-", "–", "—", "and", *_UNTIL))
_FROM = frozenset(("from", "after", "starting", "since", "beginning", "between", "past", "at"))
_BACK = frozenset(("back", "returns", "returning", "return"))
_EVERY = frozenset(("every", "each"))
_NEAR = frozenset(("before", "by", "around", "about"))
_MORNING = frozenset(("morning", "am", "mornings"))
_AFTERNOON = frozenset(("afternoon", "pm", "afternoons", "lunch"))
_NAMED = {"noon": NOON, "midday": NOON, "noontime": NOON}
_COUNTED = frozenset(("day", "days", "week", "weeks", "minutes", "minute", "min", "mins", "kids"))
_LENGTHS = {"day": 1, "days": 1, "week": 7, "weeks": 7}


@dataclass(frozen=True, slots=True)
class _Bit:
    """One word of a clause, or the day, clock time or number that it stands for."""

    word: str
    day: date | None = None
    how: str = ""  # of a day: past, either, next, vague, date, today
    moment: time | None = None
    number: int | None = None
    slot: int | None = None


def spans_of(items: Sequence[Item], at: datetime, *, past: bool = False) -> tuple[Span, ...]:
    """The days and times that a clause speaks of, one span for each day listed.

    A weekday is the coming one (today's name is today), or with `past` the one before. Nothing said
    is one span without an end on any side; the caller says what that means.
    """
    bits = list(_bits(items, at.date()))
    starts, ends = _times(bits)
    slots = tuple(bit.slot for bit in bits if bit.slot is not None)
    part = Span(starts=starts, ends=ends, slots=slots)
    days = _days(bits, at.date(), past=past)
    return tuple(
        replace(part, first=day.first, last=day.last, weekday=day.weekday) for day in days
    ) or (part,)


def weekday_meant(day: date, how: str, today: date, *, past: bool) -> date:
    """A day named by its weekday: the coming one for plans, the last one for what has been."""
    if how == EITHER and day < today and not past:
        return day + timedelta(days=7)
    return day


def _bits(items: Sequence[Item], today: date) -> Iterator[_Bit]:
    for item in items:
        sense = item.sense
        if item.kind is Kind.DAY and isinstance(sense.value, date):
            how = EITHER if sense.word == VAGUE else sense.word
            every = any(key.endswith("s") and weekday(key) is not None for key in item.keys)
            plural = every and item.keys[-1] not in ("tues", "weds", "thurs")
            lead = next((key for key in item.keys if key in _FROM | _UNTIL), "")
            if lead:
                yield _Bit(lead)
            if set(item.keys) & _MORNING:
                yield _Bit("morning")
            if set(item.keys) & _AFTERNOON:
                yield _Bit("afternoon")
            yield _Bit("every" if plural else " ".join(item.keys), sense.value, how)
        elif item.kind is Kind.TIME and isinstance(sense.value, time):
            yield _Bit(item.keys[0] if item.keys else "", moment=sense.value)
        elif item.kind is Kind.SLOT and isinstance(sense.value, int):
            yield _Bit("rotation", slot=sense.value)
        else:
            for key in item.keys or (item.text,):
                if key in ("today", "tomorrow"):  # in a phrase: "out today"
                    day = today + timedelta(days=key == "tomorrow")
                    yield _Bit(key, day, key)
                    continue
                number = int(key) if key.isdecimal() and len(key) < 4 else NUMBER_WORDS.get(key)
                yield _Bit(key, number=number)


# Times of day


def _times(bits: Sequence[_Bit]) -> tuple[time | None, time | None]:
    starts = ends = None
    for at, bit in enumerate(bits):
        before = bits[at - 1].word if at else ""
        moment = bit.moment or _hour(bits, at) or _NAMED.get(bit.word)
        if moment is None:
            continue
        ranged = before in _TO and at > 1 and _is_clock(bits[at - 2])
        if before in _UNTIL or before in ("before", "by") or ranged:
            ends = moment
        elif starts is None:
            starts = moment
        elif ends is None:
            ends = moment
    if starts is None and ends is None:
        words = {bit.word for bit in bits}
        if words & _MORNING:
            ends = NOON
        elif words & _AFTERNOON:
            starts = NOON
    return starts, ends


def _hour(bits: Sequence[_Bit], at: int) -> time | None:
    """ "at 10", "till 2", "10-10:30": a bare hour beside a word or a clock time that says so."""
    number = bits[at].number
    if number is None or not 1 <= number <= 12 or not bits[at].word.isdecimal():
        return None
    before = bits[at - 1].word if at else ""
    after = bits[at + 1].word if at + 1 < len(bits) else ""
    if after in _COUNTED:
        return None
    opens_range = after in _TO and at + 2 < len(bits) and _is_clock(bits[at + 2])
    ends_range = before in _TO and at > 1 and _is_clock(bits[at - 2])
    if opens_range or ends_range or before in _UNTIL | _FROM | _NEAR:
        return read_time(bits[at].word)
    return None


def _is_clock(bit: _Bit) -> bool:
    return bit.moment is not None or bit.number is not None


# Days


def _days(bits: Sequence[_Bit], today: date, *, past: bool) -> list[Span]:
    week = _week(bits, today)
    if week is not None:
        return [week]
    length = _length(bits)
    found: list[Span] = []
    begins: date | None = None  # "from monday", and no end yet
    for at, bit in enumerate(bits):
        if bit.day is None:
            continue
        before = bits[at - 1].word if at else ""
        day = weekday_meant(bit.day, bit.how, today, past=past)
        if bit.word == "every" or before in _EVERY:
            found.append(Span(weekday=bit.day.weekday()))
        elif before in _UNTIL or (before in _TO - {"and"} and (begins or found)):
            first = begins or (found.pop().first if found else today)
            found.append(Span(first, _not_before(day, first)))
            begins = None
        elif before in _BACK or (at > 1 and before == "on" and bits[at - 2].word in _BACK):
            first = found.pop().first if found else today
            found.append(Span(first, _not_before(day, first) - timedelta(days=1)))
        elif before in _FROM - {"at"}:
            begins = day
        else:
            found.append(Span(day, day))
    if begins is not None:
        found.append(Span(begins, _after(begins, length)))
    elif length and len(found) < 2:
        first = found.pop().first if found else today
        found.append(Span(first, _after(first or today, length)))
    return found


def _after(first: date, length: int | None) -> date | None:
    return first + timedelta(days=length - 1) if length else None


def _not_before(day: date, first: date | None) -> date:
    """ "from friday till monday": the monday behind that friday."""
    while first is not None and day < first:
        day += timedelta(days=7)
    return day


def _week(bits: Sequence[_Bit], today: date) -> Span | None:
    text = " ".join(bit.word for bit in bits)
    monday = today - timedelta(days=today.weekday())
    if "next week" in text:
        return Span(monday + timedelta(days=7), monday + timedelta(days=11))
    is_this = any(words in text for words in ("this week", "all week", "of the week"))
    if is_this and not any(bit.day is not None for bit in bits):
        return Span(today, monday + timedelta(days=4))
    return None


def _length(bits: Sequence[_Bit]) -> int | None:
    """ "for 3 days", "for a week"."""
    for at, bit in enumerate(bits[:-1]):
        unit = _LENGTHS.get(bits[at + 1].word)
        before = bits[at - 1].word if at else ""
        number = 1 if bit.word in ("a", "one", "the") and before == "for" else bit.number
        if unit and number and before in ("for", "next", "the"):
            return number * unit - (2 if unit == 7 else 0)
    return None
