"""A sentence that states something, cut into segments: who, where, and what is said about it.

    g3 balance except mia, g4 ramps but theo was out
    |--- who -- where - except ---|  |-- who - where - except --|

Children come before bins or after them ("ramps: g1, g2"), the same way all through a sentence. What
cannot be joined beyond doubt is kept in the segment as a mood, an unknown word or a loose end, so
that nothing is logged without being asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from bot.understanding.senses import Item, Kind

SUBJECT = (Kind.GROUP, Kind.STUDENT, Kind.EVERYONE, Kind.REST)
PLACE = (Kind.BIN, Kind.COLOR)
MOODS = (Kind.NOT, Kind.MISSED, Kind.FUTURE, Kind.IF, Kind.DOUBT, Kind.PARTIAL, Kind.STARTED)
_LINKS = (Kind.AND, Kind.COMMA, Kind.PLUS)
_SILENT = (Kind.PLAIN, Kind.AT, Kind.GROUP_WORD, Kind.BIN_WORD, Kind.MARK, Kind.SLOT_WORD)


@dataclass(slots=True)
class Segment:
    """One thing said: the items of each part, in the order they stood."""

    who: list[Item] = field(default_factory=list)
    places: list[Item] = field(default_factory=list)
    excepted: list[Item] = field(default_factory=list)
    moods: list[Item] = field(default_factory=list)
    names: list[Item] = field(default_factory=list)  # unknown words where a name is expected
    unknown: list[Item] = field(default_factory=list)  # unknown words elsewhere
    asides: list[Item] = field(default_factory=list)  # children something unreadable is said of
    days: list[Item] = field(default_factory=list)
    times: list[Item] = field(default_factory=list)
    verbs: list[Item] = field(default_factory=list)
    both: bool = False  # "both sofias"
    joined_places: bool = True  # several bins with "and" between them
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


@dataclass(slots=True)
class _Run:
    items: list[Item]
    links: list[Kind | None]  # before each item but the first
    end: int


class Segmenter:
    """Walks a sentence from left to right; see the module's drawing."""

    def __init__(self, items: Sequence[Item]) -> None:
        self._items = items
        first = next((i for i in items if is_subject(i) or is_place(i)), None)
        self._who_first = first is None or is_subject(first)
        self._segments: list[Segment] = []
        self._waiting = Segment()  # what stood before the segment it belongs to
        self._link: Kind | None = None
        self._mode: Kind | None = None  # EXCEPT or PLUS, until the next list of children
        self._since_link: list[Item] = []

    def segments(self) -> list[Segment]:
        """Every segment of the sentence; one without children or bin where nothing else is."""
        at = 0
        while at < len(self._items):
            at = self._step(at)
        self._settle_waiting()
        return self._segments

    @property
    def _current(self) -> Segment | None:
        return self._segments[-1] if self._segments else None

    def _step(self, at: int) -> int:
        item = self._items[at]
        if is_subject(item):
            return self._children(at)
        if is_place(item):
            return self._bins(at)
        if self._excludes(at):
            self._mode = Kind.EXCEPT
            return at + 1
        self._note(at)
        return at + 1

    def _excludes(self, at: int) -> bool:
        """Whether children named next are left out: "except", "not mia", "missing mia"."""
        item = self._items[at]
        if item.kind is Kind.EXCEPT:
            return True
        following = self._next_meaning(at + 1)
        is_named = following is not None and following.kind in (Kind.GROUP, Kind.STUDENT)
        done = self._current is not None and self._current.is_whole
        return (
            done
            and is_named
            and item.can_be(Kind.NOT, Kind.MISSED)
            and not (self._place_follows(at + 1))
        )

    def _note(self, at: int) -> None:
        """Keep a word that is neither child nor bin where it belongs."""
        item = self._items[at]
        target = self._target()
        if item.kind in _LINKS or item.keys == ("but",):
            self._link = Kind.EXCEPT if item.keys == ("but",) else item.kind
            if item.kind is Kind.PLUS:
                self._mode = Kind.PLUS
            elif item.kind is Kind.COMMA and self._mode is Kind.PLUS:
                self._mode = None
            return
        if item.kind is Kind.WHOLE:
            target.both = True
        elif item.kind is Kind.DAY:
            target.days.append(item)
        elif item.kind in (Kind.TIME, Kind.SLOT):
            target.times.append(item)
        elif item.can_be(Kind.DID):
            target.verbs.append(item)
        elif item.can_be(*MOODS):
            target.moods.append(item)
        elif item.can_be(Kind.UNKNOWN):
            names = self._expects_name(at)
            (target.names if names else target.unknown).append(item)

    def _target(self) -> Segment:
        """A word belongs to the segment before it, unless a link has opened the next one."""
        current = self._current
        if current is None or (self._link is not None and current.is_whole):
            return self._waiting
        return current

    def _expects_name(self, at: int) -> bool:
        """Whether an unknown word stands where a child or group would."""
        if self._mode is not None:
            return True
        before = self._items[at - 1] if at else None
        after = self._next_meaning(at + 1)
        in_list = before is not None and before.kind in _LINKS and len(self._items) > at + 1
        if before is not None and before.kind is Kind.GROUP_WORD:
            return True
        listed_before = (
            in_list
            and at > 1
            and (is_subject(self._items[at - 2]) or self._items[at - 2].kind is Kind.UNKNOWN)
        )
        listed_after = (
            after is not None
            and after.kind in (Kind.AND, Kind.PLUS, Kind.COMMA)
            and self._subject_follows(at + 1)
            and (before is None or not is_subject(before))
        )
        current = self._current
        lonely = (
            (current is None or not current.who)
            and after is not None
            and (is_place(after) or after.can_be(Kind.DID, Kind.AUX, Kind.MISSED, Kind.AT))
        )
        return listed_before or listed_after or (lonely and not self._any_subject())

    def _any_subject(self) -> bool:
        return any(is_subject(item) for item in self._items)

    def _next_meaning(self, at: int) -> Item | None:
        return next(
            (i for i in self._items[at:] if i.kind not in (Kind.PLAIN, Kind.MARK, Kind.GROUP_WORD)),
            None,
        )

    def _mention_after(self, at: int) -> Item | None:
        return next((i for i in self._items[at:] if is_subject(i) or is_place(i)), None)

    def _place_follows(self, at: int) -> bool:
        run_end = at
        while run_end < len(self._items) and not is_place(self._items[run_end]):
            if self._items[run_end].kind is Kind.EXCEPT:
                return False
            run_end += 1
        return run_end < len(self._items)

    def _subject_follows(self, at: int) -> bool:
        following = self._mention_after(at)
        return following is not None and is_subject(following)

    def _run(self, at: int, kinds: tuple[Kind, ...]) -> _Run:
        run = _Run([self._items[at]], [], at + 1)
        ahead, link = at + 1, None
        while ahead < len(self._items):
            item = self._items[ahead]
            if item.kind in kinds:
                run.items.append(item)
                run.links.append(link)
                run.end, link = ahead + 1, None
            elif item.kind in _LINKS:
                link = item.kind
            elif item.kind not in (Kind.GROUP_WORD, Kind.BIN_WORD) and item.keys not in (
                ("the",),
                ("in",),
            ):
                if not (item.kind is Kind.MARK and item.text in '/\\()"“”*_~'):
                    break
            ahead += 1
        return run

    # Children

    def _children(self, at: int) -> int:
        run = self._run(at, SUBJECT)
        mode, self._mode = self._mode, None
        link, self._link = self._link, None
        current = self._current
        if mode is Kind.EXCEPT:
            self._except(run)
        elif current is None or (current.is_whole and self._opens_segment(run)):
            if mode is Kind.PLUS and current is not None:
                self._extra(run)
            else:
                self._open(who=run.items)
        elif not current.who:
            current.who.extend(run.items)
        elif not current.places:
            self._subject_again(current, run)
        else:
            return self._trailing(current, run, mode or link)
        return run.end

    def _opens_segment(self, run: _Run) -> bool:
        """Whether children named behind a whole segment begin the next one."""
        return (
            (self._who_first
            and self._place_follows(run.end))
            or (not self._who_first and self._switches(run))
        )

    def _switches(self, run: _Run) -> bool:
        """Bins first so far, but now "g2 did balance" stands behind."""
        following = self._items[run.end] if run.end < len(self._items) else None
        return (
            following is not None
            and following.can_be(Kind.DID)
            and self._place_follows(run.end)
            and not self._subject_follows(run.end)
        )

    def _except(self, run: _Run) -> None:
        """Children left out; the last of them may already begin the next segment."""
        current = self._current
        target = current if current is not None else self._waiting
        done = current is not None and current.is_whole and self._who_first
        if done and self._place_follows(run.end):
            kept, opening, sure = _split(run)
            target.excepted.extend(kept)
            self._open(who=opening)
            self._segments[-1].loose = not sure
        else:
            target.excepted.extend(run.items)

    def _extra(self, run: _Run) -> None:
        current = self._segments[-1]
        kept, opening, sure = _split(run)
        if not kept:
            kept, opening = opening, []
        current.who.extend(kept)
        if opening:
            self._open(who=opening)
            self._segments[-1].loose = not sure

    def _subject_again(self, current: Segment, run: _Run) -> None:
        """ "g3 done, mia too, balance": more children before the bin."""
        if current.moods or current.unknown:
            current.loose = True
        current.who.extend(run.items)

    def _trailing(self, current: Segment, run: _Run, link: Kind | None) -> int:
        """Children behind a whole segment with no bin of their own."""
        end = run.end
        tail: list[Item] = []
        while end < len(self._items) and not (
            is_subject(self._items[end]) or is_place(self._items[end])
        ):
            if self._items[end].kind in (Kind.COMMA, Kind.EXCEPT) or self._items[end].keys == (
                "but",
            ):
                break
            tail.append(self._items[end])
            end += 1
        said = [i for i in tail if i.can_be(*MOODS) and not i.can_be(Kind.DID)]
        if self._waiting.moods and self._link_opened():
            said += self._waiting.moods
            self._waiting.moods = []
        if any(i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT) for i in tail):
            current.days += [i for i in tail if i.kind is Kind.DAY]
            current.times += [i for i in tail if i.kind in (Kind.TIME, Kind.SLOT)]
        if said or link is Kind.EXCEPT:
            current.excepted.extend(run.items)
        elif any(i.kind is Kind.UNKNOWN for i in tail):
            current.asides.extend(run.items)
        else:
            current.who.extend(run.items)
            if len(current.places) > 1 and not current.joined_places:
                current.loose = True
        return end

    def _link_opened(self) -> bool:
        return True

    # Bins

    def _bins(self, at: int) -> int:
        run = self._run(at, PLACE)
        link, self._link = self._link, None
        self._mode = None
        current = self._current
        if current is None:
            self._open(places=run.items)
        elif not current.places:
            current.places.extend(run.items)
        elif not self._who_first and self._subject_follows(run.end):
            self._open(places=run.items)
        else:
            self._again_at(current, run, link)
        joined = all(l in (Kind.AND, Kind.PLUS) for l in run.links[-1:])
        self._segments[-1].joined_places = joined
        return run.end

    def _again_at(self, current: Segment, run: _Run, link: Kind | None) -> None:
        """The same children at one more bin: "g3 did balance then ramps"."""
        verbs = bool(self._waiting.verbs) or link is not None
        self._open(who=list(current.who), places=run.items)
        opened = self._segments[-1]
        opened.excepted.extend(current.excepted)
        opened.loose = not verbs or not self._who_first

    def _open(self, *, who: Sequence[Item] = (), places: Sequence[Item] = ()) -> None:
        opened, self._waiting = self._waiting, Segment()
        opened.who.extend(who)
        opened.places.extend(places)
        self._segments.append(opened)
        self._link = None

    def _settle_waiting(self) -> None:
        """What waited for a segment that never came belongs to the last one, as an afterthought."""
        left = self._waiting
        if not self._segments:
            self._segments.append(left)
            return
        last = self._segments[-1]
        last.days += left.days
        last.times += left.times
        last.names += left.names
        if left.moods:
            last.moods += left.moods
            last.loose = True


def _split(run: _Run) -> tuple[list[Item], list[Item], bool]:
    """Children behind "except" or "plus" when a bin follows: who is still meant by it, who begins
    the next segment, and whether that is beyond doubt."""
    kinds = [item.kind for item in run.items]
    if Kind.GROUP in kinds[1:] and kinds[0] is Kind.STUDENT:
        at = kinds.index(Kind.GROUP)
        return run.items[:at], run.items[at:], True
    if len(run.items) == 1:
        return [], run.items, False
    return run.items[:-1], run.items[-1:], run.links[-1] is Kind.COMMA
