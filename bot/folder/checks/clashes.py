"""Two shapes that many mistakes have: the same key on two lines, an end before its start."""

from collections.abc import Hashable, Iterable, Iterator
from datetime import date, time

from bot.folder.problems import Kind, Problem
from bot.folder.values import Place


def keys_once(
    keyed: Iterable[tuple[Hashable, str, Place]], column: str, kind: Kind = Kind.TWICE
) -> Iterator[Problem]:
    """A problem for each (key, text, place) whose key came before."""
    first: dict[Hashable, int] = {}
    for key, found, place in keyed:
        if key in first:
            yield Problem(place.file, kind, place.line, column, found, other_line=first[key])
        first.setdefault(key, place.line)


def in_order(first: date | None, last: date | None, place: Place, column: str) -> Iterator[Problem]:
    """A problem where `last`, told in `column`, lies before `first`."""
    if first and last and last < first:
        found, least = last.isoformat(), (first.isoformat(),)
        yield Problem(place.file, Kind.ENDS_BEFORE, place.line, column, found, least)


def hours_ordered(
    first: time | None, last: time | None, place: Place, column: str
) -> Iterator[Problem]:
    """A problem where `last`, told in `column`, is not after `first`."""
    if first and last and last <= first:
        found, least = f"{last:%H:%M}", (f"{first:%H:%M}",)
        yield Problem(place.file, Kind.HOURS_BACKWARDS, place.line, column, found, least)
