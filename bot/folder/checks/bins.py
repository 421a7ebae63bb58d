"""Bins and their stints: one bin in a color at a time, one stint of a bin at a time."""

from collections.abc import Callable, Iterator
from datetime import date

from bot.folder.checks.clashes import in_order, keys_once
from bot.folder.columns import UNITS
from bot.folder.draft import Draft
from bot.folder.nearest import Register, fold
from bot.folder.problems import Kind, Problem
from bot.folder.rows import Line
from bot.folder.school_days import last_school_day
from bot.folder.values import BinLine


def half_stints(draft: Draft) -> Iterator[Problem]:
    """A color needs a day on which the bin goes out, and a day needs a color."""
    for line in draft.bins:
        one = line.value
        if one.color and "opens" not in line.told:
            place = (one.place.line, "opens")
            yield Problem(one.place.file, Kind.COLOR_WITHOUT_DAY, *place, one.color)
        elif not one.color and (day := one.opens or one.closes):
            place = (one.place.line, "color")
            yield Problem(one.place.file, Kind.DAY_WITHOUT_COLOR, *place, day.isoformat())


def stint_days(draft: Draft) -> Iterator[Problem]:
    """A stint closes on or after the day it opens, with a school day in between."""
    settings = draft.settings
    for line in draft.bins:
        one = line.value
        late = list(in_order(one.opens, one.closes, one.place, "closes"))
        yield from late
        if late or "school_days" in settings.bad or not (one.color and one.opens and one.closes):
            continue
        weekdays, closed = settings.value.school_days, draft.closed_days
        if last_school_day(one.opens, one.closes, weekdays=weekdays, closed=closed) is None:
            found = f"{one.opens} to {one.closes}"
            yield Problem(one.place.file, Kind.NO_SCHOOL_DAY, one.place.line, "closes", found)


def bins_once(draft: Draft) -> Iterator[Problem]:
    """A bin is on the shelf once; its other lines are stints."""
    shelf = (line.value for line in draft.bins if not line.told & {"color", "opens", "closes"})
    yield from keys_once(((fold(one.bin), one.bin, one.place) for one in shelf if one.bin), "bin")


def facts_agree(draft: Draft) -> Iterator[Problem]:
    """Lines of one bin tell the same seats and unit, where they tell them."""
    facts: tuple[tuple[str, Callable[[BinLine], str]], ...] = (
        ("seats", lambda one: str(one.seats)),
        ("unit", lambda one: one.unit or ""),
    )
    for column, fact in facts:
        first: dict[str, BinLine] = {}
        for line in draft.bins:
            if column not in line.told - line.bad:
                continue
            before = first.setdefault(fold(line.value.bin), line.value)
            if fold(fact(before)) != fold(fact(line.value)):
                found, place = fact(line.value), line.value.place
                yield Problem(
                    *(place.file, Kind.FACTS_DISAGREE, place.line, column, found),
                    accepted=(fact(before),),
                    other_line=before.place.line,
                )


def stints_apart(draft: Draft) -> Iterator[Problem]:
    """No two stints of one bin, and no two bins in one color, on the same day."""
    sound = [line for line in draft.bins if _has_days(line)]
    for line, before in _overlaps(draft, sound, lambda one: fold(one.bin)):
        yield _overlap(line.value, before, Kind.STINTS_OVERLAP, "opens", line.value.bin)
    for line, before in _overlaps(draft, sound, lambda one: fold(one.color or "")):
        if fold(line.value.bin) != fold(before.bin):
            color = line.value.color or ""
            yield _overlap(line.value, before, Kind.COLOR_TAKEN, "color", color)


def _has_days(line: Line[BinLine]) -> bool:
    one = line.value
    readable = not line.bad & {"opens", "closes", "bin"}
    return (
        readable and one.is_stint and (one.closes is None or one.closes >= (one.opens or date.max))
    )


def _overlaps(
    draft: Draft, lines: list[Line[BinLine]], key: Callable[[BinLine], str]
) -> Iterator[tuple[Line[BinLine], BinLine]]:
    """Stints that open while an earlier one of the same key is still out, with that one."""
    longest: dict[str, BinLine] = {}
    for line in sorted(lines, key=lambda line: line.value.opens or date.min):
        one, before = line.value, longest.get(key(line.value))
        if before and one.opens and one.opens <= _out_till(draft, before):
            yield line, before
        if before is None or _out_till(draft, one) > _out_till(draft, before):
            longest[key(one)] = one


def _out_till(draft: Draft, one: BinLine) -> date:
    """The school day on which the stint ends; the end of time for a year-round one."""
    if one.opens is None or one.closes is None:
        return date.max
    weekdays, closed = draft.settings.value.school_days, draft.closed_days
    return last_school_day(one.opens, one.closes, weekdays=weekdays, closed=closed) or one.closes


def _overlap(one: BinLine, before: BinLine, kind: Kind, column: str, found: str) -> Problem:
    till = before.closes.isoformat() if before.closes else ""
    other = before.place.line
    accepted = (before.bin, till)
    return Problem(one.place.file, kind, one.place.line, column, found, accepted, other_line=other)


def units_known(draft: Draft) -> Iterator[Problem]:
    """A bin's unit is one of units.csv, where there is such a file."""
    if not draft.has(UNITS) or UNITS in draft.unread:
        return
    units = Register.of(line.value.unit for line in draft.units)
    names = tuple(dict.fromkeys(line.value.unit for line in draft.units if line.value.unit))
    for line in draft.bins:
        one = line.value
        if one.unit and units.find(one.unit) is None:
            place = (one.place.line, "unit", one.unit)
            yield Problem(one.place.file, Kind.UNKNOWN_UNIT, *place, names, units.nearest(one.unit))
