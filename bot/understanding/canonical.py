"""Requests in full words: a text that, whenever it is sent, means just this."""

from __future__ import annotations

from collections.abc import Sequence

from bot.requests import (
    ChangeSchedule,
    LogVisits,
    MoveClosing,
    MoveStudent,
    NewStudent,
    NoteAway,
    Place,
    RemoveVisits,
    ReportSupply,
    Span,
    Swap,
    When,
    Who,
)
from storage.records import Roster


def log_in_full(log: LogVisits, roster: Roster) -> str:
    """ "group 3 and Ava R. except Mia K. did Balance on 2026-11-24 at 10:15"."""
    return f"{who_in_full(log.who, roster)} did {place_in_full(log.place, roster)}{_when(log.when)}"


def removal_in_full(removal: RemoveVisits, roster: Roster) -> str:
    """ "take Ava R. off Balance on 2026-11-24"."""
    place = "every bin" if removal.place is None else place_in_full(removal.place, roster)
    return f"take {who_in_full(removal.who, roster)} off {place}{_when(removal.when)}"


def report_in_full(report: ReportSupply, roster: Roster) -> str:
    """ "4 record sheets left in Ramps on 2026-11-24"; an amount of None leaves the gap "{}"."""
    supply = next(s for s in roster.supplies if s.id == report.supply_id)
    item, bin_ = supply.item, roster.bin[supply.bin_id].name
    amount = "{}" if report.amount is None else number(report.amount)
    another = "another " if report.again else ""
    tub = f" from tub {report.tub}" if report.tub is not None else ""
    texts = {
        "counted": f"{amount} {item} left in {bin_}",
        "added": f"added {another}{amount} {item} to {bin_}",
        "found": f"found {another}{amount} {item} of {bin_}",
        "lost": f"lost {another}{amount} {item}{tub} of {bin_}",
        "discarded": f"threw out all {item} of {bin_}",
        "wanted": f"{bin_} needs {item}",
    }
    return f"{texts[report.kind]}{_when(report.when)}"


def number(amount: float) -> str:
    """A number without a needless fraction: "4", "7.5"."""
    return str(int(amount)) if amount == int(amount) else f"{round(amount, 2)}"


def swap_in_full(swap: Swap, roster: Roster) -> str:
    """ "swap Ramps for Gears on 2026-11-30", "take Ramps down on 2026-11-25"."""
    if swap.outgoing is not None and swap.incoming is not None:
        goes, comes = place_in_full(swap.outgoing, roster), place_in_full(swap.incoming, roster)
        text = f"swap {goes} for {comes}"
    elif swap.incoming is not None:
        where = f" in the {swap.into_color} bin" if swap.into_color else ""
        text = f"put {place_in_full(swap.incoming, roster)} out{where}"
    else:
        assert swap.outgoing is not None, "a swap names a bin"
        text = f"take {place_in_full(swap.outgoing, roster)} down"
    day = f" on {swap.day.isoformat()}" if swap.day else ""
    till = f" till {swap.till.isoformat()}" if swap.till else ""
    return f"{text}{day}{till}{' now' if swap.is_now else ''}{' anyway' if swap.is_anyway else ''}"


def closing_in_full(closing: MoveClosing, roster: Roster) -> str:
    """ "close Ramps on 2026-12-11"."""
    assert closing.day is not None, "the day is known by now"
    return f"close {place_in_full(closing.place, roster)} on {closing.day.isoformat()}"


def away_in_full(away: NoteAway, roster: Roster) -> str:
    """ "Ava R. and Ben T. away from 2026-12-07 till 2026-12-11", a line for each stretch."""
    who = who_in_full(away.who, roster)
    return "\n".join(f"{who} away{_stretch(span)}" for span in away.spans)


_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def _stretch(span: Span) -> str:
    days = ""
    if span.weekday is not None:
        days = f" every {_WEEKDAYS[span.weekday]}"
    elif span.first is not None and span.first == span.last:
        days = f" on {span.first.isoformat()}"
    elif span.first is not None:
        till = f" till {span.last.isoformat()}" if span.last else ""
        days = f" from {span.first.isoformat()}{till}"
    starts = f" from {span.starts:%H:%M}" if span.starts else ""
    ends = f" until {span.ends:%H:%M}" if span.ends else ""
    slots = "".join(f" in rotation {slot}" for slot in span.slots if slot > 0)
    return days + starts + ends + slots


def move_in_full(move: MoveStudent, roster: Roster) -> str:
    """ "move Ava R. to group 3 from 2026-11-30", "Ava R. is with group 3 for 2026-11-24 only"."""
    group = f"group {roster.group[move.group_id].name}"
    who = who_in_full(move.who, roster)
    assert move.first is not None, "the day is known by now"
    if move.last is None:
        return f"move {who} to {group} from {move.first.isoformat()}"
    if move.last == move.first:
        return f"put {who} in {group} only for {move.first.isoformat()}"
    return f"put {who} in {group} from {move.first.isoformat()} till {move.last.isoformat()}"


def newcomer_in_full(new: NewStudent, roster: Roster) -> str:
    """ "new student Zed Q. in group 2 starting 2026-11-30"."""
    group = f" in group {roster.group[new.group_id].name}" if new.group_id else ""
    day = f" starting {new.first.isoformat()}" if new.first else ""
    return f"new student {new.called}{group}{day}"


def schedule_in_full(change: ChangeSchedule) -> str:
    """ "cancel the 10:45 rotation on 2026-11-30", "extra rotation on 2026-11-30 at 14:00"."""
    return "\n".join(_in_full(change, span) for span in change.spans)


def _in_full(change: ChangeSchedule, span: Span) -> str:
    assert span.first is not None, "the day is known by now"
    last = span.last if span.last not in (None, span.first) else None
    day = f"{span.first.isoformat()}{f' to {last.isoformat()}' if last else ''}"
    starts, ends = (f"{t:%H:%M}" if t else "" for t in (span.starts, span.ends))
    slots = " and ".join("last rotation" if n < 0 else f"rotation {n}" for n in span.slots)
    if change.what == "lost" and not ends:
        lost = slots or (f"the {starts} rotation" if starts else "all rotations")
        return f"cancel {lost} on {day}"
    if change.what == "extra":
        minutes = f" for {change.minutes} minutes" if change.minutes else ""
        return f"extra rotation on {day} at {starts}{minutes}"
    if change.what == "block" and not (starts and ends):
        return (
            f"early dismissal on {day} at {starts}" if starts else f"late start on {day} at {ends}"
        )
    texts = {
        "lost": f"no rotations on {day} from {starts or '00:00'} to {ends}",
        "block": f"assembly on {day} from {starts} to {ends}",
        "no_school": f"no school on {day}",
        "school": f"school on {day} after all",
        "runs": f"the {starts} rotation on {day} runs after all",
    }
    return texts[change.what]


def who_in_full(who: Who, roster: Roster) -> str:
    """The children meant, by their full names."""
    meant = ["everyone"] if who.everyone else []
    meant += _names(who.groups, who.students, roster)
    left_out = _names(who.but_groups, who.but_students, roster)
    text = _listed(meant)
    return f"{text} except {_listed(left_out)}" if left_out else text


def place_in_full(place: Place, roster: Roster) -> str:
    """A bin by name, or by its color."""
    if place.bin_id is not None:
        return roster.bin[place.bin_id].name
    return f"the {place.color} bin"


def _names(groups: Sequence[int], students: Sequence[int], roster: Roster) -> list[str]:
    return [f"group {roster.group[i].name}" for i in groups] + [
        roster.student[i].name for i in students
    ]


def _listed(names: Sequence[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _when(when: When) -> str:
    day = f" on {when.day.isoformat()}" if when.day else ""
    time = f" at {when.starts:%H:%M}" if when.starts else ""
    slot = f" in rotation {when.slot}" if when.slot and when.slot > 0 else ""
    return day + time + slot
