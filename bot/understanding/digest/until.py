"""Till when nudges rest, and times of the morning: "for 2 hours", "half past six".

One moment at which they come again, never a stretch of school days as in spans.py: "till friday"
ends as friday begins, "till tuesday" sent on a Tuesday is a week from now, "for 2 hours" and "for 2
days" count from the text. A time of the morning may be in words, and "6:30" is one here.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from bot.understanding.clause import Clause
from bot.understanding.days import EITHER, PAST, VAGUE
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.senses import Item, Kind

_AMOUNTS = {"a": 1, "an": 1, "couple": 2, "few": 3, "bit": 1, **NUMBER_WORDS}
_AMOUNT = rf"(\d{{1,3}}|{'|'.join(_AMOUNTS)})(?: of)?"
_FOR = re.compile(rf"(?:(half) an? (hour)|{_AMOUNT} (?:more )?(min\w*|h(?:ou)?rs?|days?|weeks?))\b")
_PAST = re.compile(r"\b(half|quarter|five|ten|twenty|\d\d?) (past|after|to|before|till) (\w+)\b")
_PAIR = re.compile(r"\b(\w+) (fifteen|thirty|fortyfive|forty five|twenty|oclock|o clock|\d\d)\b")
_BARE = re.compile(
    r"\b(?:at|to|for|by|around|is|it) (\w+)(?: (?:am|in the morning|instead|please|now|\d+))*\b"
)
_MINUTES = {"fifteen": 15, "thirty": 30, "fortyfive": 45, "forty five": 45, "twenty": 20}
_NOON, _FIRST_SCHOOL_HOUR = 12, 7  # "till 2" is in the afternoon; common practice
_EARLIEST = 4  # a morning begins no earlier


def until_when(clause: Clause) -> datetime | None:
    """The moment until which a text asks for quiet; None where it names none that can be told."""
    words, at = " ".join(clause.words), clause.at
    length = _FOR.search(words)
    if length is not None:
        return _after(at, length)
    if re.search(r"\b(next week|(the|this|over the) week(end)?|rest of (?:the )?week)\b", words):
        return _midnight(at, at.date() + timedelta(days=7 - at.weekday()))
    days = [item for item in clause.items if item.kind is Kind.DAY]
    moment = next((i.sense.value for i in clause.items if i.kind is Kind.TIME), None)
    if moment is None and not days:
        moment = _hour_after_till(words)
    if isinstance(moment, time):
        day = _coming(days[0], at.date()) if days else None
        return _next_at(at, moment, day)
    if days:
        day = _coming(days[0], at.date())
        return None if day is None else _midnight(at, day)
    if re.search(r"\b(for now|rest of (?:the )?day|the day)\b", words):
        return _midnight(at, at.date() + timedelta(days=1))
    return None


def _after(at: datetime, length: re.Match[str]) -> datetime:
    if length[1]:
        return at + timedelta(minutes=30)
    amount = _AMOUNTS.get(length[3]) or (int(length[3]) if length[3].isdecimal() else 1)
    unit = length[4]
    if unit.startswith(("d", "w")):
        days = amount * (7 if unit.startswith("w") else 1)
        return _midnight(at, at.date() + timedelta(days=days))
    minutes = amount if unit.startswith("m") else 60 * amount
    return at + timedelta(minutes=minutes)


def _hour_after_till(words: str) -> time | None:
    found = re.search(r"\b(?:till?|until|before|after) (\w+)$", words)
    hour = None if found is None else _number(found[1])
    if hour is None or not 0 < hour <= _NOON:
        return None
    return time(hour + _NOON if hour < _FIRST_SCHOOL_HOUR else hour)


def _next_at(at: datetime, moment: time, day: date | None) -> datetime:
    if day is not None:
        return datetime.combine(day, moment, tzinfo=at.tzinfo)
    today = datetime.combine(at.date(), moment, tzinfo=at.tzinfo)
    return today if today > at else datetime.combine(at.date() + timedelta(1), moment, at.tzinfo)


def _coming(item: Item, today: date) -> date | None:
    """The coming day of that name; the day behind today, where today is named."""
    value, word = item.sense.value, item.sense.word
    if not isinstance(value, date) or word == PAST:
        return None
    if word in (EITHER, VAGUE) and value <= today:
        return value + timedelta(days=7)
    if value == today:
        return today + timedelta(days=1)
    return value if value > today else None


def _midnight(at: datetime, day: date) -> datetime:
    return datetime.combine(day, time(), tzinfo=at.tzinfo)


def clock_time(clause: Clause) -> time | None:
    """A time of the morning, as "7:15", "at 7", "half past six" or "seven thirty" say it."""
    for item in clause.items:
        if item.kind is Kind.TIME and isinstance(item.sense.value, time):
            return _in_the_morning(item.sense.value, item.text)
    words = " ".join(clause.words)
    for past in _PAST.finditer(words):
        if (told := _told_past(past)) is not None:
            return told
    pair = _PAIR.search(words)
    if pair is not None and (hour := _hour(pair[1])) is not None:
        minutes = _MINUTES.get(pair[2], int(pair[2]) if pair[2].isdecimal() else 0)
        return time(hour, minutes) if minutes < 60 else None
    bare = _BARE.search(words)
    hour = None if bare is None else _hour(bare[1])
    return None if hour is None else time(hour)


def _in_the_morning(moment: time, text: str) -> time:
    """ "6:30" is read as half past six in the evening elsewhere."""
    is_early = _NOON + _EARLIEST <= moment.hour < _NOON + _FIRST_SCHOOL_HOUR
    if is_early and "p" not in text.casefold() and not text.lstrip().startswith("1"):
        return moment.replace(hour=moment.hour - _NOON)
    return moment


def _told_past(past: re.Match[str]) -> time | None:
    hour = _hour(past[3])
    minutes = {"half": 30, "quarter": 15}.get(past[1], _number(past[1]))
    if hour is None or minutes is None or not 0 < minutes < 60:
        return None
    if past[2] in ("past", "after"):
        return time(hour, minutes)
    return time(hour - 1, 60 - minutes)


def _hour(word: str) -> int | None:
    number = _number(word)
    return number if number is not None and _EARLIEST <= number < _NOON else None


def _number(word: str) -> int | None:
    return NUMBER_WORDS.get(word) if not word.isdecimal() else int(word[:3])
