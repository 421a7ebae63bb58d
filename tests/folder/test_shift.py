"""A folder moved by whole weeks."""

from collections.abc import Callable, Mapping
from datetime import date, time

import pytest

from bot.folder import ClassFolder, shift_weeks, weeks_to_middle

Clean = Callable[[Mapping[str, str | bytes]], ClassFolder]

BINS = (
    "bin,color,opens,closes\nRamps,red,2026-11-02,2026-11-22\nPatterns,blue,2026-09-08,\nGears,,,\n"
)
FILES = {
    "students.csv": "name,joined,left\nAva R.,2026-11-02,\nBen T.,,2026-12-18\n",
    "bins.csv": BINS,
    "supplies.csv": "bin,item,on_hand,counted_on\nRamps,cars,8,2026-11-13\nGears,wheels,,\n",
    "away.csv": "student,from,to,weekday\nAva R.,2026-11-02,2026-11-03,\nBen T.,,,Tue\n",
    "units.csv": "unit,from,to\nForces,2026-11-02,\n",
    "visits.csv": "student,bin,day\nAva R.,Ramps,2026-11-12\nAva R.,Ramps,2026-11-13\n",
    "calendar.ics": "BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:1\nDTSTART;VALUE=DATE:20261126\n"
    "END:VEVENT\nBEGIN:VEVENT\nUID:2\nDTSTART:20261118T101500\nDTEND:20261118T103500\n"
    "END:VEVENT\nEND:VCALENDAR\n",
}


def test_every_day_moves(clean: Clean) -> None:
    """Two weeks on, everywhere that holds a day; times and open ends stay."""
    moved = shift_weeks(clean(FILES), 2)
    assert [(one.joined, one.left) for one in moved.students] == [
        (date(2026, 11, 16), None),
        (None, date(2027, 1, 1)),
    ]
    assert [(one.opens, one.closes, one.last_day) for one in moved.bins] == [
        (date(2026, 11, 16), date(2026, 12, 6), date(2026, 12, 4)),
        (date(2026, 9, 22), None, None),
        (None, None, None),
    ]
    assert [one.counted_on for one in moved.supplies] == [date(2026, 11, 27), None]
    assert [(one.from_day, one.to_day) for one in moved.aways] == [
        (date(2026, 11, 16), date(2026, 11, 17)),
        (None, None),
    ]
    assert [(one.from_day, one.to_day) for one in moved.units] == [(date(2026, 11, 16), None)]
    assert [one.day for one in moved.visits] == [date(2026, 11, 26), date(2026, 11, 27)]
    assert [one.day for one in moved.closures] == [date(2026, 12, 10)]
    assert [(one.day, one.starts) for one in moved.blocks] == [(date(2026, 12, 2), time(10, 15))]


def test_there_and_back(clean: Clean) -> None:
    """A move and its opposite leave the folder as it was; so does none."""
    folder = clean(FILES)
    assert shift_weeks(shift_weeks(folder, 7), -7) == folder
    assert shift_weeks(folder, 0) == folder


def test_too_far(clean: Clean) -> None:
    """Past the year 9999."""
    with pytest.raises(OverflowError):
        shift_weeks(clean(FILES), 1_000_000)


@pytest.mark.parametrize(
    ("today", "weeks"),
    [
        (date(2026, 11, 13), -1),
        (date(2026, 11, 14), 0),
        (date(2026, 11, 20), 0),
        (date(2026, 11, 21), 1),
        (date(2027, 11, 20), 53),
    ],
)
def test_history_ends_in_the_week_before_today(clean: Clean, today: date, weeks: int) -> None:
    """The last visit, on a Friday, comes to lie 1 to 7 days back."""
    folder = clean(FILES)
    assert weeks_to_middle(folder, today) == weeks
    last = max(visit.day for visit in shift_weeks(folder, weeks).visits)
    assert 1 <= (today - last).days <= 7


def test_middle_without_history(clean: Clean) -> None:
    """Half way from the first opening to the last closing day; nothing to move without days."""
    # 8 September to 22 November: the middle is 15 October.
    assert weeks_to_middle(clean({"bins.csv": BINS}), date(2026, 10, 23)) == 1
    assert weeks_to_middle(clean({"bins.csv": "bin\nGears\n"}), date(2026, 10, 23)) == 0
