"""What no plan can beat: closed forms and matchings, and why a need cannot be met."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bot.classroom.rotation.openings import Openings, openings_of
from bot.classroom.rotation.problem import Place, PlaceKind, Plan, PlanProblem, Reason, UnmetNeed


def fewest_rotations(needs: Mapping[tuple[int, int], int], seats: Mapping[int, int]) -> int:
    """The fewest rotations with everybody here and every stint open.

    `needs` maps (student, stint) to visits still needed, `seats` stint to seats in one rotation;
    raises ValueError for a needed stint without seats. The larger of the most needs of one child
    and the most ceil(needs of a stint / its seats): Koenig 1916 (line colouring of bipartite
    graphs), with a stint split into copies (equitable colouring, de Werra 1971). Exact for one
    visit each; with several visits of one child to one stint too, as the graph may have double
    edges.
    """
    by_student: dict[int, int] = {}
    by_stint: dict[int, int] = {}
    for (student, stint), visits in needs.items():
        by_student[student] = by_student.get(student, 0) + visits
        by_stint[stint] = by_stint.get(stint, 0) + visits
    for stint, visits in by_stint.items():
        if visits > 0 and seats[stint] < 1:
            raise ValueError("a stint that is needed has no seats")
    rotations = [-(-visits // seats[stint]) for stint, visits in by_stint.items() if visits > 0]
    return max([0, *by_student.values(), *rotations])


@dataclass(frozen=True, slots=True)
class Reach:
    """How far matching gets: the visits matched, and the slots after which that many can be."""

    visits: int
    rotations: int


Visits = Sequence[tuple[Sequence[int], int]]


def reach(visits: Visits, room: Sequence[int]) -> Reach:
    """Match visits to slots with room for so many each: (slots that fit, how many of them) a line.

    Slots are opened one after the other and the matching is augmented (Hall 1935; Ford and
    Fulkerson 1956), so `rotations` is the smallest number of slots in which the most visits can be
    matched.
    """
    slots_of = [slots for slots, _ in visits]
    waiting = [line for line, (_, count) in enumerate(visits) for _ in range(count)]
    asked = len(waiting)
    taken: list[list[int]] = [[] for _ in room]
    rotations = 0
    for slot in range(len(room)):
        left = [line for line in waiting if not _augment(line, slots_of, room, taken, slot, set())]
        if len(left) < len(waiting):
            rotations = slot + 1
        waiting = left
        if not waiting:
            break
    return Reach(asked - len(waiting), rotations)


def _augment(
    line: int,
    slots_of: Sequence[Sequence[int]],
    room: Sequence[int],
    taken: list[list[int]],
    last: int,
    seen: set[int],
) -> bool:
    """Find one more slot up to `last` for a line, moving others along if need be."""
    for slot in slots_of[line]:
        if slot > last or slot in seen or line in taken[slot]:
            continue
        seen.add(slot)
        if len(taken[slot]) < room[slot]:
            taken[slot].append(line)
            return True
        for position, other in enumerate(taken[slot]):
            if _augment(other, slots_of, room, taken, last, seen):
                taken[slot][position] = line
                return True
    return False


@dataclass(frozen=True, slots=True)
class Bound:
    """No plan meets more visits, or meets them all in fewer rotations."""

    visits: int
    rotations: int


def bound_of(openings: Openings) -> Bound:
    """The best that each child alone and each stint alone allow."""
    wants = openings.wants
    fits = openings.fits
    one_each = [1] * openings.slots
    child_reach = [
        reach([(fits[s, b], n) for (who, b), n in wants.items() if who == s], one_each)
        for s in sorted({s for s, _ in wants})
    ]
    stint_reach = [
        reach(
            [(fits[s, b], n) for (s, what), n in wants.items() if what == b],
            [openings.seats[b]] * openings.slots,
        )
        for b in sorted({b for _, b in wants})
    ]
    return Bound(
        visits=min(sum(r.visits for r in child_reach), sum(r.visits for r in stint_reach)),
        rotations=max([0, *(r.rotations for r in (*child_reach, *stint_reach))]),
    )


def unmet_needs(openings: Openings, missing: Mapping[tuple[int, int], int]) -> list[UnmetNeed]:
    """The needs that a plan leaves, by what fits at all and by what the plan had to leave out."""
    problem = openings.problem
    row = {student.id: s for s, student in enumerate(problem.students)}
    column = {stint.id: b for b, stint in enumerate(problem.stints)}
    found = []
    for (student, stint), visits in problem.needs.items():
        pair = (row[student], column[stint])
        never = visits - openings.wants.get(pair, 0) if visits > 0 else 0
        if never:
            reason = Reason.CAUTION if pair in openings.barred else Reason.NEVER_BOTH
            if openings.seats[pair[1]] < 1 and reason is not Reason.CAUTION:
                reason = Reason.SEATS_SHORT
            found.append((pair, UnmetNeed(student, stint, never, reason)))
        if missing.get(pair):
            found.append((pair, UnmetNeed(student, stint, missing[pair], _why(openings, pair))))
    return [unmet for _, unmet in sorted(found, key=lambda entry: entry[0])]


def _why(openings: Openings, pair: tuple[int, int]) -> Reason:
    """Why a need that fits by itself has to be left out."""
    student, stint = pair
    own = [(openings.fits[p], n) for p, n in openings.wants.items() if p[0] == student]
    if reach(own, [1] * openings.slots).visits < sum(n for _, n in own):
        return Reason.CHILD_HAS_TOO_FEW_ROTATIONS
    here = [(openings.fits[p], n) for p, n in openings.wants.items() if p[1] == stint]
    if reach(here, [openings.seats[stint]] * openings.slots).visits < sum(n for _, n in here):
        return Reason.SEATS_SHORT
    return Reason.TOO_MUCH_AT_ONCE


def earliest_finish(problem: PlanProblem, stint: int) -> date | None:
    """The day on which the last child who needs a stint and can still come can have been there.

    None where nobody who needs it can still come. Other stints and keep-apart are set aside.
    """
    reached = _reach_of(problem, stint)
    return problem.slots[reached.rotations - 1].day if reached.visits else None


def planned_finish(problem: PlanProblem, plan: Plan, stint: int) -> date | None:
    """The day of the last needed visit that a plan holds for a stint, or nothing."""
    place = Place(PlaceKind.STINT, stint)
    slots = [p.slot for p in plan.placements if p.place == place and p.needed]
    return problem.slots[max(slots)].day if slots else None


def _reach_of(problem: PlanProblem, stint: int) -> Reach:
    """How soon the needs of one stint could be met by themselves."""
    openings = openings_of(problem)
    columns = [b for b, known in enumerate(problem.stints) if known.id == stint]
    visits = [(openings.fits[p], n) for p, n in openings.wants.items() if p[1] in columns]
    seats = max((openings.seats[b] for b in columns), default=0)
    return reach(visits, [seats] * openings.slots)
