"""Segments: one thing a sentence says, and the words that stand for children, bins and moods."""

from __future__ import annotations

from dataclasses import dataclass, field

from bot.understanding.senses import Item, Kind

SUBJECT = (Kind.GROUP, Kind.STUDENT, Kind.EVERYONE, Kind.REST)


PLACE = (Kind.BIN, Kind.COLOR)


LINKS = (Kind.AND, Kind.COMMA, Kind.PLUS, Kind.OR)


_MOODS = (
    Kind.NOT,
    Kind.STARTED,
    Kind.PARTIAL,
    Kind.MISSED,
    Kind.DOUBT,
    Kind.IF,
    Kind.FUTURE,
)


@dataclass(slots=True)
class Segment:
    """One thing said: the items of each part, in the order they stood."""

    who: list[Item] = field(default_factory=list)
    places: list[Item] = field(default_factory=list)
    excepted: list[Item] = field(default_factory=list)
    moods: list[Kind] = field(default_factory=list)  # before or inside the core: they govern it
    doubts: list[Item] = field(default_factory=list)  # behind it: they make it doubtful
    names: list[Item] = field(default_factory=list)  # unknown words where a name is expected
    unknown: list[Item] = field(default_factory=list)  # unknown words that may matter
    asides: list[Item] = field(default_factory=list)  # children something unreadable is said of
    days: list[Item] = field(default_factory=list)
    times: list[Item] = field(default_factory=list)
    verbs: list[Item] = field(default_factory=list)
    both: bool = False  # "both sofias"
    open_exception: bool = False  # "except one": whom?
    either_who: bool = False  # "g3 or g4"
    either_place: bool = False  # "ramps or balance"
    more: bool = False  # "g4 too"
    after_but: bool = False  # "but mia did magnets": she was not with her group
    loose: bool = False  # part of it stands where it could belong elsewhere

    @property
    def is_whole(self) -> bool:
        """Whether it has both children and a bin."""
        return bool(self.who and self.places)


def is_subject(item: Item) -> bool:
    """Whether an item names children."""
    return item.kind in SUBJECT


def is_place(item: Item) -> bool:
    """Whether an item names a bin."""
    return item.kind in PLACE


def is_mention(item: Item) -> bool:
    """Whether an item names children or a bin."""
    return is_subject(item) or is_place(item)


def mood_of(item: Item) -> Kind | None:
    """What a word does to the sentence it stands in; None for a word that does nothing to it."""
    if item.can_be(Kind.PLAIN, Kind.DID):
        return None
    return next((kind for kind in _MOODS if item.can_be(kind)), None)
