"""Words for children who change groups, join, leave, or are kept apart."""

from __future__ import annotations

from bot.outcomes import StudentMoved
from bot.requests import Option
from bot.wording.plans import moved_lines
from bot.wording.voice import Reply, Voice, counted, short_day


def student_moved(outcome: StudentMoved, voice: Voice, entry_id: int) -> Reply:
    """What is different now, and what that changes in a plan that was told."""
    lines = [_first_line(outcome, voice)]
    if outcome.size and outcome.what in ("moved", "new"):
        lines.append(f"Group {outcome.group} has {counted(outcome.size, 'child', 'children')}.")
    lines += moved_lines(outcome.moved, voice)
    undo = (Option("Undo", f"undo {entry_id}"),) if outcome.changes else ()
    return Reply("\n".join(lines), outcome.choices or undo)


def _first_line(outcome: StudentMoved, voice: Voice) -> str:
    who = voice.children(outcome.students)
    verb = "is" if len(outcome.students) == 1 else "are"
    group = f"group {outcome.group}"
    texts = {
        "moved": f"Noted: {who} {verb} with {group}{_span(outcome)}.",
        "swapped": f"Noted: {who} change places{_span(outcome)}.",
        "same_group": f"Nothing changed: {who} share a group, or have none.",
        "already": f"Nothing changed: {who} {verb} in {group} already.",
        "nobody": "Nothing changed: nobody of this class is meant.",
        "new": f"Welcome: {who} is on the roster" + (f", {group}." if outcome.group else "."),
        "already_here": f"Nothing changed: {who} is on the roster already.",
        "which_group": f"Which group does {outcome.called} join?",
        "left": f"Noted: last day of {who} is {_last(outcome)}. What is on record stays.",
        "apart": f"Noted: {who} are kept apart from now on.",
        "together": f"Noted: {who} may be together again.",
        "apart_already": f"On record before: {who} are kept apart.",
        "together_already": f"Nothing changed: {who} are not kept apart.",
        "two_needed": "Nothing changed: name the two children, one pair at a time.",
    }
    return texts[outcome.what]


def _span(outcome: StudentMoved) -> str:
    first, last, today = outcome.first, outcome.last, outcome.today
    if last is None:
        return " from now on" if first in (None, today) else f" from {_day(outcome)} on"
    if first == last:
        return " today" if first == today else f" on {_day(outcome)}"
    return f" from {_day(outcome)} to {short_day(last, today)}"


def _day(outcome: StudentMoved) -> str:
    return short_day(outcome.first or outcome.today, outcome.today)


def _last(outcome: StudentMoved) -> str:
    last = outcome.last or outcome.today
    return "today" if last == outcome.today else short_day(last, outcome.today)
