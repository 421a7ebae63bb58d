"""Times of day and rotations as people write them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time

from bot.understanding.lexicon import ORDINAL_WORDS
from bot.understanding.senses import Kind, Sense
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token

_SLOT_WORDS = frozenset(("rotation", "rotations", "round", "slot", "rot", "session"))
_FIRST_SCHOOL_HOUR = 7  # "1:10" is in the afternoon, "7:30" in the morning; common practice


def find_time(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """A clock time or a rotation that begins at this token, with the number of tokens it takes."""
    token = tokens[at]
    if token.kind is Shape.TIME:
        moment = read_time(token.key)
        return None if moment is None else (Sense(Kind.TIME, value=moment), 1)
    following = tokens[at + 1] if at + 1 < len(tokens) else None
    if following is None:
        return None
    order = token.number if token.kind is Shape.ORDINAL else ORDINAL_WORDS.get(token.key)
    if token.key == "last" and following.key in _SLOT_WORDS:
        return Sense(Kind.SLOT, value=-1), 2
    if order is not None and following.key in _SLOT_WORDS:
        return Sense(Kind.SLOT, value=order), 2
    if token.key in _SLOT_WORDS and following.kind is Shape.NUMBER:
        return Sense(Kind.SLOT, value=following.number), 2
    return None


def read_time(text: str) -> time | None:
    """ "10:15", "1:10" (afternoon), "9am", "12:05 p.m." as a time; None where no such time is."""
    match = re.fullmatch(r"(\d{1,2})(?::(\d{2}))?\s*([ap])?\.?m?\.?", text)
    if match is None:
        return None
    hour, minute = int(match[1]), int(match[2] or 0)
    if hour > 23 or minute > 59 or (match[3] and not 1 <= hour <= 12):
        return None
    if match[3]:
        hour = hour % 12 + (12 if match[3] == "p" else 0)
    elif 0 < hour < _FIRST_SCHOOL_HOUR and not match[1].startswith("0"):
        hour += 12
    return time(hour, minute)
