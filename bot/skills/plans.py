"""Who goes where: the plan, whether everybody gets everywhere, and logging what was planned."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta
from itertools import pairwise

from bot.classroom.days import (
    current_rotation,
    is_school_day,
    nth_rotation,
    rotation_end,
    rotations_on,
    running_at,
    school_day_after,
)
from bot.classroom.plans import AHEAD, Sitting, slots_ahead, told_sittings
from bot.classroom.presence import Presence, presence
from bot.classroom.rotation.bounds import can_finish as could_finish
from bot.classroom.stints import out_on
from bot.outcomes import (
    ANSWERED,
    DONE,
    REFUSED,
    FinishForeseen,
    LoggedAsPlanned,
    Outcome,
    PlanShown,
)
from bot.requests import (
    Ask,
    CanFinish,
    LogAsPlanned,
    LogVisits,
    Place,
    Request,
    ShowPlan,
    When,
    Who,
)
from bot.skills.planning import Planned, make_plan, plan_facts, students_of, tell
from bot.skills.skill import Situation, Skill
from bot.understanding.asking_back import Heard
from bot.understanding.canonical import log_in_full
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_of
from storage.records import Stint, Student, Turn


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
        return [s for s in shown if s.day == first and s.starts == request.starts]
    if request.is_next and shown:
        return [s for s in shown if (s.day, s.starts) == (shown[0].day, shown[0].starts)]
    return shown


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
    children = now.children(request.who, now.today).all
    found = []
    for stint in stints:
        lacking = _not_by(planned, stint, request.by)
        if children:
            lacking = tuple(s for s in lacking if s.id in children)
        found.append((stint, lacking, planned.finish_of(stint)))
    unmet = tuple(u for u in planned.unmet if u.stint in stints)
    return FinishForeseen(
        status=ANSWERED,
        stints=tuple(found),
        by=request.by,
        today=now.today,
        unmet=unmet,
        mends=planned.mends() if unmet else (),
    )


def _not_by(planned: Planned, stint: Stint, by: date | None) -> tuple[Student, ...]:
    """Who is not there by then: in the plan, and, where the plan puts others first, at all."""
    problem = planned.asked.problem
    unmet = {u.student.id for u in planned.unmet if u.stint.id == stint.id}
    if by is None:
        return students_of(planned.roster, unmet)
    if not unmet and could_finish(problem, stint.id, by):
        return ()
    late = {
        student
        for sitting in planned.sittings
        if sitting.stint is not None and sitting.stint.id == stint.id and sitting.day > by
        for student in sitting.needed
    }
    return students_of(planned.roster, unmet | late)


def log_as_planned(request: LogAsPlanned, now: Situation) -> Outcome:
    """Log what was told of a rotation, or of all of a day's so far, but for those left out."""
    day = request.when.day or now.today
    told = told_sittings(now.roster, now.book.announcements(day, day))
    starts = _starts_meant(request, day, now)
    chosen = [s for s in told if s.starts in starts]
    reason = _trouble(day, starts, chosen, now)
    if reason:
        return LoggedAsPlanned(status=REFUSED, today=now.today, day=day, reason=reason)
    out = now.children(request.but, day)
    only = now.children(request.only, day).all
    held = {(c.turn.student_id, c.turn.rotation): c.turn for c in now.book.claims(day=day)}
    been = {turn.key for turn in held.values()}
    credited: list[Sitting] = []
    away: list[Student] = []
    elsewhere: list[Student] = []
    left_out: list[Student] = []
    for sitting in chosen:
        kept = []
        for student in sitting.students:
            if (only and student.id not in only) or sitting.stint is None:
                continue
            there = held.get((student.id, sitting.starts))
            if student.id in out.all:
                left_out.append(student)
            elif presence(now.roster, student.id, day, sitting.starts) is Presence.AWAY:
                away.append(student)
            elif there is not None and there.stint_id != sitting.stint.id:
                elsewhere.append(student)
            elif (student.id, sitting.stint.id, day) not in been:
                kept.append(student)
        if kept:
            credited.append(replace(sitting, students=tuple(kept)))
    turns = [
        Turn(student.id, sitting.stint.id, day, sitting.starts)
        for sitting in credited
        if sitting.stint is not None
        for student in sitting.students
    ]
    now.book.claim(now.entry_id, turns)
    return LoggedAsPlanned(
        today=now.today,
        day=day,
        status=DONE if turns else ANSWERED,
        added=tuple(turns),
        sittings=tuple(credited),
        said="\n".join(_in_full(sitting, day, now) for sitting in credited) or None,
        left_out=tuple(dict.fromkeys(left_out)),
        away=tuple(dict.fromkeys(away)),
        elsewhere=tuple(dict.fromkeys(elsewhere)),
    )


def _starts_meant(request: LogAsPlanned, day: date, now: Situation) -> set[time]:
    rotations = rotations_on(now.roster, day)
    if request.when.slot is not None:
        chosen = nth_rotation(rotations, request.when.slot)
        return {chosen.starts} if chosen is not None else set()
    if request.when.starts is not None:
        chosen = running_at(rotations, request.when.starts)
        return {chosen.starts} if chosen is not None else set()
    begun = [r for r in rotations if day < now.today or r.starts <= now.at.time()]
    over = bool(rotations) and day == now.today and rotation_end(rotations[-1]) <= now.at.time()
    if request.whole_day or day < now.today or over:
        return {rotation.starts for rotation in begun}
    running = current_rotation(now.roster, now.at)
    return {running.starts} if running is not None else set()


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


# What is listened for


_OTHERS = frozenset(("change", "summary", "digest", "briefing", "recap", "swap"))


def _hear_plan(clause: Clause) -> Request | None:
    words = clause.word_set
    if words & _OTHERS:
        return None
    [span, *more] = spans_of(clause.items, clause.at)
    first, last = span.first, span.last
    if more:
        last = more[-1].last or last
    when = clause.said_when()
    who = clause.who()
    if who.everyone:
        who = replace(who, everyone=False)
    goes = bool(words & {"next", "now", "where", "wheres", "early"})
    asks_next = goes and not span.names_day and when.slot is None and when.starts is None
    return ShowPlan(
        first=first,
        last=last,
        who=who,
        places=clause.places(),
        starts=when.starts,
        slot=when.slot,
        is_next=asks_next,
    )


def _hear_where_next(clause: Clause) -> Request | None:
    """ "g3 is done early, where next": a bin named is the one they are done with."""
    words = clause.word_set
    if words & {"still", "need", "needs", "left", "missing", "has", "have", "hasnt", "havent"}:
        return None
    heard = _hear_plan(clause)
    if isinstance(heard, ShowPlan) and heard.who:
        return replace(heard, places=(), is_next=not heard.first)
    return heard


def _hear_finish(clause: Clause) -> Request | None:
    if clause.word_set & _OTHERS:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    who = clause.who()
    if who.everyone:
        who = replace(who, everyone=False)
    return CanFinish(clause.places(), span.last or span.first, who)


def _hear_as_planned(clause: Clause) -> Heard | Request | None:
    words = clause.word_set
    if _asks(clause) or words & {"not", "didnt", "if", "will", "isnt", "wasnt", "cant"}:
        return None
    for before, item in pairwise(clause.items):
        if before.can_be(Kind.BUT, Kind.EXCEPT) and item.kind is Kind.UNKNOWN:
            return Heard(asks=[Ask("unknown_name", item.text, (), LogAsPlanned.name)])
    who = clause.who()
    but = Who(who.but_groups, who.but_students)
    only = Who(who.groups, who.students)
    whole = bool(words & {"today", "day", "all", "everything", "morning", "rotations", "both"})
    everyone = any(item.kind is Kind.EVERYONE and "all" in item.keys for item in clause.items)
    return LogAsPlanned(clause.said_when(), only, but, whole and not everyone)


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
        Listener(
            (
                "^ ok|hey|so? the|todays|our|show|give|make|see|get|print|whats|what|send? "
                "me|us|is? the|a|my|our|todays? plan|plans|schedule|rotations $",
                "show|give|make|see|get|print|send|tell me|us? the|a|my|our? plan|plans|schedule",
                "whats|what|wheres is? the|todays|our? plan|rotation|rotations|schedule",
                "plan|plans|rotations for|on|of the|this? <day>|<time>|<who>|week|next|now|day|"
                "rotation|rotations",
                "rotation|rotations|center|bin|todays|the|our|my plan|schedule|chart",
                "^ plan|rotations <day>|<who>|<time>|next|today|the|this|out|it",
                "^ plan|schedule pls|please|plz|again|thanks? $",
                "<day> plan|rotations|schedule",
                "<who> plan|schedule $",
                "who goes|go|is|are|should|will ... where",
                "who goes|go|is going|should go ... <bin> next|now|first|<time>|<day>|after",
                "who goes|go to|at|on|in <bin>",
                "whos|who|whod|whose next|first|up|on|at|going ... <bin> next|now|first|after",
                "plan it",
                "make|do|redo a|the|it? new? plan again?",
                "whats|what is|comes? next|now $",
                "next rotation",
                "which bin|bins|center|station ... <who> ... next|now",
                "what bin|center|station ... <who> ... next|now|after|<day>",
                "early finishers",
                "free seat|seats|spot|spots",
            ),
            _hear_plan,
            rank=1,
        ),
        Listener(
            (
                "where do|does|is|are|should|will|can|shall|to ... <who>",
                "where next|to|now|then ... <who>",
                "where|wheres|what|whats ... <who> next|now|then|go|going|to|supposed|after",
                "<who> ... where next|to|now|do|does|should|will|go|then|are|is",
                "<who> ... what next|now|do they do|then",
                "<who> ... whats next",
                "<who> next|now where|what $",
                "<who> done|finished early",
                "next for|place for|bin for|spot for|seat for <who>",
                "<who> ^? next $",
                "<who> next place|bin|station|spot|center",
                "where next|to|now",
                "wheres next",
                "where do|does|should|can|will they|he|she|we|i|it|kids|the|early|everyone",
                "what do|does|should they|he|she|we|i do now|next|then",
                "what can <who> do now|next|then",
            ),
            _hear_where_next,
            questions_only=True,
            asks_of="plan",
            rank=1,
        ),
        Listener(
            (
                "^ <who> next $",
                "<who> ... early ... where|what|whats|next|place",
                "^ if <who> ... early|done|finished ... where|what|whats|next",
                "early finishers",
            ),
            _hear_where_next,
            asks_of="plan",
            rank=1,
        ),
        Listener(
            (
                "^ ok|so|and|but? can|could|will|does|do|would <who> ... "
                "finish|get|make|be|go|fit|manage|complete",
                "^ ok|so|and|but? can|could|will we|they|all|i ... "
                "finish|get|make|fit|manage|complete",
                "^ can|could|will|would it|this|that|everything|<bin> ... work|fit|finish|be done",
                "are|will we ... on track|time|make it|done by",
                "on track",
                "enough time|rotations|days|turns ... <bin>|everyone|all|<who>|left",
                "^ will|does|can <who> get to? <bin>",
                "who wont|cant|can not|will not ... get|finish|make|reach",
                "who will miss",
                "before <bin> closes|goes|ends|is",
            ),
            _hear_finish,
            questions_only=True,
            asks_of="plan",
            rank=2,
        ),
    ),
    acts=((ShowPlan, show_plan), (CanFinish, can_finish)),
)


def _asks(clause: Clause) -> bool:
    """ "we did what the plan said" asks nothing."""
    first = clause.items[0] if clause.items else None
    marked = any(item.kind is Kind.QUERY for item in clause.items)
    return marked or (first is not None and first.can_be(Kind.ASK, Kind.AUX) and clause.is_question)


AS_PLANNED = Skill(
    name="as_planned",
    title="Log a rotation that ran as planned",
    examples=("everyone where the plan says", "ran as planned but Ruby was with me"),
    listeners=(
        Listener(
            (
                "where|like|as|what the? plan says|said|say|had|told|put|sent|has",
                "did|followed|kept ... what|as|like you|the ... plan|said|told",
                "as|like|according|per|by|following|followed to|with? the|our? "
                "plan|planned|schedule",
                "stuck|kept|sticking|keeping to|with the|our? plan|schedule",
                "went|ran|goes|going to plan|schedule",
                "as planned|planed|plannd|scheduled",
                "ran|went|run|go|all|everything|rotations|it|that|day ... as|to|per|according "
                "to|per|the? plan|planned|planed|plannd|schedule",
                "followed|did|ran|kept ... the|your|our plan",
                "plan ran|worked|held|went fine|well|perfectly|great",
                "no changes to the? plan",
            ),
            _hear_as_planned,
            rank=3,
        ),
    ),
    acts=((LogAsPlanned, log_as_planned),),
)
