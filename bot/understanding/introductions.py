"""Sentences that introduce a child, and those that go on about it: "we got a new girl!" / "she's in
clouds"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from bot.understanding.segments import is_place
from bot.understanding.senses import How, Item, Kind

KID = (
    "student|students|kid|kids|child|children|girl|girls|boy|boys|friend|friends|kiddo|kiddos|pupil|"
    "pupils|classmate|classmates|learner|scholar|twins|stdnt"
)
KIDS = frozenset(KID.split("|"))
_NO_NAME = frozenset((
    "new", "starting", "called", "named", "name", "names", "today", "welcome", "add", "roster",
    "please", "the", "our", "we", "got", "have", "she", "he", "her", "his", "they", "shes", "hes",
    "is", "are", "in", "to", "joins", "joined", "joining", "starts", "started", "and", "from",
    "with", "for", "group", "grp", "first", "day", "will", "be", "us", "class", "here", "who",
    "coming", "comes", "goes", "by", "brand", "transfer", "transferred", "school", "just", "also",
    "another", "enrolled", "enrolling", "registered", "meet", "introducing", "put", "place",
    "both", "two", "their", "them", "him", "as", "a", "an", "gets", "has", "having", "theyre",
    "arrived", "all", "assigned", "should", "can", "you", "could", "would", "id", "like", "moving",
    "moved", "hi", "hello", "good", "morning", "fyi", "update", "heads", "up", "so", "now", "it",
    "this", "that", "on", "at", "next", "week", "begins", "beginning", "join", "start", "i", "my",
    "me", "of", "tomorrow", "room", "table", "team", "sits", "sit", "one", "going", "then", "list",
    "added", "make", "sure", "alert", "announcement", "info", "notice", "ok", "adding", "enroll",
    "enrolling", "register", "goin", "into", "exciting", "news", "yay", "excited", "added", "not",
    *KIDS,
))  # fmt: skip
_LEADS = frozenset((
    "named", "called", "welcome", "add", "introducing", "meet", "is", "names", "adding", "enroll",
    "enrolling", *KIDS,
))  # fmt: skip
_FOLLOWS = frozenset((
    "joins", "joined", "joining", "join", "starts", "started", "starting", "is", "are", "in",
    "will", "as", "to", "from", "begins",
))  # fmt: skip
_PRONOUNS = frozenset((
    "she", "he", "her", "his", "they", "shes", "hes", "theyre", "put", "their", "both", "all",
    "joined", "joins", "us",
))  # fmt: skip
_LETTERS = frozenset("inwru")  # also words: "i", "w" for with, "r" for are


@dataclass(frozen=True, slots=True)
class Introduced:
    """A child's name as written, and whether a child of the class is called so."""

    name: str
    is_known: bool
    items: tuple[Item, ...]


def introduces(items: Sequence[Item]) -> bool:
    """Whether these say that somebody is new, and name no bin."""
    if any(map(is_place, items)):
        return False
    keys = [key for item in items for key in item.keys]
    new = any(a == "new" and b in KIDS for a, b in pairwise(keys))
    return new or any(a in ("joined", "joins") and b == "us" for a, b in pairwise(keys))


def tells_more(items: Sequence[Item]) -> bool:
    """Whether these only go on about a child introduced: its name, its group, its first day."""
    said = [item for item in items if item.kind not in (Kind.MARK, Kind.STOP, Kind.BREAK)]
    if not said or len(said) > 9 or any(map(is_place, said)):
        return False
    if any(item.kind is Kind.STUDENT or item.can_be(Kind.ASK, Kind.DID) for item in said):
        return False
    names = list(names_in(items))
    named = {id(item) for name in names for item in name.items}
    opens = bool(set(said[0].keys[:1]) & _PRONOUNS) or id(said[0]) in named
    opens = opens or said[0].kind is Kind.GROUP or said[0].keys[:1] in (("group",), ("with",))
    opens = opens or said[0].keys[:1] in (("the",), ("in",), ("for",), ("starts",), ("starting",))
    return opens and not strange_in(items, named)


def strange_in(items: Sequence[Item], named: set[int]) -> list[Item]:
    """What is neither a name nor a word for introducing somebody."""
    times = (Kind.DAY, Kind.TIME, Kind.GROUP, Kind.MARK, Kind.COMMA, Kind.STOP, Kind.BREAK)
    return [
        item
        for item in items
        if id(item) not in named
        and item.kind not in (*times, Kind.COLON, Kind.AND)
        and not set(item.keys) <= _NO_NAME
        and item.text.strip(".-–()!*")
    ]


def names_in(items: Sequence[Item]) -> Iterator[Introduced]:
    """The names of children introduced: where a name is expected, words that mean nothing else."""
    at = 0
    last = -1  # where the name before ends
    while at < len(items):
        listed = last >= 0 and all(item.kind in _MARKS for item in items[last:at])
        width = _width(items, at) if listed or _is_expected(items, at) else 0
        if width:
            run = tuple(items[at : at + width])
            yield Introduced(_name(run), any(i.kind is Kind.STUDENT for i in run), run)
            last = at + width
        at += max(1, width)


_MARKS = (Kind.MARK, Kind.COMMA, Kind.COLON, Kind.STOP, Kind.BREAK, Kind.AND)


def _name(run: Sequence[Item]) -> str:
    words = [word.strip(".,'’-()") for item in run for word in item.text.split()]
    name = [_capital(word) for word in words if word]
    return " ".join(name) + ("." if len(name) > 1 and len(name[-1]) == 1 else "")


def _is_expected(items: Sequence[Item], at: int) -> bool:
    """Whether a name may stand here: first, behind "called", "new girl:", a comma or an "and"; or
    with an initial behind it."""
    before = at - 1
    marked = False
    while before >= 0 and items[before].kind in _MARKS:
        marked = True
        before -= 1
    if before < 0:
        ahead = items[at + _width(items, at) :][:2] if _width(items, at) else ()
        keys = {key for item in ahead for key in item.keys}
        return not ahead or bool(keys & _FOLLOWS) or ahead[0].kind in (*_MARKS, Kind.GROUP)
    last = items[before]
    if last.keys[-1:] and last.keys[-1] in _LEADS:
        return last.keys[-1] != "is" or any(i.keys[-1:] == ("name",) for i in items[:before])
    return marked and (
        last.kind in (Kind.DAY, Kind.GROUP, Kind.UNKNOWN, Kind.STUDENT) or _closes(last)
    )


def _closes(item: Item) -> bool:
    return bool(item.keys) and item.keys[-1] in ("today", "us", "class", "new", "day", "tomorrow")


def _width(items: Sequence[Item], at: int) -> int:
    """How many items of a name begin here: "Imani K", "mei ling"; 0 where none does."""
    first = items[at]
    if not _may_name(first):
        return 0
    width = 1
    while at + width < len(items) and width < 3 and _goes_on(items[at + width], first):
        width += 1
    return width


def _may_name(item: Item) -> bool:
    if item.kind is Kind.STUDENT:
        return not item.owned
    if not item.text[:1].isalpha() or len(item.keys) != 1 or len(item.keys[0]) < 2:
        return False
    if item.keys[0] in _NO_NAME or item.kind in (Kind.DAY, Kind.GROUP):
        return False
    capital = item.text[:1].isupper() and not item.text.isupper()
    mended = item.sense.how is How.CLOSE or item.sense.word == "some"  # "zed in group 2"
    return item.kind is Kind.UNKNOWN or mended or (capital and item.start > 0)


def _goes_on(item: Item, first: Item) -> bool:
    letter = item.text.rstrip(". ")
    if len(letter) == 1 and letter.isalpha():
        return letter.isupper() or letter not in _LETTERS
    alike = item.text[:1].isupper() == first.text[:1].isupper()
    return item.kind is Kind.UNKNOWN and _may_name(item) and alike


def _capital(word: str) -> str:
    return "-".join(part[:1].upper() + part[1:] for part in word.split("-"))
