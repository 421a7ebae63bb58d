"""A sentence that states something, cut into segments: who, where, and what is said about it.

    g3 balance except mia, g4 ramps but theo was out
    |--- who -- where - except ---|  |-- who - where - except --|

Children come before bins or after them ("ramps: g1, g2"), the same way all through a sentence. What
cannot be joined beyond doubt is kept in the segment as a mood, an unknown word or a loose end, so
that nothing is logged without being asked.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
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
_REASON = frozenset(("because", "cause", "cuz", "bc", "since", "so", "while", "though", "although"))
_SLIPS = frozenset(("meant", "mean", "correction", "wait", "sorry", "oops", "whoops", "scratch"))
_PRONOUNS = (("he",), ("she",), ("him",), ("her",))
_NOT_THEM = (("not",), ("no",), ("neither",), ("❌",), ("🚫",))


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


def _is_mention(item: Item) -> bool:
    return is_subject(item) or is_place(item)


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


def mood_of(item: Item) -> Kind | None:
    """What a word does to the sentence it stands in; None for a word that does nothing to it."""
    if item.can_be(Kind.PLAIN, Kind.DID):
        return None
    return next((kind for kind in _MOODS if item.can_be(kind)), None)


@dataclass(slots=True)
class _Run:
    """Children (or bins) listed one after the other."""

    items: list[Item]
    links: list[Kind | None]  # before each item but the first
    end: int

    @property
    def has_or(self) -> bool:
        return Kind.OR in self.links


class Segmenter:
    """Walks a sentence from left to right; see the module's drawing."""

    def __init__(self, items: Sequence[Item]) -> None:
        self._items = items
        self._meanings = _next_positions(items, _means_something)
        self._mentions = _next_positions(items, _is_mention)
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

    def segments(self) -> list[Segment]:
        """Every segment of the sentence; one without children or bin where nothing else is."""
        at = 0
        while at < len(self._items):
            at = self._step(at)
        self._finish()
        return self._segments

    @property
    def _current(self) -> Segment | None:
        return self._segments[-1] if self._segments else None

    # Steps

    def _step(self, at: int) -> int:
        item = self._items[at]
        if is_subject(item):
            return self._children(at)
        if is_place(item):
            return self._bins(at)
        if self._is_slip(at):
            self._slip = True
            return at + 1
        if self._denies_place(at):
            self._skips_place = True
            return at + 1
        if self._excludes(at):
            if self._mode is Kind.EXCEPT:
                self._target().open_exception = True
            self._mode = Kind.EXCEPT
            return at + 1
        self._note(at)
        return at + 1

    def _excludes(self, at: int) -> bool:
        """Whether children named next are left out: "except", "but", "not mia", "missing mia"."""
        item, current = self._items[at], self._current
        if item.kind is Kind.EXCEPT:
            return True
        following = self._next_meaning(at + 1)
        if following is not None and following.kind is Kind.UNKNOWN and current is not None:
            return current.is_whole and item.keys in _NOT_THEM  # "not suny"
        if following is None or not is_subject(following):
            return False
        run = self._run(self._behind_meaning(at + 1) - 1, SUBJECT)
        bin_next = self._is_place_next(run.end)
        if item.kind is Kind.BUT:
            return current is not None and (not current.is_whole or not bin_next)
        negates = item.keys in _NOT_THEM or item.can_be(Kind.MISSED)
        if not negates or following.kind is Kind.EVERYONE:
            return False
        if current is None:
            others = len(run.items) > 1 or self._is_subject_next(run.end)
            return item.keys in _NOT_THEM and others
        return not bin_next if current.is_whole else item.keys in _NOT_THEM

    def _is_slip(self, at: int) -> bool:
        """A slip of the tongue put right in the same breath: "ben, i mean kai, did magnets"."""
        item = self._items[at]
        current = self._current or self._waiting
        said = bool(current.who or current.places or current.days)
        if not said:
            return False
        if item.can_be(Kind.KEY) and _SLIPS & {*item.keys, *item.word.split()}:
            return True
        before = self._items[at - 1] if at else None
        after = self._items[at + 1] if at + 1 < len(self._items) else None
        puts_right = after is not None and (
            after.kind is Kind.COMMA
            or after.can_be(Kind.KEY)
            or after.keys in (("only",), ("just",))
        )
        opens = before is not None and (
            before.kind in (Kind.COMMA, Kind.PLAIN) or before.text == "(" or self._slip
        )
        return item.keys == ("no",) and opens and puts_right

    def _denies_place(self, at: int) -> bool:
        """ "g3 ramps not balance", "instead of ramps"."""
        item = self._items[at]
        following = self._next_meaning(at + 1)
        if following is None or not is_place(following):
            return False
        whole = self._current is not None and self._current.is_whole
        if item.kind is Kind.EXCEPT:
            return whole and item.keys[-1] == "not"
        if item.keys in (("instead", "of"), ("rather", "than")):
            return whole or self._is_subject_next(self._behind_meaning(at + 1))
        return whole and item.keys in (("not",), ("no",))

    def _note(self, at: int) -> None:
        """Keep a word that is neither child nor bin where it belongs."""
        item = self._items[at]
        if item.kind in (*LINKS, Kind.BUT):
            self._note_link(item)
            return
        target, current = self._target(), self._current
        behind = current is not None and current.is_whole
        self._chunk_words += item.kind not in (Kind.MARK,)
        if item.keys[:1] and item.keys[0] in _REASON and behind:
            self._in_reason = True
        mood = mood_of(item)
        if item.kind is Kind.WHOLE:
            target.both = True
        elif item.kind is Kind.DAY:
            if self._slip:
                target.days.clear()
                self._slip = False
            target.days.append(item)
        elif item.kind in (Kind.TIME, Kind.SLOT):
            target.times.append(item)
        elif self._in_reason:
            return
        elif item.keys in _PRONOUNS and self._is_listed(at):
            target.names.append(item)
        elif item.can_be(Kind.DID):
            target.verbs.append(item)
            if target.moods[-1:] == [Kind.STARTED]:
                target.moods.pop()  # "started and finished"
            self._verb_since_place = True
        elif mood is not None:
            self._note_mood(at, mood, target, behind=behind)
        elif item.kind is Kind.UNKNOWN:
            self._note_unknown(at, target, behind=behind)
        elif item.kind is Kind.CHATTER and self._matters(at, behind=behind):
            target.unknown.append(item)  # "mia spilled the water bin" is no turn
        elif item.kind is Kind.COLON and current is not None and current.who and not current.places:
            current.loose = self._is_subject_next(at + 1)
        elif item.keys in (("same",), ("ditto",), ("same", "for")):
            target.more = True
        elif item.keys in (("off",), ("out",)) and self._is_off_place(at):
            target.doubts.append(item)  # "mia off ramps" gives no turn

    def _is_off_place(self, at: int) -> bool:
        following = self._next_meaning(at + 1)
        current = self._current
        return following is not None and is_place(following) and bool(current and current.who)

    def _is_listed(self, at: int) -> bool:
        """ "he and hana": a child spoken of before, in a list with others."""
        around = self._items[max(0, at - 2) : at], self._items[at + 1 : at + 3]
        return any(
            len(side) == 2 and {i.kind for i in side} & {Kind.AND} and any(map(is_subject, side))
            for side in around
        )

    def _matters(self, at: int, *, behind: bool) -> bool:
        """A doing told of between a child and a bin, or by the teacher right before a child."""
        if self._current is not None:
            return not behind
        following = self._next_meaning(at + 1)
        by_me = at > 0 and self._items[at - 1].keys[-1:] in (("i",), ("we",))
        return by_me and following is not None and is_subject(following)

    def _note_link(self, item: Item) -> None:
        self._link = item.kind
        self._chunk_words = 0
        if item.kind in (Kind.COMMA, Kind.BUT):
            self._in_reason = False
        if item.kind is Kind.PLUS:
            self._mode = Kind.PLUS
            self._target().more = True
        elif item.kind is Kind.COMMA and self._mode is Kind.PLUS:
            self._mode = None

    def _note_mood(self, at: int, mood: Kind, target: Segment, *, behind: bool) -> None:
        item = self._items[at]
        following = self._items[at + 1] if at + 1 < len(self._items) else None
        if mood is Kind.NOT and following is not None and following.kind is Kind.UNKNOWN:
            target.doubts.append(item)  # "no porblem", "not sur": not what?
            return
        if self._mode is Kind.EXCEPT and mood is Kind.PARTIAL:
            target.open_exception = True
            self._mode = None
        elif (
            not behind
            or target is self._waiting
            or (mood in (Kind.NOT, Kind.STARTED, Kind.MISSED) and self._link is None)
        ):
            target.moods.append(mood)
        elif mood is Kind.FUTURE and self._link is None and not target.verbs:
            target.moods.append(mood)  # "g3 balance next"
        else:
            target.doubts.append(item)

    def _note_unknown(self, at: int, target: Segment, *, behind: bool) -> None:
        item = self._items[at]
        if self._mode is Kind.EXCEPT:
            target.open_exception = True
        elif self._mode is Kind.PLUS and self._is_subject_next(at + 1):
            target.doubts.append(item)  # "with the eception of ava"
        elif self._expects_name(at):
            target.names.append(item)
        elif self._current is None:
            if self._leads_into_children(at):
                target.unknown.append(item)  # "mabey g3 did ramps"
        elif not behind or self._link is None or self._is_short_chunk(at):
            target.unknown.append(item)

    def _leads_into_children(self, at: int) -> bool:
        """Whether a strange word stands right before the children, with nothing between."""
        for item in self._items[at + 1 :]:
            if is_subject(item):
                return True
            if item.kind not in (Kind.PLAIN, Kind.UNKNOWN, Kind.GROUP_WORD, Kind.AT):
                return False
        return False

    def _is_short_chunk(self, at: int) -> bool:
        """ "g3 balance, aborted": one strange word by itself may take it all back."""
        ahead = [i for i in self._items[at + 1 :] if i.kind not in (Kind.MARK,)]
        return self._chunk_words <= 1 and not ahead

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
        if before is not None and before.kind is Kind.GROUP_WORD:
            return True
        if before is not None and before.kind in (Kind.AND, Kind.COMMA, Kind.OR) and at > 1:
            earlier = self._items[at - 2]
            is_last = self._mention_after(at + 1) is None
            if is_subject(earlier) and (not is_last or before.kind is Kind.AND):
                return True
        if (
            after is not None
            and after.kind in (Kind.AND, Kind.PLUS)
            and not (before is not None and is_subject(before))
        ):
            following = self._mention_after(at + 1)
            return following is not None and is_subject(following)
        alone = not any(is_subject(item) for item in self._items)
        return (
            alone
            and after is not None
            and (is_place(after) or after.can_be(Kind.DID, Kind.AUX, Kind.MISSED, Kind.AT))
            and (self._current is None or not self._current.places)
        )

    # Looking ahead

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

    def _run(self, at: int, kinds: tuple[Kind, ...]) -> _Run:
        run = _Run([self._items[at]], [], at + 1)
        link: Kind | None = None
        for ahead in range(at + 1, len(self._items)):
            item = self._items[ahead]
            if item.kind in kinds:
                run.items.append(item)
                run.links.append(link)
                run.end, link = ahead + 1, None
            elif item.kind in LINKS:
                link = Kind.OR if Kind.OR in (link, item.kind) else item.kind
            elif not self._is_silent_in_list(item):
                break
        return run

    def _is_silent_in_list(self, item: Item) -> bool:
        if item.kind in (Kind.GROUP_WORD, Kind.BIN_WORD):
            return True
        if item.kind is Kind.MARK:
            return item.text in '/\\()"“”*_~'
        return item.keys in (("the",), ("in",), ("both",), ("either",))

    # Children

    def _children(self, at: int) -> int:
        run = self._run(at, SUBJECT)
        mode, self._mode = self._mode, None
        link, self._link = self._link, None
        current = self._current
        if self._in_reason and not self._is_place_next(run.end):
            return run.end
        self._in_reason = False
        if self._slip and current is not None:
            return self._instead_of_who(current, run)
        if mode is Kind.EXCEPT:
            return self._except(run)
        if current is None:
            self._open(run, who=run.items)
        elif current.is_whole and self._opens_segment(run):
            if mode is Kind.PLUS:
                self._extra(current, run)
            else:
                self._open(run, who=run.items)
                self._segments[-1].after_but = link is Kind.BUT
        elif not current.who:
            current.who.extend(run.items)
            current.either_who = run.has_or
        elif not current.places and link is not None and Kind.MISSED in current.moods:
            self._segments.pop()  # "g5 was with me, g2 did magnets"
            self._open(run, who=run.items)
        elif not current.places:
            current.loose = current.loose or bool(current.moods or current.unknown)
            current.who.extend(run.items)
        else:
            return self._trailing(current, run, link)
        return run.end

    def _instead_of_who(self, current: Segment, run: _Run) -> int:
        """The children named after a slip stand in for those before it, with their bin if named."""
        self._slip = False
        if current.is_whole and self._is_place_next(run.end):
            self._segments.pop()
            self._open(run, who=run.items)
        else:
            current.who[:] = run.items
            current.moods.clear()
        return run.end

    def _opens_segment(self, run: _Run) -> bool:
        """Whether children named behind a whole segment begin the next one."""
        if self._who_first:
            return self._is_place_next(run.end)
        after = self._items[run.end] if run.end < len(self._items) else None
        switches = after is not None and after.can_be(Kind.DID) and self._is_place_next(run.end)
        return switches and not self._subject_after_place(run.end)

    def _subject_after_place(self, at: int) -> bool:
        following = self._mention_after(at)
        if following is None or not is_place(following):
            return False
        return self._is_subject_next(self._items.index(following, at) + 1)

    def _except(self, run: _Run) -> int:
        """Children left out; the last of them may already begin the next segment."""
        current = self._current
        target = current if current is not None else self._waiting
        opens = current is None or (current.is_whole and self._who_first)
        if any(item.kind is Kind.EVERYONE for item in run.items):
            target.open_exception = True
        elif opens and self._is_place_next(run.end) and len(run.items) > 1:
            kept, opening, sure = _split(run)
            target.excepted.extend(kept)
            self._open(run, who=opening)
            self._segments[-1].loose = not sure
            return run.end
        else:
            self._leave_out(target, run)
        return self._tail_end(run.end)

    def _leave_out(self, target: Segment, run: _Run) -> None:
        """ "minus mia plus noor": from a plus on, children are added again."""
        out = True
        for item, link in zip(run.items, (None, *run.links), strict=True):
            out = out and link is not Kind.PLUS
            (target.excepted if out else target.who).append(item)

    def _tail_end(self, at: int) -> int:
        """Behind a child left out, what is said of that child: it ends at a link or a mention."""
        while at < len(self._items):
            item = self._items[at]
            if is_subject(item) or is_place(item) or item.kind in (*LINKS, Kind.BUT, Kind.EXCEPT):
                break
            if item.kind in (Kind.DAY, Kind.TIME, Kind.SLOT) or item.can_be(Kind.DID):
                break
            at += 1
        return at

    def _extra(self, current: Segment, run: _Run) -> None:
        """ "plus mia, g4 ramps": who still belongs to the segment before, who opens the next."""
        kept, opening, sure = _split(run)
        if not kept:
            current.who.extend(opening)
            return
        current.who.extend(kept)
        self._open(run, who=opening)
        self._segments[-1].loose = not sure

    def _trailing(self, current: Segment, run: _Run, link: Kind | None) -> int:
        """Children behind a whole segment with no bin of their own."""
        end = run.end
        said: list[Item] = []
        while end < len(self._items):
            item = self._items[end]
            if (
                is_subject(item)
                or is_place(item)
                or item.kind in (Kind.COMMA, Kind.BUT, Kind.EXCEPT)
            ):
                break
            said.append(item)
            end += 1
        current.days += [i for i in said if i.kind is Kind.DAY]
        current.times += [i for i in said if i.kind in (Kind.TIME, Kind.SLOT)]
        before, self._waiting.moods = self._waiting.moods, []
        moods = [mood for i in said if (mood := mood_of(i))] + before
        current.doubts += self._waiting.doubts
        self._waiting.doubts = []
        if moods or link is Kind.BUT:
            doubtful = set(moods) <= {Kind.DOUBT, Kind.IF} and moods
            (current.asides if doubtful else current.excepted).extend(run.items)
        elif self._behind_dash(run):
            current.loose = True
        elif any(i.kind is Kind.UNKNOWN for i in said):
            current.asides.extend(run.items)
            current.excepted.extend(i for i in run.items if i.kind is Kind.STUDENT)
        elif any(i.kind is Kind.CHATTER for i in said) or self._waiting.unknown:
            current.asides.extend(i for i in run.items if i.kind is not Kind.GROUP)
            self._waiting.unknown = []
        else:
            current.who.extend(i for i in run.items if i.kind is not Kind.EVERYONE)
            current.either_who = current.either_who or run.has_or or link is Kind.OR
            current.loose = (
                current.loose or len(current.places) > 1 or self._was_then(at=run.end, run=run)
            )
        return end

    def _behind_dash(self, run: _Run) -> bool:
        """ "g3 balance - mia": minus her, or and her?"""
        at = self._items.index(run.items[0])
        return at > 0 and self._items[at - 1].text in ("-", "–", "—")

    def _was_then(self, *, at: int, run: _Run) -> bool:
        """ "ramps, then art": what comes then need not be a child."""
        before = self._items[self._items.index(run.items[0]) - 1]
        return before.keys == ("then",)

    # Bins

    def _bins(self, at: int) -> int:
        run = self._run(at, PLACE)
        if self._skips_place:
            self._skips_place = False
            run.items.pop(0)
            if not run.items:
                return run.end
            run.links.pop(0)
        if self._slip and self._current is not None and self._current.places:
            self._slip = False
            self._current.places[:] = run.items
            self._waiting = Segment()
            return run.end
        link, self._link = self._link, None
        if self._mode is Kind.EXCEPT or link is Kind.BUT:
            self._target().loose = True  # "everything but balance"
        self._mode = None
        self._in_reason = False
        current = self._current
        if current is None:
            self._open(run, places=run.items)
        elif not current.places:
            current.places.extend(run.items)
        elif not self._who_first and self._is_subject_next(run.end):
            self._open(run, places=run.items)
        else:
            self._again_at(current, run, link)
        self._verb_since_place = False
        opened = self._segments[-1]
        opened.either_place = opened.either_place or run.has_or or link is Kind.OR
        listed = all(before in (Kind.AND, Kind.PLUS, Kind.OR) for before in run.links[-1:])
        opened.loose = opened.loose or (not listed and len(opened.who) > 1)
        return run.end

    def _again_at(self, current: Segment, run: _Run, link: Kind | None) -> None:
        """The same children at one more bin: "g3 did balance then ramps"."""
        said = bool(self._waiting.verbs) or self._verb_since_place
        sure = self._who_first and (said or link is not None)
        if link is Kind.OR:
            current.places.extend(run.items)
            current.either_place = True
            return
        moods = list(self._waiting.moods)
        self._open(run, who=list(current.who), places=run.items)
        opened = self._segments[-1]
        opened.excepted.extend(current.excepted)
        opened.either_who = current.either_who
        opened.loose = not sure
        opened.moods = moods

    def _open(self, run: _Run, *, who: Sequence[Item] = (), places: Sequence[Item] = ()) -> None:
        opened, self._waiting = self._waiting, Segment()
        opened.who.extend(who)
        opened.places.extend(places)
        if who and not places:
            opened.either_who = run.has_or
        self._segments.append(opened)
        self._link = None

    def _finish(self) -> None:
        """What waited for a segment that never came belongs to the last one, as an afterthought."""
        left = self._waiting
        if self._mode is Kind.EXCEPT:
            self._target().open_exception = True
        if not self._segments:
            self._segments.append(left)
            return
        last = self._segments[-1]
        last.days += left.days
        last.times += left.times
        last.names += left.names
        last.unknown += left.unknown
        last.doubts += left.doubts
        last.open_exception = last.open_exception or left.open_exception
        last.more = last.more or left.more
        if Kind.STARTED in left.moods or (Kind.NOT in left.moods and not left.verbs):
            last.moods += [m for m in left.moods if m in (Kind.STARTED, Kind.NOT)]
        elif left.moods:
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
