"""Supplies: what is on hand by the texts, and how much one visit uses, as told and as counted.

On hand = last count + what came - what went - visits since the count x use per visit. A visit of
the day of the count counts as before it where it was told before the count, or where its rotation
had ended by then; a count without a time (from the class folder, or of an earlier day) was made
when that day's visits were over. So nothing is taken off twice, and what is in doubt is taken off:
a stock that is guessed too low is counted again in time, one guessed too high stops a group.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from itertools import pairwise

from storage.records import Count, Move, Supply

PIECE = "piece"
ADDED, FOUND, LOST, WANTED = "added", "found", "lost", "wanted"
MOST_LEARNED = 3.0  # times the told use that one count may teach; beyond it something is not told
LEARNING = 0.3  # the share of the newest count in what is learned; see benchmarks/supply_terms.py


@dataclass(frozen=True, slots=True)
class Used:
    """A visit as the stock sees it: its day, when its rotation ended (if known), and when it was
    told: the time of day on the visit's own day (None on a later one) and the entry."""

    day: date
    ended: time | None
    told_at: time | None
    entry_id: int


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one count says: between it and the count before, `visits` used `used` things."""

    count: Count
    visits: int
    used: float

    @property
    def per_visit(self) -> float:
        """The use per visit that this count implies."""
        return self.used / self.visits

    def is_plausible(self, supply: Supply) -> bool:
        """Whether it may be learned from: of a consumable up to three times what was told, of
        pieces (lost, not used) up to a share a visit."""
        most = share_of(supply) if supply.kind == PIECE else MOST_LEARNED * supply.per_visit
        return self.per_visit <= most


@dataclass(frozen=True, slots=True)
class Stock:
    """What is known of a supply; `on_hand` None where it was never counted, and below zero where a
    count or a restock was not told."""

    supply: Supply
    on_hand: float | None
    use: float
    told: float
    counted: Count | None
    visits_since: int
    moved_since: float
    lessons: tuple[Lesson, ...]
    wanted: Move | None  # told to be low since it was last counted or restocked
    filled: date | None = None  # when there last was more than before

    @property
    def is_piece(self) -> bool:
        """Whether it comes back after a visit."""
        return self.supply.kind == PIECE


def stock_of(
    supply: Supply, counts: Iterable[Count], moves: Iterable[Move], visits: Sequence[Used]
) -> Stock:
    """The stock of one supply from everything that stands: all its counts and moves, and the visits
    to its bin, in any order."""
    mine = sorted((c for c in counts if c.supply_id == supply.id), key=_moment)
    came = sorted((m for m in moves if m.supply_id == supply.id), key=lambda m: (m.moved_on, m.id))
    last = mine[-1] if mine else None
    since = [m for m in came if last is None or _moved_after(m, last)]
    lessons = tuple(_lessons(mine, came, visits))
    told = 0.0 if supply.kind == PIECE else supply.per_visit
    use = learned(told, [one.per_visit for one in lessons if one.is_plausible(supply)])
    start, since = _start(last, since)
    after = sum(_used_after(v, start) for v in visits) if start is not None else 0
    moved = sum(m.amount for m in since)
    on_hand = None if start is None else start.on_hand + moved - after * use
    return Stock(
        supply=supply,
        on_hand=None if on_hand is None else round(on_hand, 6),
        use=use,
        told=told,
        counted=last,
        visits_since=after,
        moved_since=moved,
        lessons=lessons,
        wanted=_wanted(since),
        filled=_filled(mine, came),
    )


def learned(told: float, seen: Iterable[float], share: float = LEARNING) -> float:
    """Use per visit: as told, moved towards what each count implied (simple exponential smoothing,
    NIST/SEMATECH e-Handbook 6.4.3.1, with the told use as the first value)."""
    use = told
    for value in seen:
        use += share * (value - use)
    return use


def share_of(supply: Supply) -> float:
    """How many pieces one child's tub holds."""
    return supply.per_tub or supply.per_visit


def _start(last: Count | None, since: list[Move]) -> tuple[Count | None, list[Move]]:
    """What is counted from: the last count; else nothing, at the moment of the first restock."""
    if last is not None:
        return last, since
    first = next((m for m in since if m.kind == ADDED), None)
    if first is None:
        return None, since
    nothing = Count(
        0, first.supply_id, 0.0, first.moved_on, first.moved_at, learns=False, made_by=first.made_by
    )
    return nothing, [m for m in since if m.id >= first.id]


def _lessons(
    counts: Sequence[Count], moves: Sequence[Move], visits: Sequence[Used]
) -> Iterable[Lesson]:
    """What counts teach: only those with visits since the count before, and no more found than
    there can have been (then a restock was not told)."""
    for before, count in pairwise(counts):
        between = sum(_used_after(v, before) and not _used_after(v, count) for v in visits)
        moved = sum(
            m.amount for m in moves if _moved_after(m, before) and not _moved_after(m, count)
        )
        used = before.on_hand + moved - count.on_hand
        if count.learns and between and used >= 0:
            yield Lesson(count, between, used)


def _moment(count: Count) -> tuple[date, time, int]:
    return count.counted_on, count.counted_at or time.max, count.id


def _used_after(visit: Used, count: Count) -> bool:
    if visit.day != count.counted_on:
        return visit.day > count.counted_on
    if count.counted_at is None:
        return False
    told = visit.told_at
    if told is not None and (told, visit.entry_id) <= (count.counted_at, count.made_by):
        return False
    return visit.ended is None or visit.ended > count.counted_at


def _moved_after(move: Move, count: Count) -> bool:
    if move.moved_on != count.counted_on:
        return move.moved_on > count.counted_on
    if move.moved_at is not None and count.counted_at is not None:
        return (move.moved_at, move.made_by) > (count.counted_at, count.made_by)
    return move.made_by > count.made_by


def _filled(counts: Sequence[Count], moves: Sequence[Move]) -> date | None:
    """The day of the last restock, or of the last count that found more than the one before."""
    days = [move.moved_on for move in moves if move.kind == ADDED]
    days += [c.counted_on for before, c in pairwise(counts) if c.on_hand > before.on_hand]
    return max(days, default=None)


def _wanted(since: Sequence[Move]) -> Move | None:
    """The last word that it is low, unless something came after it."""
    for move in reversed(since):
        if move.kind == WANTED:
            return move
        if move.kind == ADDED:
            return None
    return None
