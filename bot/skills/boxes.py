"""What the skills of swaps share: whether a bin may go, and what could come in its place."""

from __future__ import annotations

from datetime import date

from bot.classroom.readiness import Readiness, readiness
from bot.classroom.stints import out_on
from bot.classroom.suggestions import Suggestion, suggestions
from bot.classroom.swaps import usual_last_day
from bot.skills.skill import Situation
from bot.skills.stocktaking import stocks_of
from storage.records import Stint


def state_of(stint: Stint, now: Situation) -> Readiness:
    """Whether a stint may end, by what is on record."""
    tally = now.book.tally({s.id for s in (*out_on(now.roster, now.today), stint)})
    return readiness(now.roster, tally, stint, now.at)


def fact_of(state: Readiness, now: Situation) -> dict[str, object]:
    """The same for programs."""
    return {
        "bin": now.roster.bin_of(state.stint).name,
        "ready": state.is_ready,
        "needs": [student.name for student in state.needs],
        "earliest": state.earliest.isoformat() if state.earliest else None,
    }


def next_bins(stint: Stint | None, day: date, now: Situation) -> tuple[Suggestion, ...]:
    """What could come on a day in the place of a stint, best first."""
    last = usual_last_day(now.roster, stint, day) or day
    return suggestions(
        now.roster,
        day,
        last,
        had=now.had_this_year(day),
        on_hand=_on_hand(now),
        besides=(stint.bin_id,) if stint is not None else (),
    )


def _on_hand(now: Situation) -> dict[int, float]:
    """What there is of each supply that is known, as the stock tells it; below zero is none."""
    stocks = stocks_of(now.book, now.roster)
    known = {supply_id: stock.on_hand for supply_id, stock in stocks.items()}
    return {
        supply_id: max(0.0, amount) for supply_id, amount in known.items() if amount is not None
    }
