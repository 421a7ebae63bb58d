"""Words for swaps: what was done, what cannot be, what is asked first."""

from __future__ import annotations

from bot.outcomes import NotSwapped, SwapAsked, Swapped
from bot.requests import Option
from bot.wording.cautions import SCHOOL_DECIDES, reminder
from bot.wording.swap_checks import kept, need_or_needs
from bot.wording.voice import (
    Reply,
    Voice,
    sentence,
    short_day,
    till,
)
from storage.records import Bin, Stint

_NAMED = 6  # children on one line


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
        sides = f"{voice.bin_(made.outgoing)} for {made.incoming.name}"
        send = f"swap {sides} on {today.isoformat()} now"
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
        who = kept(outcome.kept_away, voice, by_name=outcome.names_kept)
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
        return "Nothing changed: those are two colors. Text the name of the bin that is to go out."
    if outcome.reason == "neither_out":
        told = "neither of those bins is out"
        return f"Nothing changed: {told}. Text the color too: “put {name} out in pink”."
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
    verb = need_or_needs(len(outcome.misses))
    when = f" Earliest: {short_day(outcome.earliest, outcome.today)}." if outcome.earliest else ""
    if outcome.about == "with_which":
        return [f"{who} still {verb} {name}.{when}"]
    return [f"Not done yet: {who} still {verb} {name} and could no longer come.{when}"]
