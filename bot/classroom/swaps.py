"""Swaps: on which day one bin goes and another comes, for how long, and why it cannot be."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.classroom.days import (
    is_school_day,
    rotation_end,
    rotations_on,
    school_day_after,
    school_day_before,
    school_days,
)
from bot.classroom.stints import stints_in, stints_of
from storage.records import Bin, Roster, Stint

USUAL_SCHOOL_DAYS = 10  # how long a bin stays out where nothing says so: common practice, no source
FAR = timedelta(days=400)


@dataclass(frozen=True, slots=True)
class Swap:
    """One bin goes, another comes, or only one of the two.

    `day` is the first day of the bin that comes, else the day on which the other is taken down.
    `last` is the last day of the bin that goes; None where it then never was out. `begins_early` is
    a stint of the bin that comes, set down for later in the same color, which begins now instead.
    """

    color: str
    day: date
    outgoing: Stint | None = None
    last: date | None = None
    incoming: Bin | None = None
    closes: date | None = None
    begins_early: Stint | None = None
    followed_by: Stint | None = None  # what cuts the new stint short


@dataclass(frozen=True, slots=True)
class CannotSwap:
    """Why a swap cannot be: past, no_school, running, there_already, full, too_short, not_out,
    neither_out, two_colors;
    `stint` is the one in the way."""

    reason: str
    day: date
    stint: Stint | None = None


def day_of_swap(
    roster: Roster, at: datetime, said: date | None, *, is_now: bool, has_been_used: bool
) -> date | CannotSwap:
    """The first day of the bin that comes, for a swap texted `at`.

    `said` is the day named, `has_been_used` whether the bin that goes has visits today: then the
    swap waits for the next school day unless the text says now.
    """
    today = at.date()
    if said is not None and said < today:
        return CannotSwap("past", said)
    if said is not None and not is_school_day(roster, said):
        return CannotSwap("no_school", said)
    if said is not None and said > today:
        return said
    waits = (has_been_used or is_over(roster, at)) and not is_now
    if is_school_day(roster, today) and not waits:
        return today
    return school_day_after(roster, today) or today


def is_over(roster: Roster, at: datetime) -> bool:
    """Whether the last rotation of the day has ended."""
    rotations = rotations_on(roster, at.date())
    return bool(rotations) and rotation_end(rotations[-1]) <= at.time()


def exchange(
    roster: Roster,
    color: str,
    outgoing: Stint | None,
    incoming: Bin,
    day: date,
    *,
    till: date | None = None,
    has_been_used: bool = False,
) -> Swap | CannotSwap:
    """A bin goes out in a color on a day, in the place of what is there.

    `has_been_used` says that the outgoing bin has visits on that very day: it then stays on record
    for that day.
    """
    here, elsewhere = _stint_around(roster, incoming, day, color)
    if here is not None and here.is_out(day):
        return CannotSwap("there_already", day, here)
    if elsewhere is not None and elsewhere.is_out(day):
        return CannotSwap("running", day, elsewhere)
    in_the_way = _in_the_way(roster, color, outgoing, here, day)
    if in_the_way is not None:
        return CannotSwap("full", day, in_the_way)
    follows = _next_claim(roster, color, incoming, outgoing, here, day)
    closes = _last_day(roster, outgoing, here, day, till)
    followed_by = None
    if follows is not None and (closes is None or closes >= follows.opens):
        closes, followed_by = school_day_before(roster, follows.opens), follows
    if closes is not None and closes < day:
        return CannotSwap("too_short", day, follows)
    last = last_day_before(roster, outgoing, day, has_been_used=has_been_used)
    return Swap(color, day, outgoing, last, incoming, closes, here, followed_by)


def last_day_before(
    roster: Roster, stint: Stint | None, day: date, *, has_been_used: bool
) -> date | None:
    """The last day of a stint whose bin is gone on this day; None where it never was out."""
    if stint is None:
        return None
    last = day if has_been_used else school_day_before(roster, day)
    if last is None or last < stint.opens:
        return None
    return last if stint.closes is None else min(last, stint.closes)


def closing_day(roster: Roster, day: date) -> date:
    """The last day of a stint that is to close on this day: the school day before where there is
    no school."""
    return day if is_school_day(roster, day) else school_day_before(roster, day) or day


def followed_by(roster: Roster, stint: Stint, last: date | None) -> Stint | None:
    """The stint that stands in the way of keeping a bin out till this day: the next one in its
    color, or of the same bin."""
    rest = (*stints_in(roster, stint.color), *stints_of(roster, stint.bin_id))
    later = [s for s in rest if s.opens > stint.opens and (last is None or s.opens <= last)]
    return min(later, key=lambda s: s.opens, default=None)


def _stint_around(
    roster: Roster, bin_: Bin, day: date, color: str
) -> tuple[Stint | None, Stint | None]:
    """The stint of a bin that is out on this day or will be: in this color, and in others."""
    coming = [s for s in stints_of(roster, bin_.id) if s.closes is None or s.closes >= day]
    wanted = color.casefold()
    here = next((s for s in coming if s.color.casefold() == wanted), None)
    return here, next((s for s in coming if s.color.casefold() != wanted), None)


def _in_the_way(
    roster: Roster, color: str, outgoing: Stint | None, here: Stint | None, day: date
) -> Stint | None:
    """What is in the color on this day beside the two bins of the swap."""
    mine = (s for s in stints_in(roster, color) if s not in (outgoing, here))
    return next((s for s in mine if s.is_out(day)), None)


def _next_claim(
    roster: Roster,
    color: str,
    incoming: Bin,
    outgoing: Stint | None,
    here: Stint | None,
    day: date,
) -> Stint | None:
    """The next stint that needs the color or the bin."""
    rest = (*stints_in(roster, color), *stints_of(roster, incoming.id))
    later = [s for s in rest if s.opens > day and s not in (outgoing, here)]
    return min(later, key=lambda s: s.opens, default=None)


def _last_day(
    roster: Roster, outgoing: Stint | None, here: Stint | None, day: date, till: date | None
) -> date | None:
    """As told; as set down before; else as many school days as the bin that goes was to have."""
    if till is not None:
        return closing_day(roster, till)
    if here is not None:
        return here.closes
    return usual_last_day(roster, outgoing, day)


def usual_last_day(roster: Roster, outgoing: Stint | None, day: date) -> date | None:
    """The last day of a bin that comes on this day, where nothing says so: as many school days as
    the bin that goes was to have."""
    count = USUAL_SCHOOL_DAYS
    if outgoing is not None and outgoing.closes is not None:
        count = len(school_days(roster, outgoing.opens, outgoing.closes)) or count
    ahead = school_days(roster, day, day + FAR)
    return ahead[min(count, len(ahead)) - 1] if ahead else None
