"""What the class book asks of the planner, and what a plan says in its words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from bot.classroom.cautions import kept_from
from bot.classroom.days import current_rotation, minutes_of, rotations_left
from bot.classroom.needs import Tally, is_for, missing_visits
from bot.classroom.presence import is_away_in
from bot.classroom.rotation.problem import (
    Announced,
    KeepGroups,
    Place,
    PlaceKind,
    Plan,
    PlanProblem,
    PlanStation,
    PlanStint,
    PlanStudent,
    RotationSlot,
)
from storage.records import Announcement, Roster, Rotation, Seated, Stint, Student, Turn

AHEAD = timedelta(days=28)  # how far a plan looks: four weeks
JUST_BEGUN = 5  # minutes within which a rotation that has begun is still sent out
Seats = Callable[[Stint], int]


@dataclass(frozen=True, slots=True)
class Sitting:
    """Who goes to one place in one rotation: a stint or, uncounted, a station by name."""

    day: date
    starts: time
    stint: Stint | None
    name: str  # of the bin or the station
    station_id: int  # 0 for a stint
    students: tuple[Student, ...]
    needed: frozenset[int]


def slots_ahead(
    roster: Roster, now: datetime, last: date, held: Iterable[Turn] = ()
) -> tuple[tuple[date, Rotation], ...]:
    """The rotations to plan: those to come, and one just begun in which nothing was logged."""
    slots = rotations_left(roster, now, last)
    running = current_rotation(roster, now)
    if running is not None and running.starts < now.time():
        begun = minutes_of(now.time()) - minutes_of(running.starts)
        logged = any(turn.rotation == running.starts for turn in held)
        if begun <= min(JUST_BEGUN, running.minutes // 2) and not logged:
            slots.insert(0, (now.date(), running))
    return tuple(slots)


def last_day(roster: Roster, now: datetime) -> date:
    """The last closing day of the bins that are out, no more than four weeks ahead."""
    edge = now.date() + AHEAD
    out = out_meanwhile(roster, now.date(), edge)
    return max((min(stint.closes or edge, edge) for stint in out), default=now.date())


def out_meanwhile(roster: Roster, first: date, last: date) -> tuple[Stint, ...]:
    """The stints that are out at some time between two days."""
    return tuple(
        s for s in roster.stints if s.opens <= last and (s.closes is None or s.closes >= first)
    )


@dataclass(frozen=True)
class Asked:
    """A problem for the planner, with the slots it speaks of."""

    roster: Roster
    slots: tuple[tuple[date, Rotation], ...]
    problem: PlanProblem


def ask_planner(
    roster: Roster,
    tally: Tally,
    now: datetime,
    *,
    held_today: Sequence[Turn] = (),
    announced: Iterable[Announcement] = (),
    touched: frozenset[int] = frozenset(),
    seats: Seats = lambda stint: stint.seats,
    last: date,
) -> Asked:
    """Put the class as a problem: needs, seats, rotations left, aways, cautions, what was told.

    `tally` must hold every stint that is out between now and `last`; `touched` are the children for
    whom what was told may change.
    """
    slots = slots_ahead(roster, now, last, held_today)
    stints = out_meanwhile(roster, now.date(), last)
    students = [s for s in roster.students if any(s.is_on_roster(day) for day, _ in slots)]
    return Asked(
        roster,
        slots,
        PlanProblem(
            slots=tuple(RotationSlot(day, r.starts, r.minutes) for day, r in slots),
            students=tuple(_child(roster, student, stints, slots) for student in students),
            stints=tuple(
                PlanStint(
                    stint.id,
                    seats(stint),
                    frozenset(n for n, (day, _) in enumerate(slots) if stint.is_out(day)),
                )
                for stint in stints
            ),
            needs={
                (student.id, stint.id): missing
                for student in students
                for stint in stints
                if is_for(roster, stint, student)
                and (missing := missing_visits(tally, stint, student))
            },
            stations=tuple(
                PlanStation(station.id, station.seats or len(students))
                for station in roster.stations
            ),
            keep_apart=tuple((pair.student_id, pair.other_id) for pair in roster.apart),
            announced=tuple(_told(announced, slots)),
            touched=touched,
            visited=frozenset((t.student_id, t.stint_id, t.day) for t in held_today),
            keep_groups=KeepGroups(roster.class_.keep_groups),
            absence_rate=roster.class_.absence_rate,
        ),
    )


def _child(
    roster: Roster,
    student: Student,
    stints: Sequence[Stint],
    slots: Sequence[tuple[date, Rotation]],
) -> PlanStudent:
    groups = {n: roster.group_on(student.id, day) for n, (day, _) in enumerate(slots)}
    usual = max(groups.values(), key=list(groups.values()).count, default=None)
    return PlanStudent(
        id=student.id,
        group=usual,
        here=frozenset(
            n
            for n, (day, rotation) in enumerate(slots)
            if student.is_on_roster(day) and not is_away_in(roster, student.id, day, rotation)
        ),
        kept_from=frozenset(
            stint.id
            for stint in stints
            if kept_from(roster, student, roster.bin_of(stint)) is not None
        ),
        guest={n: group for n, group in groups.items() if group != usual},
    )


def _told(
    announced: Iterable[Announcement], slots: Sequence[tuple[date, Rotation]]
) -> Iterable[Announced]:
    position = {(day, rotation.starts): n for n, (day, rotation) in enumerate(slots)}
    for told in announced:
        slot = position.get((told.day, told.starts))
        if slot is not None:
            for seat in told.places:
                place = Place(PlaceKind(seat.kind), seat.id)
                yield from (Announced(student, slot, place) for student in seat.students)


def sittings(asked: Asked, plan: Plan) -> tuple[Sitting, ...]:
    """A plan in the words of the class book, in order of time."""
    found = []
    for placement in plan.placements:
        day, rotation = asked.slots[placement.slot]
        needed = frozenset(placement.needed)
        found.append(
            _sitting(
                asked.roster,
                day,
                rotation.starts,
                Seated(placement.place.kind.value, placement.place.id, placement.students),
                needed,
            )
        )
    return tuple(found)


def told_sittings(roster: Roster, announced: Iterable[Announcement]) -> tuple[Sitting, ...]:
    """What was announced, in the same words."""
    return tuple(
        _sitting(roster, told.day, told.starts, seat, frozenset())
        for told in announced
        for seat in told.places
    )


def _sitting(
    roster: Roster, day: date, starts: time, seat: Seated, needed: frozenset[int]
) -> Sitting:
    stint = roster.stint.get(seat.id) if seat.kind == PlaceKind.STINT.value else None
    known = {station.id: station.name for station in roster.stations}
    return Sitting(
        day=day,
        starts=starts,
        stint=stint,
        name=roster.bin_of(stint).name if stint else known.get(seat.id, ""),
        station_id=0 if stint else seat.id,
        students=tuple(roster.student[i] for i in seat.students if i in roster.student),
        needed=needed,
    )


def to_announce(asked: Asked, plan: Plan, day: date) -> dict[tuple[date, time], list[Seated]]:
    """What a member is told of the rotations of one day."""
    told: dict[tuple[date, time], list[Seated]] = {
        (on, rotation.starts): [] for on, rotation in asked.slots if on == day
    }
    for placement in plan.placements:
        on, rotation = asked.slots[placement.slot]
        if on == day:
            seat = Seated(placement.place.kind.value, placement.place.id, placement.students)
            told[on, rotation.starts].append(seat)
    return told
