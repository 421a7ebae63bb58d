"""Parts: one thing said of supplies each, in the order said; a part fills up from neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from bot.understanding.lexicon import LEXICON
from bot.understanding.senses import Kind
from bot.understanding.supplies.amounts import Amount
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.kit import NAMED
from bot.understanding.supplies.signs import Is, Sign
from bot.understanding.supplies.words import HEADINGS, PACKS

_COUNTED_OTHERS = frozenset((
    "kid", "kids", "child", "children", "student", "students", "friend", "friends", "people",
    "kiddos", "boys", "girls", "group", "groups", "team", "teams", "class", "classes", "minute",
    "minutes", "min", "mins", "hour", "hours", "day", "days", "week", "weeks", "month", "months",
    "time", "times", "turn", "turns", "rotation", "rotations", "round", "rounds", "dollars",
    "bucks", "percent", "%", "$", "inches", "feet", "tables", "seats", "pm", "am", "oclock",
    "visits", "more kids", "th", "nd", "rd", "st",
))  # fmt: skip
_TIME = frozenset((
    "week", "day", "minute", "min", "hour", "month", "rotation", "round", "turn", "time",
))  # fmt: skip
_UNITS = frozenset(("sheet", "sheets", "page", "pages", "piece", "pieces", "copy", "copies"))
_SMALL = (
    Kind.BIN_WORD,
    Kind.PLAIN,
    Kind.AT,
    Kind.AND,
    Kind.BUT,
    Kind.COLON,
    Kind.UNIT,
    Kind.EVERYONE,
)
_PAIR = 2
BACK = frozenset(("them", "those", "these", "they", "theyre", "it", "its", "ones", "one"))


@dataclass(slots=True)
class Part:
    """Signs between two links, sorted; `refers` where its items are those of a part before."""

    signs: list[Sign]
    cues: list[Cue] = field(default_factory=list)
    items: list[Sign] = field(default_factory=list)
    bins: list[Sign] = field(default_factory=list)
    amounts: list[tuple[int, Amount]] = field(default_factory=list)  # with where they stand
    who: list[Sign] = field(default_factory=list)
    strange: list[Sign] = field(default_factory=list)
    has_pack: bool = False
    tub: int | None = None
    says_tub: bool = False
    counts_time: bool = False  # "another week"
    refers: bool = False
    total: Amount | None = None  # "2 boxes of packets, 50"

    @property
    def has_thing(self) -> bool:
        """Whether it names or counts anything of a kit."""
        return bool(self.items or self.amounts)

    @property
    def has_number(self) -> bool:
        """Whether a number is said, not only "a" or "some"."""
        return any(a.value is not None and not a.is_article for _, a in self.amounts)

    @property
    def is_plain(self) -> bool:
        """Whether its other words change nothing: "of them", "we now"."""
        return not self.strange and all(map(_is_small, self.signs))

    def says(self, *cues: Cue) -> bool:
        """Whether one of these is said."""
        return any(cue in self.cues for cue in cues)

    def is_fragment(self) -> bool:
        """Only amounts, items and bins: what happened to them is said elsewhere."""
        names = bool(self.items or self.bins)
        return not self.cues and not self.who and names and self.is_plain

    def looks_back(self) -> bool:
        """Names nothing, but counts or speaks of what was named: "3 left", "12 of them"."""
        if self.items or self.bins or self.who or not self.is_plain:
            return False
        points = any(set(s.key.split()) & BACK for s in self.signs)
        points = points or self.says(Cue.LEFT, Cue.TOTAL)
        points = points or self.signs[0].cue in (Cue.LOST, Cue.DISCARD)  # "and shattered"
        return self.has_number or (points and bool(self.cues or self.amounts))


def _is_small(sign: Sign) -> bool:
    if sign.what is not Is.WORD:
        return True
    kinds = LEXICON.get((sign.key,), ())
    plain = sign.key in HEADINGS or sign.key in ("check", "total", "amount", "number")
    return plain or not any(c.isalnum() for c in sign.key) or bool(set(kinds) & set(_SMALL))


def pieces(signs: Sequence[Sign]) -> Iterator[list[Sign]]:
    """The signs between links, and between pairs of item and number."""
    piece: list[Sign] = []
    for sign in signs:
        if sign.what is Is.LINK:
            yield from _pairs(piece)
            piece = []
        else:
            piece.append(sign)
    yield from _pairs(piece)


def _pairs(piece: list[Sign]) -> Iterator[list[Sign]]:
    """ "mallets 5 shells 14", "5 mallets 14 shells": cut before each pair."""
    told = [s for s in piece if s.what is Is.ITEM or (s.what is Is.AMOUNT and not _is_article(s))]
    kinds = [s.what for s in told]
    by_turns = all(a is not b for a, b in pairwise(kinds)) and len(kinds) > _PAIR
    leads = bool(kinds) and kinds[0] is Is.ITEM
    units = not leads and any(s.key in _UNITS or s.key in PACKS for s in told)
    if not by_turns or len(kinds) % 2 or units or any(s.what is Is.PACK for s in piece):
        yield piece
        return
    starts = [piece.index(s) for s in told if s.what is kinds[0]][1:]
    for first, last in pairwise((0, *starts, len(piece))):
        yield piece[first:last]


def _is_article(sign: Sign) -> bool:
    return sign.amount is not None and sign.amount.is_article


def sorted_part(signs: list[Sign]) -> Part:
    """A part with its signs sorted by what they are."""
    signs = _with_units(signs)
    part = Part(signs)
    for at, sign in enumerate(signs):
        if sign.what is Is.AMOUNT and sign.amount is not None:
            if at and signs[at - 1].what is Is.TUB and not sign.amount.is_article:
                part.tub = int(sign.amount.value or 0)
            elif _counts_others(signs, at):
                part.counts_time = part.counts_time or _counts_time(signs, at)
            elif not (at and signs[at - 1].cue is Cue.NOT):  # "6, not 5"
                part.amounts.append((at, sign.amount))
        elif sign.what is Is.ITEM:
            part.items.append(sign)
        elif sign.what is Is.BIN:
            part.bins.append(sign)
        elif sign.what is Is.WHO:
            part.who.append(sign)
        elif sign.what is Is.STRANGE:
            part.strange.append(sign)
        elif sign.what is Is.CUE and sign.cue is not None and not _is_not_number(signs, at):
            part.cues.append(sign.cue)
        part.has_pack = part.has_pack or sign.what is Is.PACK
        part.says_tub = part.says_tub or sign.what is Is.TUB
    drop_articles(part)
    return part


def _is_not_number(signs: Sequence[Sign], at: int) -> bool:
    """The "not" of "6, not 5"."""
    after = signs[at + 1] if at + 1 < len(signs) else None
    is_number = after is not None and after.what is Is.AMOUNT and not _is_article(after)
    return signs[at].cue is Cue.NOT and signs[at].key == "not" and is_number


def _with_units(signs: list[Sign]) -> list[Sign]:
    """ "20 sheets of plane paper", "a bag of marbles": what only counts the item that is named."""
    if not any(s.what is Is.ITEM and s.how == NAMED for s in signs):
        return signs
    return [
        replace(sign, what=Is.PACK if sign.key in PACKS else Is.WORD, ids=())
        if sign.what is Is.ITEM and sign.how != NAMED and sign.key in (*PACKS, *_UNITS)
        else sign
        for sign in signs
    ]


def _counts_others(signs: Sequence[Sign], at: int) -> bool:
    """ "not enough for 3 kids": no amount of a supply."""
    ahead = [s for s in signs[at + 1 : at + 3] if s.cue is not Cue.MORE]
    return bool(ahead) and ahead[0].what is Is.WORD and ahead[0].key in _COUNTED_OTHERS


def _counts_time(signs: Sequence[Sign], at: int) -> bool:
    """ "ice needs another week"."""
    return any(s.key.rstrip("s") in _TIME for s in signs[at + 1 : at + 3])


def drop_articles(part: Part) -> None:
    """ "a" counts one only where no number is said and an item (or a pack) follows it; "some" only
    where nothing else counts."""
    if part.has_number:
        part.amounts = [
            pair for pair in part.amounts if not (pair[1].is_article or _is_some(part.signs, *pair))
        ]
        return
    part.amounts = [
        (at, amount)
        for at, amount in part.amounts
        if not amount.is_article or _counts(part.signs, at)
    ]


def _is_some(signs: Sequence[Sign], at: int, amount: Amount) -> bool:
    return amount.value is None and signs[at].key.isalpha() and signs[at].key != "half"


def _counts(signs: Sequence[Sign], at: int) -> bool:
    ahead = [s for s in signs[at + 1 : at + 4] if s.what is not Is.CUE]
    return any(s.what in (Is.ITEM, Is.PACK) for s in ahead[:2])
