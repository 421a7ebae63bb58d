"""Whether a clause tells of a change, or only asks and wonders."""

from __future__ import annotations

from bot.understanding.clause import Clause
from bot.understanding.orders import is_order, is_wish
from bot.understanding.senses import Kind

_HOLDS = frozenset((
    "if", "unless", "wants", "want", "wanted", "not", "dont", "cant", "wont", "shouldnt", "didnt",
    "wish", "wishes", "almost", "asked", "asks", "begged", "refuses", "refused", "never", "cannot",
    "whether", "isnt", "arent", "wasnt", "pretend", "imagine", "suppose", "before", "instead",
))  # fmt: skip
_THINKS = frozenset((
    "maybe", "might", "should", "think", "thinking", "probably", "perhaps", "guess", "wondering",
    "considering", "possibly", "hopefully", "could", "would", "may",
))  # fmt: skip


def is_unsure(clause: Clause) -> bool:
    """Whether it asks, or says "not", "if"."""
    if clause.is_question and not (is_order(clause) or is_wish(clause)):
        return True
    return bool(_HOLDS & said_words(clause))


def is_thought(clause: Clause) -> bool:
    """ "maybe move mia", "mia should be in 2", "can we move mia?": to be asked about."""
    if is_order(clause):
        return False
    return is_wish(clause) or bool(_THINKS & said_words(clause))


def said_words(clause: Clause) -> frozenset[str]:
    """The words that are no names: "may" and "hope" may be."""
    named = (Kind.STUDENT, Kind.PLAIN)
    return frozenset(key for item in clause.items if item.kind not in named for key in item.keys)
