"""Stretches of time as people write them: "till friday", "10 to 10:30", "every tuesday".

Whole school days and parts of them, both ends included: "till friday" takes in the friday. How long
nudges rest is a moment on the clock, and read in digest/until.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from bot.requests import Span
from bot.understanding.clause import Clause
from bot.understanding.days import EITHER, NEXT, VAGUE, weekday
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.senses import Item, Kind
from bot.understanding.times import read_time

NOON = time(12, 0)
_UNTIL = frozenset(("until", "till", "til", "through", "thru", "untill", "unti", "'til"))
_TO = frozenset(("to", "-", "–", "—", "and", *_UNTIL))
_FROM = frozenset(("from", "after", "starting", "since", "beginning", "between", "past", "at"))
_BACK = frozenset(("back", "returns", "returning", "return"))
_EVERY = frozenset(("every", "each"))
_SHORT = frozenset(("tues", "weds", "thurs"))
_DAILY = frozenset(("daily", "everyday", "weekdays"))
_NEAR = frozenset(("before", "by", "around", "about", "@", "near"))
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
    bits = _without_weekdays_dated(list(_bits(items, at.date())))
    starts, ends = _times(bits)
    slots = tuple(bit.slot for bit in bits if bit.slot is not None)
    part = Span(starts=starts, ends=ends, slots=slots)
    days = _days(bits, at.date(), past=past)
    return tuple(
        replace(part, first=day.first, last=day.last, weekday=day.weekday) for day in days
    ) or (part,)


def spans_said(clause: Clause, *, past: bool = False) -> tuple[Span, ...]:
    """The days and times of a clause; of the text before it where the clause names no day."""
    spans = spans_of(clause.items, clause.at, past=past)
    day = clause.when.day
    if day is None or any(span.names_day for span in spans):
        return spans
    return tuple(replace(span, first=day, last=day) for span in spans)


def weekday_meant(day: date, how: str, today: date, *, past: bool) -> date:
    """A day named by its weekday: the coming one for plans, the last one for what has been."""
    if how == EITHER and day < today and not past:
        return day + timedelta(days=7)
    return day


def _without_weekdays_dated(bits: list[_Bit]) -> list[_Bit]:
    """ "thurs and fri dec 3-4": the dates say which thursday and friday are meant."""
    dated = {bit.day.weekday() for bit in bits if bit.day is not None and bit.how == "date"}
    return [
        bit
        for bit in bits
        if bit.day is None or bit.how not in (EITHER, VAGUE) or bit.day.weekday() not in dated
    ]


def _bits(items: Sequence[Item], today: date) -> Iterator[_Bit]:
    for item in items:
        sense = item.sense
        if item.kind is Kind.DAY and isinstance(sense.value, date):
            told_past = {"last", "past"} & set(item.keys)
            how = EITHER if sense.word == VAGUE and not told_past else sense.word
            plural = any(
                key.endswith("s") and key not in _SHORT and weekday(key) is not None
                for key in item.keys
            )
            dated = {"past", "week"} & set(item.keys)  # "this past monday", "a week from monday"
            lead = "" if dated else next((k for k in item.keys if k in _FROM | _UNTIL), "")
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
    """ "at 10", "till two", "10-10:30": a bare hour beside a word or a clock time that says so."""
    number = bits[at].number
    if number is None or not 1 <= number <= 12:
        return None
    before = bits[at - 1].word if at else ""
    after = bits[at + 1].word if at + 1 < len(bits) else ""
    if after in _COUNTED:
        return None
    opens_range = after in _TO - {"and"} and at + 2 < len(bits) and _is_clock(bits[at + 2])
    ends_range = before in _TO and at > 1 and _is_clock(bits[at - 2])
    between = after == "and" and before == "between"
    if opens_range or ends_range or between or before in _UNTIL | _FROM | _NEAR:
        return read_time(str(number))
    return None


def _is_clock(bit: _Bit) -> bool:
    return bit.moment is not None or bit.number is not None


# Days


def _days(bits: Sequence[_Bit], today: date, *, past: bool) -> list[Span]:
    week = _week(bits, today)
    if week is not None:
        return week
    if _is_daily(bits):
        return [Span(today, None)]
    length = _length(bits)
    monday = today + timedelta(days=7 - today.weekday())
    weekly_from = monday if _begins_next_week(bits) else None
    found: list[Span] = []
    begins: date | None = None  # "from monday", and no end yet
    for at, bit in enumerate(bits):
        if bit.day is None:
            continue
        before = _word_before(bits, at)
        day = _day_meant(bits, at, today, found, past=past)
        again = bool(found) and found[-1].weekday is not None and before in _LISTS
        again = again or (
            bool(found) and found[-1].weekday is not None and bits[at - 1].day == bit.day
        )
        if bit.word == "every" or before in _EVERY or (again and bit.how in _BY_WEEKDAY):
            found.append(Span(weekly_from, weekday=bit.day.weekday()))
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


def _word_before(bits: Sequence[_Bit], at: int) -> str:
    """The word before a day; of "till at least friday" the "till"."""
    back = at - 1
    while back > 0 and bits[back].word in _VAGUELY:
        back -= 1
    if at and bits[back].word in _UNTIL:
        return bits[back].word
    return bits[at - 1].word if at else ""


_VAGUELY = frozenset(("at", "least", "about", "around", "maybe", "like", "probably", "sometime"))
_LISTS = frozenset(("and", ",", "&", "/", "+", "n", "or"))
_BY_WEEKDAY = frozenset((EITHER, VAGUE, NEXT))


def _begins_next_week(bits: Sequence[_Bit]) -> bool:
    led = any(bit.word in ("starting", "from", "beginning", "begins", "starts") for bit in bits)
    return led and _says(bits, "next week")


def _day_meant(
    bits: Sequence[_Bit], at: int, today: date, found: Sequence[Span], *, past: bool
) -> date:
    """The day of a bit: of "friday next week" the one in that week, of "mon and tues" the tuesday
    behind that monday."""
    bit = bits[at]
    assert bit.day is not None, "asked of days only"
    if bit.how in _BY_WEEKDAY and _says(bits, "next week"):
        return today + timedelta(days=7 - today.weekday() + bit.day.weekday())
    day = weekday_meant(bit.day, bit.how, today, past=past)
    last = found[-1].last if found else None
    is_after = bit.how == EITHER and not past and last is not None and last > today
    return _not_before(day, last) if is_after else day


def _says(bits: Sequence[_Bit], words: str) -> bool:
    return f" {words} " in " " + " ".join(bit.word for bit in bits) + " "


def _is_daily(bits: Sequence[_Bit]) -> bool:
    words = {bit.word for bit in bits}
    if any(bit.day is not None for bit in bits):
        return False
    return bool(words & _DAILY) or any(_says(bits, said) for said in ("every day", "each day"))


def _after(first: date, length: int | None) -> date | None:
    """The last of so many days: of days of school where it is a few, of the calendar in weeks."""
    if not length:
        return None
    if length % 7 == 0:
        last = first + timedelta(days=length - 1)
        return last - timedelta(days=max(0, last.weekday() - 4))
    last = first
    for _ in range(length - 1):
        last += timedelta(days=3 if last.weekday() == 4 else 1)
    return last


def _not_before(day: date, first: date | None) -> date:
    """ "from friday till monday": the monday behind that friday."""
    while first is not None and day < first:
        day += timedelta(days=7)
    return day


def _week(bits: Sequence[_Bit], today: date) -> list[Span] | None:
    """ "next week", "rest of the week", "the week of dec 7"; None where days are named in it."""
    monday = today - timedelta(days=today.weekday())
    days = [bit for bit in bits if bit.day is not None]
    for at, bit in enumerate(bits):
        led = at > 1 and bits[at - 1].word == "of" and bits[at - 2].word == "week"
        if bit.day is not None and led:
            start = bit.day - timedelta(days=bit.day.weekday())
            return [Span(start, start + timedelta(days=4))]
    if _says(bits, "next week"):
        whole = Span(monday + timedelta(days=7), monday + timedelta(days=11))
        if not days:
            return [whole]
        also = any(_says(bits, f"and {all_}next week") for all_ in ("", "all "))
        if also and all(day.how in ("today", EITHER, VAGUE) for day in days):
            named = [weekday_meant(d.day, d.how, today, past=False) for d in days if d.day]
            return [*(Span(day, day) for day in named), whole]
        return None
    is_this = any(_says(bits, said) for said in _THIS_WEEK)
    if is_this and all(day.how == "today" for day in days):
        return [Span(today, monday + timedelta(days=4))]
    return None


_THIS_WEEK = (
    "this week", "all week", "of the week", "of this week", "the week", "whole week", "of week",
)  # fmt: skip


def _length(bits: Sequence[_Bit]) -> int | None:
    """ "for 3 days", "for a week"."""
    for at, bit in enumerate(bits[:-1]):
        unit = _LENGTHS.get(bits[at + 1].word)
        before = bits[at - 1].word if at else ""
        number = 1 if bit.word in ("a", "one", "the") and before == "for" else bit.number
        number = 2 if bit.word == "couple" else number
        after = bits[at + 2].word if at + 2 < len(bits) else ""
        if unit and number and before != "in" and after not in ("ago", "before", "late", "early"):
            return number * unit
    return None
