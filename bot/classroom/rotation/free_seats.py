"""Free seats: another turn with the group, a station, or a seat elsewhere; and who is away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from bot.classroom.rotation.openings import (
    NOWHERE,
    Arrangement,
    Openings,
    homes_of,
    needed_visits,
)


def fill_free_seats(
    openings: Openings, arrangement: Arrangement, announced: Mapping[tuple[int, int], int]
) -> dict[tuple[int, int], int]:
    """Give every child that is here and has no place one where nobody is kept from a needed turn.

    Where it was announced first, then with the group (at its home, else at a stint or station that
    takes at least half of it), then alone at a stint where it has not been that day, then at a
    station; and where all that is full, in the place of one who is not needed there and has
    another. Returns (student, slot) to place, for all slots.
    """
    seating = _Seating(openings, arrangement)
    for (student, slot), place in announced.items():
        seating.seat(student, place, slot)
    seating.stay(announced)
    groups = sorted({group for group, _ in openings.members})
    for slot in range(openings.slots):
        turn = slot % len(groups) if groups else 0
        for group in (*groups[turn:], *groups[:turn]):
            if (group, slot) in openings.members:
                seating.seat_group(group, slot)
        for student, child in enumerate(openings.problem.students):
            if slot in child.here and (student, slot) not in seating.at:
                seating.seat_alone(student, slot)
        for student, child in enumerate(openings.problem.students):
            if slot in child.here and (student, slot) not in seating.at:
                seating.seat_by_moving(student, slot, set())
    return seating.at


def away_from_group(
    openings: Openings, at: Mapping[tuple[int, int], int], used: int
) -> tuple[tuple[tuple[int, int], ...], float]:
    """The (slot, student) placed elsewhere than the group, and their share in the `used` slots.

    The share is among the placements of children in groups, up to the last needed visit.
    """
    homes = homes_of(openings, at)
    placed = 0
    away: list[tuple[int, int]] = []
    for (group, slot), here in openings.members.items():
        for student in here:
            if (student, slot) in at:
                placed += slot < used
                if at[student, slot] != homes.get((group, slot), NOWHERE):
                    away.append((slot, student))
    counted = sum(slot < used for slot, _ in away)
    return tuple(sorted(away)), counted / placed if placed else 0.0


# What a turn is worth to a child who has been there today: less than a station.
_LAST = 2


class _Seating:
    """Who sits where so far."""

    def __init__(self, openings: Openings, arrangement: Arrangement) -> None:
        self.openings = openings
        self.home = {**arrangement.home, **homes_of(openings, arrangement.at)}
        self.at = dict(arrangement.at)
        self.staying = {*openings.held, *needed_visits(openings, arrangement.at)}
        self.there: dict[tuple[int, int], set[int]] = {}
        self.turns: Counter[tuple[int, int]] = Counter()
        self.company = [openings.company(s) for s in range(len(openings.problem.students))]
        for (student, slot), place in arrangement.at.items():
            self._put(student, place, slot)

    def stay(self, announced: Mapping[tuple[int, int], int]) -> None:
        """Let those who are where it was announced not be moved."""
        self.staying |= {key for key, place in announced.items() if self.at.get(key) == place}

    def seat_group(self, group: int, slot: int) -> None:
        """Seat those of a group who have no place where the group is, or find it a home."""
        here = self.openings.members[group, slot]
        idle = [s for s in here if (s, slot) not in self.at]
        if not idle:
            return
        home = self.home.get((group, slot), NOWHERE)
        if home == NOWHERE:
            home = self._free_home(here, idle, slot)
        if home != NOWHERE:
            for student in idle:
                self.seat(student, home, slot)

    def seat_alone(self, student: int, slot: int) -> None:
        """Seat one child at a stint with room, where it has been least; else at a station."""
        free = [p for p in range(len(self.openings.seats)) if self._admits(student, p, slot)]
        if free:
            best = min(
                free, key=lambda p: (self._rank(student, p, slot), self.turns[student, p], p)
            )
            self.seat(student, best, slot)

    def seat_by_moving(self, student: int, slot: int, seen: set[int]) -> bool:
        """Seat one child where another is for no need and has a place elsewhere, and so on along.

        `seen` are the places already tried on the way.
        """
        for place in range(len(self.openings.seats)):
            if place in seen or not self.openings.may_be_at(student, place, slot):
                continue
            seen.add(place)
            if self.seat(student, place, slot):
                return True
            there = self.there.get((place, slot), set())
            in_the_way = self.company[student] & there or there
            for other in sorted(in_the_way):
                if (other, slot) in self.staying:
                    continue
                self._take(other, slot)
                fits = self._admits(student, place, slot)
                if fits and self.seat_by_moving(other, slot, seen):
                    return self.seat(student, place, slot)
                self._put(other, place, slot)
        return False

    def _free_home(self, here: tuple[int, ...], idle: list[int], slot: int) -> int:
        """A place for a group that is nowhere: most of it together, where it has been least."""
        best = (_LAST * len(idle), 0, 0, NOWHERE)
        for place in range(len(self.openings.seats)):
            room = self.openings.seats[place] - len(self.there.get((place, slot), ()))
            able = min(room, sum(self._admits(s, place, slot) for s in idle))
            together = able + sum(1 for s in here if self.at.get((s, slot)) == place)
            if able > 0 and 2 * together >= len(here):
                rank = sum(self._rank(s, place, slot) for s in idle)
                turns = sum(self.turns[s, place] for s in idle)
                best = min(best, (rank, -able, turns, place))
        return best[3]

    def _rank(self, student: int, place: int, slot: int) -> int:
        """Another turn at a stint first, then a station, then a stint where it has been today."""
        if place >= self.openings.stints:
            return 1
        day = self.openings.day(slot)
        child = self.openings.problem.students[student].id
        stint = self.openings.problem.stints[place].id
        been = (child, stint, day) in self.openings.problem.visited or any(
            self.at.get((student, other)) == place
            for other in range(self.openings.slots)
            if other != slot and self.openings.day(other) == day
        )
        return _LAST if been else 0

    def _admits(self, student: int, place: int, slot: int) -> bool:
        """Whether the hard limits let a child without a place in here."""
        there = self.there.get((place, slot), set())
        return (
            self.openings.may_be_at(student, place, slot)
            and len(there) < self.openings.seats[place]
            and not self.company[student] & there
        )

    def seat(self, student: int, place: int, slot: int) -> bool:
        """Put a child in a place if it has none and is admitted; whether that was done."""
        seated = (student, slot) not in self.at and self._admits(student, place, slot)
        if seated:
            self._put(student, place, slot)
        return seated

    def _put(self, student: int, place: int, slot: int) -> None:
        self.at[student, slot] = place
        self.there.setdefault((place, slot), set()).add(student)
        self.turns[student, place] += 1

    def _take(self, student: int, slot: int) -> None:
        place = self.at.pop((student, slot))
        self.there[place, slot].discard(student)
        self.turns[student, place] -= 1
