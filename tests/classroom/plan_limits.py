"""What must hold for any plan, checked from the problem alone."""

from __future__ import annotations

from collections import Counter

from bot.classroom.rotation.problem import PlaceKind, Plan, PlanProblem


def broken_limits(problem: PlanProblem, plan: Plan) -> list[str]:
    """The hard limits that a plan breaks, in words; none for a sound plan."""
    students = {student.id: student for student in problem.students}
    stints = {stint.id: stint for stint in problem.stints}
    stations = {station.id: station for station in problem.stations}
    broken = []
    seen: Counter[tuple[int, int]] = Counter()
    for placement in plan.placements:
        place, slot = placement.place, placement.slot
        if place.kind is PlaceKind.STINT:
            seats = stints[place.id].seats
            if slot not in stints[place.id].open:
                broken.append(f"stint {place.id} is closed in {slot}")
        else:
            seats = stations[place.id].seats
        if len(placement.students) > seats:
            broken.append(f"{place} has no {len(placement.students)} seats in {slot}")
        for one, other in problem.keep_apart:
            if one != other and {one, other} <= set(placement.students):
                broken.append(f"{one} and {other} are together in {slot}")
        for student in placement.students:
            seen[student, slot] += 1
            if slot not in students[student].here:
                broken.append(f"{student} is away in {slot}")
            if place.kind is PlaceKind.STINT and place.id in students[student].kept_from:
                broken.append(f"{student} is kept from {place.id}")
    broken += [f"{student} is in two places in {t}" for (student, t), n in seen.items() if n > 1]
    return broken + _wrong_accounts(problem, plan) + _counted_twice(problem, plan)


def _counted_twice(problem: PlanProblem, plan: Plan) -> list[str]:
    """Visits that are held to count and do not: a second one on the same day."""
    counted = Counter(problem.visited)
    for placement in plan.placements:
        day = problem.slots[placement.slot].day
        counted.update((student, placement.place.id, day) for student in placement.needed)
    return [f"{visit} counted {n} times" for visit, n in counted.items() if n > 1]


def _wrong_accounts(problem: PlanProblem, plan: Plan) -> list[str]:
    """Needs that are neither met nor told as unmet, or both."""
    met: Counter[tuple[int, int]] = Counter()
    visits: Counter[tuple[int, int]] = Counter()
    for placement in plan.placements:
        if placement.place.kind is PlaceKind.STINT:
            met.update((student, placement.place.id) for student in placement.needed)
            visits.update((student, placement.place.id) for student in placement.students)
    unmet = Counter({(need.student, need.stint): 0 for need in plan.unmet})
    for need in plan.unmet:
        unmet[need.student, need.stint] += need.visits
    return [
        f"need {pair} of {asked}: {met[pair]} met, {unmet[pair]} unmet, {visits[pair]} visits"
        for pair, asked in problem.needs.items()
        if asked > 0 and (met[pair] + unmet[pair] != asked or visits[pair] < met[pair])
    ]
