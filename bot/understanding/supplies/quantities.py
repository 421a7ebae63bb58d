"""How many: a number said, or packs of a known size ("2 boxes", "a bag of 25", "a 50 pack")."""

from __future__ import annotations

from dataclasses import dataclass

from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.parts import Part
from bot.understanding.supplies.signs import Is
from bot.understanding.supplies.words import COUNT_WORDS
from storage.records import Supply

_SIZES = COUNT_WORDS | frozenset(("piece", "sheet", "page", "pack", "-", "unit"))
_ONES = frozenset(("roll", "rolls", "bottle", "bottles", "jar", "jars", "can", "cans"))
_BETWEEN = frozenset(("new", "more", "extra", "full", "big", "whole", "small", "large", "of", "-"))


@dataclass(frozen=True, slots=True)
class Quantity:
    """So many, or so many packs of so many; None where it is not known."""

    number: float | None
    in_packs: bool = False
    size: float | None = None
    may_be_one: bool = False  # "2 rolls": packs, or two of them?

    def of(self, supply: Supply) -> float | None:
        """In pieces of this supply; None where the size of its packs is not known."""
        if self.number is None or not self.in_packs:
            return self.number
        known = supply.pack_size if supply.pack_size > 1 and not self.may_be_one else None
        size = self.size or known
        return None if size is None else self.number * size


def quantity_of(part: Part) -> Quantity | None:
    """The quantity a part says; None where it says none."""
    if part.has_pack and (part.amounts or part.says(Cue.OPEN)):
        return _packs(part)
    if not part.amounts:
        return None
    return Quantity(_one_of(part).value)


def _one_of(part: Part) -> Amount:
    """The amount said: the one at "left" or "down to" where there are several."""
    if len(part.amounts) == 1:
        return part.amounts[0][1]
    ends = [at for at, s in enumerate(part.signs) if s.cue in (Cue.LEFT, Cue.DOWN_TO)]
    if not ends:
        return Amount(None, 1)
    return min(part.amounts, key=lambda pair: abs(pair[0] - ends[-1]))[1]


def _packs(part: Part) -> Quantity:
    pack = next((at for at, s in enumerate(part.signs) if s.what is Is.PACK), None)
    if pack is None:  # lent by a part before: "2 packs of cups and 1 of spoons"
        return Quantity(_one_of(part).value, in_packs=True)
    ahead = [(at, a) for at, a in part.amounts if at < pack and _is_close(part, at, pack)]
    behind = [(at, a) for at, a in part.amounts if at > pack and _is_close(part, pack, at)]
    others = [pair for pair in part.amounts if pair not in (*ahead, *behind)]
    if others or len(ahead) > 1 or len(behind) > 1:
        return Quantity(None)
    count = ahead[0][1].value if ahead else 1.0
    size = behind[0][1].value if behind else None
    if ahead and not behind and _is_size(part, ahead[0][0], pack):
        count, size = 1.0, count
    if part.total is not None:
        return _in_total(part, count, size)
    one = part.signs[pack].key in _ONES
    return Quantity(count, in_packs=True, size=size, may_be_one=one)


def _in_total(part: Part, count: float | None, size: float | None) -> Quantity:
    """ "another box of salt packets, 50", "2 bags of balloons, 50 total"."""
    assert part.total is not None
    total = part.total.value
    if count == 1 or part.says(Cue.TOTAL) or (count and size and count * size == total):
        return Quantity(total)
    return Quantity(None)


def _is_close(part: Part, first: int, last: int) -> bool:
    return all(
        s.key in _BETWEEN or s.key in _SIZES or s.key == "the" for s in part.signs[first + 1 : last]
    )


def _is_size(part: Part, at: int, pack: int) -> bool:
    """ "a 50 pack", "a new 50 ct box": how many are in one."""
    between = {s.key for s in part.signs[at + 1 : pack]}
    before = part.signs[at - 1].key if at else ""
    one = not part.signs[pack].key.endswith("s")
    amount = part.signs[at].amount
    many = amount is not None and (amount.value or 0) > 1 and not amount.is_article
    return bool(between & _SIZES) or (
        one and many and before in ("a", "another", "new", "one", "the")
    )
