"""Who goes where: the plan, and whether everybody gets everywhere."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

from bot.classroom.days import (
    is_school_day,
    nth_rotation,
    rotations_on,
    running_at,
    school_day_after,
)
from bot.classroom.plans import AHEAD, Sitting, slots_ahead
from bot.classroom.stints import out_on
from bot.outcomes import ANSWERED, REFUSED, FinishForeseen, Outcome, PlanShown
from bot.requests import CanFinish, ShowPlan, Who
from bot.skills.planning import Planned, hurried, make_plan, plan_facts, students_of, tell
from bot.skills.skill import Situation, Skill
from bot.understanding.plans.finishing import ASKED_CAN_FINISH
from bot.understanding.plans.going import ASKED_WHERE_NEXT, TOLD_DONE_EARLY
from bot.understanding.plans.showing import ASKED_AHEAD, ASKED_PLAN, TOLD_TO_PLAN
from storage.records import Stint, Student


def show_plan(request: ShowPlan, now: Situation) -> Outcome:
    """Show who goes where, and keep what is shown of single days as told."""
    first, last, trouble = _days_shown(request, now)
    children = now.children(request.who, first).all
    who = students_of(now.roster, children)
    if trouble:
        return _nothing_shown(trouble, now, who, first)
    planned = make_plan(now, last=last)
    shown = [s for s in planned.sittings if first <= s.day <= last]
    if request.is_next and first == now.today and not any(s.day == first for s in shown):
        first = last = _next_day_with_rotations(now) or first
        shown = [s for s in planned.sittings if s.day == first]
    shown = _at_times(request, shown, first, now)
    starts = {s.starts for s in shown}
    if first == last and shown:
        tell(planned, now, first, only=starts)
    shown = _asked_for(request, shown, children, now)
    if not shown:
        return _nothing_shown("no_rotations", now, who, first)
    return PlanShown(
        status=ANSWERED,
        facts={"plan": plan_facts(shown)},
        sittings=tuple(shown),
        today=now.today,
        who=who,
        label=_label(request.who, now),
        unmet=tuple(u for u in planned.unmet if not children or u.student.id in children),
        mends=planned.mends() if planned.unmet and not request.is_next else (),
        done_by=planned.done_by(),
        proven=planned.plan.proven,
        day=first,
        is_next=request.is_next,
        is_whole=not children and not request.places,
    )


def _days_shown(request: ShowPlan, now: Situation) -> tuple[date, date, str]:
    first = request.first or now.today
    last = request.last or first
    if first == last and first < now.today:
        return first, last, "past"
    if first - now.today > AHEAD:
        return first, last, "far"
    if request.first is None and not rotations_on(now.roster, first):
        later = _next_day_with_rotations(now)
        return (later, later, "") if later else (first, last, "no_rotations")
    if first == last and not is_school_day(now.roster, first):
        return first, last, "no_school"
    held = [claim.turn for claim in now.book.claims(day=now.today)]
    over = not slots_ahead(now.roster, now.at, now.today, held)
    if request.first is None and over and not request.is_next:
        later = _next_day_with_rotations(now)
        return (later, later, "") if later else (first, last, "no_rotations")
    return first, last, ""


def _next_day_with_rotations(now: Situation) -> date | None:
    day = school_day_after(now.roster, now.today)
    while day is not None and day - now.today < timedelta(days=14):
        if rotations_on(now.roster, day):
            return day
        day = school_day_after(now.roster, day)
    return None


def _nothing_shown(reason: str, now: Situation, who: tuple[Student, ...], day: date) -> Outcome:
    return PlanShown(
        status=REFUSED if reason in ("past", "far") else ANSWERED,
        facts={"plan": []},
        today=now.today,
        who=who,
        reason=reason,
        day=day,
    )


def _at_times(
    request: ShowPlan, shown: list[Sitting], first: date, now: Situation
) -> list[Sitting]:
    """Of one day, the rotation asked for, or the next one."""
    if request.slot is not None:
        chosen = nth_rotation(rotations_on(now.roster, first), request.slot)
        starts = chosen.starts if chosen is not None else None
        return [s for s in shown if s.day == first and s.starts == starts]
    if request.starts is not None:
        starts = _rotation_at(request.starts, shown, first, now)
        return [s for s in shown if s.day == first and s.starts == starts]
    if request.is_next and shown:
        return [s for s in shown if (s.day, s.starts) == (shown[0].day, shown[0].starts)]
    return shown


def _rotation_at(moment: time, shown: list[Sitting], day: date, now: Situation) -> time | None:
    """The rotation that runs at a time of a day, or the one that begins next."""
    running = running_at(rotations_on(now.roster, day), moment)
    later = [s.starts for s in shown if s.day == day and s.starts >= moment]
    return running.starts if running is not None else min(later, default=None)


def _asked_for(
    request: ShowPlan, shown: list[Sitting], children: frozenset[int], now: Situation
) -> list[Sitting]:
    """Of these sittings, those of the children and the bins asked for."""
    if children:
        shown = [
            replace(sitting, students=kept)
            for sitting in shown
            if (kept := tuple(s for s in sitting.students if s.id in children))
        ]
    if request.places:
        stints = {s.id for p in request.places if (s := now.stint(p, now.today)) is not None}
        shown = [s for s in shown if s.stint is not None and s.stint.id in stints]
    return shown


def _label(who: Who, now: Situation) -> str | None:
    if len(who.groups) == 1 and not who.students and not who.everyone:
        return f"Group {now.roster.group[who.groups[0]].name}"
    return None


def can_finish(request: CanFinish, now: Situation) -> Outcome:
    """Say of each bin who cannot get there before it closes (or by a day), and what would help."""
    asked = [s for place in request.places if (s := now.stint(place, now.today))]
    stints = asked or list(out_on(now.roster, now.today))
    planned = make_plan(now, last=request.by)
    late = [] if request.by is None else [s for s in stints if _is_late(planned, s, request.by)]
    sooner = hurried(planned, late, request.by, now) if late and request.by else planned
    children = now.children(request.who, now.today).all
    unmet = tuple(
        u for u in sooner.unmet if u.stint in stints and (not children or u.student.id in children)
    )
    found = tuple(
        (
            stint,
            students_of(now.roster, {u.student.id for u in unmet if u.stint is stint}),
            planned.finish_of(stint),
        )
        for stint in stints
    )
    others = tuple(u for u in sooner.unmet if u.stint not in stints and u not in planned.unmet)
    return FinishForeseen(
        status=ANSWERED,
        stints=found,
        by=request.by,
        today=now.today,
        unmet=unmet,
        mends=sooner.mends() if unmet else (),
        only_if_first=tuple(s for s in late if not any(u.stint is s for u in unmet)),
        miss_out=others,
    )


def _is_late(planned: Planned, stint: Stint, by: date) -> bool:
    """Whether the plan has somebody come to a bin after a day, or not at all."""
    ends = planned.finish_of(stint)
    late = ends is not None and ends > by
    return late or any(u.stint.id == stint.id for u in planned.unmet)


PLAN = Skill(
    name="plan",
    title="Ask who goes where next, today or this week, and whether everyone will get everywhere",
    examples=(
        "plan",
        "where does g3 go next?",
        "plan for tomorrow",
        "can everyone finish ramps by friday?",
    ),
    listeners=(
        ASKED_PLAN,
        ASKED_AHEAD,
        TOLD_TO_PLAN,
        ASKED_WHERE_NEXT,
        TOLD_DONE_EARLY,
        ASKED_CAN_FINISH,
    ),
    acts=((ShowPlan, show_plan), (CanFinish, can_finish)),
)
