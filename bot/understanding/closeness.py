"""Misspelt words: the nearest name or ordinary word, and whether it is near enough to act on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz.distance import OSA

from bot.understanding.lexicon import LEXICON, ORDINARY
from bot.understanding.senses import How, Kind, Sense
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token
from bot.understanding.vocabulary import Vocabulary

_NAMES = (Kind.STUDENT, Kind.BIN, Kind.COLOR, Kind.GROUP)


@dataclass(frozen=True, slots=True)
class Near:
    """A reading of a misspelt word; `sure` when nothing else is as near and the slip is a slip."""

    sense: Sense
    distance: int
    sure: bool


@lru_cache(maxsize=64)
def _single_words(vocabulary: Vocabulary) -> Mapping[Kind, tuple[str, ...]]:
    words: dict[Kind, list[str]] = defaultdict(list)
    for keys, senses in vocabulary.senses.items():
        joined = "".join(keys)
        if len(joined) < 3 or joined.isdecimal():
            continue
        for sense in senses:
            if sense.kind in _NAMES and _may_be_misspelt(keys, sense):
                words[sense.kind].append(joined)
    return {kind: tuple(dict.fromkeys(found)) for kind, found in words.items()}


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


def near_names(word: str, vocabulary: Vocabulary) -> tuple[Near, ...]:
    """What the class knows that this word may be a slip of, nearest first."""
    found: list[Near] = []
    for kind, known in _single_words(vocabulary).items():
        for other, distance in _within(word, known, allowed(len(word))):
            for sense in _senses_of(other, kind, vocabulary):
                found.append(Near(sense, distance, sure=False))
    found += _alike(word, vocabulary)
    found.sort(key=lambda near: near.distance)
    return tuple(_judged(word, found, vocabulary))


def _alike(word: str, vocabulary: Vocabulary) -> list[Near]:
    """Children whose names sound the same, however far apart they are written."""
    known = _single_words(vocabulary).get(Kind.STUDENT, ())
    alike = [
        o for o in known if _sound(o) == _sound(word) and OSA.distance(o, word) > allowed(len(word))
    ]
    return [
        Near(sense, 1, sure=False)
        for other in alike
        for sense in _senses_of(other, Kind.STUDENT, vocabulary)
    ]


def near_ordinary(word: str) -> str | None:
    """The one ordinary word that this is a slip of; None if there is none or several are as
    near."""
    if len(word) == 4:
        found = _within(word, _CORE, 1)
    else:
        limit = 0 if len(word) < 5 else 1 if len(word) < 9 else 2
        found = _within(word, _LONG_ORDINARY, limit)
    if not found:
        return None
    least = min(distance for _, distance in found)
    nearest = [other for other, distance in found if distance == least and other[0] == word[0]]
    kinds = {LEXICON.get((other,), ()) for other in nearest}
    return nearest[0] if len(kinds) == 1 else None


_CORE = ("done", "left", "need", "needs", "still", "undo", "whos", "with", "plus", "minus", "been")
_LONG_ORDINARY = tuple(sorted(word for word in ORDINARY if len(word) > 3 and (word,) in LEXICON))


def _within(word: str, known: Iterable[str], limit: int) -> list[tuple[str, int]]:
    if limit == 0:
        return []
    found = []
    for other in known:
        if abs(len(other) - len(word)) <= limit:
            distance = OSA.distance(word, other, score_cutoff=limit)
            if distance <= limit:
                found.append((other, distance))
    return found


def _senses_of(joined: str, kind: Kind, vocabulary: Vocabulary) -> list[Sense]:
    spelt = vocabulary.senses.get((joined,))
    if spelt is None:
        spelt = next((s for k, s in vocabulary.senses.items() if "".join(k) == joined), ())
    return [
        Sense(sense.kind, sense.ids, joined if not sense.word else sense.word, How.CLOSE)
        for sense in spelt
        if sense.kind is kind
    ]


def _judged(word: str, found: list[Near], vocabulary: Vocabulary) -> Iterable[Near]:
    """Decide which of the near names may be acted on without asking."""
    if not found:
        return
    least = found[0].distance
    meanings = {(n.sense.kind, n.sense.ids, n.sense.word) for n in found if n.distance == least}
    different = {(n.sense.kind, n.sense.ids) for n in found if n.distance == least}
    alone = len(different) == 1 if found[0].sense.kind is not Kind.COLOR else len(meanings) == 1
    for near in found:
        is_first = near.distance == least and alone
        sure = is_first and not _has_rival(word, near, least, vocabulary)
        if near.sense.kind is Kind.BIN and near.distance > 1:
            sure = sure and len(word) > 7 and word[0] == near.sense.word[0]
        if near.sense.kind is Kind.STUDENT:
            sure = sure and near.distance == 1 and _is_slip(word, near.sense.word)
        yield Near(near.sense, near.distance, sure)


def _has_rival(word: str, near: Near, least: int, vocabulary: Vocabulary) -> bool:
    """Whether another child's name is nearly as near as this child's."""
    if near.sense.kind is not Kind.STUDENT:
        return False
    known = _single_words(vocabulary).get(Kind.STUDENT, ())
    others = (o for o, _ in _within(word, known, least + 1))
    return any(
        sense.ids != near.sense.ids
        for other in others
        for sense in _senses_of(other, Kind.STUDENT, vocabulary)
    )


def _is_slip(word: str, name: str) -> bool:
    """Whether a child's name was mistyped or written as it sounds, rather than another name
    written:
    a letter doubled or left single, two swapped, one lost or added inside, a neighbouring key
    hit."""
    plain = name.replace(" ", "")
    if _sound(word) == _sound(plain):
        return True
    if len(plain) < _SAFE_LENGTH or word[0] != plain[0] or word[-1] != plain[-1]:
        return False
    if len(word) != len(plain):
        return True
    if sorted(word) == sorted(plain):
        return True
    [slip] = [(a, b) for a, b in zip(word, plain, strict=True) if a != b]
    return slip[1] in _NEIGHBOURS.get(slip[0], "") and not set(slip) <= set("aeiouy")


_SAFE_LENGTH = 5
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_NEIGHBOURS = {
    key: "".join(
        near
        for other, letters in enumerate(_ROWS)
        for place, near in enumerate(letters)
        if near != key and abs(other - row) <= 1 and abs(place - at) <= 1
    )
    for row, keys in enumerate(_ROWS)
    for at, key in enumerate(keys)
}
_SOUNDS = (("ph", "f"), ("ck", "k"), ("c", "k"), ("y", "i"), ("z", "s"), ("x", "ks"), ("w", "v"))


@lru_cache(maxsize=4096)
def _sound(word: str) -> str:
    """A word as it sounds, roughly: "sophia" and "sofia", "leyla" and "leila", "hanna" and "hannah"
    are one. Common practice for names, no source."""
    for spelt, heard in _SOUNDS:
        word = word.replace(spelt, heard)
    single = "".join(a for a, b in zip(word, word[1:] + " ", strict=True) if a != b)
    return single[:-1] if len(single) > 3 and single.endswith("h") else single


def near_children(word: str, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    """The children whose names are at all near a word nobody knows, nearest first: to be
    offered."""
    limit = max(1, allowed(len(word)))
    known = _single_words(vocabulary).get(Kind.STUDENT, ())
    alike = [(other, 0) for other in known if _sound(other) == _sound(word)]
    starts = [(other, limit) for other in known if len(word) > 1 and other.startswith(word)]
    found = sorted([*alike, *_within(word, known, limit), *starts], key=lambda pair: pair[1])
    senses = [s for other, _ in found for s in _senses_of(other, Kind.STUDENT, vocabulary)]
    return tuple(dict.fromkeys(senses))


@lru_cache(maxsize=64)
def _long_bins(vocabulary: Vocabulary) -> tuple[tuple[tuple[str, ...], Sense], ...]:
    """Names of bins of several words, as whole names."""
    return tuple(
        (keys, sense)
        for keys, senses in vocabulary.senses.items()
        for sense in senses
        if sense.kind is Kind.BIN and len(keys) > 1 and sense.how is not How.PART
    )


def near_bin(tokens: Sequence[Token], at: int, vocabulary: Vocabulary) -> tuple[Sense, int] | None:
    """A bin's name of several words that was misheard or mistyped here ("sink are float"), with the
    number of tokens it takes; one word of it must stand as it is."""
    best: tuple[int, Sense, int] | None = None
    for name, sense in _long_bins(vocabulary):
        span = tokens[at : at + len(name)]
        words = tuple(token.key for token in span)
        if len(words) < len(name) or any(t.kind is not Shape.WORD for t in span):
            continue
        kept = [w for w, n in zip(words, name, strict=True) if w == n and len(w) > 2]
        if not kept or words == name:
            continue
        limit = sum(map(len, name)) // 5
        distance = OSA.distance(" ".join(words), " ".join(name), score_cutoff=limit)
        if distance <= limit and (best is None or distance < best[0]):
            best = (distance, sense, len(name))
    if best is None:
        return None
    return Sense(Kind.BIN, best[1].ids, best[1].word, How.CLOSE), best[2]
