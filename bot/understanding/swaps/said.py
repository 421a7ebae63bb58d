"""What a clause says of a swap: which bin goes, which comes, in which color, when and till when."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from bot.classroom.stints import stint_in
from bot.requests import Place
from bot.understanding.clause import Clause
from bot.understanding.senses import Kind
from bot.understanding.swaps.line import Line, line_of
from bot.understanding.swaps.patterns import BY_FORM, EXCHANGES
from bot.understanding.swaps.when import is_now, one_day, speaks_of_next_week, starts_and_tills

_ANYWAY = frozenset(("anyway", "anyways", "regardless"))
_IN_COLOR = re.compile(r" ?(?:in|into|inside|for|to|from|out of) <color:\d+>")
_START = re.compile(
    r"(?<!till )(?<!until )(?<!til )(?<!thru )(?<!through )(?<!to )(?:on |from |starting )?"
    r"<day:\d+> ?"
)
_DONE = re.compile(
    r"<(?:bin|color):\d+> (?:is |was |be |has |been |are )*"
    r"(?:done|finished|over|complete|completed)\b(?! (?:for|to|by))"
    r"|\b(?:done|finished|through) (?:with|w) <(?:bin|color):\d+>(?! for)"
)


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
    is_done: bool = False  # "ramps is done"
    several_days: tuple[date, ...] = ()
    has_unknown_day: bool = False


def swap_said(clause: Clause) -> Said | None:
    """What a clause says of a swap, or None where it says nothing of the kind.

    Nothing is judged here but the words: whether it asks or tells, and whether it can be, is seen
    by who hears it.
    """
    line = line_of(clause)
    if line is None:
        return None
    bare = _without_days(line.text)
    for text in dict.fromkeys((line.text, bare)):
        for what, patterns in BY_FORM:
            said = _found(what, patterns, text, line, clause)
            if said is not None:
                return said
    said = _found("exchange", EXCHANGES, _without_color(bare), line, clause)
    return said if said is None else _in_color(said, line, clause)


def _found(
    what: str, patterns: Sequence[re.Pattern[str]], text: str, line: Line, clause: Clause
) -> Said | None:
    for pattern in patterns:
        match = pattern.search(f"{text} ")
        said = _said(what, match, line, clause) if match is not None else None
        if said is not None:
            return said
    return None


def _without_color(text: str) -> str:
    """ "put gears in pink instead of ramps": the color says nothing more."""
    return _IN_COLOR.sub("", text) if text.count("<color:") == 1 else text


def _in_color(said: Said, line: Line, clause: Clause) -> Said:
    """An exchange of two bins with the color named too: it must be that of the one that is out."""
    color = next(place.color for place in line.places if place.color is not None)
    today = clause.at.date()
    stint = stint_in(clause.roster, color, today)
    is_in_it = stint is not None and Place(stint.bin_id) in (said.outgoing, said.incoming)
    return replace(said, color=color, is_certain=said.is_certain and is_in_it)


def _without_days(text: str) -> str:
    """The line without the days on which something begins: they may stand anywhere."""
    return _START.sub("", text).strip()


def _said(what: str, match: re.Match[str], line: Line, clause: Clause) -> Said | None:
    found = match.groupdict()
    text_lacks_color = "<color:" in line.text and "<color:" not in match.string
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
    boxes = [p for p in line.places if p.color is not None] if text_lacks_color else []
    if len(line.places) > 3 or _names_others(line, out, incoming, color, *boxes):
        return None
    starts, tills = starts_and_tills(line, what)
    today = clause.at.date()
    day, several, unknown = one_day(starts, today)
    till, several_till, unknown_till = one_day(tills, today)
    is_done = _DONE.search(line.text) is not None
    return Said(
        what=what,
        outgoing=out,
        incoming=incoming,
        color=color.color if color is not None else None,
        day=day,
        till=till,
        shift=line.more[0] if line.more else None,
        is_now=is_now(clause),
        is_anyway=bool(line.words & _ANYWAY),
        is_certain=not _leaves_doubt(match, line, is_done=is_done),
        is_done=is_done,
        several_days=several or several_till,
        has_unknown_day=unknown or unknown_till or speaks_of_next_week(clause),
    )


def _leaves_doubt(match: re.Match[str], line: Line, *, is_done: bool) -> bool:
    """Whether words are left that may matter, or what is said may be said of how it is."""
    around = match.string[: match.start()] + " " + match.string[match.end() :]
    if _rest(_DONE.sub("", around) if is_done else around, line, is_done=is_done):
        return True
    if re.search(r"^<(?:bin|color):\d+> to <", match[0]):
        return True  # "ramps to gears" may send somebody there
    return re.search(r"^<\w+:\d+> (?:is|:|=|in) <", match[0]) is not None and not line.days


def _place(named: str | None, line: Line, clause: Clause) -> Place | None:
    if named is None:
        return None
    if named.startswith("<"):
        return line.places[int(named.strip("<>").split(":")[1])]
    known = line.places[:1] or list(clause.spoken_of)
    return known[0] if len(known) == 1 else None


def _names_others(line: Line, *taken: Place | None) -> bool:
    """Whether a bin is named that has no part in what was found."""
    return any(place not in taken for place in line.places)


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
    "to", "by", "next", "it", "place", "spot", "with", "done", "finished", "ready", "them", "that",
    "swap", "switch",
))  # fmt: skip


def _rest(text: str, line: Line, *, is_done: bool) -> list[str]:
    """The words that no pattern took and that may change what is meant; "everyone is done with it"
    does not."""
    harmless = (*_HARMLESS, Kind.EVERYONE, Kind.DID) if is_done else _HARMLESS
    left = []
    for word in text.split():
        if word.startswith("<") or word in _HARMLESS_WORDS:
            continue
        kinds = line.kinds.get(word, set())
        if not kinds & set(harmless):
            left.append(word)
    return left
