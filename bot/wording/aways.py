"""Words for children who are away, and back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot.outcomes import ASKED, REFUSED, AwayNoted, AwayTold
from bot.requests import Option
from bot.wording.plans import moved_lines, unmet_lines
from bot.wording.voice import Reply, Voice, clock, listed, on_day, sentence, short_day
from storage.records import Away

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def away_noted(outcome: AwayNoted, voice: Voice, entry_id: int) -> Reply:
    """Who is away and when; what changes today; what to do with a turn on record."""
    who = voice.children(outcome.students)
    if outcome.status == REFUSED:
        return Reply(_refused(outcome, voice))
    lines = []
    if outcome.back:
        lines.append(_back(outcome, voice))
    elif outcome.aways:
        spans = list(dict.fromkeys(when(away, outcome.today) for away in outcome.aways))
        verb = "is" if len(outcome.students) == 1 else "are"
        lines.append(f"Noted: {who} {verb} away {listed(spans)}.")
    if outcome.already and not outcome.back:
        lines.append(f"On record before: {voice.children(outcome.already)} away then.")
    if outcome.not_on_roster:
        lines.append(sentence(f"Not on the roster: {voice.children(outcome.not_on_roster)}"))
    if outcome.removed:
        bins = {voice.bin_(voice.roster.stint[t.stint_id]) for t in outcome.removed}
        gone = voice.students(t.student_id for t in outcome.removed)
        lines.append(f"Taken back: {gone}, {listed(sorted(bins))}.")
    for student, stint, rotation in outcome.logged:
        at = f" at {clock(rotation)}" if rotation else ""
        lines.append(
            f"{voice.child(student)} is on record at {voice.bin_(stint)}{at}. Take it back?"
        )
    left = () if outcome.back else [student.id for student in outcome.students]
    moved = [m for m in outcome.moved if m.sitting is not None or m.student.id not in left]
    lines += moved_lines(moved, voice)
    lines += unmet_lines(outcome.at_risk, (), outcome.today, voice)
    undo = (Option("Undo", f"undo {entry_id}"),) if outcome.changes else ()
    return Reply("\n".join(lines), outcome.choices if outcome.status == ASKED else undo)


def _refused(outcome: AwayNoted, voice: Voice) -> str:
    if outcome.not_on_roster:
        gone = voice.children(outcome.not_on_roster)
        return f"Nothing noted: {gone} is not on the roster then."
    reasons = {
        "no_school": "Nothing to note: there is no school then anyway.",
        "backwards": "Nothing noted: that would end before it begins.",
        "nobody": "Nothing noted: nobody of this class is meant.",
    }
    return reasons[outcome.reason]


def _back(outcome: AwayNoted, voice: Voice) -> str:
    changed = {away.student_id for away in outcome.aways}
    lines = []
    here = [s for s in outcome.students if s.id in changed]
    if here:
        away = outcome.aways[0]
        day = (
            ""
            if away.first == outcome.today
            else f" from {short_day(away.first or outcome.today, outcome.today)} on"
        )
        since = f" from {clock(away.ends)} on" if away.ends else ""
        verb = "is" if len(here) == 1 else "are"
        lines.append(f"Good: {voice.children(here)} {verb} here{day}{since}.")
    if outcome.already:
        verb = "was" if len(outcome.already) == 1 else "were"
        lines.append(f"{voice.children(outcome.already)} {verb} not noted as away.")
    return " ".join(lines)


def when(away: Away, today: date) -> str:
    """ "today", "from Mon 30 Nov to Fri 4 Dec", "on Tuesdays from 10:15 to 10:45"."""
    if away.weekday is not None:
        days = f"on {_WEEKDAYS[away.weekday]}s"
    elif away.first is not None and away.first == away.last:
        days = on_day(away.first, today)
        days = "tomorrow" if (away.first - today).days == 1 else days
    elif away.first is not None and away.last is not None:
        opening = "" if away.first == today else f"from {short_day(away.first, today)} "
        days = f"{opening}through {short_day(away.last, today)}"
    elif away.first is not None:
        days = f"from {short_day(away.first, today)} on"
    else:
        days = "every day" if away.last is None else f"through {short_day(away.last, today)}"
    parts = [
        f"from {clock(away.starts)}" if away.starts else "",
        f"until {clock(away.ends)}" if away.ends else "",
    ]
    return " ".join(part for part in (days, *parts) if part)


def away_told(outcome: AwayTold, voice: Voice, entry_id: int) -> Reply:
    """Who is away, day by day."""
    lines = []
    for day, gone in outcome.days:
        label = _label(day, outcome.today)
        if outcome.asked:
            here = [s for s in outcome.asked if s not in [child for child, _ in gone]]
            if here:
                verb = "is" if len(here) == 1 else "are"
                lines.append(
                    f"{voice.children(here)} {verb} not noted as away {on_day(day, outcome.today)}."
                )
        elif not gone:
            lines.append(f"{label}: nobody is noted as away.")
            continue
        if gone:
            named = [f"{voice.child(s)}{_part(aways)}" for s, aways in gone]
            lines.append(sentence(f"{label} away: {', '.join(named)}"))
    if not lines:
        lines.append("There is no school then.")
    return Reply("\n".join(lines))


def _label(day: date, today: date) -> str:
    return "Today" if day == today else short_day(day, today)


def _part(aways: Sequence[Away]) -> str:
    """ " (10:15 to 10:45)" where it is only a part of the day."""
    if any(away.starts is None and away.ends is None for away in aways):
        return ""
    return f" ({', '.join(_hours(away) for away in aways)})"


def _hours(away: Away) -> str:
    if away.starts is None:
        return f"until {clock(away.ends)}" if away.ends else ""
    return (
        f"{clock(away.starts)} to {clock(away.ends)}" if away.ends else f"{clock(away.starts)} on"
    )
