"""The search over horizons: most needs, then fewest rotations weighed with groups together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from bot.classroom.rotation.announced import urgency_of
from bot.classroom.rotation.bounds import bound_of
from bot.classroom.rotation.horizon import Horizon, Outcome, allowed_away, as_it_came, present_in
from bot.classroom.rotation.openings import Arrangement, Openings, left_out, needed_visits
from bot.classroom.rotation.places import PlacesModel
from bot.classroom.rotation.problem import KeepGroups
from bot.classroom.rotation.solving import Solving

# How many rotations more may be spent on keeping groups together.
EXTRA_ROTATIONS = 2
# How many horizons from the bound on are tried before the whole calendar is searched.
TRIES = 4
MISSING_EFFORT = 1.0


def best_arrangement(
    openings: Openings, wished: Mapping[tuple[int, int], int], solving: Solving
) -> Outcome:
    """The best arrangement found, `proven` where none has better goals.

    Places held by the openings are constraints; `wished` ones, (student, slot) to place, are kept
    where that costs no goal.
    """
    tried = [_fewest(openings, wished, solving)]
    first = tried[0]
    last = min(first.horizon + EXTRA_ROTATIONS, openings.slots)
    for horizon in range(first.horizon + 1, last + 1):
        if tried[-1].away <= allowed_away(openings, tried[-1].horizon):
            break
        more = Horizon(openings, wished, solving, horizon, first.missing).best()
        if isinstance(more, Outcome):
            tried.append(more)
            if more.away >= tried[-2].away:
                break
    best = min(tried, key=lambda outcome: _cost(openings, outcome))
    return replace(best, proven=all(outcome.proven for outcome in tried))


def _cost(openings: Openings, outcome: Outcome) -> tuple[float, int]:
    """What `keep_groups` makes of children away beyond what it allows, then the rotations."""
    if outcome.away <= allowed_away(openings, outcome.horizon):
        return 0.0, outcome.horizon
    if openings.problem.keep_groups is KeepGroups.FIRMLY:
        return outcome.away, outcome.horizon
    return outcome.away / present_in(openings, outcome.horizon), outcome.horizon


def _fewest(openings: Openings, wished: Mapping[tuple[int, int], int], solving: Solving) -> Outcome:
    """The most needs in the fewest slots."""
    bound = bound_of(openings)
    proven = True
    if bound.visits == sum(openings.wants.values()):
        first = max(bound.rotations, last_counted(openings))
        for horizon in range(first, openings.slots + 1)[:TRIES]:
            found = Horizon(openings, wished, solving, horizon, 0).best()
            if isinstance(found, Outcome):
                return replace(found, proven=found.proven and proven)
            proven = proven and found
    return _leaving_out(openings, wished, solving)


def last_counted(openings: Openings) -> int:
    """The slots up to the last held place that counts."""
    wants = openings.wants
    held = (slot + 1 for (s, slot), place in openings.held.items() if (s, place) in wants)
    return max(held, default=0)


def _leaving_out(
    openings: Openings, wished: Mapping[tuple[int, int], int], solving: Solving
) -> Outcome:
    """As many needs as the whole calendar allows, then in as few slots as that takes."""
    arrangement, most = most_visits(openings, solving)
    missing = sum(left_out(openings, arrangement.at).values())
    model = PlacesModel(openings, openings.slots, missing)
    model.minimize_slots()
    model.hint(arrangement)
    fewest = solving.solve(model.cp, MISSING_EFFORT)
    arrangement = model.arrangement(fewest) if fewest.found else arrangement
    used = (slot + 1 for _, slot in needed_visits(openings, arrangement.at))
    horizon = max(used, default=0)
    found = Horizon(openings, wished, solving, horizon, missing).best()
    if not isinstance(found, Outcome):
        found = as_it_came(openings, arrangement, horizon, missing)
    return replace(found, proven=found.proven and most and fewest.closed)


def most_visits(openings: Openings, solving: Solving) -> tuple[Arrangement, bool]:
    """An arrangement on the whole calendar with the most needs met, and whether that is proven."""
    arrangement = _at_once(openings)
    model = PlacesModel(openings, openings.slots, sum(openings.wants.values()))
    model.minimize_missing()
    model.hint(arrangement)
    answer = solving.solve(model.cp, MISSING_EFFORT)
    return (model.arrangement(answer) if answer.found else arrangement), answer.closed


def _at_once(openings: Openings) -> Arrangement:
    """A first arrangement without search: slot by slot the most urgent needs that fit."""
    urgency = urgency_of(openings)
    at = dict(openings.held)
    seen = {(s, place, openings.day(slot)) for (s, slot), place in at.items()}
    taken = Counter((place, slot) for (_, slot), place in at.items())
    for slot in range(openings.slots):
        left = left_out(openings, at)
        for student, stint in sorted(left, key=lambda pair: -urgency[pair]):
            company = openings.company(student)
            if (
                slot in openings.fits[student, stint]
                and (student, slot) not in at
                and taken[stint, slot] < openings.seats[stint]
                and (student, stint, openings.day(slot)) not in seen
                and not any(at.get((other, slot)) == stint for other in company)
            ):
                at[student, slot] = stint
                seen.add((student, stint, openings.day(slot)))
                taken[stint, slot] += 1
    return Arrangement(at, {})
