"""Logging what was planned, as it was told."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, time

from bot.classroom.days import (
    current_rotation,
    is_school_day,
    nth_rotation,
    rotation_end,
    rotations_on,
    running_at,
)
from bot.classroom.plans import Sitting, told_sittings
from bot.classroom.presence import Presence, presence
from bot.outcomes import ANSWERED, DONE, REFUSED, LoggedAsPlanned, Outcome
from bot.requests import LogAsPlanned, LogVisits, Place, When, Who
from bot.skills.skill import Situation, Skill
from bot.understanding.canonical import log_in_full
from bot.understanding.plans.as_planned import TOLD_AS_PLANNED
from storage.records import Student, Turn


def log_as_planned(request: LogAsPlanned, now: Situation) -> Outcome:
    """Log what was told of a rotation, or of all of a day's so far, but for those left out."""
    day = request.when.day or now.today
    told = told_sittings(now.roster, now.book.announcements(day, day))
    starts = _starts_meant(request, day, now)
    chosen = [s for s in told if s.starts in starts]
    reason = _trouble(day, starts, chosen, now)
    if reason:
        return LoggedAsPlanned(status=REFUSED, today=now.today, day=day, reason=reason)
    sat = _who_sat(request, chosen, day, now)
    turns = [
        Turn(student.id, sitting.stint.id, day, sitting.starts)
        for sitting in sat.credited
        if sitting.stint is not None
        for student in sitting.students
    ]
    now.book.claim(now.entry_id, turns)
    return LoggedAsPlanned(
        today=now.today,
        day=day,
        status=DONE if turns else ANSWERED,
        added=tuple(turns),
        sittings=tuple(sat.credited),
        said="\n".join(_in_full(sitting, day, now) for sitting in sat.credited) or None,
        left_out=tuple(dict.fromkeys(sat.left_out)),
        away=tuple(dict.fromkeys(sat.away)),
        elsewhere=tuple(dict.fromkeys(sat.elsewhere)),
    )


@dataclass(slots=True)
class _Sat:
    """What was told, by what came of it: where children sat, and who did not."""

    credited: list[Sitting] = field(default_factory=list)
    left_out: list[Student] = field(default_factory=list)
    away: list[Student] = field(default_factory=list)
    elsewhere: list[Student] = field(default_factory=list)


def _who_sat(request: LogAsPlanned, chosen: list[Sitting], day: date, now: Situation) -> _Sat:
    out = now.children(request.but, day).all
    only = now.children(request.only, day).all
    shut = {s.id for place in request.but_places if (s := now.stint(place, day)) is not None}
    held = {(c.turn.student_id, c.turn.rotation): c.turn for c in now.book.claims(day=day)}
    been = {turn.key for turn in held.values()}
    sat = _Sat()
    for sitting in chosen:
        kept = []
        for student in sitting.students:
            if (only and student.id not in only) or sitting.stint is None:
                continue
            there = held.get((student.id, sitting.starts))
            if student.id in out or sitting.stint.id in shut:
                sat.left_out.append(student)
            elif presence(now.roster, student.id, day, sitting.starts) is Presence.AWAY:
                sat.away.append(student)
            elif there is not None and there.stint_id != sitting.stint.id:
                sat.elsewhere.append(student)
            elif (student.id, sitting.stint.id, day) not in been:
                kept.append(student)
        if kept:
            sat.credited.append(replace(sitting, students=tuple(kept)))
    return sat


def _starts_meant(request: LogAsPlanned, day: date, now: Situation) -> set[time]:
    rotations = rotations_on(now.roster, day)
    begun = [r for r in rotations if day < now.today or r.starts <= now.at.time()]
    if request.when.slot is not None:
        if request.when.slot == _LAST and begun:
            return {begun[-1].starts}  # the one that ran last
        chosen = nth_rotation(rotations, request.when.slot)
        return {chosen.starts} if chosen is not None else set()
    if request.when.starts is not None:
        chosen = running_at(rotations, request.when.starts)
        return {chosen.starts} if chosen is not None else set()
    over = bool(rotations) and day == now.today and rotation_end(rotations[-1]) <= now.at.time()
    if request.whole_day or day < now.today or over:
        return {rotation.starts for rotation in begun}
    running = current_rotation(now.roster, now.at)
    return {running.starts} if running is not None else set()


_LAST = -1


def _trouble(day: date, starts: set[time], chosen: list[Sitting], now: Situation) -> str:
    if day > now.today:
        return "future"
    if not is_school_day(now.roster, day):
        return "no_school"
    if not starts or (day == now.today and min(starts) > now.at.time()):
        return "not_begun"
    return "" if chosen else "not_told"


def _in_full(sitting: Sitting, day: date, now: Situation) -> str:
    assert sitting.stint is not None, "only turns at bins are logged"
    log = LogVisits(
        Who(students=tuple(student.id for student in sitting.students)),
        Place(bin_id=sitting.stint.bin_id),
        When(day, sitting.starts),
    )
    return log_in_full(log, now.roster)


AS_PLANNED = Skill(
    name="as_planned",
    title="Log a rotation that ran as planned",
    examples=("everyone where the plan says", "ran as planned but Ruby was with me"),
    listeners=(TOLD_AS_PLANNED,),
    acts=((LogAsPlanned, log_as_planned),),
)
