"""Whether the items of a reading account for the changes in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import pairwise

from bot.requests import CorrectLog, LogVisits, Place, Redo, RemoveVisits, Undo
from bot.understanding.clause import Last
from bot.understanding.reading import Reading
from bot.understanding.segments import is_place
from bot.understanding.senses import How, Item, Kind
from storage.records import Roster
from tests.rosters import who_is

_CLASS_WIDE = (Kind.EVERYONE, Kind.REST)


def unexplained(
    reading: Reading, roster: Roster, at: datetime, last: Last | None = None
) -> Iterator[str]:
    """What a reading would change without a word of the text that accounts for it.

    A child is accounted for by a name, a group that holds the child on that day, or a word for
    everyone; a bin by its name or its color; a step back by a word that asks for it.
    The sender's last log accounts for what is corrected in it.
    """
    before = last.logs if last is not None else ()
    for request in _changing(reading):
        day = request.when.day or at.date()
        children = who_is(request.who, roster, day)
        for log in before:
            children -= who_is(log.who, roster, log.when.day or at.date())
        strangers = children - _named(reading.items, roster, at, request)
        if strangers:
            yield f"children {sorted(strangers)} of {request}"
        place = request.place
        if place is not None and not _is_named(place, reading.items, roster, before):
            yield f"the bin of {request}"
    for step in reading.heard.requests:
        if isinstance(step, Undo | Redo) and not _is_asked_for(step, reading.items):
            yield f"{step}"
    yield from _excepted(reading, roster, at)


def _changing(reading: Reading) -> Iterator[LogVisits | RemoveVisits]:
    for request in reading.heard.requests:
        if isinstance(request, CorrectLog):
            yield from request.logs
        elif isinstance(request, LogVisits | RemoveVisits):
            yield request


def _named(
    items: Sequence[Item], roster: Roster, at: datetime, request: LogVisits | RemoveVisits
) -> frozenset[int]:
    """Every child that some word of the text may stand for."""
    day = request.when.day or at.date()
    found: set[int] = set()
    for item in items:
        if item.can_be(*_CLASS_WIDE):
            return frozenset(student.id for student in roster.students)
        for sense in item.senses:
            if sense.kind is Kind.STUDENT:
                found |= set(sense.ids)
            elif sense.kind is Kind.GROUP:
                found |= {s.id for g in sense.ids for s in roster.members_of(g, day)}
    return frozenset(found)


def _is_named(
    place: Place, items: Sequence[Item], roster: Roster, before: Sequence[LogVisits]
) -> bool:
    if place in [log.place for log in before]:
        return True
    senses = [sense for item in items for sense in item.senses]
    if place.color is not None:
        return any(s.kind is Kind.COLOR and s.word == place.color for s in senses)
    colors = {stint.color for stint in roster.stints if stint.bin_id == place.bin_id}
    return any(
        (s.kind is Kind.BIN and place.bin_id in s.ids)
        or (s.kind is Kind.COLOR and s.word in colors)
        for s in senses
    )


def _is_asked_for(step: Undo | Redo, items: Sequence[Item]) -> bool:
    """Whether some known word of the text does more than a name does; it may be misspelt where the
    text names no bin ("undos", not "redor did ramps")."""
    may_be_misspelt = not any(is_place(item) for item in items)
    return any(
        sense.kind not in (Kind.UNKNOWN, Kind.STUDENT, Kind.GROUP, Kind.BIN, Kind.COLOR)
        and (may_be_misspelt or sense.how is not How.CLOSE)
        for item in items
        for sense in item.senses
    )


def _excepted(reading: Reading, roster: Roster, at: datetime) -> Iterator[str]:
    """A child named right behind "except", and nowhere else, neither gets a turn nor loses one with
    the others, where one bin is named in one sentence."""
    items = reading.items
    if sum(is_place(item) for item in items) != 1:
        return
    if any(item.kind in (Kind.BREAK, Kind.STOP, Kind.QUERY) for item in items):
        return
    touched = {
        child
        for request in _changing(reading)
        if isinstance(request, LogVisits) or request.who.groups or request.who.everyone
        for child in who_is(request.who, roster, request.when.day or at.date())
    }
    named = [i for item in items for s in item.senses if s.kind is Kind.STUDENT for i in s.ids]
    for item, child in pairwise(items):
        sure = len(child.senses) == 1 and len(child.sense.ids) == 1
        if item.kind is Kind.EXCEPT and child.kind is Kind.STUDENT and sure:
            [out] = child.sense.ids
            if out in touched and named.count(out) == 1:
                yield f"{child.text}, who is left out"
