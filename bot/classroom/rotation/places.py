"""Where each child goes: with the homes of the groups given, left open, or groups set aside."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from bot.classroom.rotation.openings import NOWHERE, Arrangement, Openings
from bot.classroom.rotation.solving import Answer, total

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntVar, LinearExpr


class PlacesModel:
    """The CP-SAT model of places in the first `horizon` slots, with `missing` visits left out.

    Give `home` to fix the homes, `homes_open` to let the model choose them, neither to set groups
    aside. Seats, cautions, keep-apart, availability and held places are constraints always. The
    objective is the fewest children away from their home; it may leave children unplaced.
    """

    def __init__(
        self,
        openings: Openings,
        horizon: int,
        missing: int,
        *,
        home: Mapping[tuple[int, int], int] | None = None,
        homes_open: bool = False,
        wished: Mapping[tuple[int, int], int] | None = None,
    ) -> None:
        from ortools.sat.python import cp_model

        self.cp: CpModel = cp_model.CpModel()
        self.openings = openings
        self.horizon = horizon
        self.missing = missing
        self.home_given = home
        self.wished = wished or {}
        self.home: dict[tuple[int, int, int], IntVar] = {}
        self.together: dict[tuple[int, int, int], IntVar] = {}
        self.alone: dict[tuple[int, int, int], IntVar] = {}
        self.away: dict[tuple[int, int], IntVar] = {}
        if home is not None or homes_open:
            self._add_groups()
        self._add_visits()
        self._add_announced()
        self._add_one_place_each()
        self._add_seats_and_company()
        self.left_out = self._add_needs()
        self.cp.minimize(self.away_total())

    def hint(self, arrangement: Arrangement) -> None:
        """Start the search at a known arrangement."""
        for (group, place, slot), chosen in self.home.items():
            self.cp.add_hint(chosen, arrangement.home.get((group, slot), NOWHERE) == place)
        for (student, place, slot), chosen in (*self.together.items(), *self.alone.items()):
            self.cp.add_hint(chosen, arrangement.at.get((student, slot), NOWHERE) == place)

    def away_total(self) -> LinearExpr:
        """How many children are not at their group's home."""
        return total(self.away.values())

    def prefer(
        self, urgency: Mapping[tuple[int, int], int], *, at_most: int, each_away: int
    ) -> None:
        """From now on, with so many away at most: wished places, then urgent needs early.

        A child away weighs as much as `each_away` slots of waiting.
        """
        self.cp.add(self.away_total() <= at_most)
        late = [
            urgency.get((student, place), 0) * (slot + 1) * chosen
            for (student, place, slot), chosen in self._first_visits().items()
        ]
        late += [
            urgency[pair] * (self.horizon + 1) * skipped for pair, skipped in self.left_out.items()
        ]
        visits = sum(urgency[pair] * n for pair, n in self.openings.wants.items())
        moved = 1 + (self.horizon + 1) * visits + each_away * len(self.away)
        kept = [-moved * self._at(key) for key in self._wished()]
        self.cp.minimize(total([*kept, *late, each_away * self.away_total()]))

    def keep_wished(self) -> None:
        """From now on the most wished places."""
        self.cp.maximize(total(self._at(key) for key in self._wished()))

    def minimize_missing(self) -> None:
        """From now on the fewest visits left out."""
        self.cp.minimize(total(self.left_out.values()))

    def minimize_slots(self) -> None:
        """From now on the fewest slots up to the last visit."""
        used = self.cp.new_int_var(0, self.horizon, "")
        for (student, place, slot), chosen in self.alone.items():
            if (student, place) in self.openings.wants:
                self.cp.add(used >= slot + 1).only_enforce_if(chosen)
        self.cp.minimize(used)

    def arrangement(self, answer: Answer) -> Arrangement:
        """Read the solution."""
        at = {
            (student, slot): place
            for (student, place, slot), chosen in (*self.together.items(), *self.alone.items())
            if place != NOWHERE and answer.chosen(chosen)
        }
        home = {(g, t): p for (g, p, t), chosen in self.home.items() if answer.chosen(chosen)}
        return Arrangement(at, self.home_given if self.home_given is not None else home)

    def _add_groups(self) -> None:
        """In each slot a child is together with the group at its home, or away from it."""
        for (group, slot), here in self.openings.members.items():
            if slot >= self.horizon:
                continue
            places = [place for place, _ in self.openings.homes(group, slot)]
            if self.home_given is not None:
                places = [self.home_given[group, slot]]
            else:
                options = [self.cp.new_bool_var("") for _ in places]
                self.cp.add_exactly_one(options)
                self.home.update(
                    {(group, p, slot): o for p, o in zip(places, options, strict=True)}
                )
            for student in here:
                self._add_child(group, student, slot, places)
            self._add_quorum(group, slot, places)

    def _add_child(self, group: int, student: int, slot: int, places: list[int]) -> None:
        """One member: with the group at one of these homes, or away."""
        choices = []
        for place in places:
            if place == NOWHERE:
                able = (student, slot) not in self.openings.held
            else:
                able = self.openings.may_be_at(student, place, slot)
            if able:
                chosen = self.cp.new_bool_var("")
                self.together[student, place, slot] = chosen
                choices.append(chosen)
                if (group, place, slot) in self.home:
                    self.cp.add_implication(chosen, self.home[group, place, slot])
        self.away[student, slot] = self.cp.new_bool_var("")
        self.cp.add_exactly_one([*choices, self.away[student, slot]])

    def _add_quorum(self, group: int, slot: int, places: list[int]) -> None:
        """A home that is chosen holds at least half of the members who are here."""
        here = self.openings.members[group, slot]
        for place in places:
            if (group, place, slot) not in self.home or place == NOWHERE or len(here) < 2:
                continue
            present = total(
                self.together[s, place, slot] for s in here if (s, place, slot) in self.together
            )
            quorum = self.cp.add(present >= (len(here) + 1) // 2)
            quorum.only_enforce_if(self.home[group, place, slot])

    def _add_visits(self) -> None:
        """Visits that a child makes without the group."""
        for student, stint in self.openings.wants:
            for slot in self.openings.fits[student, stint]:
                if slot < self.horizon and not self._is_home(student, stint, slot):
                    self.alone[student, stint, slot] = self.cp.new_bool_var("")

    def _is_home(self, student: int, place: int, slot: int) -> bool:
        """Whether a given home makes that place the group's."""
        group = self.openings.problem.students[student].group_in(slot)
        given = self.home_given or {}
        return group is not None and given.get((group, slot), NOWHERE) == place

    def _add_announced(self) -> None:
        """Held places are constraints; wished ones are possible, whether they count or not."""
        for (student, slot), place in self.openings.held.items():
            key = (student, place, slot)
            if slot < self.horizon:
                if key not in self.together and key not in self.alone:
                    self.alone[key] = self.cp.new_bool_var("")
                self.cp.add(self._at(key) == 1)
        for key in self._wished():
            if key not in self.together and key not in self.alone:
                self.alone[key] = self.cp.new_bool_var("")

    def _wished(self) -> list[tuple[int, int, int]]:
        """The wished places within the horizon."""
        return [(s, place, t) for (s, t), place in self.wished.items() if t < self.horizon]

    def _at(self, key: tuple[int, int, int]) -> LinearExpr:
        """Whether a child is at a place in a slot, with the group or not."""
        return total(of[key] for of in (self.together, self.alone) if key in of)

    def _add_one_place_each(self) -> None:
        """One place per child and slot; a place without the group makes the child away."""
        by_child: dict[tuple[int, int], list[IntVar]] = defaultdict(list)
        for (student, _, slot), chosen in self.alone.items():
            by_child[student, slot].append(chosen)
        for key, choices in by_child.items():
            if key in self.away:
                self.cp.add(total(choices) <= self.away[key])
            else:
                self.cp.add_at_most_one(choices)

    def _add_seats_and_company(self) -> None:
        """Seats of each place in each slot, and children kept apart."""
        by_place: dict[tuple[int, int], list[tuple[int, IntVar]]] = defaultdict(list)
        for (student, place, slot), chosen in (*self.together.items(), *self.alone.items()):
            if place != NOWHERE:
                by_place[place, slot].append((student, chosen))
        for (place, _), present in by_place.items():
            if len(present) > self.openings.seats[place]:
                self.cp.add(total(chosen for _, chosen in present) <= self.openings.seats[place])
            for pair in self.openings.apart:
                both = [chosen for student, chosen in present if student in pair]
                if len(both) > 1:
                    self.cp.add_at_most_one(both)

    def _add_needs(self) -> dict[tuple[int, int], IntVar]:
        """Every need is met, but for `missing` visits in all."""
        chosen = {**self.together, **self.alone}
        visits = self._counted_once_a_day(chosen)
        left_out = {}
        for pair, wanted in self.openings.wants.items():
            if self.missing:
                left_out[pair] = self.cp.new_int_var(0, wanted, "")
                visits[pair].append(left_out[pair])
            self.cp.add(total(visits[pair]) >= wanted)
        if left_out:
            self.cp.add(total(left_out.values()) <= self.missing)
        return left_out

    def _counted_once_a_day(
        self, chosen: Mapping[tuple[int, int, int], IntVar]
    ) -> dict[tuple[int, int], list[LinearExpr | int]]:
        """For each need the visits that may count: several on one day are one."""
        by_day: dict[tuple[int, int], dict[date, list[IntVar]]] = {
            pair: defaultdict(list) for pair in self.openings.wants
        }
        for (student, place, slot), variable in chosen.items():
            if (student, place) in by_day and slot in self.openings.fits[student, place]:
                by_day[student, place][self.openings.day(slot)].append(variable)
        visits: dict[tuple[int, int], list[LinearExpr | int]] = {}
        for pair, days in by_day.items():
            visits[pair] = []
            for on_day in days.values():
                if len(on_day) > 1 and self.openings.wants[pair] > 1:
                    once = self.cp.new_bool_var("")
                    self.cp.add(total(on_day) >= once)
                    visits[pair].append(once)
                else:
                    visits[pair].extend(on_day)
        return visits

    def _first_visits(self) -> dict[tuple[int, int, int], IntVar]:
        """The visits that count: alone, or chosen among those with the group."""
        counted = dict(self.alone)
        for (student, place, slot), chosen in self.together.items():
            if (student, place) in self.openings.wants:
                counts = self.cp.new_bool_var("")
                self.cp.add_implication(counts, chosen)
                counted[student, place, slot] = counts
        by_pair = self._counted_once_a_day(counted)
        for pair, wanted in self.openings.wants.items():
            by_pair[pair] += [self.left_out[pair]] if pair in self.left_out else []
            self.cp.add(total(by_pair[pair]) >= wanted)
        return counted
