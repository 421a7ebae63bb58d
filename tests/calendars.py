"""Calendar files for tests: a few events as lines joined by `|`, and a school year of them."""

from __future__ import annotations

from datetime import date

import holidays
import icalendar

YEAR = (
    "DTSTART;VALUE=DATE:20261126|DTEND;VALUE=DATE:20261128|SUMMARY:Thanksgiving break",
    "DTSTART;VALUE=DATE:20261207|DTEND;VALUE=DATE:20261212|SUMMARY:Book fair",
    "DTSTART;VALUE=DATE:20261221|DTEND;VALUE=DATE:20270102|SUMMARY:Winter break",
    "DTSTART;TZID=America/Chicago:20261203T091500|DTEND;TZID=America/Chicago:20261203T093000"
    "|SUMMARY:Assembly",
)


def ics(*events: str) -> bytes:
    """A calendar of these events, as bytes."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0"]
    for number, event in enumerate(events):
        own = event.split("|")
        uid = [] if any(line.startswith("UID") for line in own) else [f"UID:{number}"]
        lines += ["BEGIN:VEVENT", *uid, *own, "END:VEVENT"]
    return "\r\n".join((*lines, "END:VCALENDAR", "")).encode()


def federal_holidays(first: date, last: date) -> dict[date, str]:
    """Public holidays of the United States between two days, by the package `holidays`."""
    year = holidays.country_holidays("US", years=range(first.year, last.year + 1))
    return {day: name for day, name in year.items() if first <= day <= last}


def calendar_of(days: dict[date, str]) -> bytes:
    """Days with their names as a calendar, one all-day event each."""
    whole = icalendar.Calendar()
    for day, name in days.items():
        event = icalendar.Event()
        event.add("UID", day.isoformat())
        event.add("DTSTART", day)
        event.add("SUMMARY", name)
        whole.add_component(event)
    return bytes(whole.to_ical())
