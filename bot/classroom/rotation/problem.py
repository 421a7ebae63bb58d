"""What the planner is asked and what it answers: plain values, no clock and no database."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum


class KeepGroups(StrEnum):
    """How much keeping the children with their own group weighs against finishing early."""

    LOOSELY = "loosely"
    MOSTLY = "mostly"
    FIRMLY = "firmly"


class PlaceKind(StrEnum):
    """Whether a place is counted (a stint) or not (a station)."""

    STINT = "stint"
    STATION = "station"


class Reason(StrEnum):
    """Why a need cannot be met before the stint closes."""

    CAUTION = "caution"
    NEVER_BOTH = "never_both"
    CHILD_HAS_TOO_FEW_ROTATIONS = "child_has_too_few_rotations"
    SEATS_SHORT = "seats_short"
    TOO_MUCH_AT_ONCE = "too_much_at_once"


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """One stint or one station, by its id."""

    kind: PlaceKind
    id: int


@dataclass(frozen=True, slots=True, order=True)
class RotationSlot:
    """One rotation on the calendar; slots are numbered by their position in the problem."""

    day: date
    starts: time
    minutes: int = 20


@dataclass(frozen=True, slots=True)
class PlanStudent:
    """One child: where in the roster, with whom, when here (slot numbers), kept from which stints.

    `guest` names another group for single slots ("with group 2 today").
    """

    id: int
    group: int | None
    here: frozenset[int]
    kept_from: frozenset[int] = frozenset()
    guest: Mapping[int, int | None] = field(default_factory=dict)

    def group_in(self, slot: int) -> int | None:
        """The group this child rotates with in a slot."""
        return self.guest.get(slot, self.group)


@dataclass(frozen=True, slots=True)
class PlanStint:
    """One bin that is out: seats (already less short tubs) and the slots in which it is open."""

    id: int
    seats: int
    open: frozenset[int]


@dataclass(frozen=True, slots=True)
class PlanStation:
    """A place that is not counted: seats in every slot."""

    id: int
    seats: int


@dataclass(frozen=True, slots=True)
class Announced:
    """Where a member was told that a child goes in a slot."""

    student: int
    slot: int
    place: Place


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """Everything a plan rests on. Students are in roster order, slots in order of time.

    `needs` maps (student id, stint id) to visits still needed; visits count once a day, so another
    on a day in `visited` (student id, stint id, day) would not. `keep_apart` holds pairs of student
    ids. `touched` are the children whom a change touches: what was announced for them may move.
    `effort` is CP-SAT deterministic time: under a second each, and the same on every machine.
    """

    slots: tuple[RotationSlot, ...]
    students: tuple[PlanStudent, ...]
    stints: tuple[PlanStint, ...]
    needs: Mapping[tuple[int, int], int]
    stations: tuple[PlanStation, ...] = ()
    keep_apart: tuple[tuple[int, int], ...] = ()
    announced: tuple[Announced, ...] = ()
    touched: frozenset[int] = frozenset()
    visited: frozenset[tuple[int, int, date]] = frozenset()
    keep_groups: KeepGroups = KeepGroups.MOSTLY
    absence_rate: float = 0.06
    effort: float = 4.0


@dataclass(frozen=True, slots=True)
class Placement:
    """Who goes to one place in one slot, in roster order; `needed` are those for whom it counts."""

    slot: int
    place: Place
    students: tuple[int, ...]
    needed: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class UnmetNeed:
    """Visits that cannot take place before the stint closes, and why."""

    student: int
    stint: int
    visits: int
    reason: Reason


@dataclass(frozen=True, slots=True)
class Plan:
    """Who goes where, what cannot be met, and how good the plan is known to be.

    `rotations_used` counts the slots up to the last needed visit. `away` lists (slot, student) not
    with their group; `away_share` is their share among the placements of children in groups, up to
    the last needed visit.
    `proven` says that no plan is better on needs, rotations, groups and announced places.
    """

    placements: tuple[Placement, ...]
    unmet: tuple[UnmetNeed, ...]
    proven: bool
    rotations_used: int
    away: tuple[tuple[int, int], ...]
    away_share: float

    def place_of(self, student: int, slot: int) -> Place | None:
        """Where a child is in a slot, or nothing."""
        for placement in self.placements:
            if placement.slot == slot and student in placement.students:
                return placement.place
        return None

    def announcements(self, slots: frozenset[int]) -> tuple[Announced, ...]:
        """What a member would be told for these slots, to be handed to the next planning."""
        return tuple(
            Announced(student, placement.slot, placement.place)
            for placement in self.placements
            if placement.slot in slots
            for student in placement.students
        )
