"""Which bin is out, when, and in which color."""

from __future__ import annotations

from datetime import date

from storage.records import Roster, Stint


def out_on(roster: Roster, day: date) -> tuple[Stint, ...]:
    """The stints whose bin is out on this day, in the order they were brought."""
    return tuple(stint for stint in roster.stints if stint.is_out(day))


def stint_of(roster: Roster, bin_id: int, day: date) -> Stint | None:
    """The stint of a bin on this day."""
    return next((s for s in roster.stints if s.bin_id == bin_id and s.is_out(day)), None)


def stint_in(roster: Roster, color: str, day: date) -> Stint | None:
    """The stint in a color on this day."""
    wanted = color.casefold()
    return next((s for s in out_on(roster, day) if s.color.casefold() == wanted), None)


def nearest_stint(roster: Roster, bin_id: int, day: date) -> Stint | None:
    """The stint to speak of when nothing else is said: out now, else next out, else out last."""
    mine = sorted((s for s in roster.stints if s.bin_id == bin_id), key=lambda s: s.opens)
    current = [s for s in mine if s.is_out(day)]
    coming = [s for s in mine if s.opens > day]
    past = [s for s in mine if s.opens <= day]
    return next(iter([*current, *coming, *reversed(past)]), None)


def colors(roster: Roster) -> tuple[str, ...]:
    """Every color a bin of this class has been or will be in."""
    return tuple(dict.fromkeys(stint.color for stint in roster.stints))
