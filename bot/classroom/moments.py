"""Which day and which rotation a text speaks of, when it does not say all of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time

from bot.classroom.days import (
    current_rotation,
    is_before_first_rotation,
    is_school_day,
    nth_rotation,
    rotations_on,
    running_at,
)
from storage.records import Roster


@dataclass(frozen=True, slots=True)
class Meant:
    """A day and, where known, the start of a rotation; or the reason why neither can be told:
    which_day, future, no_school, no_rotation."""

    day: date
    rotation: time | None = None
    trouble: str | None = None


def meant_for_log(
    roster: Roster, at: datetime, day: date | None, starts: time | None, slot: int | None
) -> Meant:
    """The day and rotation of a log sent `at`: today and the rotation running or ended last, unless
    the text says otherwise; before the first rotation of today, or without school, it is asked."""
    on = day or at.date()
    if on > at.date():
        return Meant(on, trouble="future")
    if day is not None and not is_school_day(roster, on):
        return Meant(on, trouble="no_school")
    is_silent = day is None and starts is None and slot is None
    if is_silent and (not is_school_day(roster, on) or is_before_first_rotation(roster, at)):
        return Meant(on, trouble="which_day")
    rotations = rotations_on(roster, on)
    if slot is not None:
        chosen = nth_rotation(rotations, slot) if slot else None
        if chosen is None:
            return Meant(on, trouble="no_rotation")
    elif starts is not None:
        chosen = running_at(rotations, starts)
        if chosen is None:
            is_future = on == at.date() and starts > at.time()
            return Meant(on, None, "future" if is_future else None)
    else:
        chosen = current_rotation(roster, at) if on == at.date() else None
    if chosen is None:
        return Meant(on)
    if on == at.date() and chosen.starts > at.time():
        return Meant(on, chosen.starts, "future")
    return Meant(on, chosen.starts)
