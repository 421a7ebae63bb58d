"""Whether a clause tells of a change, or only asks and wonders."""

from __future__ import annotations

from bot.understanding.clause import Clause

_HOLDS = frozenset(("if", "maybe", "might", "should", "not", "dont", "cant", "unless", "wants"))


def is_unsure(clause: Clause) -> bool:
    """Whether it asks, or says "maybe", "should", "not"."""
    return clause.is_question or bool(_HOLDS & clause.word_set)
