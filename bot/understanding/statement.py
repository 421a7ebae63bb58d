"""A sentence that states something, cut into segments: who, where, and what is said about it.

    g3 balance except mia, g4 ramps but theo was out
    |--- who -- where - except ---|  |-- who - where - except --|

Children come before bins or after them ("ramps: g1, g2"), the same way all through a sentence. What
cannot be joined beyond doubt is kept in the segment as a mood, an unknown word or a loose end, so
that nothing is logged without being asked.
"""

from __future__ import annotations

from bot.understanding.noting import Notes
from bot.understanding.segments import LINKS, PLACE, SUBJECT, Segment, is_place, is_subject, mood_of
from bot.understanding.senses import Item, Kind
from bot.understanding.walking import Run


class Segmenter(Notes):
    """Walks a sentence from left to right; see the module's drawing."""

    def segments(self) -> list[Segment]:
        """Every segment of the sentence; one without children or bin where nothing else is."""
        at = 0
        while at < len(self._items):
            at = self._step(at)
        self._finish()
        self._take_out_of_group()
        return self._segments

    def _take_out_of_group(self) -> None:
        """ "g3 ramps, paloma did dough instead": she was not with them."""
        if len(self._segments) < 2 or not any("instead" in item.keys for item in self._items):
            return
        *before, last = self._segments
        if last.places and all(item.kind is Kind.STUDENT for item in last.who):
            for segment in before:
                segment.excepted.extend(last.who)

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
        elif not current.who and self._rest_goes_elsewhere(run):
            current.who.extend(run.items[:-1])
            self._open(run, who=run.items[-1:])
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

    def _rest_goes_elsewhere(self, run: Run) -> bool:
        """ "ramps 1, balance 2, the rest magnets": bins first, but for the rest."""
        is_rest = len(run.items) > 1 and run.items[-1].kind is Kind.REST
        return is_rest and self._is_place_next(run.end)

    def _instead_of_who(self, current: Segment, run: Run) -> int:
        """The children named after a slip stand in for those before it, with their bin if named."""
        self._slip = False
        if current.is_whole and self._is_place_next(run.end):
            self._segments.pop()
            self._open(run, who=run.items)
        else:
            current.who[:] = run.items
            current.moods.clear()
        return run.end

    def _opens_segment(self, run: Run) -> bool:
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

    def _except(self, run: Run) -> int:
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

    def _leave_out(self, target: Segment, run: Run) -> None:
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

    def _extra(self, current: Segment, run: Run) -> None:
        """ "plus mia, g4 ramps": who still belongs to the segment before, who opens the next."""
        kept, opening, sure = _split(run)
        if not kept:
            current.who.extend(opening)
            return
        current.who.extend(kept)
        self._open(run, who=opening)
        self._segments[-1].loose = not sure

    def _trailing(self, current: Segment, run: Run, link: Kind | None) -> int:
        """Children behind a whole segment with no bin of their own."""
        end = run.end
        said: list[Item] = []
        while end < len(self._items):
            item = self._items[end]
            if (
                is_subject(item)
                or is_place(item)
                or item.kind in (Kind.COMMA, Kind.BUT, Kind.EXCEPT)
                or item.keys == ("instead", "of")
            ):
                break
            said.append(item)
            end += 1
        before, self._waiting.moods = self._waiting.moods, []
        moods = [mood for i in said if (mood := mood_of(i))] + before
        if Kind.FUTURE not in moods:  # "g4 will do it tomorrow" says nothing of today's
            current.days += [i for i in said if i.kind is Kind.DAY]
            current.times += [i for i in said if i.kind in (Kind.TIME, Kind.SLOT)]
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

    def _behind_dash(self, run: Run) -> bool:
        """ "g3 balance - mia": minus her, or and her?"""
        at = self._items.index(run.items[0])
        return at > 0 and self._items[at - 1].text in ("-", "–", "—")

    def _was_then(self, *, at: int, run: Run) -> bool:
        """ "ramps, then art": what comes then need not be a child."""
        before = self._items[self._items.index(run.items[0]) - 1]
        return before.keys == ("then",)

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

    def _again_at(self, current: Segment, run: Run, link: Kind | None) -> None:
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


def _split(run: Run) -> tuple[list[Item], list[Item], bool]:
    """Children behind "except" or "plus" when a bin follows: who is still meant by it, who begins
    the next segment, and whether that is beyond doubt."""
    kinds = [item.kind for item in run.items]
    if Kind.GROUP in kinds[1:] and kinds[0] is Kind.STUDENT:
        at = kinds.index(Kind.GROUP)
        return run.items[:at], run.items[at:], True
    if len(run.items) == 1:
        return [], run.items, False
    return run.items[:-1], run.items[-1:], run.links[-1] is Kind.COMMA
