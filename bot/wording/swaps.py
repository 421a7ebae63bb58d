"""Words for swaps: whether a bin may go, what comes next, what was done and what cannot be."""

from __future__ import annotations

from bot.classroom.readiness import Readiness
from bot.classroom.suggestions import Suggestion
from bot.outcomes import NextSuggested, NotSwapped, SwapAsked, SwapChecked, Swapped
from bot.requests import Option
from bot.wording.cautions import SCHOOL_DECIDES, reminder
from bot.wording.voice import (
    Reply,
    Voice,
    counted,
    listed,
    sentence,
    short_day,
    till,
)
from storage.records import Bin, Stint, Supply

_NAMED = 6  # children on one line


def swap_checked(outcome: SwapChecked, voice: Voice, entry_id: int) -> Reply:
    """Whether each bin may go, and for one bin what could come."""
    lines = [f"{bin_.name} is on the shelf." for bin_ in outcome.on_shelf]
    lines += [f"No bin is in the {color} box today." for color in outcome.no_such_color]
    if len(outcome.states) == 1:
        return _one_bin(outcome, outcome.states[0], lines, voice)
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
    who, verb = voice.children(state.can_come, most=_NAMED), _need(len(state.can_come))
    if state.earliest is None:
        end = (
            f"before it closes {short_day(state.stint.closes, outcome.today)}"
            if state.stint.closes
            else "soon"
        )
        first = f"Not yet: {who} still {verb} {name}. Not all of them can come {end}."
    else:
        first = f"Not yet: {who} still {verb} {name}. Earliest: {short_day(state.earliest, outcome.today)}."
    lines = [first]
    others = [s for s in state.needs if s not in state.can_come]
    if others:
        lines.append(
            sentence(f"Cannot come before it closes: {voice.children(others, most=_NAMED)}")
        )
    return lines


def _need(count: int) -> str:
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
    where = f"{outcome.color}, " if outcome.color else ""
    lines = []
    if outcome.set_down is not None and outcome.color is not None:
        lines.append(_set_down(outcome.color, outcome.set_down, outcome.today, voice))
    if not outcome.next_:
        return Reply("\n".join([*lines, "No bin on the shelf is free then."]))
    best, *rest = outcome.next_
    lead = (
        f"Next in {where}from {short_day(outcome.day, outcome.today)}: "
        if where
        else f"Next, from {short_day(outcome.day, outcome.today)}: "
    )
    lines.append(f"{lead}{_in_full(best, voice)}")
    lines += [f"Or {_in_full(other, voice)}" for other in rest]
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


def _in_full(found: Suggestion, voice: Voice) -> str:
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
        reasons.append(f"not for {voice.children(found.kept_away, most=3)}")
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


def swapped(outcome: Swapped, voice: Voice, entry_id: int) -> Reply:
    """What was done, from when and till when, and what to look out for."""
    made, today = outcome.swap, outcome.today
    lines = [_done(outcome, voice)]
    if made.followed_by is not None:
        lines[0] += f" {_follows(made.followed_by, today, voice)}"
    if outcome.waits:
        lines.append(
            "Today's turns stay with the bin that was out; text it with “now” to swap today."
        )
    if outcome.still_to_come and made.outgoing is not None:
        who = voice.children(outcome.still_to_come, most=_NAMED)
        lines.append(sentence(f"Not been at {voice.bin_(made.outgoing)} yet: {who}"))
    if made.incoming is not None:
        lines += _look_out(outcome, made.incoming, voice)
    choices = [Option("Undo", f"undo {entry_id}")]
    if outcome.waits and made.incoming is not None and made.outgoing is not None:
        send = f"swap {voice.bin_(made.outgoing)} for {made.incoming.name} now"
        choices.append(Option("Swap now", send))
    return Reply("\n".join(lines), tuple(choices))


def _done(outcome: Swapped, voice: Voice) -> str:
    made, today = outcome.swap, outcome.today
    if made.incoming is None:
        assert made.outgoing is not None, "a swap has a bin that goes or one that comes"
        name = voice.bin_with_color(made.outgoing)
        last = made.last
        if last is None or last < today:
            return f"✓ {name} is down."
        return f"✓ {name} comes down at the end of {_the_day(last, today)}."
    goes = f" for {voice.bin_(made.outgoing)}" if made.outgoing is not None else ""
    end = f"till {short_day(made.closes, today)}" if made.closes is not None else "all year"
    when = "Today" if made.day == today else short_day(made.day, today)
    return f"✓ {when}: {made.incoming.name}{goes} in {made.color}, out {end}."


def _the_day(day: object, today: object) -> str:
    return "today" if day == today else short_day(day, today)  # type: ignore[arg-type]


def _follows(stint: Stint, today: object, voice: Voice) -> str:
    return f"Then {voice.bin_with_color(stint)} from {short_day(stint.opens, today)}."  # type: ignore[arg-type]


def _look_out(outcome: Swapped, bin_: Bin, voice: Voice) -> list[str]:
    lines = []
    if outcome.kept_away:
        if outcome.names_kept and voice.spoken is None:
            who = voice.children(outcome.kept_away)
        else:
            who = counted(len(outcome.kept_away), "child", "children")
        lines.append(sentence(f"By your class list {bin_.name} is not for {who}"))
    mind = reminder(voice.roster, bin_)
    if mind is not None:
        lines.append(mind)
    elif lines:
        lines[-1] = f"{lines[-1]} {SCHOOL_DECIDES}"
    return lines


def not_swapped(outcome: NotSwapped, voice: Voice, entry_id: int) -> Reply:
    """Why a swap cannot be."""
    return Reply(_reason(outcome, voice), outcome.offers)


def _reason(outcome: NotSwapped, voice: Voice) -> str:
    day, today, stint = outcome.day, outcome.today, outcome.stint
    name = outcome.bin_.name if outcome.bin_ else "that bin"
    if outcome.reason == "past":
        return f"Nothing changed: {short_day(day, today)} is over. Text it with a day to come."
    if outcome.reason == "no_school":
        return f"Nothing changed: there is no school on {short_day(day, today)}."
    if outcome.reason == "full" and stint is not None:
        there = f"{voice.bin_(stint)} is in {stint.color}, {till(stint, today)}"
        return f"Nothing changed: {there}. A color holds one bin at a time."
    if outcome.reason == "running" and stint is not None:
        return f"Nothing changed: {voice.bin_with_color(stint)} is {_out(stint, today)}."
    if outcome.reason == "there_already" and stint is not None:
        return f"Nothing to do: {voice.bin_with_color(stint)} is {_out(stint, today)} already."
    if outcome.reason == "too_short":
        follows = f" {_follows(stint, today, voice)}" if stint is not None else ""
        return f"Nothing changed: no school day is left for {name} in between.{follows}"
    if outcome.reason == "two_colors":
        return "Nothing changed: those are two colors. Which bin is to go out? Text “swap pink for” and its name."
    if outcome.reason == "neither_out":
        return f"Nothing changed: neither of those bins is out. Text the color, as in “put {name} out in pink”."
    where = f"the {outcome.color} box is empty" if outcome.color else f"{name} is not out"
    return f"Nothing changed: {where}."


def _out(stint: Stint, today: object) -> str:
    told = till(stint, today)  # type: ignore[arg-type]
    return told if told.startswith("out") else f"set down and {told}"


def swap_asked(outcome: SwapAsked, voice: Voice, entry_id: int) -> Reply:
    """What a swap waits for."""
    if outcome.about == "which_color" and outcome.incoming is not None:
        return Reply(f"{outcome.incoming.name}: into which color?", outcome.choices)
    assert outcome.outgoing is not None, "a bin goes"
    name = voice.bin_(outcome.outgoing)
    lines = [f"{name}: swap it for which bin?"] if outcome.about == "with_which" else []
    lines += _miss(outcome, name, voice)
    return Reply("\n".join(lines), outcome.choices)


def _miss(outcome: SwapAsked, name: str, voice: Voice) -> list[str]:
    if not outcome.misses:
        return []
    who = voice.children(outcome.misses, most=_NAMED)
    verb = _need(len(outcome.misses))
    when = f" Earliest: {short_day(outcome.earliest, outcome.today)}." if outcome.earliest else ""
    if outcome.about == "with_which":
        return [f"{who} still {verb} {name}.{when}"]
    return [f"Not done yet: {who} still {verb} {name} and could no longer come.{when}"]
