"""Words for supplies: what is left, what to copy or get, and why."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from math import ceil

from bot.classroom.restocking import Restock, due_by
from bot.classroom.supplies import share_of
from bot.classroom.tubs import full_tubs
from bot.outcomes import ANSWERED, RestockList, SupplyExplained, SupplyHeld, SupplyReported
from bot.requests import Option
from bot.wording.voice import Reply, Voice, counted, sentence, short_day
from storage.records import Roster, Supply

_MOST_LINES = 12
_PAPER = ("sheet", "page", "paper", "strip", "form", "worksheet", "map", "booklet", "template",
          "handout", "chart")  # fmt: skip


def supply_reported(outcome: SupplyReported, voice: Voice, entry_id: int) -> Reply:
    """How much there is now, what still comes, what to do by when."""
    line, supply = outcome.line, outcome.line.stock.supply
    name = voice.roster.bin[supply.bin_id].name
    ahead = _ahead(line, outcome.today)
    if outcome.request.kind == "wanted" and not line.is_short and line.stint is not None:
        ahead = f"By that it should do: {_coming(line, outcome.today).lower()}."
    lines = [f"{_head(outcome, name)} {ahead}"]
    if outcome.seats is not None:
        lines.append(_lost_seats(outcome))
    lesson = _lesson(line)
    if lesson:
        lines.append(lesson)
    undo = () if outcome.status == ANSWERED else (Option("Undo", f"undo {entry_id}"),)
    return Reply("\n".join(lines), (*undo, Option("What to copy", "what do I need to restock")))


def _head(outcome: SupplyReported, name: str) -> str:
    stock, item = outcome.line.stock, outcome.line.stock.supply.item
    on_hand = stock.on_hand
    if outcome.request.kind == "wanted":
        known = "never counted" if on_hand is None else f"{_number(on_hand)} on record"
        return f"Noted: {name} needs {item} ({known}; text the number if it is another)."
    if on_hand is None:
        return f"{name}: {item} noted, but never counted. Text how many there are."
    if on_hand < 0:
        return (
            f"{name}: by the texts {_number(on_hand)} {item}, so a count or a restock is missing. "
            "Text how many there are."
        )
    if on_hand == 0:
        return f"{name} is out of {item}."
    again = " (on record already)" if outcome.status == ANSWERED else ""
    return f"{name}: {_number(on_hand)} {item}{again}."


def _ahead(line: Restock, today: date) -> str:
    """ "9 children still come; copy 5 or more by Wed 25 Nov."."""
    if line.stint is None:
        return "It is on the shelf."
    come = _coming(line, today)
    if line.stock.on_hand is None:
        return come
    if line.is_short:
        return f"{come}; {_order(line, today)}."
    if line.visits <= 0:
        return f"{come}."
    return f"{come}; that is enough."


def _coming(line: Restock, today: date) -> str:
    visits = ceil(line.visits - 1e-9)
    stint = line.stint
    if stint is not None and stint.opens > today:
        return f"{counted(visits, 'turn', 'turns')} from {short_day(stint.opens, today)}"
    if stint is not None and stint.closes is None:
        return f"About {counted(visits, 'turn', 'turns')} in the next four weeks"
    if visits == 0:
        return "Nobody still comes"
    if stint is not None and stint.visits_each > 1:
        return f"{counted(visits, 'turn', 'turns')} still to come"
    return f"{counted(visits, 'child', 'children')} still {'comes' if visits == 1 else 'come'}"


def _order(line: Restock, today: date) -> str:
    supply = line.stock.supply
    return f"{_verb(supply)} {_number(ceil(line.short - 1e-9))} or more {_by(line.by, today)}"


def _by(day: date | None, today: date) -> str:
    if day is None or day <= today:
        return "today"
    return f"by {short_day(day, today)}"


def _verb(supply: Supply) -> str:
    if supply.kind == "piece":
        return "get"
    return "copy" if any(word in supply.item.casefold() for word in _PAPER) else "get"


def _lost_seats(outcome: SupplyReported) -> str:
    line = outcome.line
    tubs = full_tubs(line.stock) or 0
    seats = line.stint.seats if line.stint else 0
    share = _number(share_of(line.stock.supply))
    return (
        f"That fills {counted(tubs, 'tub', 'tubs')} of {share}: "
        f"{counted(outcome.seats or 0, 'seat', 'seats')} of {seats} till they are back."
    )


def _lesson(line: Restock) -> str:
    """What the newest count says of the use, where it is not what was told."""
    stock = line.stock
    if not stock.lessons or stock.lessons[-1].count != stock.counted:
        return ""
    seen = stock.lessons[-1]
    if abs(seen.per_visit - stock.told) < 0.1 * max(stock.told, 0.5):
        return ""
    if not seen.is_plausible(stock.supply):
        return (
            f"Only {counted(seen.visits, 'turn', 'turns')} on record since the count before, and "
            f"{_number(seen.used)} gone: a log or a loss may be missing."
        )
    if stock.is_piece:
        return f"{counted(seen.visits, 'turn', 'turns')} lost {_number(seen.used)} of them."
    return (
        f"You use {_number(seen.per_visit)} a turn, not {_number(stock.told)} "
        f"({_number(seen.used)} in {counted(seen.visits, 'turn', 'turns')}). "
        f"I now reckon with {_number(stock.use)}."
    )


def supply_held(outcome: SupplyHeld, voice: Voice, entry_id: int) -> Reply:
    """What was understood and on purpose not written down."""
    request = outcome.request
    if request.reason == "future":
        return Reply("Nothing written down yet: text me once they are there.")
    return Reply(f"“{request.words}” is on no bin's supply list, so nothing is written down.")


def restock_list(outcome: RestockList, voice: Voice, entry_id: int) -> Reply:
    """What is short, most urgent first; how many there are of what was asked about."""
    if outcome.asked:
        lines = [_one(line, voice.roster, outcome.today) for line in outcome.asked[:_MOST_LINES]]
        return Reply("\n".join(lines))
    when = f" up to {short_day(outcome.until, outcome.today)}" if outcome.until else ""
    if not outcome.lines:
        text = f"Nothing is short{when}."
        if outcome.uncounted:
            text += f" {counted(outcome.uncounted, 'supply was', 'supplies were')} never counted."
        return Reply(text)
    lines = [_to_get(line, voice.roster, outcome.today) for line in outcome.lines[:_MOST_LINES]]
    if len(outcome.lines) > _MOST_LINES:
        lines.append(f"and {len(outcome.lines) - _MOST_LINES} more")
    return Reply("\n".join(lines))


def _one(line: Restock, roster: Roster, today: date) -> str:
    supply = line.stock.supply
    name = roster.bin[supply.bin_id].name
    if line.stock.on_hand is None:
        return f"{name}: {supply.item} never counted."
    if line.stock.on_hand < 0:
        return (
            f"{name}: {_number(line.stock.on_hand)} {supply.item} by the texts; "
            "a count or a restock is missing."
        )
    return f"{name}: {_number(line.stock.on_hand)} {supply.item}. {_ahead(line, today)}"


def _to_get(line: Restock, roster: Roster, today: date) -> str:
    """ "Copy 5 Ramps record sheets by Wed 25 Nov (4 left, 9 needed)"."""
    left, needed = _number(line.stock.on_hand or 0), _number(ceil(line.needed - 1e-9))
    packs = f"; {_packs(line)}" if line.stock.supply.pack_size > 1 else ""
    verb = _verb(line.stock.supply).capitalize()
    what = f"{verb} {_amount(line, roster)} {_by(line.by, today)}"
    return f"{what} ({left} left, {needed} needed{packs})"


def _amount(line: Restock, roster: Roster) -> str:
    supply = line.stock.supply
    return f"{_number(ceil(line.order - 1e-9))} {roster.bin[supply.bin_id].name} {supply.item}"


def _packs(line: Restock) -> str:
    pack = line.stock.supply.pack_size
    return f"{counted(ceil(line.order / pack - 1e-9), 'pack', 'packs')} of {_number(pack)}"


def supply_explained(outcome: SupplyExplained, voice: Voice, entry_id: int) -> Reply:
    """The arithmetic: count, what came and went, turns since, what is needed, what is short."""
    lines: list[str] = []
    for line in outcome.lines[:3]:
        lines += _arithmetic(line, voice.roster, outcome.today)
    return Reply("\n".join(lines))


def _arithmetic(line: Restock, roster: Roster, today: date) -> list[str]:
    stock, supply = line.stock, line.stock.supply
    name = f"{roster.bin[supply.bin_id].name}, {supply.item}"
    if stock.on_hand is None:
        return [f"{name}: never counted, so nothing can be reckoned."]
    short = f"{_number(line.short)} short" if line.is_short else "not short"
    told = [f"{name}: {short}."]
    if stock.counted is not None:
        day = short_day(stock.counted.counted_on, today)
        told.append(
            f"Counted {_number(stock.counted.on_hand)} on {day}, "
            f"{_number(stock.moved_since, signed=True)} came or went, "
            f"{counted(stock.visits_since, 'turn', 'turns')} since at {_number(stock.use)} each: "
            f"{_number(stock.on_hand)} now."
        )
    told.append(_need(line, today))
    if stock.lessons:
        told.append(
            f"Use per turn: told {_number(stock.told)}, learned from "
            f"{counted(len(stock.lessons), 'count', 'counts')} {_number(stock.use)}."
        )
    if line.is_short:
        told.append(
            sentence(
                f"{_number(line.needed)} − {_number(stock.on_hand)} = {_number(line.short)}; "
                f"in packs of {_number(supply.pack_size)}: {_number(line.order)} "
                f"{_by(line.by, today)}"
            )
        )
    return told


def _need(line: Restock, today: date) -> str:
    stock, supply = line.stock, line.stock.supply
    if line.stint is None:
        return "The bin is on the shelf: nothing is needed."
    come = _coming(line, today)
    if stock.is_piece:
        return (
            f"{come}: {_number(line.needed)} needed "
            f"({_number(share_of(supply))} for each of those at once)."
        )
    spare = line.needed - line.visits * stock.use
    extra = f", {_number(spare)} of them to be safe" if spare > 0.005 else ""
    return f"{come}: {_number(line.needed)} needed{extra}."


def copy_lines(lines: Iterable[Restock], roster: Roster, today: date) -> list[str]:
    """The digest's lines for a day: what must be copied or got today, most urgent first."""
    return _due(due_by(lines, today), roster, lambda line: "today")


def due_lines(lines: Iterable[Restock], roster: Roster, today: date) -> list[str]:
    """What must be copied or got, by day."""
    return _due(lines, roster, lambda line: _by(line.by, today))


def _due(lines: Iterable[Restock], roster: Roster, when: Callable[[Restock], str]) -> list[str]:
    """ "Copy today: 9 Ramps record sheets, 14 Shadows maps": one line for all of one day."""
    told: dict[str, list[str]] = {}
    for line in lines:
        packs = f" ({_packs(line)})" if line.stock.supply.pack_size > 1 else ""
        head = f"{_verb(line.stock.supply).capitalize()} {when(line)}"
        told.setdefault(head, []).append(_amount(line, roster) + packs)
    return [f"{head}: {', '.join(amounts)}" for head, amounts in told.items()]


def supply_question(about: str, words: str) -> str:
    """Questions back about supplies."""
    texts = {
        "which_supply": f"Which {words or 'of these'}?",
        "unknown_supply": f"“{words}” is not on that bin's list. Which of these?",
        "how_many_left": f"{words}: how many are there now? Text the number.",
        "how_many_lost": f"{words}: how many are missing? Text the number.",
        "how_many_found": f"{words}: how many were found? Text the number.",
        "confirm_supply": "Shall I write this down?",
        "left_or_added": f"{words}: is that what is left, or what you put in?",
        "lost_too_many": f"{words}: that is more than there were on record. Are none left?",
        "supply_again": f"{words}: you told me just that a moment ago. Was it once more?",
    }
    return texts[about]


def _number(amount: float, *, signed: bool = False) -> str:
    rounded = round(amount, 2)
    text = str(int(rounded)) if rounded == int(rounded) else f"{rounded:g}"
    text = text.replace("-", "−")
    return f"+{text}" if signed and rounded >= 0 else text
