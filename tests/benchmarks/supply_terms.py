"""Simulated terms of supplies: the tool's advice against a fixed Friday re-count by eye.

    python -m tests.benchmarks.supply_terms [TERMS]

24 children, six bins of four seats, two rotations a day, four stints of three weeks. A turn truly
uses more than what was told (1.3 sheets, not 1); 6% of the turns lose a piece of a kit of 4 tubs x
5. By eye: on Fridays sheets are topped up to what a told use of the children left would need, with
a guess that is 25% off, and lost pieces are replaced. Prints days with a shortage, stock held, and
how far the learned use is from the true one after five counts.
"""

from __future__ import annotations

import random
import sys
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from statistics import mean
from zoneinfo import ZoneInfo

from bot.classroom.coming import coming_to
from bot.classroom.restocking import Restock, due_by, restock_of
from bot.classroom.supplies import ADDED, Stock, Used, stock_of
from storage.records import Count, Move, Roster, Stint, Supply
from tests.rosters import ZONE, make_roster

TOLD, TRUE, LOSS = 1.0, 1.3, 0.06
SHEETS = Supply(1, 1, "record sheets", "consumable", TOLD, None, 10, 1)
PIECES = Supply(2, 1, "counters", "piece", 1.0, 5, 1, 2)
DAYS, SEATS, KIT = 15, 4, 20


@dataclass
class Term:
    """What came of one stint of three weeks."""

    sheet_days: int = 0
    piece_days: int = 0
    held: float = 0.0
    learned: float | None = None


def run(seed: int, *, with_advice: bool) -> Term:
    """One stint; the visits are the same for both ways."""
    rng, eye = random.Random(seed), random.Random(seed + 10_000)
    class_ = make_roster()
    term = Term()
    days = [date(2026, 11, 9) + timedelta(days=7 * (n // 5) + n % 5) for n in range(DAYS)]
    stint = replace(class_.stints[0], opens=days[0], closes=days[-1])
    stands = _Stand(class_, stint)
    children = list(class_.students)
    rng.shuffle(children)
    for at, day in enumerate(days):
        stands.arrive(at)
        stands.check(day, at, with_advice, eye, days)
        coming = children[: rng.choice((0, 0, 1, 2, 3, 4))]
        del children[: len(coming)]
        use = sum(1 + (rng.random() < TRUE - 1) for _ in coming)
        lost = sum(rng.random() < LOSS for _ in coming)
        term.sheet_days += bool(coming) and stands.sheets < use
        term.piece_days += len(coming) > stands.pieces // 5
        term.held += stands.sheets / DAYS
        stands.use(day, [c.id for c in coming], use, lost)
    term.learned = stands.learned
    return term


class _Stand:
    """The true stock, and what the class book knows of it."""

    def __init__(self, roster: Roster, stint: Stint) -> None:
        self.roster, self.stint = roster, stint
        self.sheets, self.pieces = 15, KIT
        self.counts = [Count(1, 1, 15, date(2026, 11, 6)), Count(2, 2, KIT, date(2026, 11, 6))]
        self.moves: list[Move] = []
        self.visits: list[Used] = []
        self.held: dict[int, int] = {}
        self.on_the_way: list[tuple[int, int, int]] = []  # arrives at, sheets, pieces
        self.learned: float | None = None

    def arrive(self, at: int) -> None:
        """What was copied or bought is there."""
        for when, sheets, pieces in self.on_the_way:
            if when == at:
                self.sheets += sheets
                self.pieces += pieces
        self.on_the_way = [way for way in self.on_the_way if way[0] > at]

    def check(
        self, day: date, at: int, with_advice: bool, eye: random.Random, days: list[date]
    ) -> None:
        """The morning: the tool's advice, or a look on Fridays."""
        now = datetime.combine(day, time(7), ZoneInfo(ZONE))
        if with_advice:
            if at % 3 == 0:
                self._count(day)
            for line in due_by(self._lines(now), day):
                self._order(at, line.stock.supply, round(line.order), day)
        elif day.weekday() == 4:
            left = 24 - len(self.held)
            seen = self.sheets * eye.uniform(0.75, 1.25)
            self._order(at, SHEETS, max(0, round(left * TOLD - seen)), day)
            self._order(at, PIECES, KIT - self.pieces, day)

    def _lines(self, now: datetime) -> list[Restock]:
        tally = {self.stint.id: self.held}
        coming = coming_to(self.roster, tally, self.stint, now, {})
        return [restock_of(self.roster, stock, coming, now.date()) for stock in self._stocks()]

    def _stocks(self) -> list[Stock]:
        return [stock_of(s, self.counts, self.moves, self.visits) for s in (SHEETS, PIECES)]

    def _count(self, day: date) -> None:
        number = len(self.counts) + 1
        self.counts.append(Count(number, 1, self.sheets, day, time(6, 50), made_by=number))
        self.counts.append(Count(number + 1, 2, self.pieces, day, time(6, 50), made_by=number))
        self.learned = self._stocks()[0].use

    def _order(self, at: int, supply: Supply, amount: int, day: date) -> None:
        if amount <= 0 or any(way[2 if supply is PIECES else 1] for way in self.on_the_way):
            return
        sheets, pieces = (amount, 0) if supply is SHEETS else (0, amount)
        self.on_the_way.append((at + supply.lead_days, sheets, pieces))
        on = day + timedelta(days=supply.lead_days)
        self.moves.append(Move(len(self.moves) + 1, supply.id, amount, ADDED, on, time(6, 40)))

    def use(self, day: date, children: list[int], use: int, lost: int) -> None:
        """A day's turns: the book learns of the visits, not of what they used or lost."""
        self.sheets = max(0, self.sheets - use)
        self.pieces = max(0, self.pieces - lost)
        for child in children:
            self.held[child] = 1
            self.visits.append(Used(day, time(10, 35), time(10, 36), 500 + len(self.visits)))


def main(terms: int) -> None:
    """Print the figures."""
    for name, with_advice in (("with the tool's advice", True), ("Friday re-count by eye", False)):
        runs = [run(seed, with_advice=with_advice) for seed in range(terms)]
        print(
            f"{name}: {mean(t.sheet_days for t in runs):.2f} days short of sheets a stint, "
            f"{mean(t.piece_days for t in runs):.2f} days with a seat lost, "
            f"{mean(t.held for t in runs):.1f} sheets held on average"
        )
        if with_advice:
            errors = [abs(t.learned - TRUE) for t in runs if t.learned is not None]
            print(f"  use learned after 5 counts: off by {mean(errors):.3f} (told is off by 0.300)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
