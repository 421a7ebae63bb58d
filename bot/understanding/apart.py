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
Notices = Callable[[Items], int]  # who notices: above 0 where what goes on belongs to it, 0 nobody
GoesOn = Callable[[Items, int], bool]


def cut_apart(
    sentence: Items, phrases: tuple[str, ...], notices: Notices, goes_on: GoesOn, other: Tells
) -> Iterator[Items]:
    """Cut the pieces of a sentence that hold one of these phrases (or are noticed) out of it.

    Pieces end at links. One that holds a phrase takes in the names listed before it ("theo and dara
    are out"), the days listed behind it, and what is said on of the same children ("theo has a
    fever, went home at 10"); what is left hangs together as it did. What goes on with a piece
    noticed ("put 20 sheets in ramps and 10 in balance") stays with it. `other` tells a piece that
    asks for something else ("theo is out, plan today please").
    """
    pieces = _with_their_subject(_whole_pairs(list(_pieces(sentence)), phrases), phrases)
    if len(pieces) < 2:
        yield sentence
        return
    noticed = [notices(_bare(piece)) for piece in pieces]
    if any(noticed):
        pieces, noticed = _gathered(pieces, noticed, goes_on)
    heard = [
        bool(told) or finds(outline_of(_bare(piece)), phrases) > 0
        for told, piece in zip(noticed, pieces, strict=True)
    ]
    if len(pieces) < 2 or not any(heard):
        yield sentence
        return
    kept: list[Item] = []
    at = 0
    while at < len(pieces):
        listed = not heard[at] and pieces[at][0].kind is Kind.COMMA and _is_headed_list(kept)
        last = None if listed else _end_of(pieces, heard, at, other)
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


def _with_their_subject(pieces: Sequence[Items], phrases: tuple[str, ...]) -> list[Items]:
    """Pieces that name nobody but go on about the children named before them: "ben threw up" /
    "and went home", "ben has covid" / "he is out all week"."""
    out: list[Items] = []
    for piece in pieces:
        before = out[-1] if out else ()
        if before and (_only_times_it(before, piece) or _is_with(before, piece)):
            out[-1] = (*before, *piece)
            continue
        about = [item for item in before if is_subject(item)]
        if about and not any(map(is_place, (*before, *piece))) and _lacks_subject(piece, phrases):
            out[-1] = (*before, *piece)
        else:
            out.append(piece)
    return out


def _is_with(before: Items, piece: Items) -> bool:
    """ "swap mia" / "with ben": no bin is near, so nobody is logged along with somebody."""
    if any(map(is_place, (*before, *piece))) or piece[0].kind is not Kind.PLUS:
        return False
    return piece[0].keys[:1] in (("with",), ("w",)) and any(map(is_subject, before))


def _only_times_it(before: Items, piece: Items) -> bool:
    """ "late start tomorrow" / "school begins at ten": the day in one, the time in the other."""
    if any(is_subject(item) or is_place(item) for item in (*before, *piece)):
        return False
    days, times = ({i.kind for i in part} & {*_TIMES} for part in (before, piece))
    words = {key for item in before for key in item.keys}
    return days == {Kind.DAY} and times == {Kind.TIME} and bool(words & _NOT_AS_USUAL)


_NOT_AS_USUAL = frozenset(("early", "late", "delay", "delayed", "half"))


def _lacks_subject(piece: Items, phrases: tuple[str, ...]) -> bool:
    """Whether a piece would hold a phrase if only the children stood before it."""
    if any(map(is_subject, piece)):
        return False
    said = _bare(piece)
    if said and _goes_on_about(said, phrases):
        return True
    opening = next((at for at, item in enumerate(said) if item.keys[:1] in _PRONOUNS), 0)
    led = all(item.kind is Kind.PLAIN for item in said[:opening])
    return 0 < opening + 1 < len(said) and led and _goes_on_about(said[opening + 1 :], phrases)


def _goes_on_about(said: Items, phrases: tuple[str, ...]) -> bool:
    outline = outline_of(said)
    return finds(f"<who> {outline}", phrases) > finds(outline, phrases)


_PRONOUNS = (("she",), ("he",), ("they",), ("shes",), ("hes",), ("theyre",), ("both",), ("so",))


def _gathered(
    pieces: Sequence[Items], noticed: Sequence[int], goes_on: GoesOn
) -> tuple[list[Items], list[int]]:
    """Pieces that go on with one noticed, before it or behind it, are one piece with it."""
    out: list[Items] = []
    told: list[int] = []
    for piece, by in zip(pieces, noticed, strict=True):
        last = told[-1] if told else 0
        follows = last > 0 and (by == last or (by <= 0 and goes_on(_bare(piece), last)))
        leads = by > 0 and bool(told) and last <= 0 and goes_on(_bare(out[-1]), by)
        if follows or (leads and not any(map(is_subject, _flat(out[:-1])))):
            out[-1] = (*out[-1], *piece)
            told[-1] = last if last > 0 else by
        else:
            out.append(piece)
            told.append(by)
    return out, told


def _flat(pieces: Sequence[Items]) -> Items:
    return tuple(item for piece in pieces for item in piece)


def _end_of(pieces: Sequence[Items], heard: Sequence[bool], at: int, other: Tells) -> int | None:
    """The last piece of something said apart that begins with this piece; None if none does."""
    last = at
    while last < len(pieces) and not heard[last] and _leads_to(pieces, last):
        last += 1
    if last == len(pieces) or not heard[last] or (last > at and not _opens_with_name(pieces[last])):
        return None
    ends_with_name = _ends_with_name(pieces[last])
    while last + 1 < len(pieces) and not heard[last + 1]:
        following = pieces[last + 1]
        if _is_added(following) or _ends_range(pieces[last], following):
            last += 1
            continue
        if not _is_time(following) and other(_bare(following)):
            break
        if not (_goes_on(following) or (ends_with_name and _is_another_name(following))):
            break
        last += 1
    return last


def _pieces(sentence: Items) -> Iterator[Items]:
    """The sentence in pieces, each with the link before it."""
    piece: list[Item] = []
    for at, item in enumerate(sentence):
        links = item.kind in _LINKS or (
            item.keys == ("so",) and any(map(is_subject, piece)) and _tells_anew(sentence[at + 1 :])
        )
        following = sentence[at + 1] if at + 1 < len(sentence) else None
        if item.keys in _TRAILING:
            links = False  # "mia is out, ben too"
        if item.keys == ("an",) and (following is None or not is_subject(following)):
            links = False  # "has an appointment"
        if links and any(other.kind not in _LINKS for other in piece):
            yield tuple(piece)
            piece = []
        piece.append(item)
    if piece:
        yield tuple(piece)


_TRAILING = (("too",), ("either",), ("as", "well"))


def _tells_anew(rest: Items) -> bool:
    """Whether what stands behind a "so" is told of somebody, or of no rotation: not "so proud"."""
    said = [item for item in rest[:4] if item.kind not in (Kind.PLAIN, Kind.MARK)]
    if not said:
        return False
    sends = said[0].can_be(Kind.FUTURE) and any(map(is_subject, said[1:]))
    return is_subject(said[0]) or said[0].can_be(Kind.NOT) or sends


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


def _leads_to(pieces: Sequence[Items], at: int) -> bool:
    """Whether a piece only names some of those whom the next one tells of: "ava", "the office said
    that ava" before "and ben are out"; hardly "i like ava" before "and ben is out"."""
    piece, following = pieces[at], pieces[at + 1] if at + 1 < len(pieces) else ()
    if _is_list_of_names(piece):
        return True
    links = (Kind.AND, Kind.COMMA)
    if not (_ends_with_name(piece) and following and following[0].kind in links):
        return False
    if any(is_place(item) or item.can_be(Kind.DID) for item in piece):
        return False
    if _is_list_of_names(following):
        return _leads_to(pieces, at + 1)
    if _only_leads_up(piece):
        return True
    return any(item.keys[:1] in _PLURAL for item in following)


def _only_leads_up(piece: Items) -> bool:
    """ "the bus is late so ava": right before the name stands nothing that could take it."""
    first = next((at for at, item in enumerate(piece) if is_subject(item)), 0)
    before = piece[first - 1] if first else None
    return before is not None and before.keys[-1:] in (("so",), ("that",), ("says",), ("hi",))


_PLURAL = (("are",), ("were",), ("both",), ("all",), ("r",), ("have",), ("arent",), ("werent",))


def _opens_with_name(piece: Items) -> bool:
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK)]
    return bool(said) and is_subject(said[0])


def _ends_with_name(piece: Items) -> bool:
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK)]
    return bool(said) and is_subject(said[-1])


def _ends_range(piece: Items, following: Items) -> bool:
    """ "gone between ten" / "and eleven"."""
    opens = any("between" in item.keys for item in piece)
    return (
        opens and _bare(following)[:1] != () and _bare(following)[0].can_be(Kind.NUMBER, Kind.TIME)
    )


def _is_added(piece: Items) -> bool:
    """ "mark is absent" / "and so is may"."""
    if piece[0].kind not in (Kind.AND, Kind.COMMA, Kind.PLUS) or not any(map(is_subject, piece)):
        return False
    added = any(item.keys in _ADDING for item in piece)
    rest = tuple(item for item in piece if item.keys not in _ADDING and item.keys != ("is",))
    return added and _is_list_of_names(rest)


_ADDING = (
    ("too",), ("also",), ("as", "well"), ("either",), ("so", "is"), ("so", "are"), ("as",),
    ("and", "also"), ("neither",), ("likewise",), ("ditto",),
)  # fmt: skip


def _is_another_name(piece: Items) -> bool:
    """ "swap mia" / "and ben"."""
    named = tuple(item for item in piece if item.kind not in _TIMES and item.keys != ("for",))
    return piece[0].kind in (Kind.AND, Kind.COMMA) and _is_list_of_names(named)


def _is_time(piece: Items) -> bool:
    """ "and friday next week": days and times and nothing else."""
    said = [item for item in piece if item.kind not in (*_LINKS, Kind.PLAIN, Kind.MARK, Kind.AT)]
    return bool(said) and all(
        item.kind in _TIMES or set(item.keys) <= _BESIDE_DAYS for item in said
    )


_BESIDE_DAYS = frozenset(
    ("next", "this", "week", "all", "the", "morning", "afternoon", "till", "until")
)


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
