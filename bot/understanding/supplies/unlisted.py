"""What a report names that is on no list, or does not name at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.requests import HoldSupply, ReportSupply, When
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.supplies.asking import Questions
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.meant import Meant
from bot.understanding.supplies.parts import Part
from bot.understanding.supplies.quantities import quantity_of
from bot.understanding.supplies.signs import Is, Sign
from storage.records import Supply

_STRONG = (
    Cue.OUT, Cue.GONE, Cue.LOW, Cue.NEED, Cue.DOWN_TO, Cue.ADD, Cue.LOST, Cue.SHORT, Cue.FOUND,
    Cue.DISCARD,
)  # fmt: skip
_RESTOCKS = frozenset((
    "restocked", "restock", "refilled", "refill", "replenished", "copied", "printed", "printed out",
    "photocopied", "topped up", "topped off", "stocked", "stocked up", "filled", "filled up",
))  # fmt: skip
_UNKNOWN_FITS = (Cue.OUT, Cue.LOW, Cue.DOWN_TO)


class Unlisted:
    """One part that names no supply of the class."""

    def __init__(self, clause: Clause, part: Part, meant: Meant) -> None:
        self._part = part
        self._meant = meant
        self._ask = Questions(clause)
        self._when = When(clause.said_when().day)

    def heard(self, kind: str) -> Heard | None:
        """No item is named: that of the bin where it has one, else it is asked."""
        part = self._part
        bins = self._meant.bins()
        strange = [s for s in part.strange if len(s.key) > 2]
        if part.who or not any(c in _STRONG for c in part.cues) or kind == "future":
            return None
        if bins and strange:
            speaks_of_it = self._speaks_of(strange)
            return self.unknown(kind, self._number()) if speaks_of_it else None
        if not bins:
            away = self._may_be_out() and part.says(Cue.OUT)  # "thoe is out": a child, more likely
            stated = part.says(*_UNKNOWN_FITS) and len(strange) == 1 and not away
            return Heard([HoldSupply("unknown", self._thing())]) if stated else None
        if part.says(Cue.LOST, Cue.FOUND, Cue.GONE) and self._counts_a_bin():
            return self.unknown(kind, self._number())
        return self._used_up(kind)

    def unknown(self, kind: str, number: float | None) -> Heard:
        """A thing that is not on the bin's list: what is on it is offered."""
        words = self.words()
        among = self._meant.of_bins(self._meant.bins())
        if not among:
            return Heard([HoldSupply("unknown", words)])
        asked = self._ask.unknown(words, among, self._report(kind, among[0], number))
        return Heard(asks=[asked] if asked else [])

    def words(self) -> str:
        """The thing in the sender's words."""
        named = [*self._part.items, *self._part.strange, *self._part.bins]
        return named[0].text if named else ""

    def _used_up(self, kind: str) -> Heard | None:
        """ "ramps is all out", "copied 20 for ramps": of what is used up there."""
        part = self._part
        used_up = [s for s in self._meant.of_bins(self._meant.bins()) if s.kind != "piece"]
        fits = part.says(Cue.OUT, Cue.DOWN_TO, Cue.ADD) and self._is_short_part()
        restocked = part.amounts or any(s.key in _RESTOCKS for s in part.signs)
        if part.says(Cue.ADD) and not restocked:
            return None  # "put up water wheel" is about the bin
        if not used_up or not fits or (part.says(Cue.OUT) and self._may_be_out()):
            return None
        number = self._number()
        if number is None and kind == "counted":
            return None
        reports = [self._report(kind, s, number) for s in used_up]
        if kind == "added" and number is None:
            return Heard(asks=[self._ask.how_many(replace(r, amount=None)) for r in reports[:1]])
        if len(reports) == 1:
            return Heard(asks=[self._ask.confirm(reports[0])])
        return Heard(asks=[self._ask.which(reports, self.words())])

    def _number(self) -> float | None:
        quantity = quantity_of(self._part)
        return None if quantity is None else quantity.number

    def _report(self, kind: str, supply: Supply, number: float | None) -> ReportSupply:
        if kind == "out":
            kind, number = "counted", 0.0
        if kind in ("used", "bare", "future", "unclear"):
            kind = "counted"
        return ReportSupply(kind, supply.id, number, self._when, self._part.tub)

    def _speaks_of(self, strange: Sequence[Sign]) -> bool:
        """ "out of glitter", "3 spoons missing": the strange word is what the cue is about."""
        signs = [s for s in self._part.signs if s.key not in ("the", "our", "my", "any", "more")]
        for at, sign in enumerate(signs):
            before = signs[at - 1] if at else None
            if sign not in strange or before is None:
                continue
            if before.what in (Is.AMOUNT, Is.PACK, Is.STRANGE) or before.key == "of":
                return True
            if before.cue in (Cue.OUT, Cue.LOW, Cue.NEED, Cue.DOWN_TO, Cue.MORE):
                return True
        return False

    def _counts_a_bin(self) -> bool:
        """ "lost 2 magnets", where Magnets is a bin and no magnets are on its list."""
        signs = self._part.signs
        return any(
            a.what is Is.AMOUNT and b.what is Is.BIN and not b.is_color for a, b in pairwise(signs)
        )

    def _thing(self) -> str:
        """The thing that is on no list, in the sender's words: "glue sticks"."""
        signs = self._part.signs
        last = max(at for at, sign in enumerate(signs) if sign.what is Is.CUE)
        words = [s.text for s in signs[last + 1 :] if s.what in (Is.STRANGE, Is.WORD)]
        return " ".join(words) or self.words()

    def _is_short_part(self) -> bool:
        said = [s for s in self._part.signs if s.what is Is.WORD]
        return len(said) <= 3

    def _may_be_out(self) -> bool:
        """ "ramps is out": on the table, or out of what?"""
        return not any(s.cue is Cue.OUT and s.key not in ("is out", "are out", "out now")
                       for s in self._part.signs)  # fmt: skip
