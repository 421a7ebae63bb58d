"""What skills share that look ahead: the plan from now on, what was told of it, what changes."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date, time
from functools import cached_property

from bot.classroom.plans import (
    Asked,
    Sitting,
    ask_planner,
    last_day,
    out_meanwhile,
    sittings,
    to_announce,
)
from bot.classroom.rotation.bounds import planned_finish
from bot.classroom.rotation.memo import Plans
from bot.classroom.rotation.problem import Plan, Reason
from bot.classroom.supplies import PIECE
from bot.classroom.tubs import seats_by_stint
from bot.outcomes import Mended, Moved, Unplanned
from bot.skills.skill import Situation
from bot.skills.stocktaking import stocks_of
from storage.records import Announcement, Roster, Stint, Student


@dataclass(frozen=True)
class Planned:
    """A plan with the problem it solves."""

    asked: Asked
    plan: Plan
    plans: Plans

    @property
    def roster(self) -> Roster:
        """The class it was made for."""
        return self.asked.roster

    @cached_property
    def sittings(self) -> tuple[Sitting, ...]:
        """Who goes where, in order of time."""
        return sittings(self.asked, self.plan)

    @cached_property
    def unmet(self) -> tuple[Unplanned, ...]:
        """What it cannot do; children kept away by a caution are asked for nothing."""
        roster = self.roster
        return tuple(
            Unplanned(roster.student[n.student], roster.stint[n.stint], n.visits, n.reason.value)
            for n in self.plan.unmet
            if n.reason is not Reason.CAUTION
        )

    def mends(self) -> tuple[Mended, ...]:
        """What would help, the smallest change first."""
        return tuple(
            Mended(
                mend.kind.value,
                mend.amount,
                self.roster.stint[mend.stint] if mend.stint is not None else None,
                mend.day,
                mend.unmet,
            )
            for mend in self.plans.mends(self.asked.problem)
        )

    def done_by(self) -> date | None:
        """The day of the last visit that is needed."""
        days = [sitting.day for sitting in self.sittings if sitting.needed]
        return max(days, default=None)

    def finish_of(self, stint: Stint) -> date | None:
        """The day of the last visit needed at one stint."""
        return planned_finish(self.asked.problem, self.plan, stint.id)


def make_plan(now: Situation, *, touched: Iterable[int] = (), last: date | None = None) -> Planned:
    """The plan from now to the closing days, keeping what was told for today where it can.

    `touched` are the children for whom what was told may change.
    """
    roster = now.book.roster()
    ends = max(last_day(roster, now.at), last or now.today)
    tally = now.book.tally([stint.id for stint in out_meanwhile(roster, now.today, ends)])
    held = [claim.turn for claim in now.book.claims(day=now.today)]
    pieces = {supply.id for supply in roster.supplies if supply.kind == PIECE}
    stocks = stocks_of(now.book, roster, pieces) if pieces else {}
    usable = seats_by_stint(roster, stocks)
    asked = ask_planner(
        roster,
        tally,
        now.at,
        held_today=held,
        announced=now.book.announcements(now.today),
        touched=frozenset(touched),
        seats=lambda stint: usable.get(stint.id, stint.seats),
        last=ends,
    )
    return Planned(asked, now.plans.plan(asked.problem), now.plans)


def hurried(planned: Planned, stints: Collection[Stint], by: date, now: Situation) -> Planned:
    """The plan in which these bins have to be done by the end of a day."""
    problem = planned.asked.problem
    early = frozenset(n for n, slot in enumerate(problem.slots) if slot.day <= by)
    wanted = {stint.id for stint in stints}
    cut = tuple(
        replace(known, open=known.open & early) if known.id in wanted else known
        for known in problem.stints
    )
    asked = replace(planned.asked, problem=replace(problem, stints=cut))
    return Planned(asked, now.plans.plan(asked.problem), now.plans)


def tell(
    planned: Planned, now: Situation, day: date, *, only: Collection[time] | None = None
) -> None:
    """Keep what is told of a day's rotations (of those that start then), so that it stays."""
    told = to_announce(planned.asked, planned.plan, day)
    chosen = {key: seats for key, seats in told.items() if only is None or key[1] in only}
    now.book.announce(now.entry_id, chosen)


def replan_today(
    now: Situation, touched: Iterable[int]
) -> tuple[tuple[Moved, ...], Planned | None]:
    """Plan anew after a change, if today's rotations had been told: what changes in them."""
    told = now.book.announcements(now.today, now.today)
    if not told:
        return (), None
    planned = make_plan(now, touched=touched)
    moved = _changes(planned, told, now)
    tell(planned, now, now.today, only={one.starts for one in told})
    return moved, planned


def _changes(planned: Planned, told: Iterable[Announcement], now: Situation) -> tuple[Moved, ...]:
    """The children whose place in a rotation still to come is another than was told."""
    before = {
        (one.starts, student): (seat.kind, seat.id)
        for one in told
        for seat in one.places
        for student in seat.students
    }
    spoken_of = {one.starts for one in told}
    after: dict[tuple[time, int], Sitting] = {
        (sitting.starts, student.id): sitting
        for sitting in planned.sittings
        if sitting.day == now.today and sitting.starts in spoken_of
        for student in sitting.students
    }
    ahead = {rotation.starts for day, rotation in planned.asked.slots if day == now.today}
    keys = sorted(
        {key for key in (*before, *after) if key[0] in ahead & spoken_of},
        key=lambda key: (key[0], planned.roster.student[key[1]].position),
    )
    moved = []
    for starts, student in keys:
        old, new = before.get((starts, student)), after.get((starts, student))
        if old != (_seat(new) if new else None):
            child = planned.roster.student[student]
            moved.append(Moved(now.today, starts, child, new))
    return tuple(moved)


def _seat(sitting: Sitting) -> tuple[str, int]:
    return ("stint", sitting.stint.id) if sitting.stint else ("station", sitting.station_id)


def plan_facts(shown: Iterable[Sitting]) -> list[dict[str, object]]:
    """Sittings at bins for programs: day, starts, bin, students."""
    facts: list[dict[str, object]] = []
    for sitting in shown:
        if sitting.stint is not None:
            facts.append(
                {
                    "day": sitting.day.isoformat(),
                    "starts": f"{sitting.starts:%H:%M}",
                    "bin": sitting.name,
                    "students": [student.name for student in sitting.students],
                }
            )
    return facts


def students_of(roster: Roster, ids: Iterable[int]) -> tuple[Student, ...]:
    """Students by id, in roster order."""
    wanted = set(ids)
    return tuple(student for student in roster.students if student.id in wanted)
