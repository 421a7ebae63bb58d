"""Misspelt words: the nearest name or ordinary word, and whether it is near enough to act on.

A child's name is acted on only if the word is one plain slip of it (sounding.py) and near no other
child. Everything else that is near is offered in a question.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz.distance import OSA

from bot.understanding.lexicon import LEXICON, ORDINARY
from bot.understanding.senses import How, Kind, Sense
from bot.understanding.sounding import is_slip, sound_of
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token
from bot.understanding.vocabulary import Vocabulary

_NAMES = (Kind.STUDENT, Kind.BIN, Kind.COLOR, Kind.GROUP)
_DOUBTFUL = (Kind.DOUBT, Kind.IF, Kind.PARTIAL, Kind.NOT, Kind.MISSED, Kind.STARTED, Kind.EXCEPT)
_HARMLESS = (Kind.PLAIN, Kind.DID)
_SHORT = 4  # letters below which a letter changed makes another word rather than a slip


@dataclass(frozen=True, slots=True)
class Near:
    """A reading of a misspelt word; `sure` when nothing else is as near and the slip is a slip."""

    sense: Sense
    distance: int
    sure: bool


class _Words:
    """Words that may be misspelt, by length, so that only those near in length are compared."""

    def __init__(self, words: Iterable[str]) -> None:
        self._by_length: dict[int, list[str]] = defaultdict(list)
        self.by_sound: dict[str, list[str]] = defaultdict(list)
        for word in dict.fromkeys(words):
            self._by_length[len(word)].append(word)
            self.by_sound[sound_of(word)].append(word)

    def within(self, word: str, limit: int) -> list[tuple[str, int]]:
        """Words no more than `limit` slips away (optimal string alignment), nearest first."""
        found = []
        for length in range(len(word) - limit, len(word) + limit + 1):
            for other in self._by_length.get(length, ()):
                distance = OSA.distance(word, other, score_cutoff=limit)
                if distance <= limit:
                    found.append((other, distance))
        return sorted(found, key=lambda pair: pair[1])

    def starting(self, word: str) -> list[str]:
        """Longer words that begin so."""
        return [
            other
            for length, words in self._by_length.items()
            if length > len(word)
            for other in words
            if other.startswith(word)
        ]


@dataclass(frozen=True, eq=False)
class _Index:
    """One vocabulary's names, ready for comparing."""

    words: Mapping[Kind, _Words]
    senses: Mapping[tuple[str, Kind], tuple[Sense, ...]]
    long_names: Mapping[str, tuple[tuple[tuple[str, ...], Sense], ...]]  # by each of their words


@lru_cache(maxsize=64)
def _index(vocabulary: Vocabulary) -> _Index:
    words: dict[Kind, list[str]] = defaultdict(list)
    senses: dict[tuple[str, Kind], tuple[Sense, ...]] = {}
    long_names: dict[str, list[tuple[tuple[str, ...], Sense]]] = defaultdict(list)
    for keys, meanings in vocabulary.senses.items():
        joined = "".join(keys)
        for sense in meanings:
            if sense.kind not in _NAMES or not _may_be_misspelt(keys, sense):
                continue
            if len(joined) > 1 and not joined.isdecimal():
                words[sense.kind].append(joined)
                close = Sense(sense.kind, sense.ids, sense.word or joined, How.CLOSE)
                senses[joined, sense.kind] = (*senses.get((joined, sense.kind), ()), close)
            if len(keys) > 1 and sense.kind in (Kind.BIN, Kind.STUDENT):
                for word in keys:
                    long_names[word].append((keys, sense))
    return _Index(
        {kind: _Words(found) for kind, found in words.items()},
        senses,
        {word: tuple(found) for word, found in long_names.items()},
    )


def _may_be_misspelt(keys: tuple[str, ...], sense: Sense) -> bool:
    """Not "theo n" run together, and not a child's name with an s behind it."""
    if len(keys) > 1 and len(keys[-1]) == 1:
        return False
    if sense.how is How.RELATED:
        return False
    return sense.how is not How.PART or (sense.kind is Kind.BIN and len(keys) == 1)


def allowed(length: int) -> int:
    """How many slips a word of this many letters may hold: one below seven letters, else two."""
    return 0 if length < 3 else 1 if length < 7 else 2


# Names


def near_names(word: str, vocabulary: Vocabulary) -> tuple[Near, ...]:
    """What the class knows that this word may be a slip of, nearest first."""
    index = _index(vocabulary)
    found: list[Near] = []
    for kind, known in index.words.items():
        for other, distance in known.within(word, allowed(len(word))):
            if len(other) > 2:
                found += [Near(s, distance, sure=False) for s in index.senses[other, kind]]
    told = {near.sense for near in found}
    students = index.words.get(Kind.STUDENT)
    for other in students.by_sound.get(sound_of(word), ()) if students and len(word) > 2 else ():
        found += [
            Near(s, 1, sure=False) for s in index.senses[other, Kind.STUDENT] if s not in told
        ]
    found.sort(key=lambda near: near.distance)
    return tuple(_judged(word, found, index))


def _judged(word: str, found: Sequence[Near], index: _Index) -> Iterable[Near]:
    """Decide which of the near names may be acted on without asking."""
    if not found:
        return
    least = found[0].distance
    nearest = {_meaning(near.sense) for near in found if near.distance == least}
    vetoed = _ordinary_within(word, least)
    for near in found:
        sure = near.distance == least and len(nearest) == 1
        if near.sense.kind is Kind.STUDENT:
            sure = sure and least == 1 and is_slip(word, near.sense.word)
            sure = sure and not _has_rival(word, near, index)
        else:
            sure = sure and not vetoed
        if near.sense.kind in (Kind.COLOR, Kind.GROUP) and len(word) < _SHORT:
            sure = sure and len(near.sense.word) > len(word)  # "wed" is no slip of "red"
        if near.sense.kind is Kind.BIN and near.distance > 1:
            sure = sure and len(word) > 7 and word[0] == near.sense.word[0]
        yield Near(near.sense, near.distance, sure)


def _meaning(sense: Sense) -> tuple[Kind, tuple[int, ...], str]:
    return sense.kind, sense.ids, sense.word if sense.kind is Kind.COLOR else ""


def _has_rival(word: str, near: Near, index: _Index) -> bool:
    """Whether another child's name is nearly as near as this child's."""
    others = index.words[Kind.STUDENT].within(word, near.distance + 1)
    return any(
        sense.ids != near.sense.ids
        for other, _ in others
        for sense in index.senses[other, Kind.STUDENT]
    )


def near_children(word: str, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    """The children whose names are at all near a word nobody knows, nearest first: to be
    offered."""
    index = _index(vocabulary)
    known = index.words.get(Kind.STUDENT)
    if known is None:
        return ()
    alike = known.by_sound.get(sound_of(word), ())
    near = [other for other, _ in known.within(word, max(1, allowed(len(word))))]
    longer = known.starting(word) if len(word) > 1 else []
    names = dict.fromkeys((*alike, *near, *longer))
    return tuple(dict.fromkeys(s for name in names for s in index.senses[name, Kind.STUDENT]))


def near_long_name(
    tokens: Sequence[Token], at: int, vocabulary: Vocabulary
) -> tuple[Sense, int] | None:
    """A name of several words that was misheard or mistyped here ("sink are float", "mary cate"),
    with the number of tokens it takes; one word of it must stand as it is.

    A child's name of which another child bears a part is both children's, to be asked.
    """
    index = _index(vocabulary)
    best: tuple[int, Sense, int] | None = None
    near = {token.key for token in tokens[at : at + vocabulary.longest]} & index.long_names.keys()
    for name, sense in dict.fromkeys(pair for word in near for pair in index.long_names[word]):
        found = _distance(tokens, at, name)
        if found is not None and (best is None or found[0] < best[0]):
            best = (found[0], sense, found[1])
    if best is None:
        return None
    _, sense, width = best
    if sense.kind is Kind.BIN:
        named = {
            i
            for token in tokens[at : at + width]
            for s in vocabulary.look_up((token.key,))
            if s.kind is Kind.BIN and s.how in (How.EXACT, How.FORM)
            for i in s.ids
        }
        if named - set(sense.ids):
            return None  # "ramps and gears" are two bins, not "ramps and cars"
        return Sense(Kind.BIN, sense.ids, sense.word, How.CLOSE), width
    named = {
        i
        for token in tokens[at : at + width]
        for s in vocabulary.look_up((token.key,))
        if s.kind is Kind.STUDENT
        for i in s.ids
    }
    ids = tuple(sorted({*sense.ids, *named}))
    return Sense(Kind.STUDENT, ids, sense.word, How.CLOSE), width


def _distance(tokens: Sequence[Token], at: int, name: tuple[str, ...]) -> tuple[int, int] | None:
    """How far the words here are from a name, and how many tokens they take."""
    span = [t for t in tokens[at : at + 2 * len(name)] if t.text != "-"][: len(name)]
    words = tuple(token.key for token in span)
    if len(words) < len(name) or words == name or any(t.kind is not Shape.WORD for t in span):
        return None
    if not any(w == n and len(w) > 2 for w, n in zip(words, name, strict=True)):
        return None
    limit = max(1, sum(map(len, name)) // 5)
    distance = OSA.distance(" ".join(words), " ".join(name), score_cutoff=limit)
    if distance > limit:
        return None
    width = next(n for n in range(1, 2 * len(name) + 1) if tokens[at + n - 1] is span[-1])
    return distance, width


# Ordinary words


@lru_cache(maxsize=65536)
def near_ordinary(word: str) -> tuple[str, tuple[Kind, ...]] | None:
    """The one ordinary word that this is a slip of, and its kinds; None if there is none, or
    several
    as near that do different things. A word near one that casts doubt casts doubt."""
    if len(word) == 4:
        return _one_kind(word, _CORE.within(word, 1)) or _doubts(word, _MOODS.within(word, 1))
    limit = 0 if len(word) < 5 else 1 if len(word) < 9 else 2
    found = _one_kind(word, _LONG.within(word, limit)) if limit else None
    return found or _doubts(word, _MOODS.within(word, 1 if len(word) < 6 else 2))


def _one_kind(word: str, found: Sequence[tuple[str, int]]) -> tuple[str, tuple[Kind, ...]] | None:
    if not found:
        return None
    least = found[0][1]
    nearest = [other for other, distance in found if distance == least and other[0] == word[0]]
    kinds = {LEXICON[(other,)] for other in nearest}
    return (nearest[0], kinds.pop()) if len(kinds) == 1 else None


def _doubts(word: str, found: Sequence[tuple[str, int]]) -> tuple[str, tuple[Kind, ...]] | None:
    """The kinds of the nearest word that casts doubt, if it begins alike or its letters are
    swapped."""
    for other, _ in found:
        if other[0] == word[0] or sorted(other[:2]) == sorted(word[:2]):
            return other, LEXICON[(other,)]
    return None


@lru_cache(maxsize=65536)
def _ordinary_within(word: str, limit: int) -> bool:
    """Whether an ordinary word is as near as the name found."""
    return bool(_LONG.within(word, limit))


_SINGLE = tuple(sorted(word for word in ORDINARY if (word,) in LEXICON))
_CORE = _Words(
    ("done", "left", "need", "needs", "still", "undo", "whos", "with", "plus", "minus", "been")
)
_LONG = _Words(word for word in _SINGLE if len(word) > 3)
_MOODS = _Words(
    word
    for word in _SINGLE
    if len(word) > 3
    and set(LEXICON[(word,)]) & set(_DOUBTFUL)
    and not set(LEXICON[(word,)]) & set(_HARMLESS)
)
