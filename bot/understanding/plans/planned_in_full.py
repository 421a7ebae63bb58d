"""That a rotation ran as planned in full words, with its day and time: for choices."""

from __future__ import annotations

from dataclasses import replace

from bot.classroom.days import current_rotation, rotation_end, rotations_on
from bot.requests import LogAsPlanned
from bot.understanding.canonical import place_in_full, who_in_full
from bot.understanding.clause import Clause
from storage.records import Roster


def planned_in_full(told: LogAsPlanned, roster: Roster) -> str:
    """ "everyone where the plan says on 2026-11-24 at 10:15 except Mia K."."""
    whose = who_in_full(told.only, roster) or "everyone"
    when = told.when
    day = f" on {when.day.isoformat()}" if when.day else ""
    time = f" at {when.starts:%H:%M}" if when.starts else ""
    slot = f" in rotation {when.slot}" if when.slot and when.slot > 0 else ""
    whole = " the whole day" if told.whole_day and not (time or slot) else ""
    out = [who_in_full(told.but, roster)] if told.but else []
    out += [place_in_full(place, roster) for place in told.but_places]
    less = f" except {' and '.join(out)}" if out else ""
    return f"{whose} where the plan says{day}{time}{slot}{whole}{less}"


def as_it_was(told: LogAsPlanned, clause: Clause) -> LogAsPlanned:
    """With the day, and the rotation meant where one is: it means the same whenever it is sent."""
    today = clause.at.date()
    when = told.when
    if when.day is None:
        when = replace(when, day=today)
    silent = when.starts is None and when.slot is None and not told.whole_day
    rotations = rotations_on(clause.roster, today)
    over = bool(rotations) and rotation_end(rotations[-1]) <= clause.at.time()
    running = current_rotation(clause.roster, clause.at)
    if silent and when.day == today and not over and running is not None:
        when = replace(when, starts=running.starts)
    return replace(told, when=when)
