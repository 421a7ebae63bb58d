"""Who can be at a bin: aways against days and rotations."""

from __future__ import annotations

from datetime import date, time
from enum import Enum

from bot.classroom.days import minutes_of, rotation_end, rotations_on
from storage.records import Away, Roster, Rotation


class Presence(Enum):
    """Whether a student was there: yes, no, or for only some of the rotations that may be meant."""

    HERE = "here"
    AWAY = "away"
    UNSURE = "unsure"


def covers_day(away: Away, day: date) -> bool:
    """Whether an away speaks of this day."""
    return (
        (away.first is None or away.first <= day)
        and (away.last is None or day <= away.last)
        and (away.weekday is None or away.weekday == day.weekday())
    )


def aways_on(roster: Roster, student_id: int, day: date) -> tuple[Away, ...]:
    """The aways of one student that speak of this day."""
    mine = roster.aways_of.get(student_id, ())
    return tuple(away for away in mine if covers_day(away, day))


def is_away_in(roster: Roster, student_id: int, day: date, rotation: Rotation) -> bool:
    """Whether a student misses half of this rotation or more."""
    starts, ends = minutes_of(rotation.starts), minutes_of(rotation_end(rotation))
    missed = sum(
        max(0, min(ends, _ends(away)) - max(starts, _starts(away)))
        for away in aways_on(roster, student_id, day)
    )
    return missed * 2 >= rotation.minutes


def presence(roster: Roster, student_id: int, day: date, rotation: time | None) -> Presence:
    """Whether a student was there on a day, in the rotation that starts then where it is known.

    Without a rotation all of the day's count: away in all of them is AWAY, in some UNSURE.
    """
    aways = aways_on(roster, student_id, day)
    if not aways:
        return Presence.HERE
    if any(away.starts is None and away.ends is None for away in aways):
        return Presence.AWAY
    slots = rotations_on(roster, day)
    meant = [slot for slot in slots if rotation is None or slot.starts == rotation]
    missed = [is_away_in(roster, student_id, day, slot) for slot in meant]
    if not meant:
        return Presence.UNSURE
    if all(missed):
        return Presence.AWAY
    return Presence.UNSURE if any(missed) else Presence.HERE


def _starts(away: Away) -> int:
    return minutes_of(away.starts) if away.starts else 0


def _ends(away: Away) -> int:
    return minutes_of(away.ends) if away.ends else 24 * 60
