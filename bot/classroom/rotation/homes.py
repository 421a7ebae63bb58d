"""Where each group goes as a group: the first, coarse step of a plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from bot.classroom.rotation.openings import NOWHERE, Openings
from bot.classroom.rotation.solving import Answer, Solving, total

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntVar, LinearExpr

FEWEST_EFFORT = 1.0
WEIGHED_EFFORT = 0.5
POLISH_EFFORT = 0.2
# No class has so many children and slots.
MOST_AWAY = 100_000


@dataclass(frozen=True, slots=True)
class Homes:
    """A home for each (group, slot), and how many children must be away in any plan."""

    home: Mapping[tuple[int, int], int]
    floor: int


# Visits that the same homes cover: the stint, the homes by variable, how many visits.
_Alike = tuple[int, tuple[int, ...], int]


def fewest_away_homes(
    openings: Openings,
    horizon: int,
    missing: int,
    urgency: Mapping[tuple[int, int], int],
    solving: Solving,
) -> Homes | None:
    """Choose homes for the first `horizon` slots with the fewest children away, then early ones.

    The model knows which needs the homes cover; a need that they leave, a child whom the home has
    no room for or who may not be there, must be away. That relaxes the whole problem with up to
    `missing` visits left out, so the floor holds for every plan. None where none were found.
    """
    model = _HomesModel(openings, horizon, missing)
    first = solving.solve(model.cp, FEWEST_EFFORT, by_cores=True)
    if not first.found:
        return None
    model.cp.add(model.away <= first.cost())
    for variable in model.home.values():
        model.cp.add_hint(variable, first.chosen(variable))
    model.prefer(urgency, each_away=0)
    second = solving.solve(model.cp, POLISH_EFFORT)
    return Homes(model.homes(second if second.found else first), first.floor())


def weighed_homes(
    openings: Openings,
    horizon: int,
    missing: int,
    urgency: Mapping[tuple[int, int], int],
    solving: Solving,
    *,
    each_away: int,
    at_most: int,
) -> Homes:
    """Choose homes that serve urgent needs early, a child away weighing `each_away` slots.

    No more than `at_most` children are to be away; where the search finds nothing, homes are
    chosen one by one.
    """
    model = _HomesModel(openings, horizon, missing)
    model.cp.add(model.away <= at_most)
    model.prefer(urgency, each_away=each_away)
    one_by_one = model.one_by_one(urgency)
    for (group, place, slot), chosen in model.home.items():
        model.cp.add_hint(chosen, one_by_one[group, slot] == place)
    answer = solving.solve(model.cp, WEIGHED_EFFORT)
    return Homes(model.homes(answer) if answer.found else one_by_one, 0)


class _HomesModel:
    """The CP-SAT model of homes; its cost, `away`, is a floor for the children away."""

    def __init__(self, openings: Openings, horizon: int, missing: int) -> None:
        from ortools.sat.python import cp_model

        self.cp: CpModel = cp_model.CpModel()
        self.openings = openings
        self.horizon = horizon
        self.slots = range(horizon)
        self.options: dict[tuple[int, int], list[int]] = {}
        self.home: dict[tuple[int, int, int], IntVar] = {}
        self.room: dict[tuple[int, int, int], int] = {}
        self.out: dict[int, list[LinearExpr | int]] = defaultdict(list)
        self.barred: dict[int, list[IntVar]] = defaultdict(list)
        self.alike: dict[tuple[int, int], _Alike] = {}
        self.covers: dict[_Alike, list[tuple[int, IntVar]]] = {}
        self.uncovered: dict[_Alike, IntVar] = {}
        self._add_homes()
        self._add_seats()
        self._add_needs(missing)
        self.away = self._away()
        self.cp.minimize(self.away)

    def prefer(self, urgency: Mapping[tuple[int, int], int], *, each_away: int) -> None:
        """From now on weigh urgent needs early with children away, then more to do."""
        weight: dict[_Alike, int] = defaultdict(int)
        for pair, alike in self.alike.items():
            weight[alike] += urgency[pair]
        terms: list[LinearExpr | int] = [each_away * self.away]
        for alike, heavy in weight.items():
            # A need that no home covers is met alone, half-way on average.
            terms.append(heavy * (self.horizon // 2 + 1) * self.uncovered[alike])
            counted = [self.uncovered[alike]]
            for slot, home in self.covers[alike]:
                first = self.cp.new_bool_var("")
                self.cp.add_implication(first, home)
                counted.append(first)
                terms.append(heavy * (slot + 1) * first)
            self.cp.add(total(counted) >= alike[2])
        for (group, place, slot), chosen in self.home.items():
            if place == NOWHERE or place >= self.openings.stints:
                idle = 2 if place == NOWHERE else 1
                terms.append(idle * len(self.openings.members[group, slot]) * chosen)
        self.cp.minimize(total(terms))

    def one_by_one(self, urgency: Mapping[tuple[int, int], int]) -> dict[tuple[int, int], int]:
        """Homes chosen slot by slot and group by group for the most urgent needs left."""
        left = dict(self.openings.wants)
        free = {(place, t): n for place, n in enumerate(self.openings.seats) for t in self.slots}
        homes = {}
        for group, slot in sorted(self.options, key=lambda key: (key[1], key[0])):
            here = self.openings.members[group, slot]
            best, home = 0, NOWHERE
            for place in self.options[group, slot]:
                gain = sum(urgency[s, place] for s in here if left.get((s, place), 0) > 0)
                if gain > best and self.room[group, place, slot] <= free[place, slot]:
                    best, home = gain, place
            homes[group, slot] = home
            if home != NOWHERE:
                free[home, slot] -= self.room[group, home, slot]
            for student in here:
                if left.get((student, home), 0) > 0:
                    left[student, home] -= 1
        return homes

    def homes(self, answer: Answer) -> dict[tuple[int, int], int]:
        """Read the solution."""
        return {(g, t): p for (g, p, t), chosen in self.home.items() if answer.chosen(chosen)}

    def _add_homes(self) -> None:
        """One home for each group in each slot, with those for whom it has no room."""
        for (group, slot), here in self.openings.members.items():
            if slot >= self.horizon:
                continue
            self.options[group, slot] = []
            for place, room in self.openings.homes(group, slot):
                chosen = self.cp.new_bool_var("")
                self.options[group, slot].append(place)
                self.home[group, place, slot] = chosen
                self.room[group, place, slot] = room
                if room < len(here):
                    self.out[group].append((len(here) - room) * chosen)
                    for student in here:
                        if place != NOWHERE and not self.openings.may_be_at(student, place, slot):
                            self.barred[student].append(chosen)
            self.cp.add_exactly_one(self.home[group, p, slot] for p in self.options[group, slot])

    def _add_seats(self) -> None:
        """Groups at one place beyond its seats leave that many of their children away."""
        away: dict[tuple[int, int], IntVar] = {}
        by_place: dict[tuple[int, int], list[int]] = defaultdict(list)
        for group, place, slot in self.home:
            if place != NOWHERE:
                by_place[place, slot].append(group)
        for (place, slot), groups in by_place.items():
            rooms = [self.room[g, place, slot] for g in groups]
            if sum(rooms) <= self.openings.seats[place]:
                continue
            for g in groups:
                if (g, slot) not in away:
                    half = len(self.openings.members[g, slot]) // 2
                    away[g, slot] = self.cp.new_int_var(0, half, "")
                    self.out[g].append(away[g, slot])
            loads = [n * self.home[g, place, slot] for g, n in zip(groups, rooms, strict=True)]
            out = total(away[g, slot] for g in groups)
            self.cp.add(total(loads) <= self.openings.seats[place] + out)

    def _add_needs(self, missing: int) -> None:
        """For each need of a child in a group the visits that no home covers."""
        left_out = []
        for (student, stint), visits in self.openings.wants.items():
            covers = self._covers(student, stint)
            if covers is None:
                continue
            homes = tuple(home.index for _, home in covers)
            alike = (stint, (*homes, -1 - student) if missing else homes, visits)
            self.alike[student, stint] = alike
            if alike in self.covers:
                continue
            self.covers[alike] = covers
            self.uncovered[alike] = self.cp.new_int_var(0, visits, "")
            met: list[LinearExpr | int] = [self.uncovered[alike], *(home for _, home in covers)]
            if missing:
                left_out.append(self.cp.new_int_var(0, visits, ""))
                met.append(left_out[-1])
            self.cp.add(total(met) >= visits)
        if left_out:
            self.cp.add(total(left_out) <= missing)

    def _covers(self, student: int, stint: int) -> list[tuple[int, IntVar]] | None:
        """The homes that give a child a visit, by slot; None where it can come without a group."""
        child = self.openings.problem.students[student]
        covers = []
        for slot in self.openings.fits[student, stint]:
            if slot < self.horizon:
                group = child.group_in(slot)
                if group is None:
                    return None
                if (group, stint, slot) in self.home:
                    covers.append((slot, self.home[group, stint, slot]))
        return covers

    def _away(self) -> LinearExpr:
        """The children away: in each bucket the more of what its needs and its homes force.

        A bucket is a group, or the class where somebody is a guest: then one child away in one
        slot could be counted in two groups.
        """
        guests = any(student.guest for student in self.openings.problem.students)
        uncovered: dict[int, list[IntVar]] = defaultdict(list)
        for (student, _), alike in self.alike.items():
            uncovered[student].append(self.uncovered[alike])
        by_needs: dict[int, list[LinearExpr | int]] = defaultdict(list)
        for student in sorted({*uncovered, *self.barred}):
            group = self.openings.problem.students[student].group
            bucket = 0 if guests or group is None else group
            by_needs[bucket].append(self._more_of(uncovered[student], self.barred[student]))
        by_homes: dict[int, list[LinearExpr | int]] = defaultdict(list)
        for group, out in self.out.items():
            by_homes[0 if guests else group] += out
        return total(
            self._more_of(by_needs[bucket], by_homes[bucket])
            for bucket in sorted({*by_needs, *by_homes})
        )

    def _more_of(
        self, one: Sequence[LinearExpr | int], other: Sequence[LinearExpr | int]
    ) -> LinearExpr:
        """A count no less than either sum; where one is empty, the other."""
        if not one or not other:
            return total([*one, *other])
        most = self.cp.new_int_var(0, MOST_AWAY, "")
        self.cp.add(most >= total(one))
        self.cp.add(most >= total(other))
        return most
