"""What a stretch of text can mean: senses, and the items of a text that carry them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, time
from enum import Enum


class Kind(Enum):
    """The kinds of meaning a reader tells apart."""

    # what this class knows
    GROUP = "group"
    STUDENT = "student"
    BIN = "bin"
    COLOR = "color"
    SUPPLY = "supply"
    STATION = "station"
    # when
    DAY = "day"
    TIME = "time"
    SLOT = "slot"  # "the second rotation"
    # how many, of what
    NUMBER = "number"
    UNIT = "unit"  # what is counted: kids, minutes, sheets
    EVERYONE = "everyone"
    REST = "rest"
    # words that mark a mention
    GROUP_WORD = "group word"
    BIN_WORD = "bin word"
    # how parts hang together
    AND = "and"
    OR = "or"
    BUT = "but"
    PLUS = "plus"
    EXCEPT = "except"
    COMMA = "comma"
    COLON = "colon"
    BREAK = "break"
    STOP = "stop"
    QUERY = "question mark"
    MARK = "mark"
    # what a sentence does
    DID = "did"
    AT = "at"
    NOT = "not"
    MISSED = "missed"
    ASK = "ask"
    AUX = "auxiliary"
    FUTURE = "future"
    IF = "if"
    DOUBT = "doubt"
    PARTIAL = "partial"
    STARTED = "started"
    WHOLE = "whole"
    # the rest
    PLAIN = "plain"  # words that change nothing, wherever they stand
    CHATTER = "chatter"  # known words of other doings: harmless but between a child and a bin
    KEY = "key"  # words that only some skill listens for
    UNKNOWN = "unknown"


class How(Enum):
    """How surely a stretch of text was matched, surest first."""

    EXACT = 0
    FORM = 1
    PART = 2
    RELATED = 3  # another form of the word, or its beginning
    CLOSE = 4


@dataclass(frozen=True, slots=True)
class Sense:
    """One meaning; `ids` are the candidates among what the class knows, all equally fitting."""

    kind: Kind
    ids: tuple[int, ...] = ()
    word: str = ""
    how: How = How.EXACT
    value: date | time | int | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """A stretch of the text (positions in the normal text) with everything it may mean."""

    text: str
    start: int
    end: int
    senses: tuple[Sense, ...]
    keys: tuple[str, ...] = ()
    owned: bool = False  # a possessive: "ana's"
    glued: bool = False

    @property
    def sense(self) -> Sense:
        """The meaning held most likely at this point."""
        return self.senses[0]

    @property
    def kind(self) -> Kind:
        """The kind of the likeliest meaning."""
        return self.senses[0].kind

    @property
    def word(self) -> str:
        """The word this was read as: the ordinary word behind a misspelling."""
        return self.senses[0].word or " ".join(self.keys)

    def can_be(self, *kinds: Kind) -> bool:
        """Whether one of its meanings is of one of these kinds."""
        return any(sense.kind in kinds for sense in self.senses)

    def get(self, kind: Kind) -> Sense | None:
        """Its meaning of this kind."""
        return next((sense for sense in self.senses if sense.kind is kind), None)

    def only(self, *kinds: Kind) -> Item:
        """The same stretch with nothing but its meanings of these kinds."""
        kept = tuple(sense for sense in self.senses if sense.kind in kinds)
        return replace(self, senses=kept) if kept else self

    def as_(self, sense: Sense) -> Item:
        """The same stretch with one meaning only."""
        return replace(self, senses=(sense,))
