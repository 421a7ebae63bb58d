"""A text cut into tokens: words, numbers, days, times and marks, with where they stood."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache


class Kind(Enum):
    """What a token looks like, before anyone asks what it means."""

    WORD = "word"
    NUMBER = "number"
    ORDINAL = "ordinal"
    DATE = "date"
    TIME = "time"
    MARK = "mark"
    BREAK = "break"


@dataclass(frozen=True, slots=True)
class Token:
    """One token; `key` is folded (lower case, no accents, no apostrophes), `start`/`end` in
    text."""

    text: str
    key: str
    kind: Kind
    start: int
    end: int
    glued: bool = False
    owned: str | None = None  # the key without a possessive s, where the word ends in one

    @property
    def number(self) -> int | None:
        """The value of a number or an ordinal."""
        digits = re.match(r"\d+", self.key)
        is_count = self.kind in (Kind.NUMBER, Kind.ORDINAL)
        return int(digits[0]) if digits and is_count else None


_TOKEN = re.compile(
    r"""
      (?P<date>\d{4}-\d{1,2}-\d{1,2}|\d{1,2}/\d+(?:/\d+)?)
    | (?P<time>\d{1,2}:\d{2}(?:\s?[ap]\.?m\b\.?)?|\d{1,2}\s?[ap]\.?m\b\.?)
    | (?P<ordinal>\d{1,3}(?:st|nd|rd|th)\b)
    | (?P<number>\d+(?:['’]?s\b)?)
    | (?P<word>w/o\b|w/|every1\b|evry1\b|[^\W\d_]+(?:['’ʼ`´][^\W\d_]+)*)
    | (?P<break>\n+)
    | (?P<mark>\S)
    """,
    re.VERBOSE | re.IGNORECASE,
)
_APOSTROPHES = str.maketrans("", "", "'’ʼ`´")
_LETTERS = str.maketrans({"ß": "ss", "ø": "o", "ł": "l", "đ": "d", "æ": "ae", "œ": "oe", "ı": "i"})


def normal(text: str) -> str:
    """The text in composed form with plain line ends; every position below refers to it."""
    return unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))


@lru_cache(maxsize=4096)
def fold(word: str) -> str:
    """Lower case, without accents and apostrophes: "D'André" and "dandre" are one key."""
    lowered = word.casefold().translate(_APOSTROPHES)
    if lowered.isascii():
        return lowered
    bare = unicodedata.normalize("NFKD", lowered.translate(_LETTERS))
    return "".join(letter for letter in bare if not unicodedata.combining(letter))


def tokenise(text: str) -> tuple[Token, ...]:
    """Cut a text (already `normal`) into tokens."""
    tokens = []
    ended = -1
    for match in _TOKEN.finditer(text):
        kind = Kind(match.lastgroup)
        word = match[0]
        tokens.append(
            Token(
                text=word,
                key=fold(word).rstrip("s") if kind is Kind.NUMBER else fold(word),
                kind=kind,
                start=match.start(),
                end=match.end(),
                glued=match.start() == ended,
                owned=_owner(word) if kind is Kind.WORD else None,
            )
        )
        ended = match.end()
    return tuple(tokens)


def keys(text: str) -> tuple[str, ...]:
    """The keys of a name or a phrase, its marks left out."""
    tokens = tokenise(normal(text))
    return tuple(t.key for t in tokens if t.kind not in (Kind.MARK, Kind.BREAK))


def _owner(word: str) -> str | None:
    """ "Ana's" is ana's, "Andres'" is andres'; a bare s may belong to the name and is left."""
    plain = word.replace("’", "'").casefold()
    if plain.endswith("'s"):
        return fold(plain[:-2])
    return None
