"""Parts: one thing said of supplies each, in the order said; a part fills up from neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.words import Is, Sign


@dataclass(slots=True)
class Part:
    """Signs between two links, sorted."""

    signs: list[Sign]
    cues: list[Cue] = field(default_factory=list)
    items: list[Sign] = field(default_factory=list)
    bins: list[Sign] = field(default_factory=list)
    amounts: list[tuple[int, Amount]] = field(default_factory=list)  # with where they stand
    who: list[Sign] = field(default_factory=list)
    strange: list[Sign] = field(default_factory=list)
    has_pack: bool = False
    tub: int | None = None
    says_tub: bool = False

    @property
    def has_thing(self) -> bool:
        """Whether it names or counts anything of a kit."""
        return bool(self.items or self.amounts)

    def says(self, *cues: Cue) -> bool:
        """Whether one of these is said."""
        return any(cue in self.cues for cue in cues)

    def is_fragment(self) -> bool:
        """Only amounts, items and bins: what happened to them is said elsewhere."""
        return not self.cues and not self.who and not self.strange and bool(self.items or self.bins)


def parts_of(signs: Sequence[Sign]) -> list[Part]:
    """The parts of a clause that speak of a kit; what follows a fragment is lent to it."""
    parts = [_sorted(piece) for piece in _pieces(signs)]
    return _filled([part for part in parts if part.signs])


def _pieces(signs: Sequence[Sign]) -> Iterator[list[Sign]]:
    piece: list[Sign] = []
    for sign in signs:
        if sign.what is Is.LINK:
            yield piece
            piece = []
        else:
            piece.append(sign)
    yield piece


def _sorted(signs: list[Sign]) -> Part:
    part = Part(signs)
    for at, sign in enumerate(signs):
        if sign.what is Is.AMOUNT and sign.amount is not None:
            if at and signs[at - 1].what is Is.TUB and not sign.amount.is_article:
                part.tub = int(sign.amount.value or 0)
                continue
            part.amounts.append((at, sign.amount))
        elif sign.what is Is.ITEM:
            part.items.append(sign)
        elif sign.what is Is.BIN:
            part.bins.append(sign)
        elif sign.what is Is.WHO:
            part.who.append(sign)
        elif sign.what is Is.STRANGE:
            part.strange.append(sign)
        elif sign.what is Is.CUE and sign.cue is not None:
            part.cues.append(sign.cue)
        part.has_pack = part.has_pack or sign.what is Is.PACK
        part.says_tub = part.says_tub or sign.what is Is.TUB
    _drop_articles(part)
    return part


def _drop_articles(part: Part) -> None:
    """ "a" counts one only where no other number is said and an item (or a pack) follows it."""
    if any(not amount.is_article for _, amount in part.amounts):
        part.amounts = [pair for pair in part.amounts if not pair[1].is_article]
        return
    part.amounts = [(at, amount) for at, amount in part.amounts if _counts(part.signs, at)]


def _counts(signs: Sequence[Sign], at: int) -> bool:
    ahead = [s for s in signs[at + 1 : at + 4] if s.what is not Is.CUE]
    return any(s.what in (Is.ITEM, Is.PACK) for s in ahead[:2])


def _filled(parts: list[Part]) -> list[Part]:
    """ "put 30 sheets in ramps and 20 in balance", "ramps and balance are out of sheets"."""
    said = [part for part in parts if part.cues]
    if not said:
        return parts
    for at, part in enumerate(parts):
        lender = _lender(parts, at)
        if lender is None or not part.is_fragment():
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
            part.amounts = list(lender.amounts)
    for before, part in pairwise(parts):
        lacks = part.amounts and not (part.items or part.bins or part.who or part.strange)
        if lacks and before.items and not before.amounts:  # "counted the cups, there are 5"
            part.items, part.bins = list(before.items), list(before.bins)
    for at, part in enumerate(parts):
        if at and not part.bins and parts[at - 1].bins and part.has_thing:
            part.bins = list(parts[at - 1].bins)
    return parts


def _lender(parts: Sequence[Part], at: int) -> Part | None:
    before = next((p for p in reversed(parts[:at]) if p.cues), None)
    after = next((p for p in parts[at + 1 :] if p.cues), None)
    return before or after
