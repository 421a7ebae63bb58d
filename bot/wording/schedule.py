"""Words for days without school, and rotations lost or added."""

from __future__ import annotations

from bot.outcomes import ScheduleChanged
from bot.requests import Option
from bot.wording.plans import moved_lines, unmet_lines
from bot.wording.voice import Reply, Voice, clock, counted, listed, short_day


def schedule_changed(outcome: ScheduleChanged, voice: Voice, entry_id: int) -> Reply:
    """What is closed or open now, and what that changes."""
    lines = [_first_line(outcome)]
    if outcome.logged:
        turns = counted(outcome.logged, "turn", "turns")
        lines.append(f"{turns} on record then stay; text me if they did not take place.")
    lines += moved_lines(outcome.moved, voice)
    lines += unmet_lines(outcome.at_risk, (), outcome.today, voice)
    undo = (Option("Undo", f"undo {entry_id}"),) if outcome.changes else ()
    return Reply("\n".join(lines), undo)


def _first_line(outcome: ScheduleChanged) -> str:
    days = _days(outcome)
    starts = listed([clock(rotation.starts) for rotation in outcome.rotations])
    runs = f"no rotation at {starts}" if starts else "all rotations still run"
    texts = {
        "no_school": f"Noted: no school {days}.",
        "closed_already": f"On record before: no school {days}.",
        "school": f"Noted: school {days} after all.",
        "runs": f"Noted: rotations run {days} after all.",
        "open_already": f"Nothing to open: nothing is closed {days}.",
        "lost": f"Noted: no rotation at {starts} {days}.",
        "block": f"Noted: {outcome.reason or 'a block'} {days}; {runs}.",
        "extra": f"Noted: one more rotation at {starts} {days}.",
        "no_such_rotation": f"Nothing changed: no such rotation runs {days}.",
        "no_such_day": "Nothing changed: that is no school day of this class anyway.",
        "too_long": "Nothing changed: that is longer than two months, or long past.",
        "no_school_then": f"Not added: no school {days}.",
        "overlaps": f"Not added: at {starts} another rotation runs {days}.",
    }
    return texts[outcome.what]


def _days(outcome: ScheduleChanged) -> str:
    today = outcome.today
    named = ["today" if day == today else f"on {short_day(day, today)}" for day in outcome.days]
    if len(named) > 3:
        return f"from {short_day(outcome.days[0], today)} to {short_day(outcome.days[-1], today)}"
    return listed(named)
