"""The digest against the clocks of the world and a year of public holidays.

Zones and their changes: the IANA Time Zone Database, through `zoneinfo` (the system's copy or
`tzdata`). Holidays: `holidays`, United States.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import holidays
import pytest

from bot.classroom.days import is_school_day
from bot.nudges.kinds import KINDS
from bot.nudges.times import digest_due
from storage.records import Class, Closure, Roster, Rotation

FIRST, LAST = date(2026, 1, 1), date(2035, 12, 31)
ZONES = (
    "America/New_York",
    "America/Phoenix",  # no daylight saving
    "Europe/London",
    "Australia/Lord_Howe",  # its clock moves by half an hour
    "America/Santiago",  # its clock moves at midnight
    "Pacific/Auckland",  # daylight saving over New Year
)
TIMES = (time(7, 15), time(0, 30), time(1, 30), time(2, 15), time(2, 30), time(3, 0))


def a_class(zone: str, digest_at: time, closures: tuple[Closure, ...] = ()) -> Roster:
    """A class that meets every day of the week, so that clock changes on Sundays count."""
    class_ = Class(
        id=1,
        name="Alder room",
        time_zone=zone,
        digest_at=digest_at,
        quiet_before=time(0),
        quiet_after=time(23, 59),
        school_days=(0, 1, 2, 3, 4, 5, 6),
        absence_rate=0.06,
        keep_groups="mostly",
        version=1,
    )
    rotations = tuple(Rotation(day + 1, day, time(10, 15), 20) for day in range(7))
    return Roster(class_=class_, rotations=rotations, closures=closures)


def all_days() -> Iterator[date]:
    """Ten years of days."""
    return (FIRST + timedelta(days=n) for n in range((LAST - FIRST).days + 1))


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("at", TIMES, ids=str)
def test_one_digest_each_day_at_the_local_time_set(zone: str, at: time) -> None:
    """Where the local time is skipped it comes as much later as the clock jumps."""
    roster, shifted = a_class(zone, at), 0
    moments = []
    for day in all_days():
        due = digest_due(roster, day)
        assert due is not None
        local = due[0].astimezone(ZoneInfo(zone))
        moments.append(due[0])
        assert local.date() == day
        if local.time() != at:
            jump = datetime.combine(day, local.time()) - datetime.combine(day, at)
            assert jump in (timedelta(minutes=30), timedelta(hours=1))
            assert not _exists(day, at, zone)
            shifted += 1
        else:
            assert local.fold == 0  # the first of two
    assert moments == sorted(set(moments))
    assert len(moments) == 3652
    assert shifted == sum(not _exists(day, at, zone) for day in all_days())


def _exists(day: date, at: time, zone: str) -> bool:
    """Whether a local time is on the clock that day: it survives the way to UTC and back."""
    local = datetime.combine(day, at, tzinfo=ZoneInfo(zone))
    return local.astimezone(UTC).astimezone(ZoneInfo(zone)).replace(tzinfo=None) == (
        local.replace(tzinfo=None)
    )


def test_the_times_chosen_do_meet_clock_changes() -> None:
    """The database has one gap a year at these times and places: the check above is not idle."""
    gaps = {
        (zone, at): sum(not _exists(day, at, zone) for day in all_days())
        for zone, at in (
            ("America/New_York", time(2, 30)),
            ("Europe/London", time(1, 30)),
            ("Australia/Lord_Howe", time(2, 15)),
            ("America/Santiago", time(0, 30)),
            ("America/Phoenix", time(2, 30)),
            ("America/New_York", time(7, 15)),
        )
    }
    assert list(gaps.values()) == [10, 10, 10, 10, 0, 0]


def test_nothing_is_due_on_federal_holidays() -> None:
    """`holidays`, United States, the school year 2026-27, as a calendar's all-day events."""
    year = holidays.country_holidays("US", years=(2026, 2027))
    days = [day for day in year if date(2026, 8, 1) <= day <= date(2027, 7, 31)]
    closures = tuple(Closure(n, day, year[day]) for n, day in enumerate(days, start=1))
    roster = a_class("America/Chicago", time(7), closures)
    span = [date(2026, 8, 1) + timedelta(days=n) for n in range(365)]
    silent = [d for d in span if all(kind.due(roster, d) is None for kind in KINDS)]
    assert silent == sorted(days)
    assert len(silent) >= 11
    assert [d for d in span if not is_school_day(roster, d)] == silent
