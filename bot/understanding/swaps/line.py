"""A clause as patterns see it: words, and placeholders for bins, colors, days and weeks more."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from bot.requests import Place
from bot.understanding.clause import Clause, place_of
from bot.understanding.coming import day_of_month
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import How, Item, Kind
from bot.understanding.swaps.boxes import color_at, is_another, is_before_color, is_new, is_plain
from bot.understanding.swaps.words import DROPPED, EXTENDING, KEPT_PLAIN, MORE, NUMBERS, VERBS

UNSURE = "(?)"
_AFTER_WILL = frozenset((
    "replace", "be", "go", "come", "take", "stay", "close", "end", "start", "open", "run", "need",
))  # fmt: skip
_SLIPS = {"swpa": "swap", "sawp": "swap", "swp": "swap", "sqap": "swap", "wsap": "swap"}


@dataclass(slots=True)
class Line:
    """A clause as the patterns see it, with what its placeholders stand for."""

    text: str = ""
    places: list[Place] = field(default_factory=list)
    days: list[Item] = field(default_factory=list)
    more: list[tuple[int, str]] = field(default_factory=list)
    kinds: dict[str, set[Kind]] = field(default_factory=dict)
    words: frozenset[str] = frozenset()


def line_of(clause: Clause) -> Line | None:
    """The line of a clause; None where a word may be two bins."""
    line = Line(words=frozenset(_words(clause.items)))
    parts: list[str] = []
    for at, item in enumerate(clause.items):
        if is_before_color(clause.items, at, clause.roster) or _is_aux(clause.items, at):
            continue
        box = color_at(clause.items, at, clause.roster)
        is_bin = is_place(item) and not _is_verb(clause.items, at)
        place = Place(color=box) if box is not None else place_of(item) if is_bin else None
        if is_bin and place is None:
            return None  # "blocks" may be two bins: asked elsewhere
        if place is not None:
            parts.append(f"<{'bin' if place.color is None else 'color'}:{len(line.places)}>")
            line.places.append(place)
            parts += _doubts(clause, at, place)
        elif item.kind is Kind.DAY or (_follows_till(parts) and _is_nth(item, clause)):
            parts.append(f"<day:{len(line.days)}>")
            line.days.append(item)
        elif _is_link(clause.items, at):
            parts.append("for")
        elif item.kind is Kind.FUTURE and len(item.keys) > 1:
            parts += ["be"] if item.keys[-1] == "be" else []  # "going to", "will be"
        else:
            parts += [word for word in _words((item,)) if _is_kept(word, item)]
            for word in _words((item,)):
                line.kinds.setdefault(word, set()).add(item.kind)
    text = " ".join(part for part in parts if part).replace("- >", "→").replace(" > ", " → ")
    line.text = _with_more(text, line)
    return line


def _doubts(clause: Clause, at: int, place: Place) -> tuple[str, ...]:
    """A word that no pattern takes, where a box may not be the one meant."""
    if place.color is None:
        return ()
    unheard = is_new(place.color, clause.roster) and not is_plain(clause.items[at], clause.text)
    return (UNSURE,) if unheard or is_another(clause.items, at) else ()


def words_of(clause: Clause) -> str:
    """The words of a clause as they were read, small and without accents."""
    return " ".join(_words(clause.items))


def children_named(clause: Clause) -> tuple[Item, ...]:
    """The items that name children, but for those that stand where a box or a link does."""
    items = clause.items
    return tuple(
        item
        for at, item in enumerate(items)
        if is_subject(item)
        and not _is_link(items, at)
        and not _is_aux(items, at)
        and color_at(items, at, clause.roster) is None
    )


def places_named(clause: Clause) -> tuple[Place, ...]:
    """Every bin and color named; also a color in front of a word that made it look like none."""
    line = line_of(clause)
    return tuple(dict.fromkeys(line.places)) if line is not None else clause.places()


def _is_link(items: Sequence[Item], at: int) -> bool:
    """ "swap ramps 4 gears", "swap ramps four gears"."""
    between = 0 < at < len(items) - 1 and is_place(items[at - 1]) and is_place(items[at + 1])
    swaps = any(
        {"swap", "switch", "exchange", "replace", "trade"} & set(i.keys) for i in items[:at]
    )
    return between and swaps and items[at].keys in (("four",), ("4",), ("2",), ("two",))


def _is_aux(items: Sequence[Item], at: int) -> bool:
    """ "gears will replace ramps", where a child is called Will."""
    after = items[at + 1].keys[:1] if at + 1 < len(items) else ()
    before = at > 0 and is_place(items[at - 1])
    return items[at].keys == ("will",) and before and bool(set(after) & _AFTER_WILL)


def _is_verb(items: Sequence[Item], at: int) -> bool:
    """ "leave tubes out", where "leave" may stand for Leaf Rubbings."""
    item = items[at]
    weak = item.kind is Kind.BIN and item.sense.how in (How.RELATED, How.CLOSE, How.PART)
    leads = not any(is_place(i) or is_subject(i) for i in items[:at])
    return weak and leads and item.keys[0] in VERBS and any(map(is_place, items[at + 1 :]))


def _words(items: Sequence[Item]) -> Iterator[str]:
    for item in items:
        mended = item.sense.how is How.CLOSE and not is_place(item) and not is_subject(item)
        words = item.sense.word.split() if mended and item.sense.word else item.keys
        yield from (_SLIPS.get(word, word) for word in words)


def _is_kept(word: str, item: Item) -> bool:
    if item.kind in (Kind.QUERY, Kind.STOP, Kind.MARK) and word not in ("&", "→", ">", "="):
        return False
    if word in DROPPED:
        return False
    return item.kind is not Kind.PLAIN or word in KEPT_PLAIN


def _follows_till(parts: Sequence[str]) -> bool:
    return bool(parts) and parts[-1] in (
        "till",
        "until",
        "til",
        "thru",
        "through",
        "to",
        "on",
        "by",
    )


def _is_nth(item: Item, clause: Clause) -> bool:
    return bool(item.keys) and day_of_month(item.keys[-1], clause.at.date()) is not None


def _with_more(text: str, line: Line) -> str:
    """ "a week longer", "2 more days" as one placeholder."""

    def counted(match: re.Match[str]) -> str:
        first = match["n"].split()
        is_more = (
            match["lead"]
            or match["more"]
            or match["longer"]
            or first[0] in ("another", "extra")
            or len(first) > 1
        )
        by = match.string[: match.start()].endswith("by ") or bool(line.words & EXTENDING)
        if not is_more and not by:
            return match[0]
        number = next((NUMBERS[w] for w in reversed(first) if w in NUMBERS), None)
        line.more.append(
            (
                number if number is not None else int(first[0]),
                "weeks" if match["unit"][0] == "w" else "days",
            )
        )
        return f"<more:{len(line.more) - 1}>"

    return re.sub(r"(?:^|(?<= ))" + MORE.pattern + r"(?= |$)", counted, text)
