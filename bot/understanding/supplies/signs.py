"""Signs: stretches of words, each with what it is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.kit import NAMED


class Is(Enum):
    """What a stretch of words is."""

    AMOUNT = "amount"
    ITEM = "item"
    BIN = "bin"
    EITHER = "bin or item"
    WHO = "children"
    DAY = "day"
    PACK = "pack"
    TUB = "tub"
    CUE = "cue"
    LINK = "link"
    STRANGE = "strange"
    WORD = "word"


@dataclass(frozen=True, slots=True)
class Sign:
    """A stretch of words and what it is; `ids` are supplies, `bins` are bins."""

    what: Is
    text: str
    key: str
    ids: tuple[int, ...] = ()
    how: int = NAMED
    bins: tuple[int, ...] = ()
    amount: Amount | None = None
    cue: Cue | None = None
    is_color: bool = False
    is_also_item: bool = False  # a child's name that is a supply too
    is_also_bin: bool = False
