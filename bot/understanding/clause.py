"""A clause: a stretch of a text that is read on its own, and how phrases are found in it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from functools import cached_property, lru_cache

from bot.requests import LogVisits, Place, When, Who
from bot.understanding.asks import asks
from bot.understanding.days import VAGUE
from bot.understanding.segments import LINKS, is_place, is_subject
from bot.understanding.senses import How, Item, Kind, Sense
from storage.records import Roster


@dataclass(frozen=True, slots=True)
class Last:
    """The sender's last log: its entry, and what it said in full."""

    entry_id: int
    logs: tuple[LogVisits, ...]


@dataclass(frozen=True)
class Clause:
    """Settled items of one clause, the class they are read against, and when they were sent."""

    items: tuple[Item, ...]
    roster: Roster
    at: datetime
    when: When = field(default_factory=When)  # what the text said of the time before this clause
    spoken_of: tuple[Place, ...] = ()  # bins named before, for "it"
    find_last: Callable[[], Last | None] = lambda: (
        None
    )  # asked only where a correction may be meant
    text: str = ""  # the whole text in normal form; the items' positions refer to it

    @cached_property
    def last(self) -> Last | None:
        """What the sender logged last."""
        return self.find_last()

    @cached_property
    def outline(self) -> str:
        """The clause for phrase matching: words as read, children and bins as <who> and <bin>."""
        return outline_of(self.items)

    @cached_property
    def children(self) -> tuple[Item, ...]:
        """Every item that names children."""
        return tuple(item for item in self.items if is_subject(item))

    @cached_property
    def bins(self) -> tuple[Item, ...]:
        """Every item that names a bin."""
        return tuple(item for item in self.items if is_place(item))

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words as read, in order."""
        return tuple(key for item in self.items for key in item.keys)

    @cached_property
    def word_set(self) -> frozenset[str]:
        """The words as read, each once."""
        return frozenset(self.words)

    @cached_property
    def is_question(self) -> bool:
        """Whether it asks: a question mark, a question word in front, or "did g3 ..."."""
        return asks(self.items)

    @property
    def is_negative(self) -> bool:
        """Whether it speaks of what has not been."""
        said = {key for item in self.items if item.kind is not Kind.NOT for key in item.keys}
        return bool(said & _NEGATIVE) or self.is_denied

    @cached_property
    def is_denied(self) -> bool:
        """Whether a "not" stands in it, but for the one of "... or not"."""
        pairs = zip((None, *self.items), self.items, strict=False)
        return any(
            item.can_be(Kind.NOT) and not (before is not None and before.kind is Kind.OR)
            for before, item in pairs
        )

    def finds(self, phrases: tuple[str, ...]) -> int:
        """The number of words of the longest of these phrases that is in it; 0 if none is."""
        return finds(self.outline, phrases)

    def places(self) -> tuple[Place, ...]:
        """Every bin named beyond doubt."""
        return tuple(dict.fromkeys(place for item in self.bins if (place := place_of(item))))

    def who(self) -> Who:
        """Every child and group named beyond doubt."""
        left_out = [i for i, out in self._with_exceptions() if out]
        meant = [i for i, out in self._with_exceptions() if not out]
        everyone = any(i.kind is Kind.EVERYONE for i in meant)
        groups, students = _ids(meant, Kind.GROUP), _ids(meant, Kind.STUDENT)
        but = _ids(left_out, Kind.GROUP), _ids(left_out, Kind.STUDENT)
        return Who(groups, students, everyone, *but)

    def _with_exceptions(self) -> Iterator[tuple[Item, bool]]:
        """Children in order, each with whether it stands behind an "except"."""
        out = False
        for item in self.items:
            if is_subject(item):
                yield item, out
            elif item.kind in (Kind.EXCEPT, Kind.BUT):
                out = True
            elif is_place(item) or item.kind is Kind.PLUS:
                out = False

    def said_when(self) -> When:
        """The day and the time that the clause, or the text before it, speaks of."""
        return when_of(self.items, self.when)


def outline_of(items: Sequence[Item]) -> str:
    """Items as phrases see them: words as read, children and bins as <who> and <bin>."""
    return " ".join(_outlined(items))


def finds(outline: str, phrases: tuple[str, ...]) -> int:
    """The number of words of the longest of these phrases that is in an outline; 0 if none is."""
    if not phrases or _any_of(phrases).search(outline + " ") is None:
        return 0
    return max(_length(phrase, outline) for phrase in phrases)


_NEGATIVE = frozenset(
    ("not", "hasnt", "havent", "didnt", "never", "missing", "yet", "wasnt", "isnt")
)


def _ids(items: Sequence[Item], kind: Kind) -> tuple[int, ...]:
    found = [i.sense.ids[0] for i in items if i.kind is kind and len(i.sense.ids) == 1]
    return tuple(dict.fromkeys(found))


def place_of(item: Item) -> Place | None:
    """The one place an item names; None where several are meant equally."""
    if item.kind is Kind.COLOR:
        return Place(color=item.sense.word)
    return Place(bin_id=item.sense.ids[0]) if len(item.sense.ids) == 1 else None


def when_of(items: Sequence[Item], before: When) -> When:
    """What these items say of day and time, filled up with what was said before."""
    days = [item.sense for item in items if item.kind is Kind.DAY]
    when = before if not days else _day_of(days, before)
    for item in items:
        value = item.sense.value
        if item.kind is Kind.TIME and isinstance(value, time):
            when = replace(when, starts=value, slot=None)
        elif item.kind is Kind.SLOT and isinstance(value, int):
            when = replace(when, starts=None, slot=value)
    return when


def _day_of(days: Sequence[Sense], before: When) -> When:
    told = tuple(dict.fromkeys(d.value for d in days if isinstance(d.value, date)))
    vague = any(day.word == VAGUE for day in days)
    if vague or len(told) > 1:
        return replace(before, day=None, unsure=True, maybe=_maybe(days, told))
    return replace(before, day=told[0] if told else None, unsure=False, maybe=())


def _maybe(days: Sequence[Sense], told: tuple[date, ...]) -> tuple[date, ...]:
    """ "tuesday", sent on a Tuesday: today, or the one a week before."""
    if len(told) == 1 and days[0].word == VAGUE:
        return (told[0] - timedelta(days=7), told[0])
    return tuple(sorted(told))


def _outlined(items: Sequence[Item]) -> Iterator[str]:
    previous = ""
    for at, item in enumerate(items):
        if item.kind in LINKS and previous in ("<who>", "<bin>") and _goes_on(items, at, previous):
            continue
        if is_subject(item):
            word = "<who>"
        elif is_place(item):
            word = "<bin>"
        elif item.kind is Kind.DAY:
            word = "<day>"
        elif item.kind in (Kind.TIME, Kind.SLOT):
            word = "<time>"
        elif item.kind is Kind.NUMBER:
            word = item.keys[0]
        elif (
            item.kind in (Kind.MARK, Kind.COMMA, Kind.QUERY, Kind.COLON) and not item.text.isalpha()
        ):
            continue
        else:
            mended = item.sense.how is How.CLOSE and item.kind is not Kind.KEY
            word = item.sense.word if mended else " ".join(item.keys)
        if word == previous and word in ("<who>", "<bin>"):
            continue
        previous = word
        yield word


def _goes_on(items: Sequence[Item], at: int, listed: str) -> bool:
    """Whether a list of children (or bins) goes on behind this link."""
    after = items[at + 1] if at + 1 < len(items) else None
    return after is not None and (is_subject(after) if listed == "<who>" else is_place(after))


@lru_cache(maxsize=256)
def _any_of(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """All phrases of a listener at once: most texts hold none of them."""
    return re.compile("|".join(_pattern(phrase).pattern for phrase in phrases))


@lru_cache(maxsize=1024)
def _pattern(phrase: str) -> re.Pattern[str]:
    """A phrase as a regular expression over an outline.

    Words stand in order; `a|b` are alternatives, `word?` may be missing, `...` spans up to three
    words, `^` and `$` are the ends of the clause.
    """
    parts = []
    for word in phrase.split():
        if word == "...":
            parts.append(r"(?:\S+ ){0,3}?")
        elif word == "^":
            parts.append(r"^")
        elif word == "$":
            parts.append(r"$")
        else:
            optional = word.endswith("?")
            options = "|".join(re.escape(option) for option in word.rstrip("?").split("|"))
            parts.append(rf"(?:(?:{options}) ){'?' if optional else ''}")
    return re.compile(r"(?:^|(?<= ))" + "".join(parts))


def _length(phrase: str, outline: str) -> int:
    match = _pattern(phrase).search(outline + " ")
    return 0 if match is None else max(1, len(match[0].split()))
