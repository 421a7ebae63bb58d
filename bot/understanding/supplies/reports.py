"""Reports: a clause that says what became of a supply -> requests, or questions back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.requests import HoldSupply, ReportSupply, When
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.senses import Kind
from bot.understanding.supplies.asking import Questions
from bot.understanding.supplies.became import became
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.filling import parts_of
from bot.understanding.supplies.joined import joined
from bot.understanding.supplies.kit import GENERIC_WORDS, NAMED, stem
from bot.understanding.supplies.meant import Meant
from bot.understanding.supplies.parts import BACK, Part
from bot.understanding.supplies.quantities import quantity_of
from bot.understanding.supplies.questions import wonders
from bot.understanding.supplies.signs import Is, Sign
from bot.understanding.supplies.told import Told
from bot.understanding.supplies.unlisted import Unlisted
from bot.understanding.supplies.words import items_before, signs_of
from storage.records import Supply

_KIDS = frozenset(("kids", "kiddos", "children", "students", "they", "someone", "friends"))
_MOST_SAID = 5000  # more of anything is a slip of the finger


def hear_report(clause: Clause) -> Heard | None:
    """What a clause reports of supplies; None where it speaks of something else."""
    if clause.is_question or not clause.roster.supplies:
        return None
    signs = signs_of(clause)
    if wonders(clause, signs) or not any(s.what in (Is.CUE, Is.ITEM, Is.AMOUNT) for s in signs):
        return None
    told: list[Told | Heard] = []
    parts = parts_of(signs, _named_before(clause, signs))
    if any(p.says(Cue.NOT) and not (p.items or p.bins or p.amounts or p.who) for p in parts):
        return None  # "thought we lost a wand but we didnt"
    for part in parts:
        found = _told(clause, part)
        if isinstance(found, Told) and any(s.cue is Cue.DOUBT for s in signs):
            found = replace(found, in_doubt=True)
        if found is not None:
            told.append(found)
        elif part.who and (part.bins or part.items):
            return None  # somebody's turn stands beside it: the whole is no report
    heard = Heard()
    for one in joined(told):
        heard.add(one if isinstance(one, Heard) else _Report(clause, one).heard())
    return heard if heard else None


def is_report(clause: Clause) -> bool:
    """Whether a clause reports of supplies."""
    return hear_report(clause) is not None


def is_fragment(clause: Clause) -> bool:
    """Whether a piece of a sentence only lists amounts, items and bins, or looks back at them."""
    parts = parts_of(signs_of(clause))
    return bool(parts) and all(p.is_fragment() or p.looks_back() or p.says(Cue.MORE) for p in parts)


def _named_before(clause: Clause, signs: Sequence[Sign]) -> tuple[Sign, ...]:
    """The items named last in the text before: "the mirrors fell. 3 of them broke"."""
    looks = any(set(s.key.split()) & BACK for s in signs) and not any(
        s.what is Is.ITEM for s in signs
    )
    return items_before(clause) if looks else ()


def _told(clause: Clause, part: Part) -> Told | Heard | None:
    """What one part tells; or the answer to what is on no list; None where it is no report."""
    kind = became(part, clause)
    if kind is None or part.says(Cue.IF, Cue.NOT):
        return None
    meant = Meant(clause, part)
    supplies = meant.supplies()
    if not supplies:
        return Unlisted(clause, part, meant).heard(kind)
    if kind == "future":
        return Heard([HoldSupply("future")])
    quantity = quantity_of(part)
    none_gone = quantity is not None and quantity.number == 0
    if none_gone and kind not in ("counted", "bare", "out"):
        return None  # "no counters missing"
    some_day = any(
        i.kind is Kind.DAY and not isinstance(i.sense.value, date) and {"last", "ago"} & set(i.keys)
        for i in clause.items
    )
    by_kids = kind == "added" and any(s.key in _KIDS for s in part.signs)
    counts_more = kind == "counted" and bool(part.strange) and not part.says(Cue.LEFT, Cue.DOWN_TO)
    return Told(
        part,
        kind,
        supplies,
        quantity,
        in_doubt=meant.elsewhere or counts_more or some_day or by_kids,
    )


class _Report:
    """What one part tells, as requests or questions."""

    def __init__(self, clause: Clause, told: Told) -> None:
        self._told = told
        self._part = told.part
        self._ask = Questions(clause)
        self._unlisted = Unlisted(clause, told.part, Meant(clause, told.part))
        self._when = When(clause.said_when().day)

    def heard(self) -> Heard:
        """A request or a question for each supply meant."""
        heard = Heard()
        for meant in self._told.supplies:
            if not meant:
                heard.add(self._unlisted.unknown(self._told.kind, self._told.number))
            elif len(meant) > 1:
                reports = [self._report(supply) for supply in meant]
                heard.asks.append(self._ask.which(reports, self._unlisted.words()))
            else:
                heard.add(self._of_one(meant[0]))
        return heard

    def _report(self, supply: Supply) -> ReportSupply:
        kind, quantity = self._told.kind, self._told.quantity
        value = None if quantity is None else quantity.of(supply)
        if kind == "out":
            kind, value = "counted", 0.0
        if kind in ("used", "bare", "future", "unclear"):
            kind = "counted"
        again = any(s.key == "another" for s in self._part.signs)
        return ReportSupply(kind, supply.id, value, self._when, self._part.tub, again)

    def _of_one(self, supply: Supply) -> Heard:
        kind, report = self._told.kind, self._report(supply)
        if kind in ("wanted", "discarded"):
            return Heard([replace(report, amount=None)])
        if kind == "out":
            return self._sure(report)
        value = report.amount
        is_open = value is None or not 0 <= value <= _MOST_SAID or kind in ("used", "unclear")
        if value is None or is_open:
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
        doubtful = part.says(Cue.DOUBT) or (bool(part.who) and not lost) or self._is_any_paper()
        if doubtful or self._told.in_doubt or any(s.is_also_item for s in part.who):
            return Heard(asks=[self._ask.confirm(report)])
        return Heard([report])

    def _is_any_paper(self) -> bool:
        """ "paper: 60", where some paper of one bin is the only one with that word."""
        items = self._part.items
        loose = items and all(i.how != NAMED and stem(i.key) in GENERIC_WORDS for i in items)
        return bool(loose) and not self._part.bins

    def _is_inventory(self) -> bool:
        """ "4 sheets in ramps", "ramps: 4 sheets": counted rather than put in."""
        into = any(s.key == "for" for s in self._part.signs)
        return bool(self._part.bins) and not into and not self._part.says(Cue.GOT)
