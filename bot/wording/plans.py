"""Words for the plan: who goes where, what cannot be met, what was logged as planned."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, time
from itertools import groupby

from bot.classroom.days import rotations_on
from bot.classroom.plans import Sitting
from bot.classroom.presence import is_away_in
from bot.outcomes import (
    FinishForeseen,
    LoggedAsPlanned,
    Mended,
    Moved,
    PlanShown,
    Unplanned,
)
from bot.requests import Option
from bot.wording.voice import Reply, Voice, clock, counted, listed, on_day, sentence, short_day
from storage.records import Stint, Student

_MOST_LINES = 8  # rotations in one reply: one screen
_MOST_MOVES = 6
_MOST_UNMET = 4

WHY = {
    "child_has_too_few_rotations": "is here for too few of the rotations left",
    "never_both": "no rotation is left in which that can be",
    "seats_short": "no seat is left before it closes",
    "too_much_at_once": "too much else is needed before it closes",
}


def plan_shown(outcome: PlanShown, voice: Voice, entry_id: int) -> Reply:
    """Rotation by rotation: each group's bin, and who goes elsewhere."""
    day = outcome.day or outcome.today
    if outcome.reason:
        return Reply(_nothing(outcome, day))
    if outcome.who:
        return Reply("\n".join(_for_children(outcome, voice)), _plan_choices(outcome, voice))
    lines = []
    several = len({sitting.day for sitting in outcome.sittings}) > 1
    slots = _by_slot(outcome.sittings)
    if not several and day != outcome.today:
        lines.append(f"{short_day(day, outcome.today)}:")
    for (on, starts), sittings in slots[:_MOST_LINES]:
        head = f"{on:%a} {clock(starts)}" if several else clock(starts)
        told = slot_lines(head, sittings, voice, with_children=not several)
        told[0] += _no_seat(sittings, voice) if outcome.is_whole else ""
        lines += told
    if len(slots) > _MOST_LINES:
        lines.append(f"… and {counted(len(slots) - _MOST_LINES, 'rotation', 'rotations')} more.")
    if not outcome.is_next:
        lines += _outlook(outcome, voice)
    return Reply("\n".join(lines), _plan_choices(outcome, voice))


def _nothing(outcome: PlanShown, day: date) -> str:
    return {
        "past": "That day is over. Ask who was where instead: “who did what on "
        f"{short_day(day, outcome.today)}”.",
        "far": "I plan four weeks ahead; that day is further off.",
        "no_school": f"No school {_when(day, outcome.today)}, so no rotations.",
        "no_rotations": f"No rotation is left to plan {_when(day, outcome.today)}.",
    }[outcome.reason]


def _when(day: date, today: date) -> str:
    return "today" if day == today else f"on {short_day(day, today)}"


def rotation_lines(sittings: Sequence[Sitting], voice: Voice) -> list[str]:
    """A day's rotations, with the children who are not with their group."""
    lines = []
    for (_, starts), found in _by_slot(sittings):
        told = slot_lines(clock(starts), found, voice)
        lines += [told[0] + _no_seat(found, voice), *told[1:]]
    return lines


def _no_seat(sittings: Sequence[Sitting], voice: Voice) -> str:
    """ "; no seat for 3, Mia K.": who is here and has no place in a rotation."""
    roster, day = voice.roster, sittings[0].day
    [slot] = [r for r in rotations_on(roster, day) if r.starts == sittings[0].starts]
    seated = {student.id for sitting in sittings for student in sitting.students}
    here = [s for s in roster.present_roster(day) if not is_away_in(roster, s.id, day, slot)]
    without = [s for s in here if s.id not in seated]
    if not without:
        return ""
    groups: dict[int | None, list[Student]] = {}
    for student in without:
        groups.setdefault(roster.group_on(student.id, day), []).append(student)
    names = []
    for group, members in groups.items():
        present = sum(roster.group_on(s.id, day) == group for s in here)
        whole = group is not None and len(members) == present
        names.append(roster.group[group].name if whole and group else voice.children(members))
    return f"; no seat for {', '.join(names)}"


def slot_lines(
    head: str, sittings: Sequence[Sitting], voice: Voice, *, with_children: bool = True
) -> list[str]:
    """One rotation: "10:15  1 Ramps, 2 Balance", then the children who are not with their group."""
    homes = _homes(sittings, voice)
    names = {group.id: group.name for group in voice.roster.groups}
    parts = [f"{names[group]} {homes[group].name}" for group in names if group in homes]
    apart = [
        (
            sitting,
            [s for s in sitting.students if homes.get(_group(voice, s, sitting)) is not sitting],
        )
        for sitting in sittings
    ]
    if not parts:
        told = [f"{s.name}: {voice.children(s.students)}" for s in sittings]
        return [f"{head}  {'; '.join(told)}"]
    lines = [f"{head}  {', '.join(parts)}"]
    moved = [f"{voice.children(students)} to {s.name}" for s, students in apart if students]
    if moved and with_children:
        lines.append("  " + "; ".join(moved))
    elif moved:
        count = sum(len(students) for _, students in apart)
        lines[0] += f" ({counted(count, 'child', 'children')} elsewhere)"
    return lines


def _group(voice: Voice, student: Student, sitting: Sitting) -> int:
    return voice.roster.group_on(student.id, sitting.day) or 0


def _homes(sittings: Sequence[Sitting], voice: Voice) -> dict[int, Sitting]:
    """Where most of each group is."""
    where: dict[int, Counter[int]] = {}
    for at, sitting in enumerate(sittings):
        for student in sitting.students:
            group = _group(voice, student, sitting)
            if group:
                where.setdefault(group, Counter())[at] += 1
    return {
        group: sittings[min(count, key=lambda at: (-count[at], at))]
        for group, count in where.items()
    }


def _by_slot(sittings: Iterable[Sitting]) -> list[tuple[tuple[date, time], list[Sitting]]]:
    return [(slot, list(found)) for slot, found in groupby(sittings, lambda s: (s.day, s.starts))]


def _for_children(outcome: PlanShown, voice: Voice) -> list[str]:
    """The plan of one group, or of some children."""
    lines = []
    slots = _by_slot(outcome.sittings)
    for (on, starts), sittings in slots[:_MOST_LINES]:
        when = (
            clock(starts)
            if on == outcome.today
            else f"{short_day(on, outcome.today)} {clock(starts)}"
        )
        most = max(sittings, key=lambda s: len(s.students))
        if outcome.label and 2 * len(most.students) >= sum(len(s.students) for s in sittings):
            rest = [f"{voice.children(s.students)} to {s.name}" for s in sittings if s is not most]
            tail = f" ({'; '.join(rest)})" if rest else ""
            lines.append(f"{when}: {outcome.label} to {most.name}{tail}")
        else:
            told = [f"{voice.children(s.students)} to {s.name}" for s in sittings]
            lines.append(f"{when}: {'; '.join(told)}")
    return lines


def _outlook(outcome: PlanShown, voice: Voice) -> list[str]:
    if outcome.unmet:
        return unmet_lines(outcome.unmet, outcome.mends, outcome.today, voice)
    if outcome.done_by is None:
        return ["Nobody needs a turn any more: free choice from here on."]
    note = "" if outcome.proven else " (a good plan, not proven the shortest)"
    return [f"Everyone gets everywhere by {short_day(outcome.done_by, outcome.today)}{note}."]


def unmet_lines(
    unmet: Sequence[Unplanned], mends: Sequence[Mended], today: date, voice: Voice
) -> list[str]:
    """What the plan cannot do, for whom and why, and the smallest thing that would help."""
    lines = []
    ordered = sorted(unmet, key=lambda u: (u.stint.id, u.reason, u.student.position))
    grouped = [(key, list(found)) for key, found in groupby(ordered, lambda u: (u.stint, u.reason))]
    for (stint, reason), found in grouped[:_MOST_UNMET]:
        who = voice.children((u.student for u in found), most=6)
        closes = f" (closes {short_day(stint.closes, today)})" if stint.closes else ""
        lines.append(f"Not in time: {who} at {voice.bin_(stint)}{closes}; {WHY[reason]}.")
    if len(grouped) > _MOST_UNMET:
        lines.append(f"… and {len(grouped) - _MOST_UNMET} more such.")
    lines += [mend_line(mend, today, voice) for mend in mends[:1]]
    return lines


def mend_line(mend: Mended, today: date, voice: Voice) -> str:
    """What would help: a rotation, a seat or a day more."""
    does = "would do it" if mend.unmet == 0 else "would help"
    rest = "" if mend.unmet == 0 else f"; {counted(mend.unmet, 'turn', 'turns')} would be left"
    if mend.what == "rotations":
        more = counted(mend.amount, "rotation", "rotations")
        by = f" by {short_day(mend.day, today)}" if mend.day else ""
        return f"{more} more{by} {does}{rest}."
    name = voice.bin_(mend.stint) if mend.stint else "that bin"
    if mend.what == "seats":
        return f"{counted(mend.amount, 'seat', 'seats')} more at {name} {does}{rest}."
    day = short_day(mend.day, today) if mend.day else "later"
    is_out = mend.stint is not None and mend.day is not None and mend.stint.is_out(mend.day)
    return f"By {day} it can be done{rest}." if is_out else f"{name} out till {day} {does}{rest}."


def _plan_choices(outcome: PlanShown, voice: Voice) -> tuple[Option, ...]:
    several = len({sitting.day for sitting in outcome.sittings}) > 1
    if outcome.who or several or outcome.day != outcome.today:
        return ()
    return (Option("Ran as planned", "everyone where the plan says"),)


def moved_lines(moved: Sequence[Moved], voice: Voice) -> list[str]:
    """What changes in what was told, and nothing else."""
    lines = []
    for starts, found in groupby(moved, lambda m: m.starts):
        parts = []
        for place, some in groupby(found, lambda m: m.sitting.name if m.sitting else ""):
            who = voice.children((m.student for m in some), most=6)
            parts.append(f"{who} to {place}" if place else f"{who} out")
        lines.append(f"{clock(starts)}: {'; '.join(parts)}.")
    if len(lines) > _MOST_MOVES:
        lines = [*lines[:_MOST_MOVES], "…"]
    return [*lines, "Everything else stays."] if lines else []


def finish_foreseen(outcome: FinishForeseen, voice: Voice, entry_id: int) -> Reply:
    """Yes or no for each bin, who cannot, and why."""
    if not outcome.stints:
        return Reply("No bin is out.")
    lines = [
        _lacking(stint, lacking, outcome, voice) for stint, lacking, _ in outcome.stints if lacking
    ]
    choices: tuple[Option, ...] = ()
    if not lines and outcome.only_if_first and outcome.by is not None:
        lines, choices = _if_first(outcome.only_if_first, outcome.by, outcome, voice)
    elif not lines:
        lines = [_all_can(outcome, voice)]
    lines += [mend_line(mend, outcome.today, voice) for mend in outcome.mends[:1]]
    return Reply("\n".join(lines), choices)


def _all_can(outcome: FinishForeseen, voice: Voice) -> str:
    names = listed([voice.bin_(stint) for stint, _, _ in outcome.stints])
    days = [day for _, _, day in outcome.stints if day]
    if not days:
        return f"Yes: nobody still needs {names}."
    return f"Yes: everyone can finish {names} by {short_day(max(days), outcome.today)}."


def _if_first(
    first: Sequence[Stint], by: date, outcome: FinishForeseen, voice: Voice
) -> tuple[list[str], tuple[Option, ...]]:
    """The plan has them later; what it takes to have them by the day asked about."""
    names = listed([voice.bin_(stint) for stint in first])
    day = short_day(by, outcome.today)
    ends = max(day for stint, _, day in outcome.stints if day and stint in first)
    lines = [
        f"Yes, if {names} goes first. The plan has the last of them on "
        f"{short_day(ends, outcome.today)}; close {names} {day} and it plans for that."
    ]
    missing = sorted({voice.bin_(u.stint) for u in outcome.miss_out})
    if missing:
        who = voice.children((u.student for u in outcome.miss_out), most=6)
        lines.append(f"But then {who} would not get to {listed(missing)} in time.")
    choices = tuple(
        Option(f"Close {voice.bin_(stint)} {day}", f"close {voice.bin_(stint)} on {by.isoformat()}")
        for stint in first[:2]
    )
    return lines, choices


def _lacking(
    stint: Stint, lacking: Sequence[Student], outcome: FinishForeseen, voice: Voice
) -> str:
    who = voice.children(lacking, most=8)
    reasons = {u.reason for u in outcome.unmet if u.stint is stint}
    why = f" ({WHY[reasons.pop()]})" if len(reasons) == 1 else ""
    when = f"by {short_day(outcome.by, outcome.today)}" if outcome.by else "in time"
    return sentence(f"No: {who} cannot finish {voice.bin_(stint)} {when}{why}")


def logged_as_planned(outcome: LoggedAsPlanned, voice: Voice, entry_id: int) -> Reply:
    """What was logged, bin by bin, and who was left out."""
    day = "" if outcome.day == outcome.today else f" {on_day(outcome.day, outcome.today)}"
    if outcome.reason:
        reasons = {
            "future": "Not logged: that is still to come.",
            "no_school": f"Not logged: no school {_when(outcome.day, outcome.today)}.",
            "not_begun": "Not logged: that rotation has not begun.",
            "not_told": f"Not logged: I had told no plan for that{day}. Text who was where.",
        }
        return Reply(reasons[outcome.reason])
    lines = []
    for (_, starts), sittings in _by_slot(outcome.sittings):
        lines += slot_lines(f"✓{day} {clock(starts)}", sittings, voice)
    if not lines:
        lines.append(f"Nothing new: what was planned{day} is on record.")
    notes = []
    if outcome.left_out:
        notes.append(f"not {voice.children(outcome.left_out)}")
    if outcome.away:
        notes.append(f"away: {voice.children(outcome.away)}")
    if outcome.elsewhere:
        notes.append(f"logged elsewhere already: {voice.children(outcome.elsewhere)}")
    if notes:
        lines.append(sentence(f"Left out: {'; '.join(notes)}"))
    undo = (Option("Undo", f"undo {entry_id}"),) if outcome.added else ()
    return Reply("\n".join(lines), undo)
