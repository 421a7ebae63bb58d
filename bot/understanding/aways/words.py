"""Words for being away, and what turns them round."""

from __future__ import annotations

from bot.understanding.clause import Clause
from bot.understanding.senses import Kind

GONE = "out|absent|away|sick|gone|home|ill|unwell|hospital|vacation|holiday|traveling"
PAST = frozenset(("was", "were", "been", "yesterday"))
_NOT_HERE = (
    "not here", "isnt here", "arent here", "wasnt here", "werent here", "not in", "isnt in",
    "arent in", "wasnt in", "not coming", "isnt coming", "arent coming", "not be", "not at school",
)  # fmt: skip


def is_denied(clause: Clause) -> bool:
    """ "not absent", "isn't out", "if theo is out"."""
    for item in clause.items:
        words = set(item.keys)
        if item.can_be(Kind.IF) and not words & {"until", "till", "til", "once"}:
            return True
        if words & {"not", "isnt", "arent", "wasnt", "werent"}:
            return not any(said in clause.outline for said in _NOT_HERE)
    return False
