"""What goes into a box next: every bin on the shelf, best first, each with its reasons."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from bot.classroom.cautions import kept_from
from bot.classroom.stints import stints_of
from storage.records import Bin, Roster, Student, Supply, Unit

AUGUST = 8  # the month in which a school year is taken to begin: common practice, no source


@dataclass(frozen=True, slots=True)
class Short:
    """A supply of which the whole class would run short: how much is missing."""

    supply: Supply
    missing: float


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A bin that may go out, and what speaks for and against it."""

    bin_: Bin
    unit: str | None  # its unit, where that is taught meanwhile
    standards: tuple[str, ...]  # of those it serves, the ones taught meanwhile
    not_had: int  # children it is for who have not had it this school year
    meant_for: int  # children it is for
    short: tuple[Short, ...]
    uncounted: tuple[Supply, ...]
    kept_away: tuple[Student, ...]
    last_out: date | None

    @property
    def fits(self) -> bool:
        """Whether it serves what is taught meanwhile."""
        return self.unit is not None or bool(self.standards)

    @property
    def is_stocked(self) -> bool:
        """Whether nothing is known to be missing for the whole class."""
        return not self.short


def school_year_of(day: date) -> date:
    """The first day of the school year that this day belongs to."""
    return date(day.year if day.month >= AUGUST else day.year - 1, AUGUST, 1)


def suggestions(
    roster: Roster,
    first: date,
    last: date,
    *,
    had: Mapping[int, Collection[int]],
    on_hand: Mapping[int, float],
    besides: Collection[int] = (),
) -> tuple[Suggestion, ...]:
    """The bins that can go out from the first to the last day, best first.

    `had` are the students who have been at each bin this school year, `on_hand` what there is of
    each supply that was ever counted, `besides` bins not to be looked at. Order: not yet had by at
    least half, serves what is taught, nothing short, share of the class that has not had it, fewest
    children kept from it, out longest ago, as they came.
    """
    taught = [unit for unit in roster.units if _overlaps(unit, first, last)]
    found = [
        _suggestion(roster, bin_, first, taught, had.get(bin_.id, ()), on_hand)
        for bin_ in roster.bins
        if bin_.id not in besides and not _is_spoken_for(roster, bin_, first, last)
    ]
    return tuple(sorted(found, key=_rank))


def _rank(found: Suggestion) -> tuple[bool, bool, bool, bool, float, int, date]:
    share = found.not_had / found.meant_for if found.meant_for else 0.0
    return (
        share < 0.5,
        not found.fits,
        not found.unit,
        not found.is_stocked,
        -share,
        len(found.kept_away),
        found.last_out or date.min,
    )


def _suggestion(
    roster: Roster,
    bin_: Bin,
    day: date,
    taught: Collection[Unit],
    had: Collection[int],
    on_hand: Mapping[int, float],
) -> Suggestion:
    present = roster.present_roster(day)
    kept = tuple(s for s in present if kept_from(roster, s, bin_) is not None)
    meant = [s for s in present if s not in kept]
    units = {unit.name.casefold(): unit.name for unit in taught}
    standards = {standard for unit in taught for standard in unit.standards}
    mine = [supply for supply in roster.supplies if supply.bin_id == bin_.id]
    closed = [s.closes or s.opens for s in stints_of(roster, bin_.id) if s.opens < day]
    return Suggestion(
        bin_=bin_,
        unit=units.get((bin_.unit or "").casefold()),
        standards=tuple(standard for standard in bin_.standards if standard in standards),
        not_had=sum(s.id not in had for s in meant),
        meant_for=len(meant),
        short=tuple(
            Short(supply, missing)
            for supply in mine
            if (missing := _missing(supply, bin_, len(meant), on_hand)) > 0
        ),
        uncounted=tuple(supply for supply in mine if supply.id not in on_hand),
        kept_away=kept,
        last_out=max(closed, default=None),
    )


def _missing(supply: Supply, bin_: Bin, children: int, on_hand: Mapping[int, float]) -> float:
    """How much is missing so that every child can have its visits, or every seat its tub."""
    if supply.id not in on_hand:
        return 0
    if supply.kind == "consumable":
        wanted = supply.per_visit * bin_.visits_each * children
    else:
        wanted = (supply.per_tub or 0) * bin_.seats
    return max(0, wanted - on_hand[supply.id])


def _overlaps(unit: Unit, first: date, last: date) -> bool:
    return (unit.first is None or unit.first <= last) and (unit.last is None or first <= unit.last)


def _is_spoken_for(roster: Roster, bin_: Bin, first: date, last: date) -> bool:
    """Whether the bin is out, or set down to be, at some time between these days."""
    return any(
        s.opens <= last and (s.closes is None or s.closes >= first)
        for s in stints_of(roster, bin_.id)
    )
