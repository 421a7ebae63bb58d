"""Which bin is out, when, and in which color."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from storage.records import Roster, Stint


def out_on(roster: Roster, day: date) -> tuple[Stint, ...]:
    """The stints whose bin is out on this day, in the order they were brought.

    On the day of a swap in the middle of school, the bin that came later in that color.
    """
    out = [stint for stint in roster.stints if stint.is_out(day)]
    latest = {s.color.casefold(): s for s in sorted(out, key=lambda s: s.opens)}
    return tuple(stint for stint in out if latest[stint.color.casefold()] is stint)


def stint_of(roster: Roster, bin_id: int, day: date) -> Stint | None:
    """The stint of a bin on this day."""
    return next((s for s in roster.stints if s.bin_id == bin_id and s.is_out(day)), None)


def stint_in(roster: Roster, color: str, day: date) -> Stint | None:
    """The stint in a color on this day."""
    wanted = color.casefold()
    return next((s for s in out_on(roster, day) if s.color.casefold() == wanted), None)


def nearest_stint(roster: Roster, bin_id: int, day: date) -> Stint | None:
    """The stint to speak of when nothing else is said: out now, else next out, else out last."""
    mine = stints_of(roster, bin_id)
    current = [s for s in mine if s.is_out(day)]
    coming = [s for s in mine if s.opens > day]
    past = [s for s in mine if s.opens <= day]
    return next(iter([*current, *coming, *reversed(past)]), None)


def stints_of(roster: Roster, bin_id: int) -> tuple[Stint, ...]:
    """Every stint of a bin, past and future ones among them, in order of their first day."""
    return tuple(sorted((s for s in roster.stints if s.bin_id == bin_id), key=lambda s: s.opens))


def stints_in(roster: Roster, color: str) -> tuple[Stint, ...]:
    """Every stint in a color, past and future ones among them, in order of their first day."""
    wanted = color.casefold()
    mine = (s for s in roster.stints if s.color.casefold() == wanted)
    return tuple(sorted(mine, key=lambda s: s.opens))


def stint_changes(before: Roster, after: Roster) -> tuple[Mapping[str, object], ...]:
    """What stepping back or forth did to the stints, as rows of `changes`: a bin put out or taken
    back (with the one it changes places with), and closing days moved."""
    gone = [s for s in before.stints if s.id not in after.stint]
    come = [s for s in after.stints if s.id not in before.stint]
    moved = [s for s in after.stints if s.id in before.stint and s != before.stint[s.id]]
    rows: list[Mapping[str, object]] = []
    for stint, roster, partners in (
        *((s, before, (*come, *moved)) for s in gone),
        *((s, after, (*gone, *moved)) for s in come),
    ):
        partner = next((s for s in partners if s.color.casefold() == stint.color.casefold()), None)
        if partner in gone and stint in come:
            continue  # told with the one that is gone
        other = "" if partner is None else after.bin[partner.bin_id].name
        here = roster.bin_of(stint).name
        sides = (here, other) if stint in gone else (other, here)
        moved = [s for s in moved if s != partner]
        rows.append(
            {
                "what": "swap",
                "color": stint.color,
                "out": sides[0],
                "in": sides[1],
                "day": stint.opens.isoformat(),
            }
        )
    for stint in moved:
        closes = stint.closes.isoformat() if stint.closes else None
        rows.append({"what": "closes", "bin": after.bin_of(stint).name, "day": closes})
    return tuple(rows)


def clashes(roster: Roster) -> frozenset[int]:
    """Stints that are out while another is in their color, or their bin in another color.

    On the day of a swap in the middle of school the color may be shared.
    """
    found: set[int] = set()
    by_opening = sorted(roster.stints, key=lambda s: (s.opens, s.id))
    for at, one in enumerate(by_opening):
        for other in by_opening[at + 1 :]:
            if one.closes is not None and one.closes < other.opens:
                continue
            same_color = one.color.casefold() == other.color.casefold()
            hands_over = one.closes == other.opens
            if one.bin_id == other.bin_id or (same_color and not hands_over):
                found |= {one.id, other.id}
    return frozenset(found)


def colors(roster: Roster) -> tuple[str, ...]:
    """Every color a bin of this class has been or will be in."""
    return tuple(dict.fromkeys(stint.color for stint in roster.stints))
