"""A text as the answer to a pending question: by place, by label, by part of a label."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.understanding.lexicon import NUMBER_WORDS, ORDINAL_WORDS
from bot.understanding.logs import ALL, BOTH, NO, NOBODY, YES
from bot.understanding.reading import items_of
from bot.understanding.senses import Item, Kind
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import keys, normal, tokenise
from storage.records import Roster

_SAME = {
    YES: "yes y yep yeah yup ya sure ok okay correct right true please do log",
    NO: "no n nope nah not neither none never",
    BOTH: "both",
    ALL: "all everyone everybody both",
    NOBODY: "nobody noone none no nope neither",
}
_FILLERS = frozenset(
    [
        "the",
        "a",
        "an",
        "one",
        "ones",
        "it",
        "was",
        "is",
        "its",
        "that",
        "that's",
        "thats",
        "i",
        "mean",
        "meant",
        "im",
        "ment",
        "please",
        "pls",
        "just",
        "of",
        "them",
        "sorry",
        "oh",
        "group",
        "bin",
        "definitely",
        "for",
        "log",
        "name",
        "called",
        "go",
        "with",
        "ok",
        "yes",
    ]
)


def choice_meant(text: str, labels: Sequence[str]) -> int | None:
    """The index of the one choice that a text picks, or None where it picks none or several."""
    words = keys(text)
    if not words or len(words) > 8:
        return None
    for index, label in enumerate(labels):
        if words == keys(label):
            return index
    said = [w for w in words if w not in _FILLERS] or list(words)
    by_meaning = _by_meaning(words, labels)
    if by_meaning is not None:
        return by_meaning
    by_label = _by_label(said, labels)
    return by_label if by_label is not None else _by_place(text, said, labels)


def filled(
    text: str, frames: Sequence[tuple[str, str]], roster: Roster, at: datetime
) -> str | None:
    """The frame of a question with a text in its gap, where that text names just what is missing:
    "g3", "mia and ben", "all but kai", "yellow", "thursday"."""
    if len(frames) != 1:
        return None
    [(fills, frame)] = frames
    items = items_of(text, roster, at)
    inner = _stripped(items)
    if not inner or len(inner) > _LONGEST_FILL or any(not _fits(i, fills) for i in inner):
        return None
    if not any(i.kind in _NEEDED[fills] or i.can_be(*_NEEDED[fills]) for i in inner):
        return None
    if inner[0].can_be(Kind.NOT) or any(i.kind is Kind.QUERY for i in items):
        return None
    words = normal(text)[inner[0].start : inner[-1].end]
    return frame.replace("{}", words)


_LONGEST_FILL = 24
_WHO = (Kind.STUDENT, Kind.GROUP, Kind.EVERYONE)
_NEEDED = {"who": _WHO, "place": (Kind.BIN, Kind.COLOR), "day": (Kind.DAY,)}
_JOINS = (Kind.AND, Kind.COMMA, Kind.PLUS, Kind.EXCEPT, Kind.BUT, Kind.MARK, Kind.WHOLE)


def _fits(item: Item, fills: str) -> bool:
    allowed = (*_NEEDED[fills], *_JOINS, Kind.PLAIN, *(_WHO if fills == "place" else ()))
    return item.can_be(*allowed)


def _stripped(items: Sequence[Item]) -> list[Item]:
    """Without "oh", "it was", "sorry", "actually" around the answer."""
    around = (Kind.PLAIN, Kind.KEY, Kind.AT, Kind.STOP, Kind.COMMA, Kind.MARK)
    inner = list(items)
    names = (*_WHO, Kind.BIN, Kind.COLOR, Kind.DAY)
    while inner and inner[0].can_be(*around) and not inner[0].can_be(*names, Kind.WHOLE):
        inner.pop(0)
    if inner and inner[0].keys in (("no",), ("nope",)) and len(inner) > 2:
        inner = inner[1:]
        return _stripped(inner)
    while inner and inner[-1].can_be(*around) and not inner[-1].can_be(*names):
        inner.pop()
    return inner


def _by_meaning(words: Sequence[str], labels: Sequence[str]) -> int | None:
    for label in (BOTH, ALL, NOBODY, NO, YES):
        if label in labels and words[0] in _SAME[label].split() and len(words) < 5:
            rest = [w for w in words[1:] if w not in _FILLERS and w not in _SAME[label].split()]
            if not rest:
                return labels.index(label)
    return None


def _by_label(said: Sequence[str], labels: Sequence[str]) -> int | None:
    """Every word said occurs in just one label: "R", "chidi", "sofia t"."""
    fits = [
        index
        for index, label in enumerate(labels)
        if all(word in _label_words(label) for word in said)
    ]
    return fits[0] if len(fits) == 1 else None


def _label_words(label: str) -> set[str]:
    words = keys(label)
    return {*words, "".join(words), *(word + "s" for word in words)}


def _by_place(text: str, said: Sequence[str], labels: Sequence[str]) -> int | None:
    """ "the first", "2nd", "last", "2" where no label holds a number."""
    if len(said) != 1:
        return None
    [token] = [t for t in tokenise(normal(text)) if t.key == said[0]][:1] or [None]
    if token is None:
        return None
    if token.key == "last":
        return max(i for i, label in enumerate(labels) if label not in (BOTH, ALL, NO, NOBODY))
    number = token.number or ORDINAL_WORDS.get(token.key) or NUMBER_WORDS.get(token.key)
    if token.kind is Shape.NUMBER and any(t.isdecimal() for label in labels for t in keys(label)):
        return None
    real = sum(label not in (BOTH, ALL, NO, NOBODY) for label in labels)
    return number - 1 if number is not None and 1 <= number <= real else None
