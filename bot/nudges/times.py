"""When a nudge is due, till when it is worth sending, and when it may be, by the class's clock.

A local time that the clock change skips is the moment an hour (or half) later on the clock; one
that comes twice is the first of the two. Moments are in UTC, where they can be compared.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from bot.classroom.days import is_hour_allowed, is_school_day, rotation_end, rotations_on
from storage.records import Class, Nudging, Roster

AFTER_SCHOOL = time(15, 0)  # for what can wait till the children have left: common practice
_AFTER_LAST = timedelta(minutes=15)  # time to log the last rotation by oneself
_STALE = timedelta(hours=1)  # a digest that late has nothing left of the morning, at the earliest


def moment_on(day: date, at: time, class_: Class) -> datetime:
    """A local time of a day as the one moment it means."""
    return datetime.combine(day, at, tzinfo=class_.zone).astimezone(UTC)


def day_ends(roster: Roster, day: date) -> datetime:
    """Midnight after a day."""
    return moment_on(day + timedelta(days=1), time(), roster.class_)


def last_rotation_over(roster: Roster, day: date) -> datetime | None:
    """When the last rotation of a day is over; None where none runs."""
    slots = rotations_on(roster, day)
    if not slots:
        return None
    return moment_on(day, max(rotation_end(slot) for slot in slots), roster.class_)


def digest_due(roster: Roster, day: date) -> tuple[datetime, datetime] | None:
    """The class's time on school days, till the day's last rotation is over."""
    if not is_school_day(roster, day):
        return None
    due = moment_on(day, roster.class_.digest_at, roster.class_)
    over = last_rotation_over(roster, day) or moment_on(day, time(12), roster.class_)
    return due, min(max(over, due + _STALE), day_ends(roster, day))


def after_last_rotation(roster: Roster, day: date) -> tuple[datetime, datetime] | None:
    """A little after the last rotation, till the end of the day."""
    over = last_rotation_over(roster, day)
    return None if over is None else (over + _AFTER_LAST, day_ends(roster, day))


def after_school(roster: Roster, day: date) -> tuple[datetime, datetime] | None:
    """When the children have left, or the last minute before the evening's quiet."""
    if not is_school_day(roster, day):
        return None
    at, class_ = AFTER_SCHOOL, roster.class_
    if class_.quiet_before < class_.quiet_after <= at:
        at = (datetime.combine(day, class_.quiet_after) - timedelta(minutes=1)).time()
    due = moment_on(day, at, class_)
    rotations = after_last_rotation(roster, day)
    if rotations is not None and due < rotations[0]:
        due = rotations[0]
    return due, day_ends(roster, day)


def last_of_week(roster: Roster, day: date) -> tuple[datetime, datetime] | None:
    """After school on the week's last school day."""
    rest = (day + timedelta(days=n) for n in range(1, 7 - day.weekday()))
    return (
        None if any(is_school_day(roster, later) for later in rest) else after_school(roster, day)
    )


def allowed_from(due: datetime, class_: Class, held: Nudging | None) -> datetime | None:
    """The first moment from `due` at which a member may be written to; None where never.

    Held by the member's own wish, and by the class's quiet hours.
    """
    moment = due
    if held is not None and not held.is_on:
        if held.until is None:
            return None
        moment = max(moment, held.until)
    return _out_of_quiet(moment, class_)


def _out_of_quiet(moment: datetime, class_: Class) -> datetime:
    first, last = class_.quiet_before, class_.quiet_after
    local = moment.astimezone(class_.zone)
    if is_hour_allowed(class_, local.time()):
        return moment
    waits_overnight = first < last <= local.time()
    return moment_on(local.date() + timedelta(days=waits_overnight), first, class_)
