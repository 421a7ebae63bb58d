"""What a word that may be several things is, by what stands around it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from bot.understanding.lexicon import LEXICON
from bot.understanding.senses import Kind
from bot.understanding.supplies.kit import CLOSE, GENERIC_WORDS, HEAD, stem
from bot.understanding.supplies.signs import Is, Sign

_SMALL = frozenset(("of", "the", "a", "an", "my", "our", "those", "these", "more"))


def settled(signs: Sequence[Sign]) -> Iterator[Sign]:
    """The signs, with a word that is a bin and a supply decided by what stands around it."""
    signs = [_unlisted(signs, at) for at in range(len(signs))]
    others = sum(sign.what in (Is.ITEM, Is.EITHER) for sign in signs)
    for at, sign in enumerate(signs):
        if sign.what is Is.PACK and _is_box(signs, at):
            yield replace(sign, what=Is.WORD)
            continue
        if sign.what is not Is.EITHER:
            yield sign
            continue
        before = [s for s in signs[:at] if s.key not in _SMALL][-1:]
        of_bin = _is_bin_of_next(signs, at)
        counted = bool(before) and before[0].what in (Is.AMOUNT, Is.PACK)
        of_it = at > 0 and signs[at - 1].key == "of"
        is_place = bool(before) and before[0].key in ("in", "at", "for", "from", "on", "to")
        if of_bin or (before and before[0].key == "at"):
            yield replace(sign, what=Is.BIN)
        elif counted or of_it:
            yield replace(sign, what=Is.ITEM, is_also_bin=True)
        elif is_place or (others > 1 and _leads(signs, at)):
            yield replace(sign, what=Is.BIN)
        else:
            yield replace(sign, what=Is.ITEM, is_also_bin=True)


def _unlisted(signs: Sequence[Sign], at: int) -> Sign:
    """ "glue sticks", where only cinnamon sticks are on a list: a thing that is on none."""
    sign = signs[at]
    before = signs[at - 1] if at else None
    if before is None or sign.what is not Is.ITEM or sign.how != HEAD:
        return sign
    if stem(sign.key) in GENERIC_WORDS:
        return sign  # "recording sheets" are the record sheets
    noun = before.what is Is.STRANGE or (before.what is Is.WORD and _is_noun(before.key))
    return replace(sign, what=Is.STRANGE, ids=()) if noun else sign


def _is_noun(key: str) -> bool:
    kinds = LEXICON.get((key,), ())
    return bool(kinds) and set(kinds) <= {Kind.CHATTER, Kind.UNIT}


def _is_bin_of_next(signs: Sequence[Sign], at: int) -> bool:
    """ "10 bubbles sheets", "mirror drawing sheets": the sheets of that bin."""
    after = signs[at + 1] if at + 1 < len(signs) else None
    return after is not None and after.what is Is.ITEM and after.how != CLOSE


def _is_box(signs: Sequence[Sign], at: int) -> bool:
    """ "the white box has 15": where things are, not how they are bought."""
    before = signs[at - 1] if at else None
    of_things = at + 1 < len(signs) and signs[at + 1].key == "of"
    said = before is not None and (before.is_color or before.key in ("the", "this", "that"))
    return said and not of_things


def _leads(signs: Sequence[Sign], at: int) -> bool:
    """ "magnets is missing 2 magnets": the first of them is the bin."""
    return not any(s.what in (Is.ITEM, Is.EITHER, Is.AMOUNT) for s in signs[:at])
