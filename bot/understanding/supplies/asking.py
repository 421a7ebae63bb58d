"""Questions about supplies: what is open, and a full text for each way out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from rapidfuzz.distance import OSA

from bot.requests import Ask, Frame, Option, ReportSupply
from bot.understanding.asking_back import NO, YES
from bot.understanding.canonical import number, report_in_full
from bot.understanding.clause import Clause
from bot.understanding.supplies.kit import stem
from bot.understanding.tokens import keys
from storage.records import Supply

_MOST = 7
_REQUEST = ReportSupply.name


class Questions:
    """Ways back to the sender of one clause."""

    def __init__(self, clause: Clause) -> None:
        self._roster = clause.roster
        self._today = clause.at.date()

    def which(self, reports: Sequence[ReportSupply], words: str) -> Ask:
        """Several supplies fit: each as a choice."""
        options = [Option(self._label(r, reports), self._full(r)) for r in reports[:_MOST]]
        return Ask("which_supply", words, tuple(options), _REQUEST)

    def how_many(self, report: ReportSupply) -> Ask:
        """A number is missing: it may be texted alone."""
        about = {"lost": "how_many_lost", "found": "how_many_found"}.get(
            report.kind, "how_many_left"
        )
        kind = report.kind if report.kind in ("lost", "found") else "counted"
        gap = self._full(replace(report, kind=kind, amount=None, tub=report.tub))
        none = replace(report, kind="counted", amount=0.0, tub=None)
        options = (Option("None left", self._full(none)),) if kind == "counted" else ()
        name = self._name(report.supply_id)
        return Ask(about, name, options, _REQUEST, Frame("amount", gap))

    def confirm(self, report: ReportSupply) -> Ask:
        """Shall this be written down?"""
        options = (Option(YES, self._full(report)), Option(NO, "no"))
        return Ask("confirm_supply", "", options, _REQUEST)

    def left_or_added(self, report: ReportSupply) -> Ask:
        """ "20 sheets for ramps": are they left, or were they put in?"""
        amount = number(report.amount or 0)
        options = tuple(
            Option(label, self._full(replace(report, kind=kind)))
            for label, kind in ((f"{amount} left", "counted"), (f"{amount} put in", "added"))
        )
        return Ask("left_or_added", self._name(report.supply_id), options, _REQUEST)

    def unknown(self, word: str, among: Iterable[Supply], base: ReportSupply) -> Ask | None:
        """A thing on no list: the nearest are offered."""
        listed = list(among)
        near = sorted(listed, key=lambda s: OSA.distance(stem(word), stem(keys(s.item)[-1])))
        reports = [replace(base, supply_id=s.id) for s in near]
        if not reports:
            return None
        asked = self.which(reports, word)
        return replace(asked, about="unknown_supply")

    def _full(self, report: ReportSupply) -> str:
        dated = replace(report.when, day=report.when.day or self._today)
        return report_in_full(replace(report, when=dated), self._roster)

    def _label(self, report: ReportSupply, among: Sequence[ReportSupply]) -> str:
        supply = self._supply(report.supply_id)
        bins = {self._supply(r.supply_id).bin_id for r in among}
        names = {self._supply(r.supply_id).item for r in among}
        bin_ = self._roster.bin[supply.bin_id].name
        if len(bins) > 1:
            return bin_ if len(names) == 1 else f"{bin_}: {supply.item}"
        return supply.item

    def _name(self, supply_id: int) -> str:
        supply = self._supply(supply_id)
        return f"{self._roster.bin[supply.bin_id].name}: {supply.item}"

    def _supply(self, supply_id: int) -> Supply:
        return next(s for s in self._roster.supplies if s.id == supply_id)
