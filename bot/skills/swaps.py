"""Swaps: whether a bin may go, what comes next, and doing it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.classroom.cautions import kept_from
from bot.classroom.days import school_day_after
from bot.classroom.readiness import Readiness, missing_out, readiness
from bot.classroom.stints import colors, nearest_stint, out_on, stint_in, stint_of, stints_in
from bot.classroom.suggestions import Suggestion, suggestions
from bot.classroom.swaps import (
    CannotSwap,
    day_of_swap,
    exchange,
    last_day_before,
    usual_last_day,
)
from bot.classroom.swaps import Swap as Planned
from bot.outcomes import (
    ANSWERED,
    ASKED,
    DONE,
    REFUSED,
    NextSuggested,
    NotSwapped,
    Outcome,
    SwapAsked,
    SwapChecked,
    Swapped,
)
from bot.requests import Option, Place, SuggestSwap, Swap, SwapCheck
from bot.skills.skill import Situation, Skill
from bot.understanding.asking_back import NO
from bot.understanding.canonical import swap_in_full
from bot.understanding.reading import Listener
from bot.understanding.swap_requests import hear_swap
from storage.records import Bin, Stint, Student
from storage.register import OWNER

_OFFERED = 3


# Whether it may go


def swap_check(request: SwapCheck, now: Situation) -> Outcome:
    """Whether each bin asked about may go, and what could come."""
    stints, on_shelf, no_color = _stints_asked(request, now)
    states = tuple(_state(stint, now) for stint in stints)
    one = stints[0] if len(stints) == 1 else None
    incoming = now.roster.bin[request.incoming] if request.incoming is not None else None
    next_ = _next(one, _free_from(one, now), now) if one is not None else ()
    if incoming is not None:
        next_ = tuple(s for s in next_ if s.bin_ == incoming)
    set_down = _set_down(one.color, one, now) if one is not None else None
    return SwapChecked(
        status=ANSWERED if stints or not (on_shelf or no_color) else REFUSED,
        facts={"swap": [_fact(state, now) for state in states]},
        states=states,
        next_=next_[:_OFFERED],
        incoming=incoming,
        set_down=set_down,
        about=request.about,
        today=now.today,
        on_shelf=on_shelf,
        no_such_color=no_color,
    )


def _stints_asked(
    request: SwapCheck, now: Situation
) -> tuple[tuple[Stint, ...], tuple[Bin, ...], tuple[str, ...]]:
    if not request.places:
        return out_on(now.roster, now.today), (), ()
    stints: list[Stint] = []
    on_shelf: list[Bin] = []
    no_color: list[str] = []
    for place in request.places:
        stint = now.stint(place, now.today)
        if stint is not None:
            stints.append(stint)
        elif place.bin_id is not None:
            on_shelf.append(now.roster.bin[place.bin_id])
        else:
            no_color.append(place.color or "")
    return tuple(dict.fromkeys(stints)), tuple(on_shelf), tuple(no_color)


def _state(stint: Stint, now: Situation) -> Readiness:
    tally = now.book.tally({s.id for s in (*out_on(now.roster, now.today), stint)})
    return readiness(now.roster, tally, stint, now.at)


def _fact(state: Readiness, now: Situation) -> dict[str, object]:
    return {
        "bin": now.roster.bin_of(state.stint).name,
        "ready": state.is_ready,
        "needs": [student.name for student in state.needs],
        "earliest": state.earliest.isoformat() if state.earliest else None,
    }


# What comes next


def suggest_swap(request: SuggestSwap, now: Situation) -> Outcome:
    """The bins that could go into a color next, best first, each with its reasons."""
    outgoing = _outgoing_of(request.place, now)
    color = outgoing.color if outgoing is not None else (request.place or Place()).color
    day = request.day or _free_from(outgoing, now)
    found = _next(outgoing, day, now)
    set_down = _set_down(color, outgoing, now) if color is not None else None
    return NextSuggested(
        status=ANSWERED,
        facts={"next": [_reasons(suggestion) for suggestion in found]},
        color=color,
        outgoing=outgoing,
        day=day,
        next_=found[:_OFFERED],
        set_down=set_down,
        today=now.today,
    )


def _outgoing_of(place: Place | None, now: Situation) -> Stint | None:
    """The stint that goes; where no bin is named, the one that closes first."""
    if place is not None:
        return now.stint(place, now.today)
    closing = [s for s in out_on(now.roster, now.today) if s.closes is not None]
    return min(closing, key=lambda s: s.closes or now.today, default=None)


def _free_from(stint: Stint | None, now: Situation) -> date:
    """The first day on which a color is free when its bin stays till its closing day."""
    last = stint.closes if stint is not None and stint.closes is not None else now.today
    return school_day_after(now.roster, max(last, now.today)) or now.today


def _next(stint: Stint | None, day: date, now: Situation) -> tuple[Suggestion, ...]:
    last = usual_last_day(now.roster, stint, day) or day
    return suggestions(
        now.roster,
        day,
        last,
        had=now.had_this_year(day),
        on_hand={count.supply_id: count.on_hand for count in now.book.supply_counts()},
        besides=(stint.bin_id,) if stint is not None else (),
    )


def _set_down(color: str, outgoing: Stint | None, now: Situation) -> Stint | None:
    """What is to come into a color anyway."""
    after = now.today if outgoing is None else max(outgoing.opens, now.today)
    return next((s for s in stints_in(now.roster, color) if s.opens > after), None)


def _reasons(found: Suggestion) -> dict[str, object]:
    return {
        "bin": found.bin_.name,
        "unit": found.unit or "",
        "standards": list(found.standards),
        "not_had": found.not_had,
        "of": found.meant_for,
        "short": [{"item": s.supply.item, "short": s.missing} for s in found.short],
        "last_out": found.last_out.isoformat() if found.last_out else None,
    }


# Doing it


def swap(request: Swap, now: Situation) -> Outcome:
    """Put a bin out, take one down, or exchange two; ask where that is not clear or where children
    would miss out; say why where it cannot be."""
    goes, comes = _sides(request, now)
    if isinstance(goes, CannotSwap):
        return _refused(goes, now, comes, request)
    used = goes is not None and now.book.has_visits(goes.id, now.today)
    day = day_of_swap(now.roster, now.at, request.day, is_now=request.is_now, has_been_used=used)
    if isinstance(day, CannotSwap):
        return _refused(day, now, comes, request)
    if comes is None:
        assert goes is not None, "a swap has a bin that goes or one that comes"
        if request.is_open:
            return _with_which(goes, day, request, now)
        return _take_down(goes, request, now)
    color = goes.color if goes is not None else _color_named(request)
    if color is None:
        return _which_color(comes, day, request, now)
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
        return _refused(made, now, comes, request)
    return _not_ready(made, request, now) or _carry_out(made, request, now)


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
    if second.bin_id is None or (goes is None and comes is not None):
        first, second, goes, comes = second, first, comes, goes
    if second.bin_id is None:
        return CannotSwap("two_colors", day), None
    bin_ = now.roster.bin[second.bin_id]
    if goes is not None and goes.bin_id == bin_.id:
        return CannotSwap("there_already", day, goes), bin_
    if first.bin_id is not None and goes is None:
        return CannotSwap("neither_out", day), bin_
    return goes, bin_


def _gone_by_then(request: Swap, day: date, now: Situation) -> Stint | None:
    """What is in the color today and closes before the day of the swap."""
    stint = stint_in(now.roster, request.into_color or "", now.today)
    return None if stint is None or stint.is_out(day) else stint


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
    over = day_of_swap(now.roster, now.at, None, is_now=False, has_been_used=used) > today  # type: ignore[operator]
    stays = day > today or used or over
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
    tally = now.book.tally({s.id for s in (*out_on(now.roster, now.today), stint)})
    misses = missing_out(now.roster, tally, stint, now.at, made.last or now.today)
    if not misses:
        return None
    state = readiness(now.roster, tally, stint, now.at)
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
        facts={"swap": [_fact(state, now)]},
        about="not_ready",
        today=now.today,
        outgoing=stint,
        incoming=made.incoming,
        misses=misses,
        earliest=state.earliest,
    )


def _carry_out(made: Planned, request: Swap, now: Situation) -> Outcome:
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
        waits=made.day > now.today and request.day in (None, now.today),
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
    return _state(stint, now).needs if stint.opens <= now.today else ()


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


# Asking and refusing


def _with_which(stint: Stint, day: date, request: Swap, now: Situation) -> Outcome:
    """ "swap ramps": with which bin?"""
    found = _next(stint, day, now)[:_OFFERED]
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
    state = _state(stint, now)
    return SwapAsked(
        status=ASKED,
        choices=options,
        facts={"swap": [_fact(state, now)]},
        about="with_which",
        today=now.today,
        outgoing=stint,
        misses=state.can_come,
        earliest=state.earliest,
    )


def _which_color(bin_: Bin, day: date, request: Swap, now: Situation) -> Outcome:
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
    states = [_state(s, now) for s in out_on(now.roster, day) if s.is_out(now.today)]
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


def _refused(why: CannotSwap, now: Situation, bin_: Bin | None, request: Swap) -> Outcome:
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


CHECK = Skill(
    name="swap_check",
    title="Ask whether a bin may go",
    examples=("can I swap shadows", "is balance done, can I take it down"),
    listeners=(),  # one ear hears all of swaps
    acts=((SwapCheck, swap_check),),
)

SUGGEST = Skill(
    name="suggest_swap",
    title="Ask what goes out next",
    examples=("what goes in pink next", "what should I put out after ramps"),
    listeners=(),
    acts=((SuggestSwap, suggest_swap),),
)

SWAP = Skill(
    name="swap",
    title="Swap bins, put one out, take one down",
    examples=("swap Shadows for Gears on 2026-11-23", "take mirrors down"),
    listeners=(
        Listener(
            (
                "swpa|sawp|swp|sqap|wsap",
                "swap|swaps|swapped|swapping|switch|switches|switched|switching|exchange|"
                "exchanged|exchanging|replace|replaces|replaced|replacing|trade|traded|trading|"
                "rotate|rotated|rotating|change|changed|changing",
                "take|takes|took|taking|taken|pull|pulled|bring|brings|bringing|put|puts|putting|"
                "set|get|gets|getting|pack|packed|clear|remove|return|have|add|introduce|load|roll",
                "down|away|shelf|retire|retired|retiring|shelve|becomes",
                "open|opens|opening|launch|start|starts|begin|begins",
                "close|closes|closed|closing|end|ends|ending|shut|stop|stops|expires|finish",
                "stay|stays|staying|remain|remains|keep|keeps|keeping|leave|leaves|extend|extends|"
                "longer|run|runs|continue|lasts|last|till|until|another|give|prolong",
                "next|after|instead|comes|coming|goes|go|going|come",
                "done|finished|ready|complete|over",
                "in|into <bin>",
                "suggest|suggestion|suggestions|idea|ideas|recommend",
                "out|in|up|off|more|weeks|days",
                "<bin> for|to <bin>",
            ),
            hear_swap,
            rank=1,
        ),
        Listener(
            (
                "can|could|should|may|shall i|we swap|switch|exchange|replace|change|take|pull|"
                "retire|close",
                "what|whats|which goes|go|next|comes|should|could ... <bin> next?",
                "is <bin> ready|done",
                "<bin> stays|stay|closes out? till|until|on|another|<day>",
                "keep|leave|extend <bin> ... till|until|longer|more|another",
                "close <bin> <day>",
                "swap|switch|exchange|replace|swapped out? <bin> for|with|to <bin>",
            ),
            hear_swap,
            rank=1,
            apart=True,
        ),
    ),
    acts=((Swap, swap),),
)
