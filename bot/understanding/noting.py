"""Words that are neither child nor bin: what each does to the segment it stands in."""

from __future__ import annotations

from bot.understanding.segments import LINKS, SUBJECT, Segment, is_place, is_subject, mood_of
from bot.understanding.senses import Item, Kind
from bot.understanding.walking import Walk

_REASON = frozenset(("because", "cause", "cuz", "bc", "since", "so", "while", "though", "although"))


_SLIPS = frozenset(("meant", "mean", "correction", "wait", "sorry", "oops", "whoops", "scratch"))


_PRONOUNS = (("he",), ("she",), ("him",), ("her",))


_NOBODY = (("nobody",), ("noone",), ("no", "one"), ("none",), ("no",), ("nothing",), ("never",))


_SHORT_ASIDE = 4  # words behind a dash: "- just kidding" may take it all back


_TAKEN = frozenset(("took", "take", "taking", "pulled", "pull", "kept", "keep", "sent", "kicked"))


_DASHES = ("-", "–", "—")


_NOT_THEM = (("not",), ("no",), ("neither",), ("❌",), ("🚫",))


class Notes(Walk):
    """Keeps moods, doubts, days, times and strange words where they belong."""

    def _excludes(self, at: int) -> bool:
        """Whether children named next are left out: "except", "but", "not mia", "missing mia"."""
        item, current = self._items[at], self._current
        if item.kind is Kind.EXCEPT:
            return True
        if item.keys == ("instead", "of") and current is not None and current.is_whole:
            ahead = self._next_meaning(at + 1)
            return ahead is not None and ahead.kind is Kind.STUDENT  # "miles instead of pat"
        following = self._next_meaning(at + 1)
        if following is not None and following.kind is Kind.UNKNOWN and current is not None:
            return current.is_whole and item.keys in _NOT_THEM  # "not suny"
        if following is None or not is_subject(following):
            return False
        run = self._run(self._behind_meaning(at + 1) - 1, SUBJECT)
        kinds = [item.kind for item in run.items]
        ends = Kind.STUDENT in kinds[:1] and Kind.GROUP in kinds  # "no malik, g6 tubes"
        bin_next = not ends and self._is_place_next(run.end)
        if item.kind is Kind.BUT:
            return current is not None and (not current.is_whole or not bin_next)
        negates = item.keys in _NOT_THEM or item.can_be(Kind.MISSED)
        if not negates or following.kind is Kind.EVERYONE:
            return False
        if current is None:
            several = len(run.items) > 1 or self._is_subject_next(run.end)
            return item.keys in _NOT_THEM and several
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
        if item.text in _DASHES and self._current is not None and self._current.is_whole:
            self._behind_dash_now = len(self._items) - at > _SHORT_ASIDE
            self._chunk_words = 0
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
        elif item.keys == ("out", "of") and self._is_taken_out(at):
            target.moods.append(Kind.MISSED)  # "took obi out of loom"
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

    def _is_taken_out(self, at: int) -> bool:
        return any(_TAKEN & set(item.keys) for item in self._items[:at])

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
        if following is not None and following.kind is Kind.CHATTER and self._is_aside(item):
            return  # "and nobody spilled"
        ahead = self._next_meaning(at + 1)
        if mood is Kind.FUTURE and behind and ahead is not None and is_place(ahead):
            self._waiting.moods.append(mood)  # "g4 done with pulleys, moving on to rain"
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

    def _is_aside(self, item: Item) -> bool:
        """ "g3 did balance, no tears": what did not happen beside a turn that did."""
        current = self._current
        told = current is not None and current.is_whole and not current.moods
        return told and item.keys in _NOBODY and self._link is not Kind.BUT

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
        elif not behind or self._goes_on_telling() or self._is_short_chunk(at):
            target.unknown.append(item)

    def _goes_on_telling(self) -> bool:
        """Whether words behind a whole segment still belong to it: no link, no dash between."""
        return self._link is None and not self._behind_dash_now

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
