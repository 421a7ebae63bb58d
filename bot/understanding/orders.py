"""Orders that are put as questions: "could you cancel the 10:50?", "can we add a rotation?"."""

from __future__ import annotations

import re

from bot.understanding.clause import Clause

_ASKS = re.compile(
    r"^(?:\S+ ){0,4}?(?:can|could|would|will|cld|id like|i would like|wed like)"
    r"(?: (you|u|ya|we|i))?(?: (?:please|pls|plz|just|also|kindly|maybe))*(?: to)? (\w+)"
)
_VERBS = frozenset((
    "cancel", "skip", "drop", "scrap", "remove", "delete", "take", "add", "fit", "squeeze", "lose",
    "move", "put", "switch", "swap", "place", "change", "keep", "separate", "mark", "note",
    "assign", "transfer", "count", "set", "make", "insert", "stick", "schedule", "have", "do",
    "nix", "scratch", "send", "let", "trade", "seat", "block",
))  # fmt: skip


def is_order(clause: Clause) -> bool:
    """ "can you please move mia to group 2?": put as a question, meant as an order."""
    asked = _asked(clause)
    return _lets(clause) or (asked is not None and asked[1] in ("you", "u", "ya", None))


def _lets(clause: Clause) -> bool:
    """ "have mia go with group 2"."""
    return _HAVE.search(clause.outline) is not None


_HAVE = re.compile(
    r"^(?:\S+ ){0,2}?(?:have|let) <who> (?:go|join|sit|work|move|stay|rotate|switch|be|tag)\b"
)


def is_wish(clause: Clause) -> bool:
    """ "can we add a rotation at 2?": an order that is better asked about."""
    asked = _asked(clause)
    return asked is not None and asked[1] in ("we", "i")


def _asked(clause: Clause) -> re.Match[str] | None:
    words = " ".join(clause.words)
    asked = _ASKS.search(words)
    if asked is None or asked[2] not in _VERBS:
        return None
    return asked
