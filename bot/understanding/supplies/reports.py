"""Reports: a clause that says what became of a supply -> requests, or questions back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.classroom.stints import out_on, stint_in
from bot.requests import HoldSupply, ReportSupply, When
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.asking import Questions
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.kit import CLOSE, GENERIC
from bot.understanding.supplies.parts import Part, parts_of
from bot.understanding.supplies.words import Is, Sign, signs_of
from storage.records import Supply

_MOST_SAID = 5000  # more of anything is a slip of the finger
_STRONG = (
    Cue.OUT, Cue.GONE, Cue.LOW, Cue.NEED, Cue.DOWN_TO, Cue.ADD, Cue.LOST, Cue.SHORT, Cue.FOUND,
    Cue.DISCARD,
)  # fmt: skip
_UNKNOWN_FITS = (Cue.OUT, Cue.LOW, Cue.DOWN_TO)


def hear_report(clause: Clause) -> Heard | None:
    """What a clause reports of supplies; None where it speaks of something else."""
    if clause.is_question or not clause.roster.supplies:
        return None
    signs = signs_of(clause)
    if not any(s.what in (Is.CUE, Is.ITEM, Is.AMOUNT) for s in signs):
        return None
    heard = Heard()
    for part in parts_of(signs):
        said = _Report(clause, part, signs).heard()
        if said is not None:
            heard.add(said)
        elif part.who and (part.bins or part.items):
            return None  # somebody's turn stands beside it: the whole is no report
    return heard if heard else None


def is_report(clause: Clause) -> bool:
    """Whether a clause reports of supplies."""
    return hear_report(clause) is not None


def is_fragment(clause: Clause) -> bool:
    """Whether a piece of a sentence only lists amounts, items and bins."""
    parts = parts_of(signs_of(clause))
    return bool(parts) and all(part.is_fragment() or part.says(Cue.MORE) for part in parts)


class _Report:
    """One part of a clause, heard."""

    def __init__(self, clause: Clause, part: Part, signs: Sequence[Sign]) -> None:
        self._clause = clause
        self._part = part
        self._ask = Questions(clause)
        self._when = When(clause.said_when().day)
        self._negated = any(s.cue is Cue.NOT for s in part.signs)

    def heard(self) -> Heard | None:
        part = self._part
        kind = self._kind()
        if kind is None or part.says(Cue.IF) or self._negated:
            return None
        supplies = self._supplies()
        if not supplies:
            return self._unnamed(kind)
        if kind == "future":
            return Heard([HoldSupply("future")])
        amount = self._amount(supplies)
        if amount is not None and amount.value == 0 and kind not in ("counted", "bare", "out"):
            return None  # "no counters missing"
        return self._said(kind, supplies, amount)

    # What became of it

    def _kind(self) -> str | None:
        """counted, added, found, lost, discarded, wanted, out, future, used, bare; None if none."""
        part = self._part
        number = bool(part.amounts)
        who = bool(part.who)
        if part.says(Cue.ENOUGH):
            return None
        if part.says(Cue.LOW):
            return "counted" if number and part.says(Cue.LEFT, Cue.DOWN_TO) else "wanted"
        if part.says(Cue.OUT):
            return "out"
        if part.says(Cue.DOWN_TO) or (part.says(Cue.LEFT) and number):
            return "counted"
        if part.says(Cue.USED):
            last = part.says(Cue.LAST)
            return "out" if last else "used" if number and not who else None
        if part.says(Cue.LAST) and part.says(Cue.LOST, Cue.ADD, Cue.DISCARD):
            return "out"
        if part.says(Cue.NEED):
            return None if who or (part.strange and not part.bins) else "wanted"
        if part.says(Cue.DISCARD):
            return "lost" if number else "discarded"
        if part.says(Cue.FOUND):
            return "found"
        if part.says(Cue.LOST, Cue.SHORT):
            return "lost"
        if part.says(Cue.GONE):
            return "lost" if number else "out"
        if part.says(Cue.WILL):
            return "future" if part.items and not who and self._speaks_of_getting() else None
        if part.says(Cue.ADD):
            named = part.bins or any(item.how not in (GENERIC, CLOSE) for item in part.items)
            return "added" if number or (named and not who) else None
        return None if who else self._counted(number=number)

    def _counted(self, *, number: bool) -> str | None:
        part = self._part
        if not number:
            return None
        if part.says(Cue.MORE):
            return "added"
        if part.says(Cue.GOT):
            return "bare"
        if part.says(Cue.HAVE):
            return "counted"
        if any(item.is_also_bin for item in part.items):
            return None  # "4 dough": who was there, not how much there is
        named = any(item.how not in (GENERIC, CLOSE) for item in part.items)
        stands_alone = bool(part.bins) or (named and self._is_whole_text())
        return "bare" if part.items and not part.strange and stands_alone else None

    def _is_whole_text(self) -> bool:
        """ "20 counters" behind "g2 did balance with" is no report; by itself it may be one."""
        first, last = self._clause.items[0], self._clause.items[-1]
        text = self._clause.text
        around = text[: first.start] + text[last.end :]
        return not any(letter.isalnum() for letter in around)

    def _speaks_of_getting(self) -> bool:
        words = {word for sign in self._part.signs for word in sign.key.split()}
        return bool(words & {"copy", "buy", "print", "order", "ordered", "ordering", "get", "make",
                             "bring", "restock", "refill", "add", "put"})  # fmt: skip

    # Of what

    def _bins(self) -> tuple[int, ...]:
        part = self._part
        said = [i for sign in part.bins if not (sign.is_color and self._is_adjective(sign))
                for i in sign.bins]  # fmt: skip
        return tuple(dict.fromkeys(said))

    def _is_adjective(self, color: Sign) -> bool:
        """ "20 red crayons left": no box, unless the crayons are in it."""
        at = self._part.signs.index(color)
        after = self._part.signs[at + 1] if at + 1 < len(self._part.signs) else None
        if after is None or after.what is not Is.ITEM:
            return False
        owners = {s.bin_id for s in self._clause.roster.supplies if s.id in after.ids}
        return not owners & set(color.bins)

    def _spoken_of(self) -> tuple[int, ...]:
        day, roster = self._clause.at.date(), self._clause.roster
        found = []
        for place in self._clause.spoken_of:
            stint = stint_in(roster, place.color, day) if place.color else None
            found += [place.bin_id or (stint.bin_id if stint else 0)]
        return tuple(found)

    def _supplies(self) -> list[list[Supply]]:
        """For each thing spoken of, the supplies it may be; several where it is to be asked."""
        part = self._part
        bins = self._bins()
        if part.says_tub and not part.items:
            return (
                [self._in(bins or self._spoken_of(), kind="piece")]
                if bins or (self._spoken_of())
                else []
            )
        items = list(part.items)
        sure = [i for i in items if i.how not in (GENERIC, CLOSE)]
        items = sure or items[:1]  # "20 copies of the record sheet"
        return [found for item in items for found in self._meant(item, bins)]

    def _meant(self, item: Sign, bins: Sequence[int]) -> list[list[Supply]]:
        named = [s for s in self._clause.roster.supplies if s.id in item.ids]
        if bins:
            return [[s for s in named if s.bin_id == b] or self._only_paper(item, b) for b in bins]
        spoken = [s for s in named if s.bin_id in self._spoken_of()]
        if spoken:
            return [spoken]
        out = {stint.bin_id for stint in out_on(self._clause.roster, self._clause.at.date())}
        here = [s for s in named if s.bin_id in out]
        return [here or named] if named else []

    def _only_paper(self, item: Sign, bin_id: int) -> list[Supply]:
        """ "sheets" of a bin whose only consumable is called something else."""
        used_up = [s for s in self._in((bin_id,)) if s.kind != "piece"]
        return used_up if item.how == GENERIC and len(used_up) == 1 else []

    def _in(self, bins: Sequence[int], kind: str | None = None) -> list[Supply]:
        return [
            s
            for s in self._clause.roster.supplies
            if s.bin_id in bins and (kind is None or s.kind == kind)
        ]

    # How many

    def _amount(self, supplies: Sequence[Sequence[Supply]]) -> Amount | None:
        """The amount said: the one at "left" or "down to" where there are several."""
        amounts = self._part.amounts
        if not amounts:
            return None
        if len(amounts) == 1:
            return amounts[0][1]
        ends = [at for at, s in enumerate(self._part.signs) if s.cue in (Cue.LEFT, Cue.DOWN_TO)]
        if not ends:
            return Amount(None, 1)
        return min(amounts, key=lambda pair: abs(pair[0] - ends[-1]))[1]

    def _said(
        self, kind: str, supplies: Sequence[Sequence[Supply]], amount: Amount | None
    ) -> Heard:
        heard = Heard()
        for meant in supplies:
            if not meant:
                heard.add(self._unknown(kind, amount))
            elif len(meant) > 1:
                reports = [self._report(kind, supply, amount) for supply in meant]
                heard.asks.append(self._ask.which(reports, self._words()))
            else:
                heard.add(self._of_one(kind, meant[0], amount))
        return heard

    def _report(self, kind: str, supply: Supply, amount: Amount | None) -> ReportSupply:
        value = None if amount is None else amount.value
        if kind == "out" or (kind == "counted" and value is None):
            kind, value = "counted", 0.0 if kind == "out" else None
        if kind in ("used", "bare", "future"):
            kind = "counted"
        if value is not None and self._part.has_pack and supply.pack_size > 1:
            value *= supply.pack_size
        again = any(s.key == "another" for s in self._part.signs)
        return ReportSupply(kind, supply.id, value, self._when, self._part.tub, again)

    def _of_one(self, kind: str, supply: Supply, amount: Amount | None) -> Heard:
        report = self._report(kind, supply, amount)
        if kind in ("wanted", "discarded"):
            return Heard([replace(report, amount=None)])
        if kind == "out":
            return self._sure(report)
        value = report.amount
        if value is None or not 0 <= value <= _MOST_SAID or kind == "used":
            return Heard(asks=[self._ask.how_many(replace(report, amount=None))])
        if self._part.has_pack and supply.pack_size <= 1:
            return Heard(asks=[self._ask.how_many(replace(report, amount=None))])
        if self._part.says_tub and kind not in ("lost", "found"):
            return self._in_tub(report, supply, value)
        if supply.kind == "piece" and value != int(value):
            return Heard(asks=[self._ask.how_many(replace(report, amount=None))])
        if kind == "bare" and not self._is_inventory():
            return Heard(asks=[self._ask.left_or_added(report)])
        return self._sure(report)

    def _in_tub(self, report: ReportSupply, supply: Supply, value: float) -> Heard:
        """ "tub 1 has 18 counters": so many of its share are missing; "2 tubs left": how many?"""
        share = supply.per_tub
        if self._part.tub is None or share is None or not value < share:
            return Heard(asks=[self._ask.how_many(replace(report, amount=None, tub=None))])
        return Heard(asks=[self._ask.confirm(replace(report, kind="lost", amount=share - value))])

    def _sure(self, report: ReportSupply) -> Heard:
        part = self._part
        lost = report.kind == "lost" or part.says(Cue.OUT, Cue.USED)
        doubtful = part.says(Cue.DOUBT) or (bool(part.who) and not lost)
        if doubtful or any(s.is_also_item for s in part.who):
            return Heard(asks=[self._ask.confirm(report)])
        return Heard([report])

    def _is_inventory(self) -> bool:
        """ "4 sheets in ramps", "ramps: 4 sheets": counted rather than put in."""
        signs = self._part.signs
        into = any(s.key == "for" for s in signs)
        return bool(self._part.bins) and not into and not self._part.says(Cue.GOT)

    # What is not on the list

    def _unnamed(self, kind: str) -> Heard | None:
        """No item is named: that of the bin where it has one, else it is asked."""
        part = self._part
        bins = self._bins()
        strange = [s for s in part.strange if len(s.key) > 2]
        if part.who or not any(c in _STRONG for c in part.cues) or kind == "future":
            return None
        if bins and strange:
            speaks_of_it = self._speaks_of(strange)
            return self._unknown(kind, self._amount([])) if speaks_of_it else None
        if not bins:
            away = self._may_be_out() and part.says(Cue.OUT)  # "thoe is out": a child, more likely
            stated = part.says(*_UNKNOWN_FITS) and len(strange) == 1 and not away
            return Heard([HoldSupply("unknown", self._thing())]) if stated else None
        if part.says(Cue.LOST, Cue.FOUND, Cue.GONE) and self._counts_a_bin():
            return self._unknown(kind, self._amount([]))
        used_up = [s for s in self._in(bins) if s.kind != "piece"]
        fits = part.says(Cue.OUT, Cue.DOWN_TO, Cue.ADD) and self._is_short_part()
        if not used_up or not fits or (part.says(Cue.OUT) and self._may_be_out()):
            return None
        amount = self._amount([])
        if amount is None and kind == "counted":
            return None
        reports = [self._report(kind, s, amount) for s in used_up]
        if kind == "added" and amount is None:
            return Heard(asks=[self._ask.how_many(replace(r, amount=None)) for r in reports[:1]])
        if len(reports) == 1:
            return Heard(asks=[self._ask.confirm(reports[0])])
        return Heard(asks=[self._ask.which(reports, self._words())])

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
        return " ".join(words) or self._words()

    def _is_short_part(self) -> bool:
        said = [s for s in self._part.signs if s.what is Is.WORD]
        return len(said) <= 3

    def _may_be_out(self) -> bool:
        """ "ramps is out": on the table, or out of what?"""
        return not any(s.cue is Cue.OUT and s.key not in ("is out", "are out", "out now")
                       for s in self._part.signs)  # fmt: skip

    def _unknown(self, kind: str, amount: Amount | None) -> Heard:
        bins = self._bins()
        words = self._words()
        among = self._in(bins)
        if not among:
            return Heard([HoldSupply("unknown", words)])
        asked = self._ask.unknown(words, among, self._report(kind, among[0], amount))
        return Heard(asks=[asked] if asked else [])

    def _words(self) -> str:
        named = [*self._part.items, *self._part.strange, *self._part.bins]
        return named[0].text if named else ""
