"""Swaps: a bin goes, another comes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bot.classroom.cautions import kept_from
from bot.classroom.needs import Tally
from bot.classroom.readiness import missing_out
from bot.classroom.stints import out_on, stint_in, stint_of, stints_in
from bot.classroom.swaps import (
    CannotSwap,
    day_of_swap,
    exchange,
    is_over,
    last_day_before,
)
from bot.classroom.swaps import Swap as Planned
from bot.outcomes import (
    DONE,
    Outcome,
    Swapped,
)
from bot.requests import Place, Swap
from bot.skills.boxes import state_of
from bot.skills.skill import Situation, Skill
from bot.skills.swap_choices import refused, which_color, with_which, would_miss_out
from bot.understanding.canonical import swap_in_full
from bot.understanding.swaps.hearing import TOLD_OR_ASKED, TOLD_OR_ASKED_APART
from storage.records import Bin, Stint, Student
from storage.register import OWNER


def swap(request: Swap, now: Situation) -> Outcome:
    """Put a bin out, take one down, or exchange two; ask where that is not clear or where children
    would miss out; say why where it cannot be."""
    goes, comes = _sides(request, now)
    if isinstance(goes, CannotSwap):
        return refused(goes, now, comes, request)
    used = goes is not None and now.book.has_visits(goes.id, now.today)
    day = day_of_swap(now.roster, now.at, request.day, is_now=request.is_now, has_been_used=used)
    if isinstance(day, CannotSwap):
        return refused(day, now, comes, request)
    if comes is None:
        assert goes is not None, "a swap has a bin that goes or one that comes"
        if request.is_open:
            return with_which(goes, day, request, now)
        return _take_down(goes, request, now)
    color = goes.color if goes is not None else _color_named(request)
    if color is None:
        return which_color(comes, day, request, now)
    made = exchange(
        now.roster,
        color,
        goes,
        comes,
        day,
        till=request.till,
        has_been_used=used and day == now.today,
    )
    if isinstance(made, CannotSwap):
        instead = _in_place_of(made, request, now)
        return swap(instead, now) if instead is not None else refused(made, now, comes, request)
    waits = used and day > now.today and request.day in (None, now.today)
    return _not_ready(made, request, now) or _carry_out(made, request, now, waits=waits)


def _in_place_of(why: CannotSwap, request: Swap, now: Situation) -> Swap | None:
    """ "put gears in pink": in the place of what is there, where nobody needs that any more."""
    there = why.stint
    if why.reason != "full" or there is None or not there.is_out(now.today):
        return None
    needed = missing_out(now.roster, _tally(there, now), there, now.at, now.today)
    return None if needed else replace(request, outgoing=Place(there.bin_id), into_color=None)


def _tally(stint: Stint, now: Situation) -> Tally:
    return now.book.tally({s.id for s in (*out_on(now.roster, now.today), stint)})


def _color_named(request: Swap) -> str | None:
    """The color that a text puts a bin into: "put gears in pink", "swap pink to gears"."""
    sides = [side.color for side in (request.outgoing, request.incoming) if side is not None]
    return next((color for color in (request.into_color, *sides) if color is not None), None)


def _sides(request: Swap, now: Situation) -> tuple[Stint | CannotSwap | None, Bin | None]:
    """The stint that goes and the bin that comes: of two bins named, the one that is out goes."""
    day = max(request.day or now.today, now.today)
    first, second = request.outgoing, request.incoming
    if first is None:
        assert second is not None, "a swap names a bin"
        there = _there_already(request, day, now)
        return there or _gone_by_then(request, day, now), now.bin_at(second, None)
    goes = _in_place(first, day, now)
    if second is None:
        missing = CannotSwap("not_out", day)
        return goes or missing, now.bin_at(first, None) if goes is None else None
    comes = _in_place(second, day, now)
    done = _done_before(first, comes, now) if goes is None else None
    if done is not None:
        return CannotSwap("there_already", day, done), now.roster.bin_of(done)
    if second.bin_id is None or (goes is None and comes is not None):
        first, second, goes, comes = second, first, comes, goes
    if second.bin_id is None:
        return CannotSwap("two_colors", day), None
    bin_ = now.roster.bin[second.bin_id]
    if goes is not None and goes.bin_id == bin_.id and goes.is_out(day):
        return CannotSwap("there_already", day, goes), bin_
    if first.bin_id is not None and goes is None:
        return CannotSwap("neither_out", day), bin_
    return goes, bin_


def _done_before(first: Place, comes: Stint | None, now: Situation) -> Stint | None:
    """The stint that came when the bin named first went: the swap is done, not to be turned
    round."""
    if first.bin_id is None or comes is None:
        return None
    before = [s for s in stints_in(now.roster, comes.color) if s.opens < comes.opens]
    return comes if before and before[-1].bin_id == first.bin_id else None


def _gone_by_then(request: Swap, day: date, now: Situation) -> Stint | None:
    """What is in the color today and closes before the day of the swap."""
    stint = stint_in(now.roster, request.into_color or "", now.today)
    comes = request.incoming.bin_id if request.incoming is not None else None
    return None if stint is None or stint.is_out(day) or stint.bin_id == comes else stint


def _there_already(request: Swap, day: date, now: Situation) -> CannotSwap | None:
    assert request.incoming is not None
    bin_id = request.incoming.bin_id
    stint = stint_of(now.roster, bin_id, day) if bin_id is not None else None
    if stint is None:
        return None
    wanted = (request.into_color or stint.color).casefold()
    reason = "there_already" if wanted == stint.color.casefold() else "running"
    return CannotSwap(reason, day, stint)


def _in_place(place: Place, day: date, now: Situation) -> Stint | None:
    """What is there on this day, else what is there till then."""
    return now.stint(place, day) or now.stint(place, now.today)


def _take_down(stint: Stint, request: Swap, now: Situation) -> Outcome:
    """Let a bin's stint end: today where it was used or the day is named, else the day before."""
    today = now.today
    day = request.day or today
    used = now.book.has_visits(stint.id, today)
    stays = day > today or used or is_over(now.roster, now.at)
    last = day if stays else last_day_before(now.roster, stint, day, has_been_used=False)
    if last is not None and stint.closes is not None:
        last = min(last, stint.closes)
    made = Planned(stint.color, day, stint, last)
    return _not_ready(made, request, now) or _carry_out(made, request, now)


def _not_ready(made: Planned, request: Swap, now: Situation) -> Outcome | None:
    """A question where children who need the bin that goes could no longer come."""
    stint = made.outgoing
    if stint is None or request.is_anyway or stint.opens > now.today:
        return None
    misses = missing_out(now.roster, _tally(stint, now), stint, now.at, made.last or now.today)
    if not misses:
        return None
    return would_miss_out(made, misses, request, now)


def _carry_out(made: Planned, request: Swap, now: Situation, *, waits: bool = False) -> Outcome:
    still = _end(made, now)
    kept: tuple[Student, ...] = ()
    if made.incoming is not None:
        _begin(made, made.incoming, now)
        present = now.roster.present_roster(made.day)
        kept = tuple(s for s in present if kept_from(now.roster, s, made.incoming) is not None)
    row = {
        "what": "swap",
        "color": made.color,
        "out": now.roster.bin_of(made.outgoing).name if made.outgoing else "",
        "in": made.incoming.name if made.incoming else "",
        "day": made.day.isoformat(),
    }
    return Swapped(
        status=DONE,
        changes=(row,),
        said=_said(made, request, now),
        swap=made,
        today=now.today,
        waits=waits,
        still_to_come=still,
        kept_away=kept,
        names_kept=now.member.role == OWNER,
    )


def _said(made: Planned, request: Swap, now: Situation) -> str:
    goes = Place(made.outgoing.bin_id) if made.outgoing else None
    comes = Place(made.incoming.id) if made.incoming else None
    color = None if made.outgoing else made.color
    full = Swap(goes, comes, color, made.day, request.till, request.is_now, request.is_anyway)
    return swap_in_full(full, now.roster)


def _end(made: Planned, now: Situation) -> tuple[Student, ...]:
    """Give the stint that goes its last day; who has not been there yet."""
    stint = made.outgoing
    if stint is None:
        return ()
    if made.last is not None:
        now.book.close_stint(now.entry_id, stint.id, made.last)
    elif not now.book.has_visits(stint.id):
        now.book.drop_stint(now.entry_id, stint.id)
    else:
        now.book.close_stint(now.entry_id, stint.id, max(stint.opens, made.day))
    return state_of(stint, now).needs if stint.opens <= now.today else ()


def _begin(made: Planned, bin_: Bin, now: Situation) -> None:
    if made.begins_early is not None:
        now.book.reopen_stint(
            now.entry_id, made.begins_early.id, opens=made.day, closes=made.closes
        )
        return
    now.book.open_stint(
        now.entry_id,
        bin_id=bin_.id,
        color=made.color,
        opens=made.day,
        closes=made.closes,
        seats=bin_.seats,
        visits_each=bin_.visits_each,
    )


SWAP = Skill(
    name="swap",
    title="Swap bins, put one out, take one down",
    examples=("swap shadows for gears on monday", "put gears out in pink on monday"),
    listeners=(TOLD_OR_ASKED, TOLD_OR_ASKED_APART),
    acts=((Swap, swap),),
)
