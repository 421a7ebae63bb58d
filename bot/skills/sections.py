"""What the morning digest is made of: functions from the situation to a part of it, or None.

SECTIONS is their order on the screen; a part that says nothing is left out.
"""

from __future__ import annotations

from collections.abc import Callable

from bot.classroom.days import rotations_on, school_day_after, school_day_before
from bot.classroom.needs import needs_of
from bot.classroom.plans import to_announce
from bot.classroom.presence import aways_on, is_away_in
from bot.classroom.restocking import due_by
from bot.classroom.risk import send_today
from bot.classroom.stints import out_on
from bot.outcomes import (
    AwayToday,
    BoxesToday,
    CopyToday,
    LostRotations,
    Part,
    SendToday,
    TodaysPlan,
)
from bot.skills.planning import make_plan
from bot.skills.skill import Situation
from bot.skills.stocktaking import take_stock
from storage.records import Student

Section = Callable[[Situation], Part | None]


def away(now: Situation) -> AwayToday | None:
    """Who is away today, and who misses some of its rotations."""
    all_day: list[Student] = []
    in_part = []
    slots = rotations_on(now.roster, now.today)
    for student in now.roster.present_roster(now.today):
        told = aways_on(now.roster, student.id, now.today)
        if any(away.starts is None and away.ends is None for away in told):
            all_day.append(student)
        elif told:
            missed = [s.starts for s in slots if is_away_in(now.roster, student.id, now.today, s)]
            if missed:
                in_part.append((student, tuple(missed)))
    return AwayToday(tuple(all_day), tuple(in_part)) if all_day or in_part else None


def lost_rotations(now: Situation) -> LostRotations | None:
    """Rotations of this weekday that do not run today."""
    usual = [r for r in now.roster.rotations if r.weekday == now.today.weekday()]
    running = rotations_on(now.roster, now.today)
    lost = tuple(r.starts for r in usual if r not in running)
    if not lost:
        return None
    blocks = [c for c in now.roster.closures if c.day == now.today and c.starts is not None]
    reasons = dict.fromkeys(block.reason for block in blocks if block.reason)
    return LostRotations(lost, ", ".join(reasons), len(lost) == len(usual))


def plan(now: Situation) -> TodaysPlan | None:
    """Today's plan by rotation."""
    if not rotations_on(now.roster, now.today) or not out_on(now.roster, now.today):
        return None
    planned = make_plan(now)
    shown = tuple(sitting for sitting in planned.sittings if sitting.day == now.today)
    if not shown:
        return None
    soon = school_day_after(now.roster, now.today) or now.today
    unmet = (u for u in planned.unmet if u.stint.closes is not None and u.stint.closes <= soon)
    told = to_announce(planned.asked, planned.plan, now.today)
    return TodaysPlan(shown, told, tuple(unmet))


def send_first(now: Situation) -> SendToday | None:
    """The children to send first today."""
    tally = now.book.tally([stint.id for stint in out_on(now.roster, now.today)])
    pairs = send_today(now.roster, tally, now.at)
    return SendToday(pairs) if pairs else None


def to_copy(now: Situation) -> CopyToday | None:
    """What has to be copied or bought today at the latest."""
    lines = due_by(take_stock(now.book, now.roster, now.at).lines.values(), now.today)
    return CopyToday(lines, now.today) if lines else None


def boxes(now: Situation) -> BoxesToday | None:
    """Which bins have been finished and may go, which go today anyway, which have come."""
    outs = out_on(now.roster, now.today)
    tally = now.book.tally([stint.id for stint in outs])
    finished, last_day, first_day = [], [], []
    for stint in outs:
        needs = needs_of(now.roster, tally, stint, now.at)
        before = school_day_before(now.roster, now.today)
        if needs.asked_of and not needs.students and stint.closes is not None:
            finished.append(stint)
        elif stint.closes is not None and stint.closes == now.today:
            last_day.append(stint)
        elif before is not None and before < stint.opens:
            first_day.append(stint)
    if not (finished or last_day or first_day):
        return None
    return BoxesToday(tuple(finished), tuple(last_day), tuple(first_day))


SECTIONS: tuple[Section, ...] = (away, lost_rotations, plan, send_first, to_copy, boxes)
