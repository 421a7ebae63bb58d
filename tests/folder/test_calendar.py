"""calendar.ics: what closes school, what takes a part of a day, what is left out."""

from datetime import date, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.folder.calendar import CalendarDays, read_calendar
from bot.folder.problems import Kind

CHICAGO = ZoneInfo("America/Chicago")
TERM = (date(2026, 11, 2), date(2026, 11, 27))


def read(*events: str, around: tuple[date, ...] = TERM) -> CalendarDays:
    """A calendar of these events, each written as lines joined by `|`."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0"]
    for number, event in enumerate(events):
        own = event.split("|")
        uid = [] if any(line.startswith("UID") for line in own) else [f"UID:{number}"]
        lines += ["BEGIN:VEVENT", *uid, *own, "END:VEVENT"]
    content = "\r\n".join((*lines, "END:VCALENDAR", "")).encode()
    return read_calendar(content, file="calendar.ics", zone=CHICAGO, around=around)


def closed(found: CalendarDays) -> list[tuple[str, str]]:
    """Day and summary of each closure."""
    assert found.problems == ()
    return [(closure.day.isoformat(), closure.summary) for closure in found.closures]


def taken(found: CalendarDays) -> list[tuple[str, time, time]]:
    """Day, start and end of each block."""
    assert found.problems == ()
    return [(block.day.isoformat(), block.starts, block.ends) for block in found.blocks]


def test_all_day_events() -> None:
    """One day without an end; the end is exclusive; a duration; an end on the first day."""
    found = read(
        "DTSTART;VALUE=DATE:20261111|SUMMARY:A",
        "DTSTART;VALUE=DATE:20261126|DTEND;VALUE=DATE:20261128|SUMMARY:B",
        "DTSTART;VALUE=DATE:20261203|DURATION:P2D|SUMMARY:C",
        "DTSTART;VALUE=DATE:20261207|DTEND;VALUE=DATE:20261207|SUMMARY:D",
    )
    assert closed(found) == [
        ("2026-11-11", "A"),
        ("2026-11-26", "B"),
        ("2026-11-27", "B"),
        ("2026-12-03", "C"),
        ("2026-12-04", "C"),
        ("2026-12-07", "D"),
    ]
    assert [closure.place.line for closure in found.closures] == [3, 8, 8, 14, 14, 20]


def test_repeating_without_end_stays_within_the_window() -> None:
    """400 days around the days spoken of, whether or not the rule ends."""
    found = read("DTSTART;VALUE=DATE:19700101|RRULE:FREQ=DAILY")
    days = [closure.day for closure in found.closures]
    assert days[0] == TERM[0] - timedelta(400)
    assert days[-1] == TERM[1] + timedelta(399)
    assert len(days) == 825


def test_repeating_with_exceptions() -> None:
    """A day left out, a day moved, a day called off."""
    found = read(
        "UID:x|DTSTART;VALUE=DATE:20261102|RRULE:FREQ=WEEKLY;COUNT=5|EXDATE;VALUE=DATE:20261109",
        "UID:x|RECURRENCE-ID;VALUE=DATE:20261116|DTSTART;VALUE=DATE:20261117",
        "UID:x|RECURRENCE-ID;VALUE=DATE:20261123|DTSTART;VALUE=DATE:20261123|STATUS:CANCELLED",
    )
    assert [day for day, _ in closed(found)] == ["2026-11-02", "2026-11-17", "2026-11-30"]


def test_cancelled_events_count_for_nothing() -> None:
    """Neither a single one nor a series."""
    found = read(
        "DTSTART;VALUE=DATE:20261111|STATUS:CANCELLED",
        "DTSTART;VALUE=DATE:20261112|STATUS:cancelled|RRULE:FREQ=WEEKLY",
    )
    assert found == CalendarDays()


def test_blocks_are_in_the_zone_of_the_class() -> None:
    """UTC and New York become Chicago; a floating time stays; the clock change is kept."""
    found = read(
        "DTSTART:20261119T164000Z|DTEND:20261119T171000Z",
        "DTSTART;TZID=America/New_York:20261120T100000|DURATION:PT30M",
        "DTSTART:20261123T101500|DTEND:20261123T103500",
        "DTSTART;TZID=America/Chicago:20261028T131500|DTEND;TZID=America/Chicago:20261028T151500"
        "|RRULE:FREQ=WEEKLY;COUNT=2",
        "DTSTART:20261124T090000",
    )
    assert taken(found) == [
        ("2026-10-28", time(13, 15), time(15, 15)),
        ("2026-11-04", time(13, 15), time(15, 15)),
        ("2026-11-19", time(10, 40), time(11, 10)),
        ("2026-11-20", time(9, 0), time(9, 30)),
        ("2026-11-23", time(10, 15), time(10, 35)),
    ]


def test_block_over_midnight_is_one_a_day() -> None:
    """A trip with a night in it."""
    found = read("DTSTART:20261119T140000|DTEND:20261121T090000")
    assert taken(found) == [
        ("2026-11-19", time(14, 0), time(23, 59)),
        ("2026-11-20", time(0, 0), time(23, 59)),
        ("2026-11-21", time(0, 0), time(9, 0)),
    ]


@pytest.mark.parametrize(
    "rule", ["FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=MONTHLY;BYDAY=MO;BYSETPOS=6"]
)
def test_rule_that_never_comes_does_not_hang(rule: str) -> None:
    """Its own first day is all there is."""
    found = read(f"DTSTART;VALUE=DATE:20261111|RRULE:{rule}")
    assert closed(found) == [("2026-11-11", "")]


@pytest.mark.parametrize(
    ("event", "kind", "column"),
    [
        (
            "DTSTART;VALUE=DATE:20261111|RRULE:FREQ=YEARLY;BYDAY=99MO",
            Kind.EVENT_UNREADABLE,
            "RRULE",
        ),
        ("DTSTART;VALUE=DATE:20261111|RRULE:INTERVAL=2", Kind.EVENT_UNREADABLE, "RRULE"),
        ("DTSTART;VALUE=DATE:00010101", Kind.EVENT_UNREADABLE, "DTSTART"),
        ("DTSTART;VALUE=DATE:20261111|DURATION:x", Kind.EVENT_UNREADABLE, "DURATION"),
        ("DTSTART;VALUE=PERIOD:20261111T000000Z/PT1H", Kind.EVENT_UNREADABLE, "DTSTART"),
        ("DTSTART;VALUE=DATE:20261111|DTEND;VALUE=TIME:101500", Kind.EVENT_UNREADABLE, "DTEND"),
        ("SUMMARY:x", Kind.EVENT_UNREADABLE, "DTSTART"),
        ("DTSTART;VALUE=DATE:20261111|DTEND:soon", Kind.EVENT_UNREADABLE, "DTEND"),
    ],
)
def test_events_refused(event: str, kind: Kind, column: str) -> None:
    """With their line and the property at fault."""
    (problem,) = read(event).problems
    assert (problem.kind, problem.line, problem.column) == (kind, 3, column)


@pytest.mark.parametrize(
    ("rule", "kind"),
    [
        ("FREQ=DAILY;INTERVAL=0", Kind.EVENT_UNREADABLE),
        ("FREQ=DAILY;INTERVAL=-1", Kind.EVENT_UNREADABLE),
        ("interval = 00 ;freq=daily", Kind.EVENT_UNREADABLE),
        ("FREQ=MINUTELY", Kind.REPEATS_TOO_OFTEN),
        ("freq=secondly", Kind.REPEATS_TOO_OFTEN),
        ("FREQ=SOMETIMES", Kind.REPEATS_TOO_OFTEN),
        ("FREQ=DAILY;BYMINUTE=0,1,2,3,4", Kind.REPEATS_TOO_OFTEN),
        ("FREQ=DAILY;INTER\r\n VAL=0", Kind.EVENT_UNREADABLE),
    ],
)
@pytest.mark.parametrize("place", ["event", "zone"])
def test_rules_that_would_never_be_worked_out(rule: str, kind: Kind, place: str) -> None:
    """Refused with the line of the rule, in events and in time zones; the other events are read."""
    if place == "event":
        found = read(f"DTSTART;VALUE=DATE:20261111|RRULE:{rule}", "DTSTART;VALUE=DATE:20261126")
        line, days = 6, [date(2026, 11, 11), date(2026, 11, 26)]
    else:
        found = read(
            "DTSTART;VALUE=DATE:20261126|END:VEVENT|BEGIN:VTIMEZONE|TZID:x|BEGIN:STANDARD"
            f"|DTSTART:19701101T020000|TZOFFSETFROM:-0400|TZOFFSETTO:-0500|RRULE:{rule}"
            "|END:STANDARD|END:VTIMEZONE|BEGIN:VEVENT|DTSTART;TZID=x:20261127T100000"
        )
        line, days = 13, [date(2026, 11, 26)]
    assert [(one.kind, one.line, one.column) for one in found.problems] == [(kind, line, "RRULE")]
    assert [closure.day for closure in found.closures] == days


def test_too_many_events() -> None:
    """A calendar that was never meant for one class."""
    found = read(*["DTSTART;VALUE=DATE:20261111"] * 20_001)
    assert [problem.kind for problem in found.problems] == [Kind.TOO_MANY_EVENTS]


def test_too_many_days_from_few_events() -> None:
    """Thirty series of every day."""
    found = read(*(f"DTSTART;VALUE=DATE:20251111|RRULE:FREQ=DAILY|SUMMARY:{n}" for n in range(30)))
    assert [problem.kind for problem in found.problems] == [Kind.TOO_MANY_EVENTS]


def test_expansion_gives_up_after_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rules that never come take seconds each; past the limit the calendar is refused."""
    monkeypatch.setattr("bot.folder.calendar.MOST_SECONDS", -1.0)
    found = read("DTSTART;VALUE=DATE:20261111|RRULE:FREQ=YEARLY")
    assert [(one.kind, one.line) for one in found.problems] == [(Kind.TOO_MANY_EVENTS, 3)]


def test_not_utf8() -> None:
    """With the line and the byte."""
    content = b"BEGIN:VCALENDAR\r\nX:\xe9\r\nEND:VCALENDAR\r\n"
    found = read_calendar(content, file="calendar.ics", zone=CHICAGO, around=TERM)
    assert [(one.kind, one.line, one.found) for one in found.problems] == [
        (Kind.NOT_UTF8, 2, "0xe9")
    ]


def test_broken_lines() -> None:
    """A calendar in name only."""
    content = b"BEGIN:VCALENDAR\r\nhello\r\nEND:VCALENDAR\r\nEND:VCALENDAR\r\n"
    found = read_calendar(content, file="calendar.ics", zone=CHICAGO, around=TERM)
    assert [one.kind for one in found.problems] == [Kind.NOT_A_CALENDAR]


def test_calendar_without_days_to_look_around() -> None:
    """A roster and a calendar alone: around the calendar's own days."""
    found = read("DTSTART;VALUE=DATE:20270115|RRULE:FREQ=YEARLY;COUNT=5", around=())
    assert [day for day, _ in closed(found)] == ["2027-01-15", "2028-01-15"]
