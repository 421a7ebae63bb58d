"""Words for whether a bin may go, and what comes next."""

from __future__ import annotations

from collections.abc import Sequence

from bot.classroom.readiness import Readiness
from bot.classroom.suggestions import Suggestion
from bot.outcomes import NextSuggested, SwapChecked
from bot.requests import Option
from bot.wording.voice import (
    Reply,
    Voice,
    counted,
    listed,
    sentence,
    short_day,
    till,
)
from storage.records import Bin, Stint, Student, Supply

_NAMED = 6  # children on one line


def swap_checked(outcome: SwapChecked, voice: Voice, entry_id: int) -> Reply:
    """Whether each bin may go, and for one bin what could come."""
    lines = [
        sentence(f"{voice.bin_with_color(stint)} {till(stint, outcome.today)}")
        if stint is not None
        else f"{bin_.name} is on the shelf."
        for bin_, stint in outcome.on_shelf
    ]
    lines += [f"No bin is in the {color} box today." for color in outcome.no_such_color]
    if len(outcome.states) == 1:
        return _one_bin(outcome, outcome.states[0], lines, voice)
    if outcome.about == "closes":
        lines += [
            f"{voice.bin_with_color(s.stint)}: {till(s.stint, outcome.today)}"
            for s in outcome.states
        ]
        return Reply("\n".join(lines) or "No bin is out today.")
    ready = [state for state in outcome.states if state.is_ready]
    if outcome.states and not ready:
        lines.append("No bin can go yet without someone missing out.")
    elif ready:
        lines.append(f"Can go: {listed([voice.bin_with_color(s.stint) for s in ready])}.")
    for state in outcome.states:
        if not state.is_ready:
            lines.append(f"{voice.bin_(state.stint)}: {_left(state, outcome, voice)}")
    return Reply("\n".join(lines) or "No bin is out today.")


def _left(state: Readiness, outcome: SwapChecked, voice: Voice) -> str:
    when = f", earliest {short_day(state.earliest, outcome.today)}" if state.earliest else ""
    return f"{len(state.can_come)} left{when}"


def _one_bin(outcome: SwapChecked, state: Readiness, lines: list[str], voice: Voice) -> Reply:
    name = voice.bin_(state.stint)
    if outcome.about == "closes":
        lines.append(
            sentence(f"{voice.bin_with_color(state.stint)}: {till(state.stint, outcome.today)}")
        )
    lines += _verdict(outcome, state, voice)
    lines += _next_lines(outcome, state, voice)
    choices = [] if state.is_ready else [Option("Who's left", f"who needs {name}")]
    best = outcome.next_[0].bin_ if outcome.next_ else None
    today = outcome.today.isoformat()
    if best is not None:
        label = f"Swap for {best.name}" if state.is_ready else f"Swap for {best.name} anyway"
        anyway = "" if state.is_ready else " anyway"
        choices.append(Option(label, f"swap {name} for {best.name} on {today}{anyway}"))
    elif state.is_ready:
        choices.append(Option("Take it down", f"take {name} down on {today}"))
    return Reply("\n".join(lines), tuple(choices))


def _verdict(outcome: SwapChecked, state: Readiness, voice: Voice) -> list[str]:
    name = voice.bin_(state.stint)
    if state.is_ready:
        if not state.needs:
            return [f"Yes, {name} can go: everyone who is to go has been."]
        missed = voice.children(state.needs, most=_NAMED)
        return [
            sentence(f"Yes, {name} can go: nobody who needs it can still come. Not been: {missed}")
        ]
    who, still = voice.children(state.can_come, most=_NAMED), need_or_needs(len(state.can_come))
    lines = [f"Not yet: {who} still {still} {name}. {_when(outcome, state)}"]
    others = [s for s in state.needs if s not in state.can_come]
    if others:
        lines.append(
            sentence(f"Cannot come before it closes: {voice.children(others, most=_NAMED)}")
        )
    return lines


def _when(outcome: SwapChecked, state: Readiness) -> str:
    if state.earliest is not None:
        return f"Earliest: {short_day(state.earliest, outcome.today)}."
    if state.stint.closes is None:
        return "Not all of them can come within four weeks."
    return (
        f"Not all of them can come before it closes {short_day(state.stint.closes, outcome.today)}."
    )


def kept(students: Sequence[Student], voice: Voice, *, by_name: bool) -> str:
    """Children whom a caution keeps from a bin: by name to the owner, else how many."""
    if by_name and voice.spoken is None:
        return voice.children(students)
    return counted(len(students), "child", "children")


def need_or_needs(count: int) -> str:
    """ "Mia still needs it", "Mia and Theo still need it"."""
    return "needs" if count == 1 else "need"


def _next_lines(outcome: SwapChecked, state: Readiness, voice: Voice) -> list[str]:
    color = state.stint.color
    if outcome.set_down is not None and outcome.incoming is None:
        return [_set_down(color, outcome.set_down, outcome.today, voice)]
    if outcome.incoming is not None and not outcome.next_:
        return [f"{outcome.incoming.name} is out, or set down to be, at that time."]
    if not outcome.next_:
        return []
    head = f"Next in {color}: " if outcome.incoming is None else ""
    return [head + "; ".join(_in_short(s) for s in outcome.next_[:2]) + "."]


def _set_down(color: str, stint: Stint, today: object, voice: Voice) -> str:
    return (
        f"{voice.bin_(stint)} is already set down for {color} from {short_day(stint.opens, today)}."  # type: ignore[arg-type]
    )


def next_suggested(outcome: NextSuggested, voice: Voice, entry_id: int) -> Reply:
    """The bins that could come, best first, each with its reasons on a line of its own."""
    where = f" in {outcome.color}," if outcome.color else ","
    lines = []
    if outcome.set_down is not None and outcome.color is not None:
        lines.append(_set_down(outcome.color, outcome.set_down, outcome.today, voice))
    if not outcome.next_:
        return Reply("\n".join([*lines, "No bin on the shelf is free then."]))
    best, *rest = outcome.next_
    lead = f"Next{where} from {short_day(outcome.day, outcome.today)}: "
    lines.append(f"{lead}{_in_full(best, outcome, voice)}")
    lines += [f"Or {_in_full(other, outcome, voice)}" for other in rest]
    return Reply(
        "\n".join(lines), tuple(_put_out(s.bin_, outcome, voice) for s in outcome.next_[:2])
    )


def _put_out(bin_: Bin, outcome: NextSuggested, voice: Voice) -> Option:
    day = outcome.day.isoformat()
    if outcome.outgoing is not None:
        name = voice.bin_(outcome.outgoing)
        return Option(f"{bin_.name} for {name}", f"swap {name} for {bin_.name} on {day}")
    where = f" in the {outcome.color} bin" if outcome.color else ""
    return Option(f"Put {bin_.name} out", f"put {bin_.name} out{where} on {day}")


def _in_short(found: Suggestion) -> str:
    """ "Gears fits “Forces” and is ready", "Sink or Float needs 6 cups"."""
    fits = _fits(found)
    if found.short:
        lacks = f"needs {_lacking(found)}"
        return f"{found.bin_.name} {f'{fits}, {lacks}' if fits else lacks}"
    ready = "is ready" if not found.uncounted else "is not counted yet"
    return f"{found.bin_.name} {f'{fits} and {ready}' if fits else ready}"


def _in_full(found: Suggestion, outcome: NextSuggested, voice: Voice) -> str:
    reasons = [_fits(found) or "fits no unit taught then"]
    reasons.append(
        f"new to {found.not_had} of {found.meant_for}"
        if found.not_had
        else "everyone has had it this year"
    )
    if found.short:
        reasons.append(f"needs {_lacking(found)}")
    elif found.uncounted:
        reasons.append("not counted yet")
    else:
        reasons.append("kit complete")
    if found.last_out is not None:
        reasons.append(f"last out {short_day(found.last_out, found.last_out)}")
    if found.kept_away:
        reasons.append(f"not for {kept(found.kept_away, voice, by_name=outcome.names_kept)}")
    return sentence(f"{found.bin_.name}: {', '.join(reasons)}")


def _fits(found: Suggestion) -> str:
    if found.unit is not None:
        return f"fits “{found.unit}”"
    return f"serves {listed(list(found.standards))}" if found.standards else ""


def _lacking(found: Suggestion) -> str:
    return listed([f"{_amount(s.missing)} {_item(s.supply)}" for s in found.short])


def _amount(number: float) -> str:
    return f"{number:.0f}" if float(number).is_integer() else f"{number:.1f}"


def _item(supply: Supply) -> str:
    return supply.item
