"""The kit of a class: what its supplies can be called."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz.distance import OSA

from bot.understanding.closeness import allowed
from bot.understanding.lexicon import LEXICON, SPELT_RIGHT
from bot.understanding.tokens import keys
from storage.records import Roster, Supply

_PAPER = frozenset((
    "sheet", "page", "paper", "strip", "form", "worksheet", "map", "booklet", "template",
    "handout", "mat", "organizer", "journal", "log", "chart", "recording",
))  # fmt: skip
GENERIC_WORDS = frozenset((
    "sheet", "copies", "worksheet", "page", "paper", "handout", "printout", "photocopies", "xerox",
))  # fmt: skip
_SINGULARS = {
    "dice": "die", "leaves": "leaf", "knives": "knife", "halves": "half", "loaves": "loaf",
    "shelves": "shelf", "feet": "foot", "teeth": "tooth", "mice": "mouse", "lenses": "lens",
}  # fmt: skip
NAMED, HEAD, PART, GENERIC, CLOSE = range(5)
_LEAST = 4  # letters of a word that may be a slip of another
_LONG = 6  # letters of one whose first may be the slip


@dataclass(frozen=True, slots=True)
class Called:
    """Supplies that a stretch of words may mean, and how surely it does (lower is surer)."""

    ids: tuple[int, ...]
    how: int
    width: int


@dataclass(frozen=True, eq=False)
class Kit:
    """Names and parts of names -> supplies; built once for each state of the roster."""

    names: Mapping[tuple[str, ...], tuple[int, ...]]
    heads: Mapping[str, tuple[int, ...]]
    parts: Mapping[str, tuple[int, ...]]
    paper: tuple[int, ...]
    longest: int

    def look_up(self, words: Sequence[str]) -> Called | None:
        """What the words from here on name: a whole name first, then a part of one."""
        stems = tuple(map(stem, words[: self.longest + 1]))
        for width in range(len(stems), 0, -1):
            found = self.names.get(stems[:width]) or self.names.get(("".join(stems[:width]),))
            if found:
                return Called(found, NAMED, width)
        if not stems:
            return None
        slip = self._misspelt(words)
        if slip is not None:
            return slip
        if stems[0] in self.heads:
            return Called(self.heads[stems[0]], HEAD, 1)
        if stems[0] in self.parts and (words[0],) not in LEXICON:
            return Called(self.parts[stems[0]], PART, 1)
        if {words[0], stems[0]} & GENERIC_WORDS:
            return Called(self.paper, GENERIC, 1)
        return None

    def _misspelt(self, words: Sequence[str]) -> Called | None:
        """A name of several words of which one is a slip: "paper towls"."""
        if len(words) < 2 or all((word,) in LEXICON for word in words[: self.longest]):
            return None
        stems = tuple(map(stem, words[: self.longest]))
        found: set[tuple[tuple[int, ...], int]] = set()
        for name, ids in self.names.items():
            width = len(name)
            if not 1 < width <= len(stems):
                continue
            slips = [(a, b) for a, b in zip(stems, name, strict=False) if a != b]
            if len(slips) == 1 and _is_slip(*slips[0]) and slips[0][0] not in self.heads:
                found.add((ids, width))
        if len(found) != 1:
            return None
        ids, width = found.pop()
        return Called(ids, NAMED, width)

    def nearest(self, word: str) -> Called | None:
        """The supplies whose name a word nobody knows is a slip of; None if several are as near."""
        if word in SPELT_RIGHT:
            return None  # a "trip" is no strip
        said = stem(word)
        limit = allowed(len(said)) if len(said) >= _LEAST else 0
        near: dict[int, set[tuple[int, ...]]] = defaultdict(set)
        whole = ((name[0], ids) for name, ids in self.names.items() if len(name) == 1)
        for name, ids in (*self.heads.items(), *whole):
            distance = OSA.distance(said, name, score_cutoff=limit)
            alike = name[0] == said[0] or len(said) > _LONG
            if 0 < distance <= limit and len(name) > 3 and alike:
                near[distance].add(ids)
        if not near or len(best := near[min(near)]) > 1:
            return None
        return Called(next(iter(best)), CLOSE, 1)


@lru_cache(maxsize=64)
def kit_of(roster: Roster) -> Kit:
    """The kit of a class as it stands."""
    names: dict[tuple[str, ...], list[int]] = defaultdict(list)
    heads: dict[str, list[int]] = defaultdict(list)
    parts: dict[str, list[int]] = defaultdict(list)
    for supply in roster.supplies:
        words = tuple(map(stem, keys(supply.item)))
        if not words:
            continue
        names[words].append(supply.id)
        if len(words) > 1:
            names[("".join(words),)].append(supply.id)  # "paperclips"
        heads[words[-1]].append(supply.id)
        for word in words[:-1]:
            if len(word) > 2:
                parts[word].append(supply.id)
    return Kit(
        names={words: tuple(ids) for words, ids in names.items()},
        heads={word: tuple(ids) for word, ids in heads.items()},
        parts={word: tuple(ids) for word, ids in parts.items()},
        paper=tuple(s.id for s in roster.supplies if is_paper(s)),
        longest=max((len(words) for words in names), default=1),
    )


def is_paper(supply: Supply) -> bool:
    """Whether a supply is copied rather than bought."""
    return supply.kind != "piece" and any(stem(word) in _PAPER for word in keys(supply.item))


def stem(word: str) -> str:
    """A word without its plural, near enough for matching."""
    if word in _SINGULARS:
        return _SINGULARS[word]
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ses", "xes", "zes", "ches", "shes")) and len(word) > 4:
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


def _is_slip(said: str, meant: str) -> bool:
    """Whether a word nobody knows is near enough to a word of a name."""
    if len(said) < _LEAST or (said,) in LEXICON:
        return False
    limit = allowed(len(said))
    return OSA.distance(said, meant, score_cutoff=limit) <= limit
