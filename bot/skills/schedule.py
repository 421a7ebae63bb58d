"""Days without school, half days, rotations lost and added."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time, timedelta

from bot.classroom.days import is_school_day, nth_rotation, rotation_end, rotations_on, running_at
from bot.outcomes import ANSWERED, DONE, REFUSED, Outcome, ScheduleChanged
from bot.requests import ChangeSchedule, Span
from bot.skills.planning import replan_today
from bot.skills.skill import Situation, Skill
from bot.understanding.schedule.blocks import (
    TOLD_EARLY,
    TOLD_EVENT,
    TOLD_HALF,
    TOLD_LATE,
    TOLD_RUNS,
    TOLD_TRIP,
)
from bot.understanding.schedule.moved import TOLD_MOVED
from bot.understanding.schedule.rotations import TOLD_EXTRA, TOLD_LOST
from bot.understanding.schedule.whole_days import TOLD_NO_SCHOOL, TOLD_SCHOOL
from storage.records import Closure, Rotation

_LONGEST = 60  # days closed by one text: more is a slip
_USUAL = 20  # minutes of a rotation where the class has none to go by


def change_schedule(request: ChangeSchedule, now: Situation) -> Outcome:
    """Close or open days and rotations, and say what that changes today."""
    days = list(_days(request, now))
    if not days:
        return _changed(request, now, (), (), status=ANSWERED, what="no_such_day")
    if days[0] < now.today - timedelta(days=_LONGEST) or len(days) > _LONGEST:
        return _changed(request, now, (), (), status=REFUSED, what="too_long")
    act = {
        "no_school": _no_school,
        "school": _school,
        "lost": _lost,
        "block": _block,
        "extra": _extra,
        "runs": _runs,
    }[request.what]
    return act(request, days, now)


def _days(request: ChangeSchedule, now: Situation) -> Iterator[date]:
    """The days meant, in order; today where none is named. Weekends close with their week."""
    seen = set()
    for span in request.spans:
        first = span.first or now.today
        last = span.last or first
        for n in range(min((last - first).days, _LONGEST) + 1):
            seen.add(first + timedelta(days=n))
    open_days = now.roster.class_.school_days
    yield from sorted(day for day in seen if day.weekday() in open_days)


def _changed(
    request: ChangeSchedule,
    now: Situation,
    days: tuple[date, ...],
    rotations: tuple[Rotation, ...],
    **said: object,
) -> ScheduleChanged:
    changed = said.get("status", DONE) == DONE
    moved, planned = replan_today(now, ()) if changed and now.today in days else ((), None)
    told = {
        "status": DONE,
        "what": request.what,
        "days": days,
        "rotations": rotations,
        "reason": request.reason,
        "today": now.today,
        "moved": moved,
        "at_risk": planned.unmet if planned is not None else (),
        **said,
    }
    return ScheduleChanged(**told)  # type: ignore[arg-type]


def _no_school(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    new = [day for day in days if is_school_day(now.roster, day)]
    for day in new:
        now.book.add_closure(now.entry_id, day, request.reason or "no school")
    if not new:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="closed_already")
    held = sum(len(now.book.claims(day=day)) for day in new if day <= now.today)
    changes = tuple({"what": "no_school", "day": day.isoformat()} for day in new)
    return _changed(request, now, tuple(new), (), changes=changes, logged=held)


def _school(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    closed = [c for c in now.roster.closures if c.day in days]
    if not closed:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="open_already")
    now.book.void_closures(now.entry_id, [closure.id for closure in closed])
    opened = tuple(sorted({closure.day for closure in closed}))
    changes = tuple({"what": "school", "day": day.isoformat()} for day in opened)
    return _changed(request, now, opened, (), changes=changes)


def _lost(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    lost: list[tuple[date, Rotation]] = []
    for day in days:
        lost += [(day, rotation) for rotation in _rotations_meant(request.spans[0], day, now)]
    if not lost:
        return _changed(request, now, tuple(days), (), status=REFUSED, what="no_such_rotation")
    for day, rotation in lost:
        if rotation.id < 0:
            now.book.void_extras(now.entry_id, [-rotation.id])
        else:
            reason = request.reason or "rotation lost"
            ends = rotation_end(rotation)
            now.book.add_closure(now.entry_id, day, reason, rotation.starts, ends)
    held = sum(
        claim.turn.rotation == rotation.starts
        for day, rotation in lost
        for claim in now.book.claims(day=day)
    )
    changes = tuple(
        {"what": "rotation_lost", "day": day.isoformat(), "starts": f"{r.starts:%H:%M}"}
        for day, r in lost
    )
    return _changed(
        request,
        now,
        tuple(dict.fromkeys(day for day, _ in lost)),
        tuple(rotation for _, rotation in lost),
        changes=changes,
        logged=held,
    )


def _rotations_meant(span: Span, day: date, now: Situation) -> list[Rotation]:
    """The rotations named by number or time; those of a block; else all of the day."""
    rotations = rotations_on(now.roster, day)
    if span.slots:
        chosen = (nth_rotation(rotations, number) for number in span.slots)
        return [rotation for rotation in chosen if rotation is not None]
    if span.starts is not None and span.ends is not None:
        return [r for r in rotations if r.starts < span.ends and span.starts < rotation_end(r)]
    if span.starts is not None:
        running = running_at(rotations, span.starts)
        return [running] if running is not None else []
    return list(rotations)


def _block(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    """A part of the day in which no rotation runs: an assembly, early release, a late start."""
    [span, *_] = request.spans
    starts, ends = span.starts, span.ends
    lost = [
        (day, r)
        for day in days
        for r in rotations_on(now.roster, day)
        if r.starts < (ends or time.max) and (starts or time.min) < rotation_end(r)
    ]
    for day in days:
        now.book.add_closure(
            now.entry_id, day, request.reason or "no rotations", starts or time.min, ends
        )
    changes = tuple(
        {
            "what": "block",
            "day": day.isoformat(),
            "starts": f"{starts:%H:%M}" if starts else None,
            "ends": f"{ends:%H:%M}" if ends else None,
        }
        for day in days
    )
    return _changed(request, now, tuple(days), tuple(r for _, r in lost), changes=changes)


def _extra(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    [span, *_] = request.spans
    assert span.starts is not None, "asked for before"
    usual = now.roster.rotations[0].minutes if now.roster.rotations else _USUAL
    minutes = request.minutes or usual
    added = Rotation(0, days[0].weekday(), span.starts, minutes)
    ends = rotation_end(added)
    for day in days:
        if not is_school_day(now.roster, day):
            return _changed(request, now, (day,), (), status=REFUSED, what="no_school_then")
        beside = rotations_on(now.roster, day)
        if any(r.starts < ends and span.starts < rotation_end(r) for r in beside):
            return _changed(request, now, (day,), (added,), status=REFUSED, what="overlaps")
    for day in days:
        now.book.add_extra(now.entry_id, day, span.starts, minutes)
    changes = tuple(
        {"what": "rotation_added", "day": day.isoformat(), "starts": f"{span.starts:%H:%M}"}
        for day in days
    )
    return _changed(request, now, tuple(days), (added,), changes=changes)


def _runs(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    """A block is taken back: the rotation runs after all."""
    [span, *_] = request.spans
    blocks = [
        closure
        for closure in now.roster.closures
        if closure.day in days and closure.starts is not None and _covers(closure, span)
    ]
    if not blocks:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="open_already")
    now.book.void_closures(now.entry_id, [closure.id for closure in blocks])
    changes = tuple({"what": "school", "day": closure.day.isoformat()} for closure in blocks)
    return _changed(request, now, tuple({c.day for c in blocks}), (), changes=changes)


def _covers(closure: Closure, span: Span) -> bool:
    if span.starts is None:
        return True
    return (closure.starts or time.min) <= span.starts < (closure.ends or time.max)


SCHEDULE = Skill(
    name="schedule",
    title="Tell of days without school, half days, rotations lost or added",
    examples=(
        "no school friday",
        "half day tomorrow",
        "we lost the 10:40 rotation",
        "extra rotation at 1:10",
    ),
    listeners=(
        TOLD_NO_SCHOOL,
        TOLD_SCHOOL,
        TOLD_LOST,
        TOLD_HALF,
        TOLD_EARLY,
        TOLD_LATE,
        TOLD_EVENT,
        TOLD_MOVED,
        TOLD_TRIP,
        TOLD_EXTRA,
        TOLD_RUNS,
    ),
    acts=((ChangeSchedule, change_schedule),),
)
