"""Which events of a calendar a text picks: "all but book fair", "1 3 and 5", "only winter break".

Every pick has a text in full words that means the same whenever it is sent:

    close all|none|NUMBERS of calendar ENTRY
    choose all|none|NUMBERS of calendar ENTRY [from NUMBER] [: WORDS THAT NAME NONE]

where NUMBERS are those shown beside the events, as in "1-3 7".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from rapidfuzz.distance import OSA

from bot.requests import ChooseEvents, Request, TakeCalendar
from bot.understanding.lexicon import NUMBER_WORDS, ORDINAL_WORDS
from bot.understanding.tokens import Kind, Token, keys, normal, tokenise
from storage.records import Question

EVENTS = "events"  # what fills the gap of such a question
_FULL = re.compile(
    r"\s*(?P<what>close|choose) (?P<which>all|none|\d+(?:-\d+)?(?: \d+(?:-\d+)?)*)"
    r" of calendar (?P<id>\d{1,9})(?: from (?P<first>\d{1,4}))?(?:: (?P<strange>.*))?\s*",
    re.IGNORECASE | re.DOTALL,
)
_MOST = 5000  # events that numbers may stand for
_ALL = frozenset(("all", "everything", "every", "both", "whole", "yes", "yep", "yeah", "sure", "y"))
_NONE = frozenset(("none", "no", "nope", "nothing", "neither", "cancel", "n", "nah", "never"))
_ONLY = frozenset(("only", "just"))
_BUT = frozenset(
    ("but", "except", "excluding", "without", "not", "minus", "besides", "dont", "w/o")
)
_TO = frozenset(("-", "–", "to", "through", "thru", "till"))
_FILLERS = frozenset((
    "the", "a", "an", "and", "or", "of", "them", "those", "these", "that", "it", "is", "are", "for",
    "on", "in", "at", "to", "as", "event", "events", "number", "numbers", "day", "days", "school",
    "schools", "close", "closes", "closed", "please", "pls", "thanks", "ok", "okay", "take", "keep",
    "use", "add", "also", "plus", "with", "we", "have", "off", "one", "ones", "count", "apply",
    "well", "then", "actually", "oh", "calendar", "from", "can", "you", "i", "want", "leave", "out",
    "skip", "there", "let", "me", "ill", "mean", "meant", "go", "do", "class", "right", "n",
))  # fmt: skip
_LEAVES_OUT = frozenset(("skip", "leave"))
_CHOOSE = frozenset(("choose", "pick", "select", "some", "which"))
_LONGEST_ANSWER = 60  # words
_LONGEST_STRANGE = 6


def full(what: str, chosen: Sequence[int] | None, calendar: int, first: int = 1) -> str:
    """The text in full words for a pick (None: all)."""
    which = "all" if chosen is None else in_short(chosen) or "none"
    return f"{what} {which} of calendar {calendar}" + (f" from {first}" if first > 1 else "")


def in_short(numbers: Iterable[int]) -> str:
    """Numbers with stretches drawn together: "1-3 7"."""
    parts: list[list[int]] = []
    for number in sorted(set(numbers)):
        if parts and parts[-1][-1] == number - 1:
            parts[-1].append(number)
        else:
            parts.append([number])
    return " ".join(f"{p[0]}-{p[-1]}" if len(p) > 1 else f"{p[0]}" for p in parts)


def request_of(text: str) -> Request | None:
    """The request that a text in full words stands for."""
    told = _FULL.fullmatch(text)
    if told is None:
        return None
    calendar, chosen = int(told["id"]), _numbers(told["which"].casefold())
    if told["what"].casefold() == "close":
        return TakeCalendar(calendar, chosen)
    strange = " ".join((told["strange"] or "").split())
    return ChooseEvents(calendar, chosen, int(told["first"] or 1), strange)


def _numbers(which: str) -> tuple[int, ...] | None:
    if which in ("all", "none"):
        return None if which == "all" else ()
    found: set[int] = set()
    for part in which.split():
        first, _, last = part.partition("-")
        stretch = range(int(first), min(int(last or first), _MOST) + 1)
        found.update(stretch)
    return tuple(sorted(found))


@dataclass(frozen=True, slots=True)
class Picked:
    """The text in full words that an answer stands for; `is_sure` False where words of it name no
    event, so that it may be no answer at all."""

    text: str
    is_sure: bool = True


def events_picked(text: str, question: Question) -> Picked | None:
    """What an answer to a question about a calendar's events picks; None where it picks none."""
    frame = next((f for f in question.frames if f[0] == EVENTS), None)
    if frame is None or _FULL.fullmatch(text):
        return None
    words = [t for t in tokenise(normal(text)) if t.kind is not Kind.BREAK and _counts(t)]
    if not words or len(words) > _LONGEST_ANSWER or [w.key for w in words] == ["no", "school"]:
        return None  # "no school" is said of today
    names = [keys(name) for name in frame[2].split("\n")]
    answer = _Answer(words, names)
    answer.read()
    gap = frame[1]
    if answer.strange:
        return _strange(answer, gap)
    if answer.chooses and not answer.picked and not answer.left:
        return Picked(gap.replace("close {}", "choose all"))
    chosen = answer.chosen()
    if chosen is None:
        return None
    if answer.is_plain_yes:
        return Picked(next(send for _, send in question.choices if send.startswith("close ")))
    every = len(chosen) == len(names)
    return Picked(gap.replace("{}", "all" if every else in_short(chosen) or "none"))


def _counts(token: Token) -> bool:
    return token.kind is not Kind.MARK or token.key in _TO


def _strange(answer: _Answer, gap: str) -> Picked | None:
    is_answer = answer.named or answer.says_all or answer.says_only or answer.out_of_range
    if not is_answer or len(answer.strange) > _LONGEST_STRANGE:
        return None
    told = gap.replace("close {}", "choose all")
    return Picked(f"{told}: {' '.join(answer.strange)}", is_sure=False)


@dataclass(slots=True)
class _Answer:
    """An answer read word by word: events picked, events left out, words that name none."""

    words: Sequence[Token]
    names: Sequence[tuple[str, ...]]
    picked: set[int] = field(default_factory=set)
    left: set[int] = field(default_factory=set)
    strange: list[str] = field(default_factory=list)
    named: bool = False
    says_all: bool = False
    says_none: bool = False
    says_only: bool = False
    chooses: bool = False
    out_of_range: bool = False
    _leaving: bool = False

    def read(self) -> None:
        at = 0
        while at < len(self.words):
            at += (
                self._name_at(at, shortest=2)
                or self._numbers_at(at)
                or self._control_at(at)
                or self._name_at(at, shortest=1)
                or self._filler_at(at)
                or self._unknown_at(at)
            )

    def chosen(self) -> list[int] | None:
        """The numbers that count after all; None where the text picks nothing."""
        everything = set(range(1, len(self.names) + 1))
        if self.picked:
            return sorted(self.picked - self.left)
        if self.left or self.says_all:
            return sorted(everything - self.left)
        return [] if self.says_none else None

    @property
    def is_plain_yes(self) -> bool:
        """ "yes", "sure": what was offered first."""
        said = {word.key for word in self.words} & (_ALL | _NONE)
        yes = {"yes", "yep", "yeah", "sure", "y"}
        return bool(said) and said <= yes and not self.picked and not self.left

    def _take(self, numbers: Iterable[int]) -> None:
        (self.left if self._leaving else self.picked).update(numbers)

    def _name_at(self, at: int, *, shortest: int) -> int:
        """How many words from here name events: the longest stretch that does."""
        for length in range(min(len(self.words) - at, 12), shortest - 1, -1):
            span = [word.key for word in self.words[at : at + length]]
            if span[0] in _FILLERS - {"school", "class"} or not set(span) - _FILLERS - _ALL - _BUT:
                continue
            found = [n for n, name in enumerate(self.names, 1) if _is_of(span, name)]
            exact = [n for n in found if list(self.names[n - 1]) == span]
            found = exact or found
            if not found:
                continue
            if len({self.names[n - 1] for n in found}) > 1:
                self.strange.append(" ".join(span))
                self.named = True
            else:
                self._take(found)
                self.named = True
            return length
        return 0

    def _numbers_at(self, at: int) -> int:
        first = self._number(at)
        if first is None:
            return 0
        length, last = 1, first
        if at + 2 < len(self.words) and self.words[at + 1].key in _TO:
            behind = self._number(at + 2)
            length, last = (3, behind) if behind is not None else (1, first)
        key = self.words[at].key
        if key in ("first", "last") and (count := self._count(at + 1)):
            length, total = 2, len(self.names)
            first, last = (1, count) if key == "first" else (total - count + 1, total)
        if not 1 <= first <= last <= len(self.names):
            self.strange.append(" ".join(w.key for w in self.words[at : at + length]))
            self.out_of_range = True
        else:
            self._take(range(first, last + 1))
        return length

    def _number(self, at: int) -> int | None:
        if at >= len(self.words):
            return None
        word = self.words[at]
        if word.number is not None:
            return word.number
        if word.key == "last":
            return len(self.names)
        if word.key == "one" and at and self.words[at - 1].key in _POINTING:
            return None
        return ORDINAL_WORDS.get(word.key) or NUMBER_WORDS.get(word.key)

    def _count(self, at: int) -> int | None:
        if at >= len(self.words):
            return None
        return self.words[at].number or NUMBER_WORDS.get(self.words[at].key)

    def _control_at(self, at: int) -> int:
        key = self.words[at].key
        behind = self.words[at + 1].key if at + 1 < len(self.words) else ""
        if key == "no" and behind in ("school", "class", "classes"):
            return 2
        if key == "no" and self._number(at + 1) is not None:  # not 3, or number 3?
            self.strange.append(f"no {behind}")
            self.out_of_range = True
            return 2
        if key in _ALL:
            self.says_all = True
        elif key in _NONE:
            self.says_none = True
            self._leaving = key == "no"
        elif key in _ONLY:
            self.says_only, self._leaving = True, False
        elif key in _BUT or key in _LEAVES_OUT:
            self._leaving = not (self.says_none and not self.says_all)
        elif key in _CHOOSE:
            self.chooses = True
        else:
            return 0
        return 1

    def _filler_at(self, at: int) -> int:
        return 1 if self.words[at].key in _FILLERS | _TO else 0

    def _unknown_at(self, at: int) -> int:
        self.strange.append(self.words[at].key)
        return 1


_POINTING = frozenset((
    "the", "that", "this", "first", "second", "third", "fourth", "fifth", "last", "which", "other",
))  # fmt: skip


def _is_of(span: Sequence[str], name: Sequence[str]) -> bool:
    """Whether words are, in order, words of a name, each perhaps with a slip; or its initials."""
    if len(span) == 1 and len(span[0]) > 2:
        initials = "".join(word[0] for word in name)
        if len(initials) > 2 and initials.startswith(span[0]):
            return True
    if not span or not name:
        return False
    left = list(name)
    for word in span:
        place = next((n for n, other in enumerate(left) if _same(word, other)), None)
        if place is None:
            return False
        del left[: place + 1]
    return True


def _same(word: str, other: str) -> bool:
    if word == other or word.rstrip("s") == other.rstrip("s"):
        return True
    if min(len(word), len(other)) < 3 or max(len(word), len(other)) < 4 or word[0] != other[0]:
        return False
    return OSA.distance(word, other) <= (2 if len(word) > 7 else 1)
