"""The best arrangement in a given number of slots: groups first, then each child."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from bot.classroom.rotation.announced import urgency_of
from bot.classroom.rotation.homes import MOST_AWAY, Homes, fewest_away_homes, weighed_homes
from bot.classroom.rotation.openings import NOWHERE, Arrangement, Openings, homes_of
from bot.classroom.rotation.places import PlacesModel
from bot.classroom.rotation.problem import KeepGroups
from bot.classroom.rotation.solving import Answer, Solving

# "Mostly": about one placement in seven may be away from the group.
ONE_IN = 7
# How many slots of waiting a child away from its group weighs; found by simulated terms.
EACH_AWAY = {KeepGroups.LOOSELY: 1, KeepGroups.MOSTLY: 2, KeepGroups.FIRMLY: 0}
# The same where groups come first and waiting only matters among equals.
MUCH = 40

NEEDS_EFFORT = 1.0
PLACES_EFFORT = 0.8
CORES_EFFORT = 2.0
IMPROVE_EFFORT = 1.0
POLISH_EFFORT = 0.4


@dataclass(frozen=True, slots=True)
class Outcome:
    """An arrangement in the first `horizon` slots with `missing` visits left out.

    `away` counts the children who are here and not at their group's home; `proven` says that no
    arrangement with that horizon and those visits has better goals.
    """

    arrangement: Arrangement
    missing: int
    horizon: int
    away: int
    proven: bool


def present_in(openings: Openings, horizon: int) -> int:
    """How many children in groups are here, summed over the first slots."""
    return sum(len(here) for (_, slot), here in openings.members.items() if slot < horizon)


def without_room(openings: Openings, horizon: int) -> int:
    """How many children no stint has a seat for beside their group, summed over the first slots."""
    crowded = 0
    for (group, slot), here in openings.members.items():
        if slot < horizon:
            rooms = [room for place, room in openings.homes(group, slot) if place != NOWHERE]
            crowded += len(here) - max(rooms, default=len(here))
    return crowded


def allowed_away(openings: Openings, horizon: int) -> int:
    """How many children `keep_groups` lets be away, summed over the first slots."""
    keep = openings.problem.keep_groups
    present = present_in(openings, horizon)
    if keep is KeepGroups.LOOSELY:
        return present
    crowded = without_room(openings, horizon)
    return crowded + ((present - crowded) // ONE_IN if keep is KeepGroups.MOSTLY else 0)


def as_it_came(openings: Openings, arrangement: Arrangement, horizon: int, missing: int) -> Outcome:
    """Groups as they happen to come together in an arrangement made without regard to them."""
    together = homes_of(openings, arrangement.at)
    home = {key: together.get(key, NOWHERE) for key in openings.members if key[1] < horizon}
    away = sum(
        1
        for (group, slot), place in home.items()
        for student in openings.members[group, slot]
        if arrangement.at.get((student, slot), NOWHERE) != place
    )
    return Outcome(Arrangement(arrangement.at, home), missing, horizon, away, proven=False)


@dataclass(frozen=True)
class Horizon:
    """The first slots of a problem, with `missing` visits left out and some places wished for."""

    openings: Openings
    wished: Mapping[tuple[int, int], int]
    solving: Solving
    slots: int
    missing: int

    def best(self) -> Outcome | bool:
        """The best arrangement; else whether there is surely none."""
        if self._keep is not KeepGroups.FIRMLY:
            early = self._early(self._weighed(self._each, self._allowed))
            if early is not None:
                return early
        fewest = fewest_away_homes(
            self.openings, self.slots, self.missing, self._urgency, self.solving
        )
        early = self._early(fewest)
        if early is not None:
            return early
        return self._together(fewest or self._weighed(MUCH, MOST_AWAY))

    def _weighed(self, each_away: int, at_most: int) -> Homes:
        """Homes for urgent needs early."""
        return weighed_homes(
            self.openings,
            self.slots,
            self.missing,
            self._urgency,
            self.solving,
            each_away=each_away,
            at_most=at_most,
        )

    @property
    def _keep(self) -> KeepGroups:
        return self.openings.problem.keep_groups

    @property
    def _each(self) -> int:
        return EACH_AWAY[self._keep]

    @cached_property
    def _urgency(self) -> Mapping[tuple[int, int], int]:
        return urgency_of(self.openings, self.slots)

    @cached_property
    def _allowed(self) -> int:
        return allowed_away(self.openings, self.slots)

    def _early(self, homes: Homes | None) -> Outcome | None:
        """Urgent needs early, if no more children are away than `keep_groups` allows."""
        if homes is None:
            return None
        model = self._model(home=homes.home)
        model.prefer(self._urgency, at_most=self._allowed, each_away=self._each)
        answer = self.solving.solve(model.cp, PLACES_EFFORT)
        if not answer.found:
            return None
        found = self._outcome(model, answer)
        return replace(found, proven=True) if found.away <= self._allowed else None

    def _together(self, homes: Homes) -> Outcome | bool:
        """The fewest children away, then urgent needs early; else whether there is surely none."""
        floor = homes.floor
        model = self._model(home=homes.home)
        answer = self.solving.solve(model.cp, PLACES_EFFORT)
        if answer.found:
            best = self._outcome(model, answer)
        elif answer.closed:
            return True
        else:
            model = self._model()
            answer = self.solving.solve(model.cp, NEEDS_EFFORT)
            if not answer.found:
                return answer.closed
            best = as_it_came(self.openings, model.arrangement(answer), self.slots, self.missing)
        if best.away > max(floor, self._allowed):
            best = self._improved(best, floor)
        best = self._polished(best)
        return replace(best, proven=best.proven or best.away <= max(floor, self._allowed))

    def _improved(self, best: Outcome, floor: int) -> Outcome:
        """Search with the homes open for fewer children away, or the proof that there are none."""
        for effort, by_cores in ((CORES_EFFORT, True), (IMPROVE_EFFORT, False)):
            model = self._model(homes_open=True)
            model.cp.add(model.away_total() >= floor)
            model.cp.add(model.away_total() < best.away)
            answer = self.solving.solve(model.cp, effort, by_cores=by_cores)
            if answer.found:
                best = replace(self._outcome(model, answer), proven=answer.closed)
            elif answer.closed:
                best = replace(best, proven=True)
            if best.proven:
                break
        return best

    def _polished(self, best: Outcome) -> Outcome:
        """Among arrangements as good with the same homes, wished places and urgent needs early."""
        model = self._model(home=best.arrangement.home)
        model.prefer(self._urgency, at_most=best.away, each_away=0)
        model.hint(best.arrangement)
        answer = self.solving.solve(model.cp, POLISH_EFFORT)
        polished = self._outcome(model, answer) if answer.found else best
        return replace(polished, proven=best.proven) if polished.away <= best.away else best

    def _model(
        self, *, home: Mapping[tuple[int, int], int] | None = None, homes_open: bool = False
    ) -> PlacesModel:
        return PlacesModel(
            self.openings,
            self.slots,
            self.missing,
            home=home,
            homes_open=homes_open,
            wished=self.wished,
        )

    def _outcome(self, model: PlacesModel, answer: Answer) -> Outcome:
        arrangement = model.arrangement(answer)
        return as_it_came(self.openings, arrangement, self.slots, self.missing)
