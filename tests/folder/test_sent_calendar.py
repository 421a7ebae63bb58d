"""A calendar file as people send it: what lies ahead, what cannot be read, how long it takes."""

from __future__ import annotations

import time
from datetime import UTC, date, datetime, timedelta

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from bot.folder.repeating import comes_between
from bot.folder.sent_calendar import (
    DAYS_AHEAD,
    MOST_EVENTS,
    SentCalendar,
    calendar_at,
    is_calendar,
    read_sent_calendar,
)
from tests.calendars import ics

FIRST = date(2026, 11, 16)
LAST = FIRST + timedelta(DAYS_AHEAD)
NEVER = "DTSTART;VALUE=DATE:20261201|SUMMARY:Never|RRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30"
ONE = "DTSTART;VALUE=DATE:20261126|SUMMARY:Holiday"


def read(content: bytes) -> SentCalendar:
    return read_sent_calendar(content, FIRST)


def days(content: bytes) -> list[tuple[str, str]]:
    return [(event.starts.isoformat()[:10], event.summary) for event in read(content).events]


def test_what_lies_ahead_is_read_and_the_rest_counted() -> None:
    found = read(
        ics(
            ONE,
            "DTSTART;VALUE=DATE:20261115|SUMMARY:Over",
            "DTSTART;VALUE=DATE:20261114|DTEND;VALUE=DATE:20261118|SUMMARY:Goes on",
            "DTSTART;VALUE=DATE:20200101|RRULE:FREQ=YEARLY;UNTIL=20220101|SUMMARY:Long over",
            "DTSTART;VALUE=DATE:20290101|SUMMARY:Far off",
            "DTSTART;VALUE=DATE:20261127|STATUS:CANCELLED|SUMMARY:Called off",
        )
    )
    assert [event.summary for event in found.events] == ["Holiday", "Goes on"]
    assert (found.past, found.later, found.unread, found.trouble) == (2, 1, (), "")


def test_a_rule_without_an_end_is_worked_out_for_a_school_year() -> None:
    found = days(ics("DTSTART;VALUE=DATE:20200106|RRULE:FREQ=WEEKLY|SUMMARY:Monday"))
    assert found[0] == ("2026-11-16", "Monday")
    assert found[-1][0] == (LAST - timedelta(1)).isoformat()
    assert len(found) == 58


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_that_are_met(encoding: str) -> None:
    text = ics("DTSTART;VALUE=DATE:20261126|SUMMARY:Día de Acción de Gracias").decode()
    assert days(text.encode(encoding)) == [("2026-11-26", "Día de Acción de Gracias")]


def test_broken_events_are_told_by_line_and_the_others_stand() -> None:
    content = ics(
        "DTSTART;VALUE=DATE:soon|SUMMARY:a",
        "SUMMARY:no start",
        "DTSTART;VALUE=DATE:20261126|this is no line|SUMMARY:Good",
        "DTSTART;VALUE=DATE:20261201|RRULE:FREQ=HOURLY|SUMMARY:Once then",
    )
    found = read(content.replace(b"END:VCALENDAR", b"BEGIN:VEVENT\r\nSUMMARY:cut o"))
    assert [event.summary for event in found.events] == ["Good", "Once then"]
    assert found.unread == (3, 8, 21, 24)


def test_lines_that_do_not_tell_when_are_not_read() -> None:
    alarm = "BEGIN:VALARM|TRIGGER:-PT15M|DTSTART;VALUE=DATE:19990101|END:VALARM"
    assert days(ics(f"{ONE}|{alarm}|DESCRIPTION:{'x' * 9999}|X-WHAT;A=b:c")) == [
        ("2026-11-26", "Holiday")
    ]


@pytest.mark.parametrize(
    ("content", "trouble"),
    [
        (b"", "not_a_calendar"),
        (b"hello", "not_a_calendar"),
        (b"\x00\x01\x02\xff\xfe" * 1000, "not_a_calendar"),
        (bytes(range(256)), "not_a_calendar"),
        (b"BEGIN:VCALENDAR", "empty"),
        (ics(), "empty"),
        (ics(*[ONE] * (MOST_EVENTS + 1)), "too_many"),
        (b"BEGIN:VCALENDAR\n" + b"BEGIN:VEVENT\n" * (MOST_EVENTS + 1), "too_many"),
        (ics(*["DTSTART;VALUE=DATE:20200101|RRULE:FREQ=DAILY"] * 40), "too_many"),
    ],
)
def test_what_is_no_calendar_to_choose_from(content: bytes, trouble: str) -> None:
    assert read(content) == SentCalendar(trouble=trouble)


@pytest.mark.parametrize(
    ("name", "content", "expected"),
    [
        ("District.ICS", b"", True),
        ("x.ical", b"", True),
        ("x.txt", b"\xef\xbb\xbfBEGIN:VCALENDAR\r\n", True),
        ("x.txt", "BEGIN:VCALENDAR".encode("utf-16-le"), True),
        ("list.csv", b"name,group", False),
        ("ics", b"", False),
    ],
)
def test_what_is_meant_as_a_calendar(name: str, content: bytes, expected: bool) -> None:
    assert is_calendar(name, content) is expected


def test_it_may_still_be_yesterday_where_it_was_sent() -> None:
    late = datetime(2026, 11, 27, 2, 0, tzinfo=UTC)
    assert [event.summary for event in calendar_at(ics(ONE), late).events] == ["Holiday"]


ZONE = (
    "BEGIN:VTIMEZONE|TZID:x{}|BEGIN:STANDARD|DTSTART:19701101T020000|TZOFFSETFROM:-0400"
    "|TZOFFSETTO:-0500|RRULE:FREQ={};BYMONTH=2;BYMONTHDAY=30|END:STANDARD|END:VTIMEZONE"
)


def in_zones(count: int, frequency: str) -> bytes:
    zones = "|".join(ZONE.format(n, frequency) for n in range(count)).replace("|", "\r\n")
    event = "DTSTART;TZID=x0:20261126T100000|DURATION:PT1H|SUMMARY:Holiday"
    return ics(event).replace(b"BEGIN:VEVENT", f"{zones}\r\nBEGIN:VEVENT".encode(), 1)


COSTLY = {
    "a rule that never comes": ics(NEVER),
    "many that never come": ics(*[NEVER] * 100),
    "since the year 1583": ics(*["DTSTART;VALUE=DATE:15830101|RRULE:FREQ=DAILY"] * 100),
    "many times a day": ics(
        *["DTSTART:15830101T080000|RRULE:FREQ=DAILY;BYHOUR=1,2,3,4;BYMINUTE=1,2,3,4"] * 10
    ),
    "2,000 events with long texts": ics(*[f"{ONE}|DESCRIPTION:{'y' * 1500}"] * 2000),
    "21,000 events gone by": ics(*["DTSTART;VALUE=DATE:20201201|SUMMARY:x"] * 21_000),
    "a million days in one": ics(f"{ONE}|RDATE;VALUE=DATE:{'20261202,' * 500_000}"),
    "events that never end": b"BEGIN:VCALENDAR\n" + b"BEGIN:VEVENT\n" * 380_000,
    "nothing but line ends": b"BEGIN:VCALENDAR\n" + b"\n" * 4_900_000,
    "zones that never come": in_zones(400, "DAILY"),
    "one zone that never comes": in_zones(1, "YEARLY"),
}


@pytest.mark.parametrize("name", COSTLY)
def test_no_file_takes_long(name: str) -> None:
    """A second at worst where nobody else is at work; the limit leaves room for a busy machine."""
    began = time.process_time()
    read(COSTLY[name])
    assert time.process_time() - began < 3.0


def test_a_rule_that_never_comes_leaves_time_for_the_others() -> None:
    weekly = "DTSTART;VALUE=DATE:20261116|RRULE:FREQ=WEEKLY"
    found = read(ics(NEVER, *[weekly] * 20))
    assert (len(found.events), found.trouble) == (1 + 20 * 58, "")


@pytest.mark.parametrize(("frequency", "hours"), [("YEARLY", -5.0), ("DAILY", None)])
def test_a_time_zone_of_the_file_counts_where_its_clocks_change_by_the_year(
    frequency: str, hours: float | None
) -> None:
    content = in_zones(1, frequency).replace(b"BYMONTH=2;BYMONTHDAY=30", b"BYMONTH=11;BYDAY=1SU")
    [event] = read(content).events
    assert isinstance(event.starts, datetime)
    offset = event.starts.utcoffset()
    assert (offset.total_seconds() / 3600 if offset is not None else None) == hours


def test_time_zones_of_one_name_in_two_files_are_two() -> None:
    east = in_zones(1, "YEARLY").replace(b"BYMONTH=2;BYMONTHDAY=30", b"BYMONTH=11;BYDAY=1SU")
    west = east.replace(b"TO:-0500", b"TO:-0800")
    offsets = []
    for content in (east, west):
        [event] = read(content).events
        assert isinstance(event.starts, datetime)
        offsets.append(event.starts.utcoffset())
    assert offsets == [timedelta(hours=-5), timedelta(hours=-8)]


RULES = st.builds(
    lambda frequency, interval, parts: ";".join([f"FREQ={frequency};INTERVAL={interval}", *parts]),
    st.sampled_from(("DAILY", "WEEKLY", "MONTHLY", "YEARLY")),
    st.integers(1, 5),
    st.lists(
        st.sampled_from(
            ("BYMONTH=2", "BYMONTHDAY=29", "BYDAY=MO", "BYMONTHDAY=-1", "BYMONTH=11,12", "COUNT=9")
        ),
        max_size=2,
        unique_by=lambda part: part.partition("=")[0],
    ),
)


@given(rule=RULES, starts=st.dates(date(1990, 1, 1), date(2027, 6, 1)))
def test_a_rule_comes_where_its_reader_says_it_does(rule: str, starts: date) -> None:
    """Against the reader itself on the days as they are, which takes longer where nothing comes."""
    begins = datetime.combine(starts, datetime.min.time())
    first, last = datetime(2026, 11, 16), datetime(2027, 12, 21)
    bounded = rrulestr(rule, dtstart=begins, ignoretz=True)
    margin = timedelta(2)
    expected = any(bounded.between(first - margin, last + margin, inc=True))
    assert comes_between(rule, starts, first.date(), last.date()) is expected


def test_a_rule_that_never_comes() -> None:
    rules = ["FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;INTERVAL=7;BYDAY=MO"]
    rules.append("FREQ=YEARLY;INTERVAL=2;BYMONTH=2;BYMONTHDAY=29")
    for rule in rules:
        assert not comes_between(rule, date(2025, 2, 4), FIRST, date(2040, 1, 1))
    assert comes_between("FREQ=YEARLY", date(2000, 2, 29), date(2028, 1, 1), date(2028, 3, 1))
    assert not comes_between("FREQ=DAILY", date(2030, 1, 1), FIRST, LAST)
