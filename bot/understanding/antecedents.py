"""Whom "they" means in a question: the children named before it in the same text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.understanding.asks import asks
from bot.understanding.segments import is_subject
from bot.understanding.senses import Item, Kind

_ONE = frozenset(("he", "she", "him", "her"))
_SEVERAL = frozenset(("they", "them"))


def with_antecedent(part: tuple[Item, ...], named: Sequence[Item]) -> tuple[Item, ...]:
    """A question with its "they", "he" or "her" read as the children named before it; a statement
    stays as it is, so that nothing is logged by it."""
    if not named or any(map(is_subject, part)) or not asks(part):
        return part
    one = len(named) == 1 and named[0].kind is Kind.STUDENT
    at = next((n for n, item in enumerate(part) if _means(item, one=one)), None)
    if at is None:
        return part
    stand_in = part[at]
    meant = [replace(item, start=stand_in.start, end=stand_in.end, owned=False) for item in named]
    return (*part[:at], *meant, *part[at + 1 :])


def _means(item: Item, *, one: bool) -> bool:
    said = set(item.keys)
    return len(item.keys) == 1 and bool(said & _SEVERAL or (one and said & _ONE))
