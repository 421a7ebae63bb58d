"""School days and the rotations that run on them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time, timedelta

from storage.records import Class, Roster, Rotation

_REACH = 400  # days searched for a school day: more than any holiday, less than for ever


def is_school_day(roster: Roster, day: date) -> bool:
    """Whether the class meets: one of its weekdays, and no all-day closure."""
    return day.weekday() in roster.class_.school_days and day not in roster.closed_days


def school_day_before(roster: Roster, day: date) -> date | None:
    """The last school day before this day."""
    return _search(roster, day, step=-1)


def school_day_after(roster: Roster, day: date) -> date | None:
    """The next school day after this day."""
    return _search(roster, day, step=1)


def _search(roster: Roster, day: date, *, step: int) -> date | None:
    days = (day + timedelta(days=step * n) for n in range(1, _REACH))
    return next((found for found in days if is_school_day(roster, found)), None)


def school_days(roster: Roster, first: date, last: date) -> tuple[date, ...]:
    """Every school day from first to last, both included."""
    span = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return tuple(day for day in span if is_school_day(roster, day))


def rotations_on(roster: Roster, day: date) -> tuple[Rotation, ...]:
    """The rotations that run on this day, in order: none without school, fewer around a block."""
    if not is_school_day(roster, day):
        return ()
    blocks = [c for c in roster.closures if c.day == day and c.starts is not None]
    usual = (
        rotation
        for rotation in roster.rotations
        if rotation.weekday == day.weekday()
        and not any(_overlap(rotation, b.starts or time.min, b.ends or time.max) for b in blocks)
    )
    added = (
        Rotation(-extra.id, day.weekday(), extra.starts, extra.minutes)
        for extra in roster.extras
        if extra.day == day
    )
    return tuple(sorted((*usual, *added), key=lambda rotation: rotation.starts))


def nth_rotation(rotations: Sequence[Rotation], number: int) -> Rotation | None:
    """ "The second rotation" of a day, or counted from its end (-1: the last); None beyond them."""
    at = number - 1 if number > 0 else number
    return rotations[at] if -len(rotations) <= at < len(rotations) else None


def running_at(rotations: Iterable[Rotation], moment: time) -> Rotation | None:
    """The rotation that runs at a time of the day."""
    return next((r for r in rotations if r.starts <= moment < rotation_end(r)), None)


def rotation_end(rotation: Rotation) -> time:
    """When a rotation ends; one that would pass midnight ends with the day."""
    ends = minutes_of(rotation.starts) + rotation.minutes
    return time.max if ends >= 24 * 60 else time(ends // 60, ends % 60)


def current_rotation(roster: Roster, moment: datetime) -> Rotation | None:
    """The rotation of that day that is running or, between two, the one that ended last."""
    begun = [r for r in rotations_on(roster, moment.date()) if r.starts <= moment.time()]
    return begun[-1] if begun else None


def is_before_first_rotation(roster: Roster, moment: datetime) -> bool:
    """Whether rotations run on that day and none has begun."""
    rotations = rotations_on(roster, moment.date())
    return bool(rotations) and moment.time() < rotations[0].starts


def rotations_left(roster: Roster, now: datetime, last: date) -> list[tuple[date, Rotation]]:
    """The rotations that have not begun, from now to the end of the last day."""
    left = []
    for day in school_days(roster, now.date(), last):
        for rotation in rotations_on(roster, day):
            if day > now.date() or rotation.starts >= now.time():
                left.append((day, rotation))
    return left


def is_hour_allowed(class_: Class, at: time) -> bool:
    """Whether members may be written to unasked at this time of day: not in the quiet hours."""
    first, last = class_.quiet_before, class_.quiet_after
    if first == last:
        return True
    return first <= at < last if first < last else at >= first or at < last


def minutes_of(moment: time) -> int:
    """Minutes since midnight."""
    return moment.hour * 60 + moment.minute


def _overlap(rotation: Rotation, starts: time, ends: time) -> bool:
    return rotation.starts < ends and starts < rotation_end(rotation)
