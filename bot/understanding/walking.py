"""Walking along a sentence: what stands ahead, lists of children or bins, the segment in hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.understanding.segments import LINKS, Segment, is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind


def _means_something(item: Item) -> bool:
    return item.kind not in (Kind.PLAIN, Kind.MARK, Kind.GROUP_WORD)


def _next_positions(items: Sequence[Item], fits: Callable[[Item], bool]) -> list[int | None]:
    """For each position, that of the next item that fits, itself included."""
    positions: list[int | None] = [None] * len(items)
    found: int | None = None
    for at in range(len(items) - 1, -1, -1):
        found = at if fits(items[at]) else found
        positions[at] = found
    return positions


@dataclass(slots=True)
class Run:
    """Children (or bins) listed one after the other."""

    items: list[Item]
    links: list[Kind | None]  # before each item but the first
    end: int

    @property
    def has_or(self) -> bool:
        return Kind.OR in self.links


class Walk:
    """Where a walk along a sentence stands, and what it sees from there."""

    def __init__(self, items: Sequence[Item]) -> None:
        self._items = items
        self._meanings = _next_positions(items, _means_something)
        self._mentions = _next_positions(items, is_mention)
        first = next((i for i in items if is_subject(i) or is_place(i)), None)
        self._who_first = first is None or is_subject(first)
        self._segments: list[Segment] = []
        self._waiting = Segment()  # what stood before the segment it belongs to
        self._link: Kind | None = None
        self._mode: Kind | None = None  # EXCEPT or PLUS, until the next list of children
        self._chunk_words = 0  # words since the last link behind a whole segment
        self._in_reason = False
        self._slip = False  # "i mean", "sorry": what comes next puts right what came before
        self._skips_place = False  # "not balance": the bins named next are none of it
        self._verb_since_place = False
        self._behind_dash_now = False

    @property
    def _current(self) -> Segment | None:
        return self._segments[-1] if self._segments else None

    def _target(self) -> Segment:
        """A word belongs to the segment before it, unless a link has opened the next one."""
        current = self._current
        if current is None or (self._link is not None and current.is_whole):
            return self._waiting
        return current

    def _next_meaning(self, at: int) -> Item | None:
        return self._at(self._meanings, at)

    def _mention_after(self, at: int) -> Item | None:
        return self._at(self._mentions, at)

    def _at(self, positions: Sequence[int | None], at: int) -> Item | None:
        position = positions[at] if at < len(positions) else None
        return None if position is None else self._items[position]

    def _behind_meaning(self, at: int) -> int:
        """The position behind the next item that means something."""
        position = self._meanings[at] if at < len(self._meanings) else None
        return len(self._items) if position is None else position + 1

    def _is_place_next(self, at: int) -> bool:
        following = self._mention_after(at)
        return following is not None and is_place(following)

    def _is_subject_next(self, at: int) -> bool:
        following = self._mention_after(at)
        return following is not None and is_subject(following)

    def _run(self, at: int, kinds: tuple[Kind, ...]) -> Run:
        run = Run([self._items[at]], [], at + 1)
        link: Kind | None = None
        for ahead in range(at + 1, len(self._items)):
            item = self._items[ahead]
            if item.kind in kinds:
                run.items.append(item)
                run.links.append(link)
                run.end, link = ahead + 1, None
            elif item.text == ")" and self._opened(at):
                break
            elif item.kind in LINKS:
                link = Kind.OR if Kind.OR in (link, item.kind) else item.kind
            elif not self._is_silent_in_list(item):
                break
        return run

    def _opened(self, at: int) -> bool:
        """Whether a bracket stands open where a list begins: its end ends the list."""
        before = self._items[max(0, at - 3) : at]
        return any(item.text == "(" for item in before)

    def _is_silent_in_list(self, item: Item) -> bool:
        if item.kind in (Kind.GROUP_WORD, Kind.BIN_WORD):
            return True
        if item.kind is Kind.MARK:
            return item.text in '/\\()"“”*_~'
        return item.keys in (("the",), ("in",), ("both",), ("either",))

    def _open(self, run: Run, *, who: Sequence[Item] = (), places: Sequence[Item] = ()) -> None:
        opened, self._waiting = self._waiting, Segment()
        opened.who.extend(who)
        opened.places.extend(places)
        if who and not places:
            opened.either_who = run.has_or
        self._segments.append(opened)
        self._link = None
        self._behind_dash_now = False
