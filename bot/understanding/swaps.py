"""Swaps as people text them: which bin goes, which comes, in which color, when and till when."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from bot.classroom.stints import colors
from bot.requests import Place
from bot.understanding.clause import Clause, place_of
from bot.understanding.coming import coming_days, day_of_month
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import How, Item, Kind
from bot.understanding.swap_patterns import BY_FORM, DROPPED, KEPT_PLAIN, MORE, NUMBERS
from bot.understanding.tokens import fold

_ANYWAY = frozenset(("anyway", "anyways", "regardless"))
_SLIPS = {"swpa": "swap", "sawp": "swap", "swp": "swap", "sqap": "swap", "wsap": "swap"}


_START = re.compile(r"(?<!till )(?<!until )(?<!til )(?<!through )(?:on )?<day:\d+> ?")


@dataclass(frozen=True, slots=True)
class Said:
    """What a clause says of a swap; `certain` is False where words are left that may matter.

    `what` is exchange, put, down, tidy, swap, stays, closes or longer; `several_days` are the days
    that the one named may be; `shift` is how many weeks or school days longer.
    """

    what: str
    outgoing: Place | None = None
    incoming: Place | None = None
    color: str | None = None
    day: date | None = None
    till: date | None = None
    shift: tuple[int, str] | None = None
    is_now: bool = False
    is_anyway: bool = False
    is_certain: bool = True
    several_days: tuple[date, ...] = ()
    has_unknown_day: bool = False


@dataclass(slots=True)
class _Line:
    """A clause as the patterns see it, with what its placeholders stand for."""

    text: str = ""
    places: list[Place] = field(default_factory=list)
    days: list[Item] = field(default_factory=list)
    more: list[tuple[int, str]] = field(default_factory=list)
    kinds: dict[str, set[Kind]] = field(default_factory=dict)
    words: frozenset[str] = frozenset()


def swap_said(clause: Clause) -> Said | None:
    """What a clause says of a swap, or None where it says nothing of the kind.

    Nothing is judged here but the words: whether it asks or tells, and whether it can be, is seen
    by who hears it.
    """
    line = _line_of(clause)
    if line is None:
        return None
    for text in dict.fromkeys((line.text, _without_days(line.text))):
        for what, patterns in BY_FORM:
            for pattern in patterns:
                match = pattern.search(f"{text} ")
                said = _said(what, match, line, clause) if match is not None else None
                if said is not None:
                    return said
    return None


def _without_days(text: str) -> str:
    """The line without the days on which something begins: they may stand anywhere."""
    return _START.sub("", text).strip()


def children_named(clause: Clause) -> tuple[Item, ...]:
    """The items that name children, but for those that stand where a box or a link does."""
    items = clause.items
    return tuple(
        item
        for at, item in enumerate(items)
        if is_subject(item) and not _is_link(items, at) and _box(items, at, clause) is None
    )


def places_named(clause: Clause) -> tuple[Place, ...]:
    """Every bin and color named; also a color in front of a word that made it look like none."""
    line = _line_of(clause)
    return tuple(dict.fromkeys(line.places)) if line is not None else clause.places()


def _is_link(items: Sequence[Item], at: int) -> bool:
    """ "swap ramps 4 gears", "swap ramps four gears"."""
    between = 0 < at < len(items) - 1 and is_place(items[at - 1]) and is_place(items[at + 1])
    swaps = any(
        {"swap", "switch", "exchange", "replace", "trade"} & set(i.keys) for i in items[:at]
    )
    return between and swaps and items[at].keys in (("four",), ("4",), ("2",), ("two",))


def _box(items: Sequence[Item], at: int, clause: Clause) -> str | None:
    """The color of a box that looked like a child or like nothing: "put gears in violet", "red
    closes friday"."""
    item = items[at]
    known = {fold(color): color for color in colors(clause.roster)}
    color = known.get(fold(item.text))
    if color is None:
        return None
    if item.kind is Kind.CHATTER:
        return color
    before = items[at - 1].keys if at else ()
    led_in = before in (("in",), ("into",)) and any(is_place(i) for i in items[:at])
    return color if is_subject(item) and led_in and not any(map(is_subject, items[:at])) else None


def words_of(clause: Clause) -> str:
    """The words of a clause as they were read, small and without accents."""
    return " ".join(_words(clause.items))


def _words(items: Sequence[Item]) -> Iterator[str]:
    for item in items:
        mended = item.sense.how is How.CLOSE and not is_place(item) and not is_subject(item)
        words = item.sense.word.split() if mended and item.sense.word else item.keys
        yield from (_SLIPS.get(word, word) for word in words)


def _line_of(clause: Clause) -> _Line | None:
    line = _Line(words=frozenset(_words(clause.items)))
    parts: list[str] = []
    for at, item in enumerate(clause.items):
        place = place_of(item) if is_place(item) else None
        if is_place(item) and place is None:
            return None  # "blocks" may be two bins: asked elsewhere
        box = _box(clause.items, at, clause) if place is None else None
        place = Place(color=box) if box is not None else place
        if place is not None:
            parts.append(f"<{'bin' if place.color is None else 'color'}:{len(line.places)}>")
            line.places.append(place)
        elif item.kind is Kind.DAY or (_follows_till(parts) and _is_nth(item, clause)):
            parts.append(f"<day:{len(line.days)}>")
            line.days.append(item)
        elif _is_link(clause.items, at):
            parts.append("for")
        elif item.kind is Kind.FUTURE and len(item.keys) > 1:
            continue  # "going to", "need to"
        else:
            parts += [word for word in _words((item,)) if _is_kept(word, item)]
            for word in _words((item,)):
                line.kinds.setdefault(word, set()).add(item.kind)
    text = " ".join(part for part in parts if part).replace("- >", "→").replace(" > ", " → ")
    line.text = _with_more(text, line)
    return line


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


def _with_more(text: str, line: _Line) -> str:
    """ "a week longer", "2 more days" as one placeholder."""

    def counted(match: re.Match[str]) -> str:
        first = match["n"].split()
        is_more = (
            match["more"] or match["longer"] or first[0] in ("another", "extra") or len(first) > 1
        )
        by = match.string[: match.start()].endswith("by ")
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


def _said(what: str, match: re.Match[str], line: _Line, clause: Clause) -> Said | None:
    found = match.groupdict()
    if re.search(r"<bin:\d+> in(?:to)? <bin:\d+>", match[0]):
        return None  # "change the batteries in shadows"
    out = _place(found.get("out"), line, clause)
    incoming = _place(found.get("in"), line, clause)
    if what == "instead":
        out = next((p for p in (*line.places, *clause.spoken_of[:1]) if p != incoming), None)
        what = "exchange"
    if (found.get("out") or what == "exchange") and out is None:
        return None
    color = _place(found.get("color"), line, clause)
    if what == "out" and incoming is not None:
        what = "put"
    if what == "begins":
        if not line.days:
            return None
        what = "put"
    if what == "ends":
        what = "down"
    if len(line.places) > 3 or _names_others(line, out, incoming, color):
        return None
    starts, tills = _days(line, what)
    today = clause.at.date()
    day, several, unknown = _one_day(starts, today)
    till, several_till, unknown_till = _one_day(tills, today)
    rest = _rest(match.string[: match.start()] + " " + match.string[match.end() :], line)
    if re.search(r"^<(?:bin|color):\d+> to <", match[0]):
        rest.append("to")  # "ramps to gears" may send somebody there
    if re.search(r"^<\w+:\d+> (?:is|:|=|in) <", match[0]) and not line.days:
        rest.append("is")  # "gears in pink": said of how it is, or to be done?
    return Said(
        what=what,
        outgoing=out,
        incoming=incoming,
        color=color.color if color is not None else None,
        day=day,
        till=till,
        shift=line.more[0] if line.more else None,
        is_now=_is_now(clause),
        is_anyway=bool(line.words & _ANYWAY),
        is_certain=not rest,
        several_days=several or several_till,
        has_unknown_day=unknown or unknown_till or _speaks_of_next_week(clause),
    )


def _place(named: str | None, line: _Line, clause: Clause) -> Place | None:
    if named is None:
        return None
    if named.startswith("<"):
        return line.places[int(named.strip("<>").split(":")[1])]
    known = line.places[:1] or list(clause.spoken_of)
    return known[0] if len(known) == 1 else None


def _names_others(line: _Line, *taken: Place | None) -> bool:
    """Whether a bin is named that has no part in what was found."""
    return any(place not in taken for place in line.places)


def _days(line: _Line, what: str) -> tuple[list[Item], list[Item]]:
    """The days on which something begins (or is done), and those till which it stays."""
    starts: list[Item] = []
    tills: list[Item] = []
    ends = what in ("stays", "closes")
    for at, item in enumerate(line.days):
        before = line.text.split(f"<day:{at}>")[0].split()
        is_till = bool(before) and before[-1] in ("till", "until", "til", "thru", "through")
        (tills if is_till or (ends and len(line.days) == 1) else starts).append(item)
    if ends and not tills:
        starts, tills = starts[:-1], starts[-1:]
    return starts, tills


def _one_day(items: Sequence[Item], today: date) -> tuple[date | None, tuple[date, ...], bool]:
    """One day; or several that it may be; or that a day was named that cannot be told."""
    if not items:
        return None, (), False
    if len(items) > 1:
        return None, (), True
    found = coming_days(items[0], today)
    if len(found) == 1:
        return found[0], (), False
    return None, found, not found


def _is_now(clause: Clause) -> bool:
    """ "now", "right away": also on a day on which the bin has been used."""
    return (
        re.search(
            r"\b(?:right now|now|right away|immediately|straight away|asap|at once)\b",
            words_of(clause),
        )
        is not None
    )


def _speaks_of_next_week(clause: Clause) -> bool:
    said = words_of(clause)
    days = [item for item in clause.items if item.kind is Kind.DAY]
    return (
        not days
        and re.search(r"\b(?:next week|next month|end of (?:the )?(?:week|month))\b", said)
        is not None
    )


_HARMLESS = (
    Kind.PLAIN,
    Kind.AND,
    Kind.COMMA,
    Kind.AT,
    Kind.FUTURE,
    Kind.PLUS,
    Kind.COLON,
    Kind.AUX,
)
_HARMLESS_WORDS = frozenset((
    "today", "for", "on", "at", "in", "from", "starting", "effective", "as", "of", "begins",
    "instead", "out", "and", ",", "longer", "early", "till", "until", "til", "thru", "through",
    "to", "by", "next", "it", "with", "done", "finished", "ready", "them", "that", "swap",
    "switch",
))  # fmt: skip


def _rest(text: str, line: _Line) -> list[str]:
    """The words that no pattern took and that may change what is meant."""
    left = []
    for word in text.split():
        if word.startswith("<") or word in _HARMLESS_WORDS:
            continue
        kinds = line.kinds.get(word, set())
        if not kinds & set(_HARMLESS):
            left.append(word)
    return left
