"""Day phrases against dateutil.relativedelta, for every day of two school years.

Sources, beside each table: dateutil 2.9 (`relativedelta`, computed here), dateparser 1.5.0 (values
read once, PREFER_DATES_FROM past), or the project's own rules where neither reads the phrase:
a bare weekday is the last one that is not in the future; a month and day without a year is the
nearest one; "the 23rd" is the nearest 23rd.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from dateutil.relativedelta import FR, MO, SA, SU, TH, TU, WE, relativedelta

from bot.understanding.days import VAGUE, find_day
from bot.understanding.tokens import normal, tokenise

_DAYS = tuple(date(2026, 8, 1) + timedelta(days=n) for n in range(731))
_WEEKDAYS = {
    "monday": MO, "tuesday": TU, "wednesday": WE, "thursday": TH, "friday": FR, "saturday": SA,
    "sunday": SU,
}  # fmt: skip
_SHORT = {
    "mon": MO, "tue": TU, "tues": TU, "weds": WE, "thu": TH, "thur": TH, "thurs": TH, "fri": FR,
}  # fmt: skip
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "2": 2, "3": 3, "10": 10}


def _read(phrase: str, today: date) -> tuple[date | None, bool]:
    """The day read, and whether the reader leaves open which one it is; all of it must be taken."""
    tokens = tokenise(normal(phrase))
    found = find_day(tokens, 0, today)
    assert found is not None, (phrase, today)
    sense, width = found
    assert width == len(tokens), (phrase, today, width)
    assert sense.value is None or isinstance(sense.value, date)
    return sense.value, sense.word == VAGUE


def _disagreeing(
    phrase: str | Callable[[date], str], meant: Callable[[date], date | None]
) -> list[tuple[str, date, date | None, date | None]]:
    """Days on which a phrase is read as another day than meant; an open one is no disagreement
    as long as it is asked."""
    out = []
    for today in _DAYS:
        said = phrase if isinstance(phrase, str) else phrase(today)
        got, is_open = _read(said, today)
        if got != meant(today) and not is_open:
            out.append((said, today, got, meant(today)))
    return out


@pytest.mark.parametrize(
    ("phrase", "delta"),
    [
        ("today", relativedelta()),
        ("this morning", relativedelta()),
        ("this afternoon", relativedelta()),
        ("yesterday", relativedelta(days=-1)),
        ("last night", relativedelta(days=-1)),
        ("the day before yesterday", relativedelta(days=-2)),
        ("day before yesterday", relativedelta(days=-2)),
        ("tomorrow", relativedelta(days=+1)),
        ("a day ago", relativedelta(days=-1)),
        ("a week ago", relativedelta(weeks=-1)),
        ("2 weeks ago", relativedelta(weeks=-2)),
        ("three weeks ago", relativedelta(weeks=-3)),
    ],
)
def test_relative_days(phrase: str, delta: relativedelta) -> None:
    assert _disagreeing(phrase, lambda today: today + delta) == []


@pytest.mark.parametrize(("word", "number"), _NUMBERS.items())
def test_days_ago(word: str, number: int) -> None:
    assert _disagreeing(f"{word} days ago", lambda t: t + relativedelta(days=-number)) == []


@pytest.mark.parametrize("name", [*_WEEKDAYS, *_SHORT])
def test_a_weekday_is_the_last_one_that_is_not_ahead(name: str) -> None:
    day = {**_WEEKDAYS, **_SHORT}[name]
    for phrase in (name, f"on {name}", f"this {name}"):
        assert _disagreeing(phrase, lambda today: today + relativedelta(weekday=day(-1))) == []


@pytest.mark.parametrize("name", [*_WEEKDAYS, *_SHORT])
def test_last_weekday_is_before_today(name: str) -> None:
    """dateutil's FR(-1) may be today, so a day is taken off first."""
    day = {**_WEEKDAYS, **_SHORT}[name]
    for phrase in (f"last {name}", f"on last {name}", f"past {name}", f"this past {name}"):
        assert _disagreeing(phrase, relativedelta(days=-1, weekday=day(-1)).__radd__) == []


@pytest.mark.parametrize("name", [*_WEEKDAYS, *_SHORT])
def test_next_weekday_is_after_today(name: str) -> None:
    """Of the same week nobody calls tomorrow "next tuesday": that is the one a week later."""
    coming = relativedelta(days=+1, weekday={**_WEEKDAYS, **_SHORT}[name](+1))

    def following(today: date) -> date:
        day = today + coming
        is_tomorrow = (day - today).days == 1 and day.isocalendar()[:2] == today.isocalendar()[:2]
        return day + relativedelta(weeks=+1) if is_tomorrow else day

    for phrase in (f"next {name}", f"on next {name}"):
        assert _disagreeing(phrase, following) == []
    assert _disagreeing(f"this coming {name}", coming.__radd__) == []


def _nearest(today: date, days: list[date]) -> date:
    return min(days, key=lambda day: abs((day - today).days))


def _dates_near(today: date, month: int, day: int) -> list[date]:
    """That day of the year in the years around, by relativedelta."""
    here = date(today.year, month, day)
    return [here + relativedelta(years=n) for n in (-1, 0, 1)]


@pytest.mark.parametrize(
    ("phrase", "month", "day"),
    [
        ("nov 23", 11, 23),
        ("november 23", 11, 23),
        ("november 23rd", 11, 23),
        ("nov 23rd", 11, 23),
        ("23 nov", 11, 23),
        ("11/23", 11, 23),
        ("sept 3", 9, 3),
        ("jan 7", 1, 7),
        ("february 1", 2, 1),
        ("1/7", 1, 7),
        ("dec 18", 12, 18),
        ("6/2", 6, 2),
    ],
)
def test_a_month_and_day_is_the_nearest_one(phrase: str, month: int, day: int) -> None:
    """Months before days, as the United States write dates; nearest: the project's own rule."""
    meant = _disagreeing(phrase, lambda t: _nearest(t, _dates_near(t, month, day)))
    assert meant == []


@pytest.mark.parametrize("phrase", ["23rd of november", "the 23rd of november"])
def test_a_month_behind_of_is_read(phrase: str) -> None:
    assert _disagreeing(phrase, lambda t: _nearest(t, _dates_near(t, 11, 23))) == []


@pytest.mark.parametrize(
    ("phrase", "meant"),
    [
        ("11/23/26", date(2026, 11, 23)),
        ("11/23/2026", date(2026, 11, 23)),
        ("2026-11-23", date(2026, 11, 23)),
        ("1/7/27", date(2027, 1, 7)),
        ("2027-02-28", date(2027, 2, 28)),
    ],
)
def test_a_date_with_its_year_is_that_date(phrase: str, meant: date) -> None:
    assert _disagreeing(phrase, lambda today: meant) == []


@pytest.mark.parametrize("number", range(1, 32))
def test_the_nth_is_the_nearest_day_of_that_number(number: int) -> None:
    """Months added by relativedelta, those without such a day left out; where two are as near, the
    one of this month."""
    suffix = {1: "st", 2: "nd", 3: "rd"}.get(number % 10 if number not in (11, 12, 13) else 0, "th")

    def meant(today: date) -> date:
        firsts = [today.replace(day=1) + relativedelta(months=n) for n in (0, -1, 1)]
        days = [first + relativedelta(day=number) for first in firsts]
        return _nearest(today, [day for day in days if day.day == number])

    assert _disagreeing(f"on the {number}{suffix}", meant) == []


@pytest.mark.parametrize("phrase", ["2/30", "13/13", "11/31/26", "2026-02-29"])
def test_a_date_that_is_none_is_left_open(phrase: str) -> None:
    assert _read(phrase, date(2026, 11, 24)) == (None, True)


@pytest.mark.parametrize(
    ("phrase", "month_day"),
    [
        ("last Friday", (10, 9)), ("Friday", (10, 9)), ("fri", (10, 9)), ("last fri", (10, 9)),
        ("yesterday", (10, 13)), ("today", (10, 14)), ("this morning", (10, 14)),
        ("monday", (10, 12)), ("on Tuesday", (10, 13)), ("tues", (10, 13)),
        ("2 days ago", (10, 12)), ("day before yesterday", (10, 12)), ("a week ago", (10, 7)),
        ("10/9", (10, 9)), ("Oct 9", (10, 9)), ("tomorrow", (10, 15)), ("next Monday", (10, 19)),
    ],
)  # fmt: skip
def test_phrases_dateparser_reads_too(phrase: str, month_day: tuple[int, int]) -> None:
    """Sent on Wednesday 2026-10-14; dateparser 1.5.0, PREFER_DATES_FROM past."""
    assert _read(phrase, date(2026, 10, 14)) == (date(2026, *month_day), False)


def test_last_week_is_asked_where_dateparser_guesses() -> None:
    """dateparser 1.5.0 takes "last week" for seven days ago; a log must not."""
    assert _read("last week", date(2026, 10, 14)) == (None, True)


@pytest.mark.parametrize(("phrase", "is_open"), [("last friday", False), ("friday", True)])
def test_friday_sent_on_a_friday(phrase: str, is_open: bool) -> None:
    """dateparser 1.5.0, sent on Friday 2026-10-16: both are 10-09; a bare "friday" is asked."""
    got, asks = _read(phrase, date(2026, 10, 16))
    assert asks is is_open
    assert got == (date(2026, 10, 16) if is_open else date(2026, 10, 9))
