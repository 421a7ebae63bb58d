"""The stock of a class as the class book tells it: read once, for reports, lists and exports."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from bot.classroom.coming import Coming, coming_to, stint_to_supply
from bot.classroom.days import rotation_end
from bot.classroom.restocking import Restock, restock_of
from bot.classroom.stints import out_on
from bot.classroom.supplies import Stock, Used, stock_of
from storage.classbook import ClassBook
from storage.records import Claim, Roster, Supply


@dataclass(frozen=True, slots=True)
class Stocktaking:
    """Every supply asked about: its stock, and what it needs."""

    stocks: Mapping[int, Stock]
    lines: Mapping[int, Restock]


def take_stock(
    book: ClassBook, roster: Roster, now: datetime, supplies: Collection[int] | None = None
) -> Stocktaking:
    """The stock of these supplies (all of them where none are named) at a moment in the class's
    zone."""
    wanted = _wanted(roster, supplies)
    stocks, visits = _stocks(book, roster, wanted)
    coming = _coming(book, roster, now, {supply.bin_id for supply in wanted}, visits)
    lines = {
        s.id: restock_of(roster, stocks[s.id], coming.get(s.bin_id), now.date()) for s in wanted
    }
    return Stocktaking(stocks, lines)


def stocks_of(
    book: ClassBook, roster: Roster, supplies: Collection[int] | None = None
) -> Mapping[int, Stock]:
    """What is on hand of these supplies, without asking what they need."""
    return _stocks(book, roster, _wanted(roster, supplies))[0]


def _wanted(roster: Roster, supplies: Collection[int] | None) -> list[Supply]:
    return [s for s in roster.supplies if supplies is None or s.id in supplies]


def _stocks(
    book: ClassBook, roster: Roster, wanted: Sequence[Supply]
) -> tuple[dict[int, Stock], dict[int, list[Used]]]:
    """The stock of each supply, and the visits to each of their bins."""
    counts, moves = book.supply_counts(), book.supply_moves()
    bins = {supply.bin_id for supply in wanted}
    visits = _visits(book, roster, bins, {c.counted_on for c in counts if c.counted_at})
    stocks = {s.id: stock_of(s, counts, moves, visits.get(s.bin_id, [])) for s in wanted}
    return stocks, visits


def _visits(
    book: ClassBook, roster: Roster, bins: Collection[int], timed: Collection[date]
) -> dict[int, list[Used]]:
    """The visits to each of these bins, each once, by its oldest claim; when it was told matters
    only on days with a count of the same day."""
    bin_of = {stint.id: stint.bin_id for stint in roster.stints if stint.bin_id in bins}
    first: dict[tuple[int, int, date], Claim] = {}
    for claim in book.claims(stints=bin_of):
        first.setdefault(claim.turn.key, claim)
    told = book.entries({c.entry_id for c in first.values() if c.turn.day in timed})
    zone = roster.class_.zone
    ends = {(slot.weekday, slot.starts): rotation_end(slot) for slot in roster.rotations}
    found: dict[int, list[Used]] = {}
    for claim in first.values():
        turn = claim.turn
        entry = told.get(claim.entry_id)
        at = None if entry is None else entry.at.astimezone(zone)
        found.setdefault(bin_of[turn.stint_id], []).append(
            Used(
                turn.day,
                _ended(ends, turn.day, turn.rotation),
                at.time() if at is not None and at.date() == turn.day else None,
                claim.entry_id,
            )
        )
    return found


def _ended(ends: Mapping[tuple[int, time], time], day: date, starts: time | None) -> time | None:
    return None if starts is None else ends.get((day.weekday(), starts))


def _coming(
    book: ClassBook,
    roster: Roster,
    now: datetime,
    bins: Collection[int],
    visits: Mapping[int, Sequence[Used]],
) -> dict[int, Coming]:
    """Visits to come at the stint that each bin's supplies are for."""
    stints = {b: s for b in bins if (s := stint_to_supply(roster, b, now.date())) is not None}
    tally = book.tally({s.id for s in (*stints.values(), *out_on(roster, now.date()))})
    return {
        bin_id: coming_to(roster, tally, stint, now, Counter(v.day for v in visits.get(bin_id, ())))
        for bin_id, stint in stints.items()
    }


def supply_change(roster: Roster, stock: Stock) -> Mapping[str, object]:
    """A supply that changed, for programs."""
    return {
        "what": "supply",
        "bin": roster.bin[stock.supply.bin_id].name,
        "item": stock.supply.item,
        "on_hand": _plain(stock.on_hand),
    }


def restock_fact(roster: Roster, line: Restock) -> Mapping[str, object]:
    """One line of a list, for programs."""
    supply = line.stock.supply
    return {
        "bin": roster.bin[supply.bin_id].name,
        "item": supply.item,
        "on_hand": _plain(line.stock.on_hand),
        "needed": _plain(line.needed),
        "short": _plain(line.short),
        "order": _plain(line.order),
        "by": None if line.by is None else line.by.isoformat(),
    }


def _plain(amount: float | None) -> float | int | None:
    if amount is None:
        return None
    return int(amount) if amount == int(amount) else round(amount, 2)
