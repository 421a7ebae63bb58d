"""A group that only says whose children are told of: "g4: will at clay, the rest at rain"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.understanding.segments import LINKS, is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind
from storage.records import Roster

_PARTS = frozenset(("split", "splits", "splitting", "divided", "separated", "different"))
_ONLY = frozenset(("just", "only", "namely"))


def under_heading(items: Sequence[Item], roster: Roster, day: date) -> tuple[Item, ...]:
    """The items without a group that only heads the children named, and these as its members.

    "g3: ava at ramps, the rest at clay" and "g3 split up, ..." head what follows; "g3 did ramps:
    ava and ben" tells who of it; "the rest" and "the other two" are then of that group. The items
    as they are where a child named is of another group.
    """
    named = [at for at, item in enumerate(items) if is_mention(item)]
    if len(named) < 3 or items[named[0]].kind is not Kind.GROUP:
        return tuple(items)
    group = items[named[0]]
    if len(group.sense.ids) != 1 or sum(i.kind is Kind.GROUP for i in items) != 1:
        return tuple(items)
    members = {student.id for student in roster.members_of(group.sense.ids[0], day)}
    theirs = [_among(item, group, members) for item in items]
    if any(item is None for item in theirs):
        return tuple(items)
    found = [item for item in theirs if item is not None]
    if _is_heading(items, named):
        when = [i for i in items[: named[1]] if i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT)]
        return (*when, *found[named[1] :])
    if _is_listed_behind(items, named):
        who = found[named[2] : named[-1] + 1]
        between = [item for item in found[named[0] + 1 : named[2]] if not _opens_list(item)]
        before = [item for item in found[: named[0]] if item.kind is not Kind.PARTIAL]
        return (*before, *who, *between, *found[named[-1] + 1 :])
    return tuple(items)


def _among(item: Item, group: Item, members: set[int]) -> Item | None:
    """A child as one of the group, "the rest" as the rest of it; None for a child of another."""
    if item.kind in (Kind.REST, Kind.EVERYONE):
        word = "rest" if item.kind is Kind.REST else group.sense.word
        return item.as_(replace(group.sense, word=word, value=item.sense.value))
    if item.kind is not Kind.STUDENT:
        return item
    ids = tuple(i for i in item.sense.ids if i in members)
    return item.as_(replace(item.sense, ids=ids)) if ids else None


def _is_heading(items: Sequence[Item], named: Sequence[int]) -> bool:
    """Whether the first group stands alone before a colon, or before words that say it parted."""
    first, second = named[0], named[1]
    if not is_subject(items[second]) or not any(is_place(items[at]) for at in named):
        return False
    between = items[first + 1 : second]
    return any(i.kind is Kind.COLON or bool(_PARTS & set(i.keys)) for i in between)


def _is_listed_behind(items: Sequence[Item], named: Sequence[int]) -> bool:
    """Whether bin and colon stand behind the group, then nothing but children."""
    if not is_place(items[named[1]]) or any(is_place(items[at]) for at in named[2:]):
        return False
    if any(items[at].kind is not Kind.STUDENT for at in named[2:]):
        return False
    between = items[named[1] + 1 : named[2]]
    listed = items[named[2] : named[-1] + 1]
    return (
        any(_opens_list(item) for item in between)
        and all(_opens_list(i) or i.kind in (Kind.PLAIN, Kind.MARK, Kind.COMMA) for i in between)
        and all(is_subject(i) or i.kind in (*LINKS, Kind.MARK) for i in listed)
    )


def _opens_list(item: Item) -> bool:
    return item.kind is Kind.COLON or bool(_ONLY & set(item.keys))
