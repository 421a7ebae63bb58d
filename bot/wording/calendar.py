"""Words for a calendar file: what it would change, what to choose from, what it changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from bot.classroom.calendars import SchoolEvent
from bot.outcomes import CalendarRead, CalendarTaken, EventsOffered
from bot.requests import Option
from bot.wording.plans import moved_lines, unmet_lines
from bot.wording.voice import Reply, Voice, clock, counted, listed, sentence

_MOST_SHOWN = 12  # events in one screen, those that close school before those that do not
_MOST_LINES = 5  # line numbers told
_LONGEST_NAME = 60
_ROTATIONS_NAMED = 3
_YEAR = timedelta(days=330)

_TROUBLE = {
    "not_a_calendar": "That file is no calendar I can read, so nothing changed. It should be an "
    ".ics file, as calendar programs export it.",
    "empty": "There is no event in that calendar. Nothing changed.",
    "too_many": "There is more in that calendar than one class can need. Send one with fewer "
    "events. Nothing changed.",
    "too_big": "That file is too big for a calendar: I read up to 5 MB. Nothing changed.",
    "lost": "I could not fetch that file, so nothing changed. Please send it again.",
    "how": "Send me the calendar file (its name ends in .ics). I show which of its days would "
    "close school or take rotations away, and change nothing before you say so.",
}


def calendar_read(outcome: CalendarRead, voice: Voice, entry_id: int) -> Reply:
    """What of a calendar is news, by number, and what is not; then the question."""
    if outcome.trouble:
        return Reply(_TROUBLE[outcome.trouble])
    events = outcome.found.events
    lines = [_headline(outcome)]
    lines += _listing(events, range(1, len(events) + 1), outcome.today, voice)
    if outcome.found.known:
        lines.append(sentence(f"On record before: {_names(outcome.found.known, voice)}"))
    if events or outcome.found.idle or outcome.later:
        lines += _left_out(outcome)
    if outcome.unread:
        lines.append(_unread(outcome.unread))
    if len(events) > 1:
        lines.append("Which of them shall count? “all but 2” or a name will do as well.")
    elif events:
        lines.append("Shall it count?")
    return Reply("\n".join(lines), outcome.choices)


def _headline(outcome: CalendarRead) -> str:
    events = outcome.found.events
    closing = [event for event in events if event.closes]
    days = len({day for event in closing for day in event.days})
    taking = len(events) - len(closing)
    parts = []
    if closing:
        told = counted(len(closing), "event", "events")
        parts.append(f"{told} would close school ({counted(days, 'day', 'days')})")
    if taking:
        told = f"{taking} more" if closing else counted(taking, "event", "events")
        parts.append(f"{told} would take rotations away")
    if parts:
        return f"{listed(parts)}. Nothing has changed yet."
    if outcome.found.known:
        return "Nothing new in that calendar: what it says is on record."
    if outcome.unread and not (outcome.found.past or outcome.found.idle or outcome.later):
        return "I can read none of the events in that calendar. Nothing changed."
    if outcome.found.past and not (outcome.found.idle or outcome.later):
        return "All the events in that calendar are over. Nothing changed."
    return "No event to come in that calendar closes school or takes a rotation away."


def _listing(
    events: Sequence[SchoolEvent], numbers: Sequence[int], today: date, voice: Voice
) -> Iterator[str]:
    for number in numbers[:_MOST_SHOWN]:
        yield _line(number, events[number - 1], today, voice)
    if len(numbers) > _MOST_SHOWN:
        yield f"… and {len(numbers) - _MOST_SHOWN} more: “choose” shows them all."


def _line(number: int, event: SchoolEvent, today: date, voice: Voice) -> str:
    return f"{number}. {_name(event, voice)}, {_when(event, today)}"


def _name(event: SchoolEvent, voice: Voice) -> str:
    if not event.name or not voice.may_say(event.name):
        return "an event"
    cut = len(event.name) > _LONGEST_NAME
    return event.name[: _LONGEST_NAME - 1] + "…" if cut else event.name


def _when(event: SchoolEvent, today: date) -> str:
    """ "Mon 21 Dec to Fri 1 Jan", "10 days from Wed 2 Dec to ...", "Fri 4 Dec, 10:00 to 10:45: no
    rotation at 10:15"."""
    first, last = event.days[0], event.days[-1]
    told = _day(first, today)
    if len(event.days) == 2 and (last - first).days > 1:
        told = f"{told} and {_day(last, today)}"
    elif len(event.days) > 1:
        told = _stretch(first, last, today)
        if _is_scattered(event):
            told = f"{len(event.days)} days from {told}"
    if event.starts is None or event.ends is None:
        return told
    starts = [clock(at) for at in event.lost]
    lost = listed(starts) if len(starts) <= _ROTATIONS_NAMED else f"{starts[0]} and later"
    return f"{told}, {clock(event.starts)} to {clock(event.ends)}: no rotation at {lost}"


def _is_scattered(event: SchoolEvent) -> bool:
    """Whether there is more than a weekend or a few days on record between its days."""
    days = event.days
    gaps = [(after - before).days for before, after in pairwise(days)]
    return max(gaps) > 4


def _stretch(first: date, last: date, today: date) -> str:
    """ "Wed 25 to Fri 27 Nov"."""
    same_month = (first.year, first.month) == (last.year, last.month)
    begins = f"{first:%a} {first.day}" if same_month else _day(first, today)
    return f"{begins} to {_day(last, today)}"


def _day(day: date, today: date) -> str:
    """ "Fri 4 Dec", with the year where it is far off."""
    year = f" {day.year}" if day - today > _YEAR else ""
    return f"{day:%a} {day.day} {day:%b}{year}"


def _names(events: Sequence[SchoolEvent], voice: Voice) -> str:
    names = list(dict.fromkeys(_name(event, voice) for event in events))
    more = len(names) - _MOST_SHOWN
    if more > 0:
        return f"{', '.join(names[:_MOST_SHOWN])} and {more} more"
    return listed(names)


def _left_out(outcome: CalendarRead) -> list[str]:
    found = outcome.found
    told = [
        f"{counted(found.past, 'event', 'events')} over" if found.past else "",
        f"{found.idle} outside of school days and rotations" if found.idle else "",
        f"{outcome.later} more than a year ahead" if outcome.later else "",
    ]
    parts = [part for part in told if part]
    return [f"Not listed: {listed(parts)}."] if parts else []


def _unread(lines: Sequence[int]) -> str:
    named = [str(line) for line in lines[:_MOST_LINES]]
    more = len(lines) - len(named)
    told = f"{', '.join(named)} and {more} more" if more else listed(named)
    where = "line" if len(lines) == 1 else "lines"
    what = counted(len(lines), "event", "events")
    return f"{what} could not be read ({where} {told} of the file)."


def events_offered(outcome: EventsOffered, voice: Voice, entry_id: int) -> Reply:
    """The events by number with those chosen marked, and how to choose."""
    lines = []
    if outcome.strange:
        lines.append(f"I am not sure which event is meant by “{outcome.strange}”.")
    total = len(outcome.events)
    lines.append(f"{len(outcome.chosen)} of {total} chosen. Tap to change, or text the numbers.")
    for number in outcome.shown:
        mark = "☑" if number in outcome.chosen else "☐"
        lines.append(f"{mark} {_line(number, outcome.events[number - 1], outcome.today, voice)}")
    if len(outcome.shown) < total:
        lines.append(f"Shown: {outcome.shown[0]} to {outcome.shown[-1]} of {total}.")
    return Reply("\n".join(lines), outcome.choices)


def calendar_taken(outcome: CalendarTaken, voice: Voice, entry_id: int) -> Reply:
    """What is closed now, what is left out, and what that changes."""
    if outcome.trouble:
        return Reply(
            {
                "unknown": "I have no such calendar. Send the file again.",
                "none": "All right, nothing changed.",
                "known": "Nothing new: that is on record already.",
            }[outcome.trouble]
        )
    lines = [_noted(outcome)]
    shown = outcome.events[:_MOST_SHOWN]
    lines += [f"• {_name(event, voice)}, {_when(event, outcome.today)}" for event in shown]
    if len(outcome.events) > len(shown):
        lines.append(f"… and {len(outcome.events) - len(shown)} more.")
    if outcome.left_out:
        lines.append(sentence(f"Left out: {_names(outcome.left_out, voice)}"))
    if outcome.logged:
        turns = counted(outcome.logged, "turn", "turns")
        lines.append(f"{turns} on record today stay; text me if they did not take place.")
    lines += moved_lines(outcome.moved, voice)
    lines += unmet_lines(outcome.at_risk, (), outcome.today, voice)
    return Reply("\n".join(lines), (Option("Undo", f"undo {entry_id}"),))


def _noted(outcome: CalendarTaken) -> str:
    closed = len({day for event in outcome.events if event.closes for day in event.days})
    blocked = len({day for event in outcome.events if not event.closes for day in event.days})
    parts = [f"no school on {counted(closed, 'day', 'days')}"] if closed else []
    if blocked:
        parts.append(f"rotations lost on {counted(blocked, 'day', 'days')}")
    return f"Noted: {listed(parts)}."
