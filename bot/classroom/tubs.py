"""Tubs: pre-counted shares of pieces. A short tub is a lost seat."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from bot.classroom.supplies import PIECE, Stock, share_of
from storage.records import Roster, Stint


def full_tubs(stock: Stock) -> int | None:
    """How many tubs the pieces on hand fill; None where they were never counted."""
    if stock.on_hand is None:
        return None
    return max(0, int((stock.on_hand + 1e-9) // share_of(stock.supply)))


def seats_now(roster: Roster, stocks: Iterable[Stock], stint: Stint) -> int:
    """How many seats of a stint can be used: its seats, less those whose tub cannot be filled.

    Spare pieces fill a short tub; of several kinds of pieces the scarcest decides; a kind that was
    never counted loses no seat.
    """
    seats = stint.seats
    for stock in stocks:
        if stock.supply.bin_id == stint.bin_id and stock.supply.kind == PIECE:
            tubs = full_tubs(stock)
            seats = seats if tubs is None else min(seats, tubs)
    return seats


def seats_by_stint(roster: Roster, stocks: Mapping[int, Stock]) -> dict[int, int]:
    """`seats_now` of every stint that lacks seats: stint id -> seats."""
    held = {stint.id: seats_now(roster, stocks.values(), stint) for stint in roster.stints}
    return {s.id: held[s.id] for s in roster.stints if held[s.id] < s.seats}
