"""One sentence that says several things: "g3 done balance, theo is out, ramps needs sheets"."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from bot.understanding.clause import finds, outline_of
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import Item, Kind

_LINKS = (Kind.COMMA, Kind.AND, Kind.BUT, Kind.PLUS)
_TIMES = (Kind.DAY, Kind.TIME, Kind.SLOT)

Items = tuple[Item, ...]
Tells = Callable[[Items], bool]


def cut_apart(
    sentence: Items, phrases: tuple[str, ...], notices: Tells, goes_on: Tells
) -> Iterator[Items]:
    """Cut the pieces of a sentence that hold one of these phrases (or are noticed) out of it.

    Pieces end at links. One that holds a phrase takes in the names listed before it ("theo and dara
    are out") and the days listed behind it; what is left hangs together as it did. What goes on
    with a piece noticed ("put 20 sheets in ramps and 10 in balance") stays with it.
    """
    pieces = _whole_pairs(list(_pieces(sentence)), phrases)
    if len(pieces) < 2:
        yield sentence
        return
    noticed = [notices(_bare(piece)) for piece in pieces]
    if any(noticed):
        pieces, noticed = _gathered(pieces, noticed, goes_on)
    heard = [
        told or finds(outline_of(_bare(piece)), phrases) > 0
        for told, piece in zip(noticed, pieces, strict=True)
    ]
    if len(pieces) < 2 or not any(heard):
        yield sentence
        return
    kept: list[Item] = []
    at = 0
    while at < len(pieces):
        listed = not heard[at] and pieces[at][0].kind is Kind.COMMA and _is_headed_list(kept)
        last = None if listed else _end_of(pieces, heard, at)
        if last is None:
            kept += pieces[at]
            at += 1
            continue
        if any(is_subject(item) or is_place(item) for item in kept):
            yield _bare(tuple(kept))
            kept = []
        yield _bare((*kept, *(item for piece in pieces[at : last + 1] for item in piece)))
        kept = []
        at = last + 1
    if _bare(tuple(kept)):
        yield _bare(tuple(kept))


def _is_headed_list(kept: Sequence[Item]) -> bool:
    """ "ramps: ava, ben": a name behind the next comma is one more of them."""
    colon = any(item.kind is Kind.COLON for item in kept)
    return colon and any(map(is_place, kept)) and _ends_with_name(tuple(kept))


def _whole_pairs(pieces: Sequence[Items], phrases: tuple[str, ...]) -> list[Items]:
    """Pieces that only together hold all of a phrase: "keep mia" / "and ben apart"."""

    def holds(piece: Items) -> int:
        return finds(outline_of(_bare(piece)), phrases)

    out: list[Items] = []
    for piece in pieces:
        if out and piece[0].kind is Kind.AND and _ends_with_name(out[-1]):
            pair = (*out[-1], *piece)
            if not holds(out[-1]) and holds(pair) > holds(piece) > 0:
                out[-1] = pair
                continue
        out.append(piece)
    return out


def _gathered(
    pieces: Sequence[Items], noticed: Sequence[bool], goes_on: Tells
) -> tuple[list[Items], list[bool]]:
    """Pieces that go on with one noticed, before it or behind it, are one piece with it."""
    out: list[Items] = []
    told: list[bool] = []
    for piece, is_noticed in zip(pieces, noticed, strict=True):
        follows = bool(told) and told[-1] and (is_noticed or goes_on(_bare(piece)))
        leads = is_noticed and bool(told) and not told[-1] and goes_on(_bare(out[-1]))
        if follows or (leads and not any(map(is_subject, _flat(out[:-1])))):
            out[-1] = (*out[-1], *piece)
            told[-1] = True
        else:
            out.append(piece)
            told.append(is_noticed)
    return out, told


def _flat(pieces: Sequence[Items]) -> Items:
    return tuple(item for piece in pieces for item in piece)


def _end_of(pieces: Sequence[Items], heard: Sequence[bool], at: int) -> int | None:
    """The last piece of something said apart that begins with this piece; None if none does."""
    last = at
    while last < len(pieces) and not heard[last] and _is_list_of_names(pieces[last]):
        last += 1
    if last == len(pieces) or not heard[last] or (last > at and not _opens_with_name(pieces[last])):
        return None
    ends_with_name = _ends_with_name(pieces[last])
    while last + 1 < len(pieces) and not heard[last + 1]:
        following = pieces[last + 1]
        if not (_goes_on(following) or (ends_with_name and _is_another_name(following))):
            break
        last += 1
    return last


def _pieces(sentence: Items) -> Iterator[Items]:
    """The sentence in pieces, each with the link before it."""
    piece: list[Item] = []
    for item in sentence:
        if item.kind in _LINKS and any(other.kind not in _LINKS for other in piece):
            yield tuple(piece)
            piece = []
        piece.append(item)
    if piece:
        yield tuple(piece)


def _bare(piece: Items) -> Items:
    """A piece without the links at its ends."""
    first, last = 0, len(piece)
    while first < last and piece[first].kind in _LINKS:
        first += 1
    while last > first and piece[last - 1].kind in _LINKS:
        last -= 1
    return piece[first:last]


def _is_list_of_names(piece: Items) -> bool:
    return all(is_subject(i) or i.kind in (*_LINKS, Kind.PLAIN, Kind.MARK) for i in piece) and any(
        map(is_subject, piece)
    )


def _opens_with_name(piece: Items) -> bool:
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK)]
    return bool(said) and is_subject(said[0])


def _ends_with_name(piece: Items) -> bool:
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK)]
    return bool(said) and is_subject(said[-1])


def _is_another_name(piece: Items) -> bool:
    """ "swap mia" / "and ben"."""
    return piece[0].kind in (Kind.AND, Kind.COMMA) and _is_list_of_names(piece)


def _goes_on(piece: Items) -> bool:
    """Days, times, or names behind an "and": they belong to what was said before."""
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK, Kind.AT)]
    if not said or any(is_place(item) or item.kind is Kind.STUDENT for item in said):
        return False
    if all(item.kind in _TIMES for item in said):
        return True
    words = [key for item in said for key in item.keys]
    return any(item.kind in _TIMES for item in said) or _names_hour(words)


def _names_hour(words: Sequence[str]) -> bool:
    """ "be here by 1"."""
    return any(before in _TILL and number.isdecimal() for before, number in pairwise(words))


_TILL = frozenset(("by", "at", "until", "till", "til", "around", "after", "before"))
