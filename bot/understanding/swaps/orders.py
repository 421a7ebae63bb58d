"""Orders: what is said of a swap -> the request to do it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from bot.classroom.stints import nearest_stint, stint_of
from bot.requests import MoveClosing, Place, Swap
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.swaps.asking import how_long, tidied_or_down
from bot.understanding.swaps.said import Said
from storage.records import Roster

STRONG = re.compile(r"\b(?:swap\w*|exchang\w*|replac\w*|trad\w+|rotat\w*)\b")


def request_of(said: Said, clause: Clause, words: str) -> Swap | MoveClosing | Heard | None:
    """The request that does what is said, or a question back; None where it is no swap."""
    roster, today = clause.roster, clause.at.date()
    base = Swap(day=said.day, till=said.till, is_now=said.is_now, is_anyway=said.is_anyway)
    if said.what == "exchange":
        assert said.outgoing is not None
        assert said.incoming is not None
        return _exchange(
            replace(base, outgoing=said.outgoing, incoming=said.incoming), clause, words
        )
    if said.what == "put":
        return replace(base, incoming=said.incoming, into_color=said.color)
    if said.outgoing is None:
        return None
    if said.what == "down" and said.till is not None:
        return None  # "ramps is closed until monday": not for good
    if said.what == "tidy" and not said.is_done:
        return tidied_or_down(said, roster, today)
    if said.what == "extend":
        return how_long(said, roster, today)
    if said.what in ("stays", "closes", "longer"):
        return _closing(said, base, clause)
    if said.what == "swap":
        if STRONG.search(words) is None and "switch" not in words:
            return None
        if said.outgoing.bin_id is not None and _is_out(said.outgoing, roster, today) is False:
            return replace(base, incoming=said.outgoing)
        return replace(base, outgoing=said.outgoing, is_open=True)
    if "remove" in words or "removed" in words:
        return None if clause.last is not None else tidied_or_down(said, roster, today)
    if re.search(r"\b(?:take|took|get|bring|brought) (?:out \S+|\S+ out)", words) and not _is_out(
        said.outgoing, roster, said.day or today
    ):
        return replace(base, incoming=said.outgoing)  # "take gears out": from the shelf
    return replace(base, outgoing=said.outgoing)


def _exchange(swap: Swap, clause: Clause, words: str) -> Swap | None:
    """ "switch ramps to balance" may be a log put right; it is a swap where one bin is out and the
    other is not."""
    today = clause.at.date()
    assert swap.outgoing is not None
    assert swap.incoming is not None
    out = [_is_out(place, clause.roster, today) for place in (swap.outgoing, swap.incoming)]
    is_clear = out[0] != out[1] or None in out
    is_strong = STRONG.search(words) is not None and clause.last is None
    return swap if is_clear or is_strong else None


def _is_out(place: Place, roster: Roster, day: date) -> bool:
    if place.bin_id is not None:
        return stint_of(roster, place.bin_id, day) is not None
    return True


def _closing(said: Said, base: Swap, clause: Clause) -> Swap | MoveClosing | None:
    place, today = said.outgoing, clause.at.date()
    assert place is not None
    if said.what == "longer":
        return None if said.shift is None else MoveClosing(place, longer=said.shift)
    if place.bin_id is not None and said.what == "stays":
        stint = nearest_stint(clause.roster, place.bin_id, today)
        if stint is None or (stint.closes is not None and stint.closes < today):
            return replace(base, incoming=place)  # "put gears out till friday"
    return MoveClosing(place, day=said.till)
