"""Whether a bin may go, and what goes out next."""

from __future__ import annotations

from datetime import date

from bot.classroom.days import school_day_after
from bot.classroom.stints import out_on, stints_in
from bot.classroom.suggestions import Suggestion
from bot.outcomes import ANSWERED, REFUSED, NextSuggested, Outcome, SwapChecked
from bot.requests import Place, SuggestSwap, SwapCheck
from bot.skills.boxes import fact_of, next_bins, state_of
from bot.skills.skill import Situation, Skill
from storage.records import Bin, Stint
from storage.register import OWNER

_OFFERED = 3


def swap_check(request: SwapCheck, now: Situation) -> Outcome:
    """Whether each bin asked about may go, and what could come."""
    stints, on_shelf, no_color = _stints_asked(request, now)
    nowhere = [bin_ for bin_, coming in on_shelf if coming is None]
    states = tuple(state_of(stint, now) for stint in stints)
    one = stints[0] if len(stints) == 1 else None
    incoming = now.roster.bin[request.incoming] if request.incoming is not None else None
    next_ = next_bins(one, _free_from(one, now), now) if one is not None else ()
    if incoming is not None:
        next_ = tuple(s for s in next_ if s.bin_ == incoming)
    set_down = _set_down(one.color, one, now) if one is not None else None
    return SwapChecked(
        status=ANSWERED if stints or not (nowhere or no_color) else REFUSED,
        facts={"swap": [fact_of(state, now) for state in states]},
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
) -> tuple[tuple[Stint, ...], tuple[tuple[Bin, Stint | None], ...], tuple[str, ...]]:
    if not request.places:
        return out_on(now.roster, now.today), (), ()
    return now.stints_asked(request.places, closed_too=False)


# What comes next


def suggest_swap(request: SuggestSwap, now: Situation) -> Outcome:
    """The bins that could go into a color next, best first, each with its reasons."""
    outgoing = _outgoing_of(request.place, now)
    color = outgoing.color if outgoing is not None else (request.place or Place()).color
    day = request.day or _free_from(outgoing, now)
    found = next_bins(outgoing, day, now)
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
        names_kept=now.member.role == OWNER,
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
