"""Who can be where and when: the problem by position (roster, stints then stations, slots)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from bot.classroom.rotation.problem import Place, PlaceKind, PlanProblem

# The home of a group that is nowhere in a slot.
NOWHERE = -1


@dataclass(frozen=True, slots=True)
class Openings:
    """The problem by position. Places are stints 0..stints-1, then stations.

    `fits` holds, for every (student, stint), the slots in which that visit is possible and counts;
    `wants` the visits still needed of those pairs, no more than there are days that fit; `members`
    who of a group is here in a slot; `held` the announced places that must stay.
    """

    problem: PlanProblem
    slots: int
    stints: int
    seats: tuple[int, ...]
    open: tuple[frozenset[int], ...]
    barred: frozenset[tuple[int, int]]
    apart: tuple[tuple[int, int], ...]
    fits: Mapping[tuple[int, int], tuple[int, ...]]
    wants: Mapping[tuple[int, int], int]
    members: Mapping[tuple[int, int], tuple[int, ...]]
    held: Mapping[tuple[int, int], int]

    def may_be_at(self, student: int, place: int, slot: int) -> bool:
        """Whether nothing but seats and company keeps a child who is here from a place."""
        return (
            slot in self.open[place]
            and (student, place) not in self.barred
            and self.held.get((student, slot), place) == place
        )

    def day(self, slot: int) -> date:
        """The day of a slot: a visit counts once a day."""
        return self.problem.slots[slot].day

    def room_at_home(self, group: int, slot: int, place: int) -> int:
        """The most members of a group who can be at one place together."""
        able = [
            s
            for s in self.members[group, slot]
            if (place == NOWHERE and (s, slot) not in self.held)
            or (place != NOWHERE and self.may_be_at(s, place, slot))
        ]
        if place == NOWHERE:
            return len(able)
        return min(self.seats[place], len(able) - self._separate_pairs(able))

    def homes(self, group: int, slot: int) -> Iterator[tuple[int, int]]:
        """Places that can be a group's home in a slot, each with the room it has for the group."""
        quorum = (len(self.members[group, slot]) + 1) // 2
        for place in (*range(len(self.seats)), NOWHERE):
            if place == NOWHERE or slot in self.open[place]:
                room = self.room_at_home(group, slot, place)
                if room >= quorum or place == NOWHERE:
                    yield place, room

    def company(self, student: int) -> frozenset[int]:
        """Those whom a child must not meet."""
        return frozenset(
            other for pair in self.apart if student in pair for other in pair if other != student
        )

    def place(self, index: int) -> Place:
        """The stint or station at a position."""
        if index < self.stints:
            return Place(PlaceKind.STINT, self.problem.stints[index].id)
        return Place(PlaceKind.STATION, self.problem.stations[index - self.stints].id)

    def holding(self, held: Mapping[tuple[int, int], int]) -> Openings:
        """The same with some announced places that must stay, and fewer visits possible."""
        fits = {
            (s, b): tuple(t for t in slots if held.get((s, t), b) == b)
            for (s, b), slots in self.fits.items()
        }
        return replace(self, held=held, fits=fits)

    def _separate_pairs(self, students: list[int]) -> int:
        """A number of children who cannot be together with the rest: pairs that share nobody."""
        seen: set[int] = set()
        for one, other in self.apart:
            if one in students and other in students and not {one, other} & seen:
                seen |= {one, other}
        return len(seen) // 2


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Where the children are, (student, slot) to place, and the home of each (group, slot)."""

    at: Mapping[tuple[int, int], int]
    home: Mapping[tuple[int, int], int]


def needed_visits(
    openings: Openings, at: Mapping[tuple[int, int], int]
) -> dict[tuple[int, int], int]:
    """The placements that count, (student, slot) to stint: the first visits of each need."""
    left = dict(openings.wants)
    counted = {}
    days = set()
    for (student, slot), place in sorted(at.items(), key=lambda entry: entry[0][1]):
        visit = (student, place, openings.day(slot))
        fits = left.get((student, place), 0) > 0 and slot in openings.fits[student, place]
        if fits and visit not in days:
            days.add(visit)
            left[student, place] -= 1
            counted[student, slot] = place
    return counted


def left_out(openings: Openings, at: Mapping[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    """The visits of each need that are not among the placements, where there are any."""
    left = dict(openings.wants)
    for (student, _), stint in needed_visits(openings, at).items():
        left[student, stint] -= 1
    return {pair: visits for pair, visits in left.items() if visits}


def homes_of(openings: Openings, at: Mapping[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    """Where each group is in each slot: where most of its members are, the first of such places.

    A group is nowhere in a slot where no place has at least half of those who are here.
    """
    homes = {}
    for (group, slot), here in openings.members.items():
        count = Counter(at[s, slot] for s in here if (s, slot) in at)
        if count:
            place, most = min(count.items(), key=lambda entry: (-entry[1], entry[0]))
            if 2 * most >= len(here):
                homes[group, slot] = place
    return homes


def openings_of(problem: PlanProblem) -> Openings:
    """Read a problem by position.

    Raises ValueError for a need of a student or stint that the problem does not list; other ids
    that it does not list (kept apart, kept from) concern nobody and are left out.
    """
    row = {student.id: s for s, student in enumerate(problem.students)}
    column = {stint.id: b for b, stint in enumerate(problem.stints)}
    every_slot = frozenset(range(len(problem.slots)))
    barred = frozenset(
        (s, column[stint])
        for s, student in enumerate(problem.students)
        for stint in student.kept_from
        if stint in column
    )
    fits = {
        (s, b): tuple(
            slot
            for slot in sorted(student.here & stint.open & every_slot)
            if (student.id, stint.id, problem.slots[slot].day) not in problem.visited
        )
        for s, student in enumerate(problem.students)
        for b, stint in enumerate(problem.stints)
        if (s, b) not in barred and stint.seats > 0
    }
    return Openings(
        problem=problem,
        slots=len(problem.slots),
        stints=len(problem.stints),
        seats=(*(b.seats for b in problem.stints), *(a.seats for a in problem.stations)),
        open=(*(stint.open for stint in problem.stints), *(every_slot for _ in problem.stations)),
        barred=barred,
        apart=_known_pairs(problem, row),
        fits=fits,
        wants=_wants(problem, row, column, fits),
        members=_members(problem),
        held={},
    )


def _wants(
    problem: PlanProblem,
    row: Mapping[int, int],
    column: Mapping[int, int],
    fits: Mapping[tuple[int, int], tuple[int, ...]],
) -> dict[tuple[int, int], int]:
    """The visits still needed by position, no more than fit."""
    wants = {}
    for (student, stint), visits in problem.needs.items():
        if student not in row or stint not in column:
            raise ValueError(f"a need of student {student}, stint {stint}, which are not listed")
        pair = (row[student], column[stint])
        wants[pair] = min(visits, len({problem.slots[slot].day for slot in fits.get(pair, ())}))
    return {pair: visits for pair, visits in sorted(wants.items()) if visits > 0}


def _known_pairs(problem: PlanProblem, row: Mapping[int, int]) -> tuple[tuple[int, int], ...]:
    """The pairs to keep apart, by position, each once."""
    pairs = {
        tuple(sorted((row[one], row[other])))
        for one, other in problem.keep_apart
        if one in row and other in row and one != other
    }
    return tuple((one, other) for one, other in sorted(pairs))


def _members(problem: PlanProblem) -> dict[tuple[int, int], tuple[int, ...]]:
    """Who of each group is here in each slot, in roster order."""
    members: dict[tuple[int, int], list[int]] = {}
    for s, student in enumerate(problem.students):
        for t in sorted(student.here):
            group = student.group_in(t)
            if group is not None and 0 <= t < len(problem.slots):
                members.setdefault((group, t), []).append(s)
    return {key: tuple(rows) for key, rows in sorted(members.items())}
