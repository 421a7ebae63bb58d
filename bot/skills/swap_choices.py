"""Swaps that are not done as they stand: what is asked first, and why one cannot be."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bot.classroom.stints import colors, nearest_stint, out_on
from bot.classroom.swaps import CannotSwap
from bot.classroom.swaps import Swap as Planned
from bot.outcomes import ANSWERED, ASKED, REFUSED, NotSwapped, Outcome, SwapAsked
from bot.requests import Option, Place, Swap
from bot.skills.boxes import fact_of, next_bins, state_of
from bot.skills.skill import Situation
from bot.understanding.canonical import swap_in_full
from storage.records import Bin, Stint, Student

_OFFERED = 3


def with_which(stint: Stint, day: date, request: Swap, now: Situation) -> Outcome:
    """ "swap ramps": with which bin?"""
    found = next_bins(stint, day, now)[:_OFFERED]
    options = tuple(
        Option(
            s.bin_.name,
            swap_in_full(
                replace(
                    request,
                    outgoing=Place(stint.bin_id),
                    incoming=Place(s.bin_.id),
                    day=day,
                ),
                now.roster,
            ),
        )
        for s in found
    )
    down = replace(request, outgoing=Place(stint.bin_id), day=request.day or now.today)
    options += (Option("Only take it down", swap_in_full(down, now.roster)),)
    state = state_of(stint, now)
    return SwapAsked(
        status=ASKED,
        choices=options,
        facts={"swap": [fact_of(state, now)]},
        about="with_which",
        today=now.today,
        outgoing=stint,
        misses=state.can_come,
        earliest=state.earliest,
    )


def which_color(bin_: Bin, day: date, request: Swap, now: Situation) -> Outcome:
    """ "put gears out": into which color? The free ones first, then those whose bin may go."""
    taken = {s.color.casefold(): s for s in out_on(now.roster, day)}
    free = [color for color in colors(now.roster) if color.casefold() not in taken]
    again = nearest_stint(now.roster, bin_.id, now.today)
    if again is not None and again.color in free:
        free = [again.color, *(color for color in free if color != again.color)]
    options = [
        Option(
            color.capitalize(),
            swap_in_full(replace(request, into_color=color, day=day), now.roster),
        )
        for color in free
    ]
    states = [state_of(s, now) for s in out_on(now.roster, day) if s.is_out(now.today)]
    for state in sorted(states, key=lambda s: (not s.is_ready, len(s.can_come)))[:_OFFERED]:
        name = now.roster.bin_of(state.stint).name
        full = replace(request, outgoing=Place(state.stint.bin_id), day=day)
        options.append(Option(f"For {name}", swap_in_full(full, now.roster)))
    return SwapAsked(
        status=ASKED,
        choices=tuple(options[: 2 * _OFFERED]),
        about="which_color",
        today=now.today,
        incoming=bin_,
    )


def would_miss_out(
    made: Planned, misses: tuple[Student, ...], request: Swap, now: Situation
) -> Outcome:
    """Children still need the bin that goes: shall it go all the same?"""
    stint = made.outgoing
    assert stint is not None, "children miss out on a bin that goes"
    state = state_of(stint, now)
    full = replace(
        request,
        outgoing=Place(stint.bin_id),
        incoming=Place(made.incoming.id) if made.incoming else None,
        day=made.day,
        is_anyway=True,
    )
    label = "Take it down anyway" if made.incoming is None else "Swap anyway"
    return SwapAsked(
        status=ASKED,
        choices=(
            Option(label, swap_in_full(full, now.roster)),
            Option("Keep it", "no"),
        ),
        facts={"swap": [fact_of(state, now)]},
        about="not_ready",
        today=now.today,
        outgoing=stint,
        incoming=made.incoming,
        misses=misses,
        earliest=state.earliest,
    )


def refused(why: CannotSwap, now: Situation, bin_: Bin | None, request: Swap) -> Outcome:
    """Why it cannot be, and what could be instead."""
    choices: tuple[Option, ...] = ()
    if why.reason == "full" and why.stint is not None and bin_ is not None:
        goes = Place(why.stint.bin_id)
        full = replace(request, outgoing=goes, into_color=None, day=why.day)
        name = now.roster.bin_of(why.stint).name
        choices = (Option(f"Swap {name} for {bin_.name}", swap_in_full(full, now.roster)),)
    return NotSwapped(
        status=ANSWERED if why.reason == "there_already" else REFUSED,
        choices=(),
        reason=why.reason,
        today=now.today,
        day=why.day,
        bin_=bin_,
        stint=why.stint,
        color=request.into_color or (request.outgoing.color if request.outgoing else None),
        offers=choices,
    )
