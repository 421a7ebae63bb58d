"""Calendars from outside: the examples of RFC 5545 and a year of public holidays."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from bot.folder.calendar import CalendarDays, read_calendar
from bot.requests import SentFile
from tests.calendars import calendar_of, federal_holidays
from tests.classroom_fixture import TODAY, Classroom

MONTREAL = ZoneInfo("America/Toronto")

# RFC 5545, section 3.6.1: "multi-day event scheduled from June 28th, 2007 to July 8th, 2007
# inclusively. Note that the DTEND property is set to July 9th, 2007, since the DTEND property
# specifies the non-inclusive end".
FESTIVAL = """BEGIN:VCALENDAR
BEGIN:VEVENT
UID:20070423T123432Z-541111@example.com
DTSTAMP:20070423T123432Z
DTSTART;VALUE=DATE:20070628
DTEND;VALUE=DATE:20070709
SUMMARY:Festival International de Jazz de Montreal
TRANSP:TRANSPARENT
END:VEVENT
END:VCALENDAR
"""

# RFC 5545, section 3.6.1: an annual event that lasts its one day, as it has no DTEND.
ANNIVERSARY = """BEGIN:VCALENDAR
BEGIN:VEVENT
UID:19970901T130000Z-123403@example.com
DTSTAMP:19970901T130000Z
DTSTART;VALUE=DATE:19971102
SUMMARY:Our Blissful Anniversary
TRANSP:TRANSPARENT
CLASS:CONFIDENTIAL
CATEGORIES:ANNIVERSARY,PERSONAL,SPECIAL OCCASION
RRULE:FREQ=YEARLY
END:VEVENT
END:VCALENDAR
"""


def read(text: str | bytes, *around: date) -> CalendarDays:
    """The calendar's days around some of the class's."""
    content = text.encode() if isinstance(text, str) else text
    return read_calendar(content, file="calendar.ics", zone=MONTREAL, around=around)


def test_end_is_not_included() -> None:
    """RFC 5545, 3.6.1: 28 June to 8 July 2007, 11 days."""
    days = [closure.day for closure in read(FESTIVAL, date(2007, 6, 1)).closures]
    assert days == [date(2007, 6, 28) + timedelta(step) for step in range(11)]
    assert days[-1] == date(2007, 7, 8)


def test_without_end_one_day_each_year() -> None:
    """RFC 5545, 3.6.1: one day, each year within reach of the class's days."""
    found = read(ANNIVERSARY, date(2026, 9, 1), date(2027, 6, 1))
    assert [closure.day for closure in found.closures] == [
        *(date(2025, 11, 2), date(2026, 11, 2), date(2027, 11, 2))
    ]


def test_school_year_of_federal_holidays() -> None:
    """`holidays` 0.109, United States; Saturday -> Friday, Sunday -> Monday as in 5 U.S.C. 6103."""
    term = federal_holidays(date(2026, 9, 1), date(2027, 6, 30))
    found = read(calendar_of(term), date(2026, 11, 24))
    assert {closure.day: closure.summary for closure in found.closures} == term
    assert [closure.day for closure in found.closures] == [
        date(2026, 9, 7),  # Labor Day
        date(2026, 10, 12),  # Columbus Day
        date(2026, 11, 11),  # Veterans Day
        date(2026, 11, 26),  # Thanksgiving
        date(2026, 12, 25),  # Christmas Day
        date(2027, 1, 1),  # New Year's Day
        date(2027, 1, 18),  # Martin Luther King Jr. Day
        date(2027, 2, 15),  # Washington's Birthday
        date(2027, 5, 31),  # Memorial Day
        date(2027, 6, 18),  # Juneteenth, observed
        date(2027, 6, 19),  # Juneteenth
    ]


def test_the_same_holidays_sent_to_the_chat_close_school_once_confirmed(
    classroom: Classroom,
) -> None:
    """`holidays` 0.109: those on weekdays to come, each a day without school."""
    term = federal_holidays(date(2026, 9, 1), date(2027, 6, 30))
    classroom.say("", file=SentFile("us.ics", calendar_of(term)))
    answer = classroom.say("all")
    ahead = [day for day in sorted(term) if day > TODAY and day.weekday() < 5]
    assert answer.result["changes"] == [
        {"what": "no_school", "day": day.isoformat()} for day in ahead
    ]
    reasons = {c.day: c.reason for c in classroom.roster().closures if c.day > TODAY}
    assert reasons == {day: term[day] for day in ahead}
    assert len(ahead) == 7
