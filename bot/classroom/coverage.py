"""What a class has covered: how many children have had each bin, standard and unit."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from bot.classroom.cautions import kept_from
from bot.classroom.stints import stints_of
from storage.records import Bin, Roster


@dataclass(frozen=True, slots=True)
class Covered:
    """A bin, a standard or a unit: how many have had it, of how many it is for."""

    name: str
    had: int
    meant_for: int

    @property
    def by_all(self) -> bool:
        """Whether everyone it is for has had it."""
        return self.had >= self.meant_for


def bins_covered(
    roster: Roster, had: Mapping[int, Collection[int]], first: date, day: date
) -> tuple[Covered, ...]:
    """Every bin that was out between two days, in the order they came."""
    bins = [b for b in roster.bins if _was_out(roster, b, first, day)]
    return tuple(_covered(roster, b.name, (b,), had, day) for b in bins)


def standards_covered(
    roster: Roster, had: Mapping[int, Collection[int]], first: date, day: date
) -> tuple[Covered, ...]:
    """Every standard served by a bin that was out; a child has met it at any of these bins."""
    return _by(roster, had, first, day, lambda bin_: bin_.standards)


def units_covered(
    roster: Roster, had: Mapping[int, Collection[int]], first: date, day: date
) -> tuple[Covered, ...]:
    """Every unit served by a bin that was out; a child has met it at any of these bins."""
    return _by(roster, had, first, day, lambda bin_: (bin_.unit,) if bin_.unit else ())


def _by(
    roster: Roster,
    had: Mapping[int, Collection[int]],
    first: date,
    day: date,
    names: Callable[[Bin], Iterable[str]],
) -> tuple[Covered, ...]:
    served: dict[str, list[Bin]] = {}
    for bin_ in roster.bins:
        if _was_out(roster, bin_, first, day):
            for name in names(bin_):
                served.setdefault(name, []).append(bin_)
    return tuple(_covered(roster, name, bins, had, day) for name, bins in served.items())


def _covered(
    roster: Roster, name: str, bins: Collection[Bin], had: Mapping[int, Collection[int]], day: date
) -> Covered:
    children = roster.present_roster(day)
    meant = [s for s in children if any(kept_from(roster, s, b) is None for b in bins)]
    been = {student for b in bins for student in had.get(b.id, ())}
    meant = [s for s in children if s in meant or s.id in been]
    return Covered(name, sum(s.id in been for s in meant), len(meant))


def _was_out(roster: Roster, bin_: Bin, first: date, day: date) -> bool:
    return any(
        s.opens <= day and (s.closes is None or s.closes >= first)
        for s in stints_of(roster, bin_.id)
    )
