"""The words of a clause as signs: amounts, items, bins, children, days, cues."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from bot.classroom.stints import stint_in
from bot.understanding.clause import Clause
from bot.understanding.lexicon import LEXICON
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import How, Item, Kind
from bot.understanding.supplies.amounts import amount_at
from bot.understanding.supplies.cues import CUES, LONGEST_CUE, Cue
from bot.understanding.supplies.kit import (
    CLOSE,
    GENERIC,
    PART,
    Called,
    Kit,
    kit_of,
)
from bot.understanding.supplies.settling import settled
from bot.understanding.supplies.signs import Is, Sign
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token, tokenise

PACKS = frozenset((
    "pack", "packs", "packet", "packets", "package", "packages", "pkg", "pkgs", "box", "boxes",
    "bag", "bags", "ream", "reams", "case", "cases", "carton", "cartons", "sleeve", "sleeves",
    "bundle", "bundles", "bottle", "bottles", "jar", "jars", "set", "sets", "roll", "rolls",
    "container", "containers", "batch", "batches", "can", "cans", "tray", "trays", "stack",
))  # fmt: skip
FAMILY = frozenset((
    "mom", "moms", "mum", "mommy", "mother", "dad", "dads", "daddy", "father", "parent", "parents",
    "family", "families", "grandma", "grandmas", "grandpa", "granny", "nana", "abuela", "aunt",
    "auntie", "uncle", "sister", "brother", "folks", "house", "pta", "pto",
))  # fmt: skip
COUNT_WORDS = frozenset(("ct", "count", "pc", "pcs"))  # "a 50 ct box"
HEADINGS = frozenset(("inventory", "stock", "supplies", "supply", "recount", "kit", "tally"))
TUBS = frozenset(("tub", "tubs", "bucket", "buckets", "tray", "trays", "baggie", "baggies"))
_LINKS = frozenset((
    ",", "and", "&", "plus", "but", "also", ";", "then", "n", "so", "because", "bc", "cuz", "(",
    ")",
))  # fmt: skip
_SHORTLY = 160  # characters


def signs_of(clause: Clause) -> tuple[Sign, ...]:
    """The signs of a clause, in order."""
    tokens = _tokens(clause)
    found = tuple(_Tagging(clause, tokens).signs())
    return tuple(settled(found))


def items_before(clause: Clause) -> tuple[Sign, ...]:
    """The item named last in the text shortly before a clause."""
    start = clause.items[0].start if clause.items else 0
    before = tokenise(clause.text[max(0, start - _SHORTLY) : start])
    kit = kit_of(clause.roster)
    words = [t.owned or t.key for t in before]
    last: tuple[Sign, ...] = ()
    at = 0
    while at < len(words):
        found = kit.look_up(words[at:]) if before[at].kind is Shape.WORD else None
        if found is not None and found.how not in (GENERIC, CLOSE):
            key = " ".join(words[at : at + found.width])
            last = (Sign(Is.ITEM, key, key, ids=found.ids, how=found.how),)
        at += found.width if found is not None else 1
    return last


def _tokens(clause: Clause) -> tuple[Token, ...]:
    """The clause as it was typed; a minus before its first word belongs to it."""
    if not clause.items or not clause.text:
        return ()
    start, end = clause.items[0].start, clause.items[-1].end
    while start > 0 and clause.text[start - 1] in "-−":
        start -= 1
    tokens = tokenise(clause.text[start:end])
    return tuple(
        replace(t, start=t.start + start, end=t.end + start)
        for t in tokens
        if t.kind is not Shape.BREAK
    )


class _Tagging:
    """Walks over the tokens of a clause, the longest stretch that means something first."""

    def __init__(self, clause: Clause, tokens: Sequence[Token]) -> None:
        self._clause = clause
        self._tokens = tokens
        self._kit: Kit = kit_of(clause.roster)
        self._item_at = [self._item_of(token) for token in tokens]

    def _item_of(self, token: Token) -> Item | None:
        return next(
            (i for i in self._clause.items if i.start <= token.start and token.end <= i.end), None
        )

    def signs(self) -> Iterator[Sign]:
        at = 0
        while at < len(self._tokens):
            sign, width = self._next(at)
            yield sign
            at += width

    def _next(self, at: int) -> tuple[Sign, int]:
        item = self._item_at[at]
        day = self._whole(at, item) if item is not None and item.kind is Kind.DAY else 0
        if day:
            return self._sign(Is.DAY, at, day), day
        called = self._called(at)
        cue, cue_width = self._cue(at)
        place = self._place(at, item)
        is_weak = place is not None and place[0].sense.how.value >= How.PART.value
        is_cue = is_weak and place is not None and cue_width > place[1]
        if place is not None and not is_cue and not _is_rather_item(place[0], called):
            return self._place_or_item(at, place, called)
        if called is not None and called.how != CLOSE and called.width >= cue_width:
            return self._named(at, called, item)
        amount = amount_at(self._tokens, at)
        if amount is not None and cue_width <= amount.width and not self._is_who(item, at):
            return self._sign(Is.AMOUNT, at, amount.width, amount=amount), amount.width
        if cue is not None and not self._goes_home(cue, at + cue_width):
            return self._sign(Is.CUE, at, cue_width, cue=cue), cue_width
        return self._other(at, item, called)

    def _other(self, at: int, item: Item | None, called: Called | None) -> tuple[Sign, int]:
        token = self._tokens[at]
        if token.key in FAMILY or self._has_family(at, item):
            return self._sign(Is.WORD, at, 1), 1
        if item is not None and self._is_who(item, at):
            if called is not None and item.sense.how is How.CLOSE:
                return self._sign(Is.ITEM, at, 1, ids=called.ids, how=called.how), 1
            width = self._whole(at, item) or 1
            return self._sign(Is.WHO, at, width, is_also_item=called is not None), width
        if called is not None:
            return self._sign(Is.ITEM, at, 1, ids=called.ids, how=called.how), 1
        if token.key in PACKS:
            return self._sign(Is.PACK, at, 1), 1
        if token.key in TUBS:
            return self._sign(Is.TUB, at, 1), 1
        if token.key in _LINKS:
            return self._sign(Is.LINK, at, 1), 1
        known = token.kind is not Shape.WORD or (token.key,) in LEXICON or token.key in HEADINGS
        return self._sign(Is.WORD if known else Is.STRANGE, at, 1), 1

    def _named(self, at: int, called: Called, item: Item | None) -> tuple[Sign, int]:
        """An item, unless its word is a child's name before all."""
        if item is not None and called.width == 1 and self._is_exact_child(item):
            return self._sign(Is.WHO, at, 1, ids=called.ids, is_also_item=True), 1
        sign = self._sign(Is.ITEM, at, called.width, ids=called.ids, how=called.how)
        return sign, called.width

    def _place_or_item(
        self, at: int, place: tuple[Item, int], called: Called | None
    ) -> tuple[Sign, int]:
        item, width = place
        color = item.get(Kind.COLOR)
        named = item.get(Kind.BIN)
        bins = named.ids if named is not None else ()
        of_it = at > 0 and self._tokens[at - 1].key == "of"  # "out of dough"
        loosely = called is not None and called.how in (PART, GENERIC) and not of_it
        if not bins and color is not None:
            stint = stint_in(self._clause.roster, color.word, self._clause.at.date())
            bins = () if stint is None else (stint.bin_id,)
        both = called is not None and called.width == width and named is not None
        if both and called is not None and not loosely:
            return self._sign(
                Is.EITHER, at, width, ids=called.ids, how=called.how, bins=bins
            ), width
        return self._sign(Is.BIN, at, width, bins=bins, is_color=not named), width

    def _called(self, at: int) -> Called | None:
        """A supply named here; a word nobody knows may be a slip of one."""
        token = self._tokens[at]
        if token.kind is not Shape.WORD:
            return None
        ahead = []
        for other in self._tokens[at:]:
            if other.kind is not Shape.WORD:
                break
            ahead.append(other.owned or other.key)
        found = self._kit.look_up(ahead)
        if found is not None or (token.key,) in LEXICON:
            return found
        item = self._item_at[at]
        is_known = item is not None and item.can_be(
            Kind.BIN, Kind.COLOR, Kind.STUDENT, Kind.GROUP, Kind.STATION
        )
        if is_known and item is not None and item.sense.how is not How.CLOSE:
            return None
        return self._kit.nearest(token.key)

    def _cue(self, at: int) -> tuple[Cue | None, int]:
        keys = tuple(token.key for token in self._tokens[at : at + LONGEST_CUE])
        for width in range(len(keys), 0, -1):
            if keys[:width] in CUES:
                return CUES[keys[:width]], width
        return None, 0

    def _goes_home(self, cue: Cue, ahead: int) -> bool:
        """ "3 left early": children who left, not what is left."""
        after = self._tokens[ahead].key if ahead < len(self._tokens) else ""
        return cue is Cue.LEFT and after in ("early", "sick", "home", "with", "school", "class")

    def _place(self, at: int, item: Item | None) -> tuple[Item, int] | None:
        if item is None or not is_place(item) or self._tokens[at].key in COUNT_WORDS:
            return None
        width = self._whole(at, item)
        return (item, width) if width else None

    def _is_who(self, item: Item | None, at: int) -> bool:
        """Children named in words; a bare number is an amount here."""
        if item is None or not is_subject(item):
            return False
        return self._tokens[at].kind is Shape.WORD and not item.can_be(Kind.NUMBER)

    def _has_family(self, at: int, item: Item | None) -> bool:
        """ "mia's mom", "theos family": not the child."""
        if item is None or item.kind is not Kind.STUDENT:
            return False
        last = max(n for n, other in enumerate(self._item_at) if other is item)
        return last + 1 < len(self._tokens) and self._tokens[last + 1].key in FAMILY

    def _is_exact_child(self, item: Item) -> bool:
        return item.kind is Kind.STUDENT and item.sense.how is not How.CLOSE

    def _whole(self, at: int, item: Item) -> int:
        """How many tokens the item takes, if it begins here."""
        if self._tokens[at].start > item.start and at and self._item_at[at - 1] is item:
            return 0
        return sum(other is item for other in self._item_at[at:])

    def _sign(self, what: Is, at: int, width: int, **more: object) -> Sign:
        span = self._tokens[at : at + width]
        text = " ".join(token.text for token in span)
        key = " ".join(token.key for token in span)
        return Sign(what, text, key, **more)  # type: ignore[arg-type]  # fields of Sign by name


def _is_rather_item(place: Item, called: Called | None) -> bool:
    """ "plates", where Planes is a bin and paper plates are supplies."""
    if called is None:
        return False
    weak = place.sense.how in (How.CLOSE, How.RELATED) and called.how != CLOSE
    return weak or called.width > len(place.keys)
