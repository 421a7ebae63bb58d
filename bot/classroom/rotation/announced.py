"""What was announced and can stay, and how pressing each need is."""

from __future__ import annotations

from collections.abc import Mapping

from bot.classroom.rotation.openings import Openings
from bot.classroom.rotation.places import PlacesModel
from bot.classroom.rotation.problem import PlaceKind
from bot.classroom.rotation.solving import Solving

STAYING_EFFORT = 0.6
# How many times as pressing a need without a spare chance becomes for one child in ten absent.
PRESSING = 5


def urgency_of(openings: Openings, horizon: int | None = None) -> dict[tuple[int, int], int]:
    """For each need a weight of 1 and more: few spare chances and tight stints weigh most.

    A spare chance of a child is a slot it can use beyond all its needs, up to the closing day or
    the `horizon`; of a stint, a rotation's worth of seats beyond its needs. Where no absences are
    expected (`absence_rate` 0) all needs weigh 1.
    """
    pressure = round(PRESSING * 10 * min(1.0, max(0.0, openings.problem.absence_rate)))
    end = openings.slots if horizon is None else horizon
    by_student: dict[int, int] = {}
    by_stint: dict[int, int] = {}
    usable: dict[int, set[int]] = {}
    for (s, b), visits in openings.wants.items():
        by_student[s] = by_student.get(s, 0) + visits
        by_stint[b] = by_stint.get(b, 0) + visits
        usable.setdefault(s, set()).update(openings.fits[s, b])
    weights = {}
    for s, b in openings.wants:
        last = min(max(openings.fits[s, b], default=-1), end - 1)
        chances = sum(1 for t in usable[s] if t <= last)
        seats = openings.seats[b]
        spare_seats = sum(seats for t in openings.open[b] if 0 <= t < end) - by_stint[b]
        spare = max(0, min(chances - by_student[s], spare_seats // seats))
        weights[s, b] = 1 + pressure // (1 + spare)
    return weights


def announced_places(
    openings: Openings, urgency: Mapping[tuple[int, int], int]
) -> dict[tuple[int, int], int]:
    """The announced places that can all stay: not those of touched children, within hard limits.

    Where two cannot both stay, a needed visit goes before an unneeded one, then the more urgent,
    then roster order.
    """
    problem = openings.problem
    row = {student.id: s for s, student in enumerate(problem.students)}
    columns = {(PlaceKind.STINT, stint.id): b for b, stint in enumerate(problem.stints)}
    for position, station in enumerate(problem.stations):
        columns[PlaceKind.STATION, station.id] = openings.stints + position
    known = [
        (row[told.student], told.slot, columns[told.place.kind, told.place.id])
        for told in problem.announced
        if told.student in row
        and told.student not in problem.touched
        and (told.place.kind, told.place.id) in columns
    ]
    known.sort(key=lambda told: (told[1], -urgency.get((told[0], told[2]), 0), told[0]))
    return _that_fit(openings, known)


def _that_fit(openings: Openings, wished: list[tuple[int, int, int]]) -> dict[tuple[int, int], int]:
    """Keep (student, slot, place) one after the other as far as the hard limits allow."""
    at: dict[tuple[int, int], int] = {}
    there: dict[tuple[int, int], set[int]] = {}
    for student, slot, place in wished:
        company = there.setdefault((place, slot), set())
        if (
            0 <= slot < openings.slots
            and slot in openings.problem.students[student].here
            and openings.may_be_at(student, place, slot)
            and (student, slot) not in at
            and len(company) < openings.seats[place]
            and not openings.company(student) & company
        ):
            at[student, slot] = place
            company.add(student)
    return at


def most_that_can_stay(
    openings: Openings,
    announced: Mapping[tuple[int, int], int],
    horizon: int,
    missing: int,
    solving: Solving,
) -> dict[tuple[int, int], int]:
    """The most announced places that leave no more than `missing` visits out in `horizon` slots.

    Those that the openings hold stay anyway, and so do those behind the horizon.
    """
    model = PlacesModel(openings, horizon, missing, wished=announced)
    model.keep_wished()
    answer = solving.solve(model.cp, STAYING_EFFORT)
    if not answer.found:
        return dict(openings.held)
    at = model.arrangement(answer).at
    return {
        key: place
        for key, place in announced.items()
        if key[1] >= horizon or at.get(key) == place or openings.held.get(key) == place
    }
