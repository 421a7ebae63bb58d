"""A calendar file that was sent: shown, chosen from, and taken only where that is confirmed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime

from bot.classroom.calendars import Found, Happening, SchoolEvent, event_of, find_events
from bot.classroom.days import is_school_day, rotations_on
from bot.folder.events import Event, blocks_of, closed_days
from bot.folder.sent_calendar import LARGEST, SentCalendar, calendar_at
from bot.outcomes import (
    ANSWERED,
    ASKED,
    DONE,
    REFUSED,
    CalendarRead,
    CalendarTaken,
    EventsOffered,
    Outcome,
)
from bot.requests import (
    AskCalendar,
    ChooseEvents,
    Frame,
    Option,
    ReadCalendar,
    Request,
    TakeCalendar,
)
from bot.skills.planning import replan_today
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.event_choices import EVENTS, full
from bot.understanding.reading import Listener

_MOST = 500  # events to choose from
_SHOWN = 20  # of them at once
_MOST_NAMED = 40
_LONGEST_LABEL = 34


def read_calendar(request: ReadCalendar, now: Situation) -> Outcome:
    """Tell what a calendar would change, and ask what of it is to count. Nothing changes yet."""
    file = request.file
    trouble = file.trouble or ("too_big" if len(file.content) > LARGEST else "")
    sent = SentCalendar() if trouble else calendar_at(file.content, now.at)
    trouble = trouble or sent.trouble
    if trouble:
        return CalendarRead(status=REFUSED, file=file.name, today=now.today, trouble=trouble)
    found = _found(sent, now)
    if len(found.events) > _MOST:
        return CalendarRead(status=REFUSED, file=file.name, today=now.today, trouble="too_many")
    told = {"file": file.name, "events": [event.as_fact() for event in found.events]}
    return CalendarRead(
        status=ASKED if found.events else ANSWERED,
        file=file.name,
        today=now.today,
        found=found,
        later=sent.later,
        unread=sent.unread,
        facts={"calendar": told},
        choices=_first_choices(now.entry_id, found) if found.events else (),
        frames=(_frame(now.entry_id, found.events),) if found.events else (),
    )


def _found(sent: SentCalendar, now: Situation) -> Found:
    found = find_events(_happenings(sent.events, now), now.roster, now.at)
    return replace(found, past=found.past + sent.past)


def _happenings(events: Sequence[Event], now: Situation) -> Iterator[Happening]:
    """The occurrences of a calendar, day by day in the class's zone."""
    for event in events:
        name, source = event.summary, event.place.line
        if isinstance(event.starts, datetime):
            for block in blocks_of(event, zone=now.roster.class_.zone):
                yield Happening(block.day, name, source, block.starts, block.ends)
        else:
            for day in closed_days(event):
                yield Happening(day, name, source)


def _first_choices(calendar: int, found: Found) -> tuple[Option, ...]:
    choose = Option("Choose", full("choose", None, calendar))
    return (
        Option("All of them", full("close", None, calendar)),
        *((choose,) if len(found.events) > 1 else ()),
        Option("None", full("close", (), calendar)),
    )


def _frame(calendar: int, events: Sequence[SchoolEvent]) -> Frame:
    return Frame(EVENTS, f"close {{}} of calendar {calendar}", "\n".join(e.name for e in events))


def choose_events(request: ChooseEvents, now: Situation) -> Outcome:
    """Show a calendar's events by number, those chosen so far marked, and ask again."""
    found = _kept(request.calendar, now)
    if not found:
        return CalendarTaken(status=REFUSED, today=now.today, trouble="unknown")
    _, events = found
    numbers = range(1, len(events) + 1)
    chosen = tuple(n for n in numbers if request.chosen is None or n in request.chosen)
    first = request.first if request.first in numbers else 1
    shown = tuple(numbers)[first - 1 : first - 1 + _SHOWN]
    return EventsOffered(
        status=ASKED,
        calendar=request.calendar,
        today=now.today,
        events=events,
        chosen=chosen,
        shown=shown,
        strange=request.strange,
        choices=_toggles(request.calendar, events, chosen, shown),
        frames=(_frame(request.calendar, events),),
    )


def _toggles(
    calendar: int, events: Sequence[SchoolEvent], chosen: Sequence[int], shown: Sequence[int]
) -> tuple[Option, ...]:
    """One button for each event shown, the rest of the list, and the ways out."""
    options = [
        Option(f"{_mark(n in chosen)} {n}. {events[n - 1].name}"[:_LONGEST_LABEL],
               full("choose", sorted({*chosen} ^ {n}), calendar, shown[0]))
        for n in shown
    ]  # fmt: skip
    done = Option(f"Take these {len(chosen)}", full("close", chosen, calendar))
    first = shown[-1] + 1 if shown[-1] < len(events) else 1
    more = Option("More", full("choose", chosen, calendar, first))
    ways = [done] if chosen else []
    ways += [more] if len(events) > _SHOWN else []
    return (*options, *ways, Option("None", full("close", (), calendar)))


def _mark(is_chosen: bool) -> str:
    return "☑" if is_chosen else "☐"


def _kept(calendar: int, now: Situation) -> tuple[str, tuple[SchoolEvent, ...]] | None:
    """The name and the events of a calendar that came with an earlier entry."""
    entry = now.book.entry(calendar)
    told = entry.result.get("facts", {}).get("calendar") if entry is not None else None
    if not told:
        return None
    return str(told["file"]), tuple(event_of(fact) for fact in told["events"])


def take_calendar(request: TakeCalendar, now: Situation) -> Outcome:
    """Close school and take rotations away as the chosen events say, where that is news."""
    found = _kept(request.calendar, now)
    if not found:
        return CalendarTaken(status=REFUSED, today=now.today, trouble="unknown")
    file, events = found
    wanted = [e for n, e in enumerate(events, 1) if request.chosen is None or n in request.chosen]
    left_out = tuple(event for event in events if event not in wanted)
    if not wanted:
        return CalendarTaken(status=ANSWERED, today=now.today, trouble="none", left_out=left_out)
    closing = _close_days([event for event in wanted if event.closes], now)
    blocking = _block_times([event for event in wanted if not event.closes], now)
    taken = (*closing, *blocking)
    if not taken:
        return CalendarTaken(status=ANSWERED, today=now.today, trouble="known", left_out=left_out)
    is_today = any(now.today in event.days for event in taken)
    moved, planned = replan_today(now, ()) if is_today else ((), None)
    closes_today = any(now.today in event.days for event in closing)
    return CalendarTaken(
        status=DONE,
        today=now.today,
        events=taken,
        left_out=left_out,
        moved=moved,
        at_risk=planned.unmet if planned is not None else (),
        logged=len(now.book.claims(day=now.today)) if closes_today else 0,
        changes=tuple(change for event in taken for change in _changes(event)),
        said=_in_words(file, wanted),
    )


def _close_days(events: Sequence[SchoolEvent], now: Situation) -> list[SchoolEvent]:
    """Close the days that are school days still; the events with just those."""
    taken, closed = [], set[date]()
    rows = []
    for event in events:
        news = [d for d in event.days if d >= now.today and is_school_day(now.roster, d)]
        days = tuple(day for day in news if day not in closed)
        closed.update(days)
        rows += [_row(day, event) for day in days]
        if days:
            taken.append(replace(event, days=days))
    now.book.add_closures(now.entry_id, rows)
    return taken


def _block_times(events: Sequence[SchoolEvent], now: Situation) -> list[SchoolEvent]:
    """Take the rotations away that still run in these times; the events with just those days."""
    roster = now.book.roster()
    ahead = {day for event in events for day in event.days if day >= now.today}
    running = {day: rotations_on(roster, day) for day in ahead}
    taken, rows = [], []
    for event in events:
        lost = {day: event.takes(running[day]) for day in event.days if day in running}
        days = tuple(day for day, rotations in lost.items() if rotations)
        for day in days:  # what is lost already is not taken again
            running[day] = tuple(r for r in running[day] if r not in lost[day])
        rows += [_row(day, event) for day in days]
        if days:
            starts = {rotation.starts for day in days for rotation in lost[day]}
            taken.append(replace(event, days=days, lost=tuple(sorted(starts))))
    now.book.add_closures(now.entry_id, rows)
    return taken


def _row(day: date, event: SchoolEvent) -> dict[str, object]:
    reason = event.name or ("no school" if event.closes else "no rotations")
    return {"day": day, "reason": reason, "starts": event.starts, "ends": event.ends}


def _changes(event: SchoolEvent) -> Iterator[dict[str, object]]:
    for day in event.days:
        if event.starts is None or event.ends is None:
            yield {"what": "no_school", "day": day.isoformat()}
        else:
            times = {"starts": f"{event.starts:%H:%M}", "ends": f"{event.ends:%H:%M}"}
            yield {"what": "block", "day": day.isoformat(), **times}


def _in_words(file: str, events: Sequence[SchoolEvent]) -> str:
    names = list(dict.fromkeys(event.name for event in events if event.name))
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return f"{file}: {', '.join(names[:_MOST_NAMED])}{more}"


def ask_calendar(request: AskCalendar, now: Situation) -> Outcome:
    """Say how a calendar is sent."""
    return CalendarRead(status=ANSWERED, file="", today=now.today, trouble="how")


def _hear_ask(clause: Clause) -> Request | None:
    return None if clause.children or clause.bins else AskCalendar()


CALENDAR = Skill(
    name="calendar",
    title="Send a calendar file (.ics), and choose what of it closes school",
    examples=("our calendar file",),
    listeners=(
        Listener(
            (
                "^ here? is? our|my|the|this|a? school|district|class|districts|schools? "
                "calendar file? $",
                "calendar file",
                "ics file?",
                "send|upload|import|share|forward|attach ... calendar",
            ),
            _hear_ask,
            rank=1,
        ),
    ),
    acts=(
        (AskCalendar, ask_calendar),
        (ReadCalendar, read_calendar),
        (ChooseEvents, choose_events),
        (TakeCalendar, take_calendar),
    ),
)
