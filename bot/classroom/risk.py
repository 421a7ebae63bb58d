"""Who will not get to a bin before it closes, and whom to send there today."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from bot.classroom.days import rotation_end, rotations_left, rotations_on, school_days
from bot.classroom.needs import Tally, is_for, missing_visits, stints_needed
from bot.classroom.presence import is_away_in
from bot.classroom.stints import out_on
from storage.records import Roster, Rotation, Stint, Student, Turn

NOTICE = 2  # school days between the warning and the end of the last day: common practice
_LAST_DAYS = 5  # school days before the end in which the present rate is believed
_PACE_DAYS = 5  # logged school days that the present rate is taken from
_PACE_ROTATIONS = 4  # fewer tell no rate

Slots = Sequence[tuple[date, Rotation]]
Unmet = Mapping[int, Mapping[int, int]]


@dataclass(frozen=True, slots=True)
class Risk:
    """A bin that not everyone who needs it can reach: children whom the plan has no turn for, and
    turns still needed against turns to be expected."""

    stint: Stint
    students: tuple[Student, ...]
    needed: int
    expected: int

    @property
    def level(self) -> int:
        """How bad it is: turns or children that will miss out."""
        return max(len(self.students), self.needed - self.expected)


def chances(roster: Roster, student_id: int, left: Slots) -> int:
    """The rotations among these in which a student can come."""
    if student_id not in roster.aways_of:
        return len(left)
    return sum(not is_away_in(roster, student_id, day, slot) for day, slot in left)


def risks(
    roster: Roster, tally: Tally, turns: Iterable[Turn], unmet: Unmet, now: datetime
) -> tuple[Risk, ...]:
    """The bins out now that cannot be finished, soonest to close first.

    A child is at risk for whom the plan finds no turn there any more (`unmet`: stint to student to
    turns); a bin, where the present rate, near its end, gives fewer turns than are needed. Only
    bins that stay out for two more school days; `turns` are those taken at the bins out now.
    """
    taken = tuple(turns)
    found = []
    for stint in out_on(roster, now.date()):
        if stint.closes is None:
            continue
        days = len(school_days(roster, now.date(), stint.closes)) - _is_on(roster, now.date())
        if days >= NOTICE:
            risk = _risk(roster, tally, taken, stint, unmet.get(stint.id, {}), days, now)
            if risk.level > 0:
                found.append(risk)
    return tuple(sorted(found, key=lambda risk: (risk.stint.closes, -risk.level)))


def _is_on(roster: Roster, day: date) -> bool:
    return bool(school_days(roster, day, day))


def _risk(
    roster: Roster,
    tally: Tally,
    turns: Sequence[Turn],
    stint: Stint,
    unmet: Mapping[int, int],
    days: int,
    now: datetime,
) -> Risk:
    left = rotations_left(roster, now, stint.closes or now.date())
    lacking = [
        student
        for student in roster.present_roster(now.date())
        if is_for(roster, stint, student) and missing_visits(tally, stint, student)
    ]
    needed = sum(missing_visits(tally, stint, student) for student in lacking)
    # A few children who fit into one rotation are sent there, whatever the rate was.
    is_told = days <= _LAST_DAYS and needed > stint.seats
    pace = _pace(roster, turns, stint, now) if is_told else None
    unable = tuple(student for student in lacking if unmet.get(student.id))
    able = needed - sum(unmet.get(student.id, 0) for student in lacking)
    expected = able if pace is None else min(able, int(min(pace, stint.seats) * len(left) + 1e-9))
    return Risk(stint, unable, needed, expected)


def _pace(roster: Roster, turns: Sequence[Turn], stint: Stint, now: datetime) -> float | None:
    """Turns that were needed, a rotation, on the last days that were logged; None where too few
    rotations tell."""
    logged = {turn.day for turn in turns}
    days = [day for day in school_days(roster, stint.opens, now.date()) if day in logged]
    days = days[-_PACE_DAYS:]
    ran = sum(
        day < now.date() or rotation_end(slot) <= now.time()
        for day in days
        for slot in rotations_on(roster, day)
    )
    if ran < _PACE_ROTATIONS:
        return None
    return sum(day in days for day in _days_counted(turns, stint)) / ran


def _days_counted(turns: Sequence[Turn], stint: Stint) -> Iterable[date]:
    """The day of each turn at a stint that was still needed then."""
    held: dict[int, set[date]] = defaultdict(set)
    for turn in turns:
        if turn.stint_id == stint.id:
            held[turn.student_id].add(turn.day)
    for days in held.values():
        yield from sorted(days)[: stint.visits_each]


def send_today(
    roster: Roster, tally: Tally, now: datetime, *, most: int = 3
) -> tuple[tuple[Student, Stint], ...]:
    """The children to send first today, each to the bin where it has fewest spare chances.

    Spare chances as for the order of one bin: rotations left before it closes in which the child
    can come, minus the visits it still needs. Only bins with a closing day, only children who can
    come today.
    """
    slots = rotations_left(roster, now, now.date())
    out = [stint for stint in out_on(roster, now.date()) if stint.closes is not None]
    left = {stint.id: rotations_left(roster, now, stint.closes or now.date()) for stint in out}
    urgent = []
    for student in roster.present_roster(now.date()):
        if not chances(roster, student.id, slots):
            continue
        needs = stints_needed(roster, tally, student, now.date())
        total = sum(missing for _, missing in needs)
        spare = [
            (chances(roster, student.id, left[stint.id]) - total, stint.closes, stint.id)
            for stint, _ in needs
            if stint.id in left
        ]
        if spare:
            least = min(spare, key=lambda found: (found[0], found[1] or date.max, found[2]))
            urgent.append((least[0], -total, student.position, student, roster.stint[least[2]]))
    urgent.sort(key=lambda found: found[:3])
    return tuple((student, stint) for *_, student, stint in urgent[:most])
