"""What a part lacks is filled up from its neighbours: items, amounts, what happened."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.parts import BACK, Part, drop_articles, pieces, sorted_part
from bot.understanding.supplies.signs import Sign

_NOWHERE = -1  # where an amount stands that another part lends


def parts_of(signs: Sequence[Sign], named_before: Sequence[Sign] = ()) -> list[Part]:
    """The parts of a clause that speak of a kit; what follows a fragment is lent to it, and what
    looks back takes the items before it (`named_before` are those of the text before)."""
    parts = [sorted_part(piece) for piece in pieces(signs)]
    parts = _completed([part for part in parts if part.signs], named_before)
    return _filled(parts)


def _completed(parts: list[Part], named_before: Sequence[Sign]) -> list[Part]:
    """What looks back is about the items before it; a bare amount completes what was said."""
    out: list[Part] = []
    for part in parts:
        before = next((p for p in reversed(out) if p.items), None)
        if not part.looks_back():
            out.append(part)
        elif before is None:
            if named_before and any(set(s.key.split()) & BACK for s in part.signs):
                part.items, part.refers = list(named_before), True
            out.append(part)
        elif _completes(before, part):
            _complete(before, part)
        else:
            part.items, part.bins, part.refers = list(before.items), list(before.bins), True
            _borrow(part, before)
            out.append(part)
    return out


def _completes(before: Part, part: Part) -> bool:
    """ "picked up some more pine cones" / "12 of them": the number that was missing."""
    counting = any(s.cue is Cue.HAVE and "count" in s.key for s in before.signs)
    bare = not part.cues or (counting and part.says(Cue.GOT)) or part.cues == [Cue.TOTAL]
    lacks = not before.has_number or before.has_pack
    return bare and part.has_number and bool(before.cues) and lacks


def _complete(before: Part, part: Part) -> None:
    if before.has_pack and before.amounts and not part.has_pack:
        before.total = part.amounts[0][1]
        before.cues += part.cues
        return
    shift = len(before.signs)
    before.signs = [*before.signs, *part.signs]
    before.amounts = [(at + shift, amount) for at, amount in part.amounts]
    before.has_pack = before.has_pack or part.has_pack
    drop_articles(before)


def _borrow(part: Part, before: Part) -> None:
    """ "stepped on a cup and it cracked": how many is said where the item is."""
    speaks = any(cue not in (Cue.GOT, Cue.HAVE) for cue in before.cues)
    if not part.amounts and not speaks and before.amounts:
        part.amounts = _lent(before)


def _lent(part: Part) -> list[tuple[int, Amount]]:
    """The amounts of another part, which stand nowhere in this one."""
    return [(_NOWHERE, amount) for _, amount in part.amounts]


def _filled(parts: list[Part]) -> list[Part]:
    """ "put 30 sheets in ramps and 20 in balance", "ramps and balance are out of sheets"."""
    said = [part for part in parts if part.cues]
    if not said:
        return parts
    for at, part in enumerate(parts):
        lender = _lender(parts, at)
        more = part.cues == [Cue.MORE] and not part.items and part.bins and part.amounts
        if lender is None or lender is part or not (part.is_fragment() or more):
            continue
        part.cues = list(lender.cues)
        part.has_pack = part.has_pack or (lender.has_pack and not part.amounts)
        if not part.items:
            part.items = list(lender.items)
        if not part.bins and at < parts.index(lender):
            part.bins = list(lender.bins)
        if not part.amounts and not part.bins:
            continue
        if not part.amounts and at < parts.index(lender):
            part.amounts = _lent(lender)
    for before, part in pairwise(parts):
        if before.bins and not part.bins and part.has_thing:
            part.bins = list(before.bins)
    return parts


def _lender(parts: Sequence[Part], at: int) -> Part | None:
    before = next((p for p in reversed(parts[:at]) if p.cues), None)
    after = next((p for p in parts[at + 1 :] if p.cues), None)
    return before or after
