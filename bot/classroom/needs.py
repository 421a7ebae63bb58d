"""Needs: who has fewer visits to a stint than it asks for, and whom to send first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.classroom.cautions import kept_from
from bot.classroom.days import rotations_left
from bot.classroom.presence import is_away_in
from bot.classroom.stints import out_on
from storage.records import Roster, Stint, Student

Tally = Mapping[int, Mapping[int, int]]
HORIZON = timedelta(days=28)  # how far ahead a bin without a closing day is looked at


@dataclass(frozen=True, slots=True)
class Needs:
    """Who still needs a stint, in the order to send them, and who is kept from it by a caution."""

    stint: Stint
    students: tuple[Student, ...]
    kept_away: tuple[Student, ...]
    asked_of: int  # how many children it is for


def was_member_during(student: Student, stint: Stint) -> bool:
    """Whether the student was on the roster at some time while the bin was out."""
    joined_in_time = (
        student.joined is None or stint.closes is None or student.joined <= stint.closes
    )
    return joined_in_time and (student.left is None or student.left >= stint.opens)


def missing_visits(tally: Tally, stint: Stint, student: Student) -> int:
    """Visits asked minus visits held; never below zero."""
    return max(0, stint.visits_each - tally.get(stint.id, {}).get(student.id, 0))


def is_for(roster: Roster, stint: Stint, student: Student) -> bool:
    """Whether this child is asked to go there: on the roster meanwhile, and no caution."""
    kept = kept_from(roster, student, roster.bin_of(stint))
    return was_member_during(student, stint) and kept is None


def needs_of(roster: Roster, tally: Tally, stint: Stint, now: datetime) -> Needs:
    """Who on today's roster still needs a stint; `tally` must hold every stint that is out now."""
    asked, kept_away = [], []
    for student in roster.present_roster(now.date()):
        if is_for(roster, stint, student):
            asked.append(student)
        elif was_member_during(student, stint) and missing_visits(tally, stint, student):
            kept_away.append(student)
    lacking = [student for student in asked if missing_visits(tally, stint, student)]
    order = send_first(roster, tally, stint, lacking, now)
    return Needs(stint, order, tuple(kept_away), len(asked))


def stints_needed(
    roster: Roster, tally: Tally, student: Student, day: date
) -> tuple[tuple[Stint, int], ...]:
    """The stints out on this day that a student still needs, with the visits missing."""
    return tuple(
        (stint, missing)
        for stint in out_on(roster, day)
        if is_for(roster, stint, student) and (missing := missing_visits(tally, stint, student))
    )


def send_first(
    roster: Roster, tally: Tally, stint: Stint, students: Iterable[Student], now: datetime
) -> tuple[Student, ...]:
    """Students in the order to send them: fewest spare chances, most needs, roster order.

    Spare chances: rotations left before the stint closes in which the student can come, minus the
    visits the student still needs across all stints that are out.
    """
    last = stint.closes or now.date() + HORIZON
    left = rotations_left(roster, now, last)

    def urgency(student: Student) -> tuple[int, int, int]:
        chances = sum(not is_away_in(roster, student.id, day, slot) for day, slot in left)
        needs = sum(n for _, n in stints_needed(roster, tally, student, now.date()))
        return chances - needs, -needs, student.position

    return tuple(sorted(students, key=urgency))
