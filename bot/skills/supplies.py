"""Supplies: counts, losses and restocks taken down; what is short, and why."""

from __future__ import annotations

from datetime import date, timedelta

from bot.classroom.restocking import Restock, most_urgent_first
from bot.classroom.supplies import ADDED, FOUND, LOST, WANTED
from bot.classroom.tubs import seats_now
from bot.outcomes import (
    ANSWERED,
    ASKED,
    DONE,
    REFUSED,
    Outcome,
    Question,
    RestockList,
    SupplyHeld,
    SupplyReported,
)
from bot.requests import (
    Ask,
    AskRestock,
    HoldSupply,
    Option,
    ReportSupply,
    When,
)
from bot.skills.skill import Situation, Skill
from bot.skills.stocktaking import Stocktaking, restock_fact, supply_change, take_stock
from bot.understanding.asking_back import NO, YES
from bot.understanding.canonical import report_in_full
from bot.understanding.supplies.hearing import ASKED_SUPPLIES, TOLD_SUPPLIES

_SAME_AGAIN = timedelta(minutes=10)  # the same amount told twice within it is asked about


def report_supply(request: ReportSupply, now: Situation) -> Outcome:
    """Write down what became of a supply, and tell what that means for the visits to come."""
    day = request.when.day or now.today
    if day > now.today:
        return SupplyHeld(status=REFUSED, request=HoldSupply("future"))
    before = take_stock(now.book, now.roster, now.at, [request.supply_id])
    doubt = _doubt(request, before.stocks[request.supply_id].on_hand, day, now)
    if doubt is not None:
        return doubt
    is_new = not _is_on_record(request, before, day)
    if is_new:
        _write(request, day, now)
    after = take_stock(now.book, now.roster, now.at, [request.supply_id])
    line = after.lines[request.supply_id]
    return SupplyReported(
        status=DONE if is_new else ANSWERED,
        changes=(supply_change(now.roster, line.stock),) if is_new else (),
        said=report_in_full(_dated(request, day), now.roster),
        request=request,
        line=line,
        seats=_seats(line, now),
        today=now.today,
    )


def _write(request: ReportSupply, day: date, now: Situation) -> None:
    at = now.at.time() if day == now.today else None
    supply_id, amount = request.supply_id, request.amount or 0.0
    if request.kind in ("counted", "discarded"):
        learns = request.kind == "counted"
        now.book.count_supply(now.entry_id, supply_id, amount, day, at, learns=learns)
        return
    kind = {"added": ADDED, "found": FOUND, "lost": LOST, "wanted": WANTED}[request.kind]
    amount = -amount if kind == LOST else amount
    now.book.move_supply(now.entry_id, supply_id, amount, kind, day, at, tub=request.tub)


def _is_on_record(request: ReportSupply, held: Stocktaking, day: date) -> bool:
    """The same count again with nothing in between, or the same word that it is low."""
    stock = held.stocks[request.supply_id]
    if request.kind == "wanted":
        return stock.wanted is not None and stock.wanted.moved_on == day
    last = stock.counted
    return (
        request.kind == "counted"
        and last is not None
        and last.counted_at is not None
        and (last.on_hand, last.counted_on) == (request.amount, day)
        and not stock.visits_since
        and not stock.moved_since
    )


def _doubt(
    request: ReportSupply, on_hand: float | None, day: date, now: Situation
) -> Outcome | None:
    """More lost than there is, or the same amount told twice in a few minutes."""
    if request.kind == "lost" and on_hand is not None and (request.amount or 0) > max(on_hand, 0):
        none = ReportSupply("counted", request.supply_id, 0.0, When(day))
        options = (Option("None left", report_in_full(none, now.roster)), Option(NO, "no"))
        return _question("lost_too_many", request, options, now)
    if request.kind in ("added", "lost", "found") and not request.again:
        same = [m for m in now.book.supply_moves() if _is_same(m.amount, m.kind, request)
                and m.supply_id == request.supply_id and m.moved_on == day]  # fmt: skip
        told = now.book.entries({m.made_by for m in same})
        if any(
            e.member_id == now.member.id and timedelta(0) <= now.at - e.at <= _SAME_AGAIN
            for e in told.values()
        ):
            again = ReportSupply(
                request.kind, request.supply_id, request.amount, When(day), request.tub, again=True
            )
            options = (Option(YES, report_in_full(again, now.roster)), Option(NO, "no"))
            return _question("supply_again", request, options, now)
    return None


def _is_same(amount: float, kind: str, request: ReportSupply) -> bool:
    return kind == request.kind and abs(amount) == request.amount


def _question(
    about: str, request: ReportSupply, options: tuple[Option, ...], now: Situation
) -> Outcome:
    supply = next(s for s in now.roster.supplies if s.id == request.supply_id)
    words = f"{now.roster.bin[supply.bin_id].name}: {supply.item}"
    ask = Ask(about, words, options, request.name)
    return Question(status=ASKED, choices=options, ask=ask)


def _dated(request: ReportSupply, day: date) -> ReportSupply:
    return ReportSupply(
        request.kind, request.supply_id, request.amount, When(day), request.tub, request.again
    )


def _seats(line: Restock, now: Situation) -> int | None:
    if line.stint is None or not line.stock.is_piece:
        return None
    seats = seats_now(now.roster, [line.stock], line.stint)
    return seats if seats < line.stint.seats else None


def hold_supply(request: HoldSupply, now: Situation) -> Outcome:
    """Write nothing down, and say why."""
    return SupplyHeld(status=REFUSED, request=request)


def ask_restock(request: AskRestock, now: Situation) -> Outcome:
    """What is short, most urgent first; of the supplies named also how many there are."""
    held = take_stock(now.book, now.roster, now.at, request.supplies or None)
    lines = most_urgent_first(held.lines.values())
    if request.until is not None:
        lines = tuple(line for line in lines if line.by is None or line.by <= request.until)
    return RestockList(
        status=ANSWERED,
        facts={"restock": [restock_fact(now.roster, line) for line in lines]},
        lines=lines,
        asked=tuple(held.lines[i] for i in request.supplies),
        uncounted=sum(s.on_hand is None for s in held.stocks.values()),
        until=request.until,
        today=now.today,
    )


REPORT = Skill(
    name="supply_report",
    title="Tell what is left, lost or copied",
    examples=(
        "4 sheets left in ramps",
        "copied 20 sheets for ramps",
        "lost 2 bears",
        "out of dough",
    ),
    listeners=(TOLD_SUPPLIES,),
    acts=((ReportSupply, report_supply), (HoldSupply, hold_supply)),
)

RESTOCK = Skill(
    name="restock",
    title="Ask what is short and what to copy",
    examples=("what do I need to copy", "shopping list for thursday", "how many sheets in ramps?"),
    listeners=(ASKED_SUPPLIES,),
    acts=((AskRestock, ask_restock),),
)
