"""Restocking: what is short, how much to copy or buy, and by when."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from bot.classroom.coming import Coming, school_day_from
from bot.classroom.days import school_days
from bot.classroom.demand import covering
from bot.classroom.supplies import Stock, share_of
from storage.records import Roster, Stint

_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Restock:
    """One supply against the visits to come: `short` above zero is to be copied or bought, rounded
    up to packs in `order`, by the day `by`; `runs_out` is the day of the first shortage."""

    stock: Stock
    stint: Stint | None
    visits: float
    needed: float
    short: float
    order: float
    by: date | None
    runs_out: date | None

    @property
    def is_short(self) -> bool:
        """Whether something is to be done."""
        return self.short > _TINY


def restock_of(roster: Roster, stock: Stock, coming: Coming | None, today: date) -> Restock:
    """What one supply needs until its stint's last day (four weeks for a year-round bin)."""
    if coming is None:
        return Restock(stock, None, 0, 0, 0, 0, None, None)
    needed = _needed(stock, coming)
    short = 0.0 if stock.on_hand is None else max(0.0, needed - stock.on_hand)
    runs_out = _first_shortage(stock, coming, today) if short > _TINY else None
    return Restock(
        stock=stock,
        stint=coming.stint,
        visits=coming.visits,
        needed=_tidy(needed),
        short=_tidy(short),
        order=_in_packs(short, stock.supply.pack_size),
        by=None if runs_out is None else _act_by(roster, runs_out, stock.supply.lead_days, today),
        runs_out=runs_out,
    )


def urgency_of(line: Restock, next_day: date) -> int:
    """How pressing it is: 3 where nothing is left, 2 where it runs out by the next school day, 1
    where there is time to act, 0 where nothing is to be done."""
    if not line.is_short:
        return 0
    if (line.stock.on_hand or 0.0) <= _TINY:
        return 3
    return 2 if line.runs_out is not None and line.runs_out <= next_day else 1


def most_urgent_first(lines: Iterable[Restock]) -> tuple[Restock, ...]:
    """Those that are short: by the day to act, then the day of the shortage, then as brought."""
    short = [line for line in lines if line.is_short]
    return tuple(sorted(short, key=lambda r: (r.by or date.max, r.runs_out or date.max)))


def due_by(lines: Iterable[Restock], day: date) -> tuple[Restock, ...]:
    """What is to be copied or bought on this day at the latest."""
    return tuple(
        line for line in most_urgent_first(lines) if line.by is not None and line.by <= day
    )


def due_next_week(lines: Iterable[Restock], today: date) -> tuple[Restock, ...]:
    """What is to be copied or bought before the end of next week: the Friday list."""
    return due_by(lines, end_of_next_week(today))


def end_of_next_week(today: date) -> date:
    """The Sunday after the coming one."""
    return today + timedelta(days=13 - today.weekday())


def _needed(stock: Stock, coming: Coming, visits: float | None = None) -> float:
    """Use by the visits to come and safety; of pieces a full tub for every child at once."""
    ahead = coming.visits if visits is None else visits
    if ahead <= _TINY:
        return 0.0
    worn = covering(ahead, stock.use, stock.told, are_sure=coming.are_sure)
    if not stock.is_piece:
        return worn
    at_once = coming.stint.seats
    if coming.are_sure:
        at_once = min(at_once, ceil(coming.visits - _TINY))
    return at_once * share_of(stock.supply) + worn


def _first_shortage(stock: Stock, coming: Coming, today: date) -> date:
    """The first day on which what is on hand does not cover the visits up to then."""
    on_hand = stock.on_hand or 0.0
    ahead = 0.0
    for expected in coming.days:
        ahead += expected.visits
        if expected.visits > _TINY and _needed(stock, coming, ahead) > on_hand + _TINY:
            return expected.day
    return coming.days[-1].day if coming.days else today


def _act_by(roster: Roster, runs_out: date, lead_days: int, today: date) -> date:
    """The last school day on which acting still prevents a shortage; today where it is too late."""
    days = school_days(roster, school_day_from(roster, today), runs_out)
    return days[len(days) - 1 - lead_days] if len(days) > lead_days else today


def _in_packs(short: float, pack: float) -> float:
    """A shortage rounded up to whole packs."""
    if short <= _TINY:
        return 0.0
    return _tidy(ceil(short / pack - _TINY) * pack)


def _tidy(amount: float) -> float:
    return round(amount, 2)
