"""The ears for supplies: what is told of them, and what is asked; not "put gears out in pink"."""

from __future__ import annotations

from bot.requests import Request
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.supplies.questions import hear_question
from bot.understanding.supplies.reports import hear_report, is_fragment, is_report
from bot.understanding.swaps.said import swap_said

_PUTS_BIN_OUT = (
    "put|set|place|set|swap|exchange out? <bin> out|in|into|on|to|for|with the? <bin>",
    "put|set <bin> out",
    "set|put out <bin>",
    "replace|switch|swap ... <bin>",
)


def _is_of_bin(clause: Clause) -> bool:
    """ "put gears out in pink": that speaks of the bin, not of what is in it."""
    if clause.finds(_PUTS_BIN_OUT):
        return True
    said = swap_said(clause)
    return said is not None and said.what in ("put", "exchange")


def _is_report(clause: Clause) -> bool:
    counts = any(item.can_be(Kind.NUMBER, Kind.UNIT) for item in clause.items)
    return is_report(clause) and (counts or not _is_of_bin(clause))


def _is_question(clause: Clause) -> bool:
    return hear_question(clause) is not None and not clause.finds(_PUTS_BIN_OUT)


def _hear_report(clause: Clause) -> Heard | None:
    return hear_report(clause)


def _hear_question(clause: Clause) -> Request | None:
    return hear_question(clause)


TOLD_SUPPLIES = Listener(
    (), _hear_report, rank=3, apart=True, notices=_is_report, goes_on=is_fragment
)
ASKED_SUPPLIES = Listener((), _hear_question, rank=3, notices=_is_question)
