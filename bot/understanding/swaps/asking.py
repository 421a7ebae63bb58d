"""What is asked back about a swap: each way out in full words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from bot.classroom.days import is_school_day
from bot.classroom.stints import out_on, stint_in, stint_of, stints_in
from bot.requests import (
    Ask,
    MoveClosing,
    Option,
    Place,
    Request,
    SuggestSwap,
    Swap,
    SwapCheck,
)
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import closing_in_full, place_in_full, swap_in_full
from bot.understanding.clause import Clause
from bot.understanding.swaps.line import words_of
from bot.understanding.swaps.said import Said
from storage.records import Roster

_DAYS_OFFERED = 5


def tidied_or_down(said: Said, roster: Roster, today: date) -> Heard:
    """ "put ramps away": for good, or tidied up?"""
    assert said.outgoing is not None
    swap = Swap(outgoing=said.outgoing, day=said.day or today)
    options = (
        Option("Take it down", swap_in_full(swap, roster)),
        Option("Only tidied up", "no"),
    )
    name = place_in_full(said.outgoing, roster)
    return Heard(asks=[Ask("tidied_or_down", name, options, Swap.name)])


def how_long(said: Said, roster: Roster, today: date) -> Heard | None:
    """ "extend ramps": till when?"""
    place = said.outgoing
    assert place is not None
    by_bin = place.bin_id is not None
    stint = (
        stint_of(roster, place.bin_id or 0, today)
        if by_bin
        else stint_in(roster, place.color or "", today)
    )
    if stint is None or stint.closes is None:
        return None
    days = [stint.closes + timedelta(weeks=n) for n in (1, 2)]
    options = tuple(
        Option(
            f"Till {day:%a} {day.day} {day:%b}", closing_in_full(MoveClosing(place, day), roster)
        )
        for day in days
    )
    return Heard(asks=[Ask("till_when", roster.bin_of(stint).name, options, MoveClosing.name)])


def swap_back(roster: Roster, today: date) -> Heard | None:
    """ "swap it back": the last swap the other way round?"""
    newest = sorted(out_on(roster, today), key=lambda s: (s.opens, s.id))[-1:]
    for stint in newest:
        before = [s for s in stints_in(roster, stint.color) if s.opens < stint.opens]
        if before:
            goes, comes = roster.bin_of(stint), roster.bin_of(before[-1])
            swap = Swap(Place(goes.id), Place(comes.id), day=today)
            options = (Option(YES, swap_in_full(swap, roster)), Option(NO, "no"))
            return Heard(asks=[Ask("confirm_swap", "", options, Swap.name)])
    return None


def check_instead(request: Swap | MoveClosing, clause: Clause) -> Request | None:
    """The question whether it may be, in place of doing it."""
    if isinstance(request, MoveClosing):
        return SwapCheck((request.place,), about="closes")
    if request.outgoing is not None:
        comes = request.incoming.bin_id if request.incoming is not None else None
        return SwapCheck((request.outgoing,), comes)
    if request.into_color is not None:
        return SuggestSwap(Place(color=request.into_color), request.day)
    return None


def asked_or_done(request: Swap | MoveClosing, said: Said, clause: Clause) -> Heard | Request:
    """The request where all is clear; else a question with each way out in full words."""
    if said.several_days or said.has_unknown_day:
        days = said.several_days or _days_ahead(clause)
        options = tuple(
            Option(f"{day:%a} {day.day} {day:%b}", _on(request, day, said, clause.roster))
            for day in days
            if is_school_day(clause.roster, day)
        )
        return Heard(asks=[Ask("day_to_come", "", options, request.name)])
    if said.is_certain:
        return request
    if isinstance(request, MoveClosing) and request.day is None:
        return request
    full = (
        closing_in_full(request, clause.roster)
        if isinstance(request, MoveClosing)
        else swap_in_full(replace(request, day=request.day or clause.at.date()), clause.roster)
    )
    return Heard(
        asks=[Ask("confirm_swap", "", (Option(YES, full), Option(NO, "no")), request.name)]
    )


def _on(request: Swap | MoveClosing, day: date, said: Said, roster: Roster) -> str:
    if isinstance(request, MoveClosing):
        return closing_in_full(replace(request, day=day), roster)
    is_till = said.day is not None and said.till is None
    return swap_in_full(
        replace(request, till=day) if is_till else replace(request, day=day), roster
    )


def _days_ahead(clause: Clause) -> list[date]:
    today = clause.at.date()
    skipped = 7 - today.weekday() if "next week" in words_of(clause) else 1
    ahead = (today + timedelta(days=n) for n in range(skipped, 30))
    return [day for day in ahead if is_school_day(clause.roster, day)][:_DAYS_OFFERED]
