"""A text as a row of items: the longest stretch that means something first, slips mended last."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from bot.understanding import closeness
from bot.understanding.days import find_day, near_day_word
from bot.understanding.lexicon import (
    LEXICON,
    NUMBER_WORDS,
    ORDINAL_WORDS,
    SPELT_RIGHT,
    TENS_WORDS,
)
from bot.understanding.senses import How, Item, Kind, Sense
from bot.understanding.times import find_time
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token
from bot.understanding.vocabulary import Vocabulary

_EMOJI_FROM = 0x2190
_SHORT_NAME = 4  # letters below which a doubled one may make another word


def lay_out(tokens: Sequence[Token], vocabulary: Vocabulary, today: date) -> tuple[Item, ...]:
    """Turn tokens into items with all their senses; nothing is decided by context here."""
    items: list[Item] = []
    position = 0
    while position < len(tokens):
        item, width = _next_item(tokens, position, vocabulary, today)
        items.append(item)
        position += width
    return tuple(_short_forms(items))


def _short_forms(items: Sequence[Item]) -> Iterator[Item]:
    """ "suns r done", "wo needs clay": short forms known by what stands beside them."""
    for at, item in enumerate(items):
        before = items[at - 1] if at else None
        after = items[at + 1].keys[:1] if at + 1 < len(items) else ()
        if item.keys == ("r",) and before is not None and before.can_be(*_SEVERAL):
            yield _read_as(item, "are")
        elif before is None and item.keys in _FOR_WHO and after and after[0] in _BEHIND_WHO:
            yield _read_as(item, "who")
        else:
            yield item


def _read_as(item: Item, word: str) -> Item:
    senses = tuple(Sense(kind, word=word, how=How.CLOSE) for kind in LEXICON[(word,)])
    return replace(item, senses=senses)


_SEVERAL = (Kind.GROUP, Kind.EVERYONE, Kind.REST)
_FOR_WHO = (("wo",), ("hu",), ("ho",), ("hoo",), ("woh",), ("whp",))
_BEHIND_WHO = frozenset(("need", "needs", "still", "hasnt", "havent", "is", "all", "has"))


def _next_item(
    tokens: Sequence[Token], at: int, vocabulary: Vocabulary, today: date
) -> tuple[Item, int]:
    for find in (find_day, find_time):
        found = find(tokens, at, today)
        if found is not None:
            sense, width = found
            return _item(tokens[at : at + width], (sense,)), width
    tens = _tens(tokens, at)
    if tens is not None:
        return tens
    for width in range(min(vocabulary.longest, len(tokens) - at), 0, -1):
        span = tokens[at : at + width]
        senses, owned = _known(span, vocabulary)
        if senses:
            longer = closeness.near_long_name(tokens, at, vocabulary) if width < 3 else None
            if longer is not None and longer[1] > width:
                return _item(tokens[at : at + longer[1]], (longer[0],)), longer[1]
            if width == 1 and span[0].key in ORDINAL_WORDS:
                order = Sense(Kind.NUMBER, word="ordinal", value=ORDINAL_WORDS[span[0].key])
                senses = (*senses, order)
            return _item(span, senses, owned=owned), width
    longer = closeness.near_long_name(tokens, at, vocabulary)
    if longer is not None:
        return _item(tokens[at : at + longer[1]], (longer[0],)), longer[1]
    senses = _alone(tokens[at], vocabulary)
    if tokens[at].kind is Shape.WORD and all(
        sense.how is How.CLOSE or sense.kind is Kind.UNKNOWN for sense in senses
    ):
        mended = near_day_word(tokens[at].key)
        if mended is not None:
            day = find_day((replace(tokens[at], key=mended),), 0, today)
            senses = senses if day is None else (day[0],)
    return _item(tokens[at : at + 1], senses), 1


def _tens(tokens: Sequence[Token], at: int) -> tuple[Item, int] | None:
    """ "twenty-two", "twenty second": one number, never the two behind it."""
    tens = TENS_WORDS.get(tokens[at].key)
    if tens is None:
        return None
    ahead = at + 2 if at + 1 < len(tokens) and tokens[at + 1].text == "-" else at + 1
    unit = tokens[ahead].key if ahead < len(tokens) else ""
    ones = NUMBER_WORDS.get(unit) or ORDINAL_WORDS.get(unit) or 0
    width = ahead + 1 - at if 0 < ones < 10 else 1
    value = tens + (ones if width > 1 else 0)
    word = "ordinal" if unit in ORDINAL_WORDS and width > 1 else "word"
    return _item(tokens[at : at + width], (Sense(Kind.NUMBER, word=word, value=value),)), width


def _item(span: Sequence[Token], senses: tuple[Sense, ...], *, owned: bool = False) -> Item:
    text = " ".join(token.text for token in span)
    words = tuple(token.key for token in span)
    return Item(text, span[0].start, span[-1].end, senses, words, owned, span[0].glued)


def _known(span: Sequence[Token], vocabulary: Vocabulary) -> tuple[tuple[Sense, ...], bool]:
    """The senses of a stretch as written, or with its last word's possessive s taken off."""
    if any(token.kind is Shape.BREAK for token in span):
        return (), False
    if any(t.kind is Shape.MARK and t.text not in "&.-/'" for t in span) and len(span) > 1:
        return (), False
    words = tuple(t.key for t in span if not (t.kind is Shape.MARK and len(span) > 1))
    ends_in_mark = len(span) > 1 and Shape.MARK in (span[0].kind, span[-1].kind)
    initial = len(span) > 1 and len(span[-2].key) == 1 and span[-2].kind is not Shape.NUMBER
    if ends_in_mark and not (span[-1].text == "." and span[-1].glued and initial):
        return (), False  # "Sofia R." may end in its dot, nothing else in a mark
    senses = vocabulary.look_up(words)
    if not senses and len(words) == 2 and all(t.kind is Shape.WORD for t in span):
        run_together = vocabulary.senses.get(("".join(words),), ())
        senses = tuple(s for s in run_together if s.kind is Kind.BIN)  # "flash lights"
    if len(span) == 1 and span[0].kind is Shape.NUMBER:
        return (), False  # numbers are settled by where they stand
    last = span[-1]
    if last.owned is not None:
        names = tuple(
            sense
            for sense in vocabulary.look_up((*words[:-1], last.owned))
            if sense.kind in (Kind.STUDENT, Kind.GROUP, Kind.BIN)
        )
        if names:
            return (*names, *(s for s in senses if s.kind not in (Kind.STUDENT,))), True
    return senses, False


def _alone(token: Token, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    """What a single token means that nothing longer took."""
    if token.kind in (Shape.NUMBER, Shape.ORDINAL):
        return (Sense(Kind.NUMBER, word=token.kind.value, value=token.number),)
    if token.key in ORDINAL_WORDS:
        return (Sense(Kind.NUMBER, word="ordinal", value=ORDINAL_WORDS[token.key]),)
    if token.key in NUMBER_WORDS:
        return (Sense(Kind.NUMBER, word="word", value=NUMBER_WORDS[token.key]),)
    if token.kind is Shape.BREAK:
        return (Sense(Kind.BREAK),)
    if token.kind is not Shape.WORD:
        plain = ord(token.text[0]) >= _EMOJI_FROM
        return (Sense(Kind.PLAIN if plain else Kind.MARK, word=token.text),)
    return _mended(token, vocabulary)


def _mended(token: Token, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    """A word nobody knows: drawn out, a slip of a name, of an ordinary word, or unknown."""
    drawn_out = _drawn_out(token.key, vocabulary)
    if drawn_out:
        return drawn_out
    if token.key in SPELT_RIGHT:
        return (Sense(Kind.UNKNOWN, word=token.key),)
    names = closeness.near_names(token.key, vocabulary)
    ordinary = closeness.near_ordinary(token.key)
    if ordinary is not None and not any(n.sure and n.distance == 1 for n in names):
        word, kinds = ordinary
        bins = [s for s in vocabulary.senses.get((word,), ()) if s.kind is Kind.BIN]
        if bins:
            return tuple(replace(sense, how=How.CLOSE) for sense in bins)  # a bin called "Towers"
        return tuple(Sense(kind, word=word, how=How.CLOSE) for kind in kinds)
    sure = next((near.sense for near in names if near.sure), None)
    if sure is not None:
        return (sure,)
    return (Sense(Kind.UNKNOWN, word=token.key),)


_REPEATED = re.compile(r"(.)\1+")
_DRAWN_OUT = re.compile(r"(.)\1\1+")


def _drawn_out(key: str, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    """ "heyyy", "miaaa": a known word with a letter held down; of groups and bins one letter
    doubled ("starrs") is enough."""
    if _DRAWN_OUT.search(key) is not None:
        for shorter in (_DRAWN_OUT.sub(r"\1", key), _DRAWN_OUT.sub(r"\1\1", key)):
            known = vocabulary.look_up((shorter,))
            if known:
                return tuple(replace(sense, how=How.CLOSE) for sense in known)
        return ()
    if len(key) <= _SHORT_NAME or _REPEATED.search(key) is None:
        return ()
    single = vocabulary.senses.get((_REPEATED.sub(r"\1", key),), ())
    named = tuple(s for s in single if s.kind in (Kind.GROUP, Kind.BIN))
    return tuple(replace(sense, how=How.CLOSE) for sense in named)
