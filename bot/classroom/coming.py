"""Visits to come: how many are expected at a stint on each school day from now on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.classroom.days import is_school_day, rotation_end, rotations_on, school_days
from bot.classroom.demand import rate
from bot.classroom.needs import HORIZON, Tally, is_for, missing_visits
from bot.classroom.presence import aways_on, is_away_in
from storage.records import Roster, Rotation, Stint, Student

_ENOUGH_DAYS = 5  # school days of history before a bin's own rate is trusted


@dataclass(frozen=True, slots=True)
class Expected:
    """Visits expected on a school day; a fraction where they are spread evenly."""

    day: date
    visits: float


@dataclass(frozen=True, slots=True)
class Coming:
    """Visits to come at a stint, a row for each school day left; `are_sure` where they are counted
    from who still needs it rather than forecast from a rate."""

    stint: Stint
    days: tuple[Expected, ...]
    are_sure: bool

    @property
    def visits(self) -> float:
        """All of them."""
        return sum(expected.visits for expected in self.days)


def coming_to(
    roster: Roster,
    tally: Tally,
    stint: Stint,
    now: datetime,
    past: Mapping[date, int],
    planned: Sequence[Expected] | None = None,
) -> Coming:
    """Visits to come at one stint.

    `past` are its visits by day. Who still needs it comes as often as is missing, on days on which
    the child can, and no more than have seats; spread over the days by their rotations, unless a
    plan says when (`planned`). A bin without a closing day is forecast four weeks ahead from its
    own rate once it has been out for five school days.
    """
    if planned is not None:
        return Coming(stint, tuple(planned), are_sure=True)
    slots = _slots_left(roster, stint, now)
    if stint.closes is None:
        before = school_days(roster, stint.opens, now.date() - timedelta(days=1))
        if len(before) >= _ENOUGH_DAYS and any(past.values()):
            return _by_rate(stint, slots, [float(past.get(day, 0)) for day in before], past, now)
    return Coming(stint, _by_needs(roster, tally, stint, slots), are_sure=True)


def _slots_left(roster: Roster, stint: Stint, now: datetime) -> dict[date, tuple[Rotation, ...]]:
    """School days left of a stint and their rotations that have not ended."""
    first = max(stint.opens, now.date())
    last = stint.closes or now.date() + HORIZON
    slots: dict[date, tuple[Rotation, ...]] = {}
    for day in school_days(roster, first, last):
        held = rotations_on(roster, day)
        if day == now.date():
            held = tuple(slot for slot in held if rotation_end(slot) > now.time())
        if held or not roster.rotations:
            slots[day] = held
    return slots


def _by_needs(
    roster: Roster, tally: Tally, stint: Stint, slots: Mapping[date, tuple[Rotation, ...]]
) -> tuple[Expected, ...]:
    wanted = sum(
        min(missing_visits(tally, stint, student), _days_there(roster, student, slots))
        for student in roster.present_roster(next(iter(slots), stint.opens))
        if is_for(roster, stint, student)
    )
    room = {day: stint.seats * len(held) for day, held in slots.items()}
    if not roster.rotations:
        room = dict.fromkeys(slots, wanted)
    whole = sum(room.values())
    visits = min(wanted, whole)
    return tuple(Expected(day, visits * seats / whole) for day, seats in room.items() if whole)


def _days_there(
    roster: Roster, student: Student, slots: Mapping[date, tuple[Rotation, ...]]
) -> int:
    """On how many of these days the child can come: one visit a day."""
    if student.id not in roster.aways_of:
        return len(slots)
    return sum(
        any(not is_away_in(roster, student.id, day, slot) for slot in held)
        if held
        else not aways_on(roster, student.id, day)
        for day, held in slots.items()
    )


def _by_rate(
    stint: Stint,
    slots: Mapping[date, tuple[Rotation, ...]],
    history: Sequence[float],
    past: Mapping[date, int],
    now: datetime,
) -> Coming:
    a_day = rate(history)
    days = tuple(
        Expected(day, max(0.0, a_day - past.get(day, 0)) if day == now.date() else a_day)
        for day in slots
    )
    return Coming(stint, days, are_sure=False)


def stint_to_supply(roster: Roster, bin_id: int, today: date) -> Stint | None:
    """The stint a bin's supplies are for: the one out, else the next to open within four weeks."""
    mine = sorted(
        (
            s
            for s in roster.stints
            if s.bin_id == bin_id and (s.closes is None or s.closes >= today)
        ),
        key=lambda s: s.opens,
    )
    nearest = next(iter(mine), None)
    return nearest if nearest is not None and nearest.opens <= today + HORIZON else None


def school_day_from(roster: Roster, day: date) -> date:
    """This day, or the next on which the class meets."""
    ahead = (day + timedelta(days=n) for n in range(400))
    return next((found for found in ahead if is_school_day(roster, found)), day)
