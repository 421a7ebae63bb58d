"""Words for closing days."""

from __future__ import annotations

from bot.outcomes import ClosingMoved, ClosingStays
from bot.requests import Option
from bot.wording.voice import Reply, Voice, sentence, short_day, till

_NAMED = 6


def closing_moved(outcome: ClosingMoved, voice: Voice, entry_id: int) -> Reply:
    """Till when a bin is out now, and who can no longer come."""
    today = outcome.today
    end = "today" if outcome.closes == today else short_day(outcome.closes, today)
    why = ""
    if outcome.asked_for != outcome.closes:
        why = f" There is no school on {short_day(outcome.asked_for, today)}."
    lines = [f"✓ {voice.bin_with_color(outcome.stint)} is out till {end}.{why}"]
    if outcome.misses:
        who = voice.children(outcome.misses, most=_NAMED)
        lines.append(sentence(f"Not all who need it can come by then: {who}"))
    undo = Option("Undo", f"undo {entry_id}")
    left = Option("Who's left", f"who needs {voice.bin_(outcome.stint)}")
    return Reply("\n".join(lines), (undo, left) if outcome.misses else (undo,))


def closing_stays(outcome: ClosingStays, voice: Voice, entry_id: int) -> Reply:
    """Why a closing day stays."""
    today, stint = outcome.today, outcome.stint
    if stint is None:
        name = outcome.bin_.name if outcome.bin_ else f"the {outcome.place.color} box"
        return Reply(f"Nothing changed: {name} {'is not out' if outcome.bin_ else 'is empty'}.")
    name = voice.bin_with_color(stint)
    if outcome.reason == "all_year":
        return Reply(f"{name} is out all year as it is. Text a day to close it on.")
    if outcome.reason == "same":
        return Reply(f"Nothing to do: {name} is {till(stint, today)} already.")
    if outcome.reason == "taken" and outcome.in_the_way is not None:
        other = outcome.in_the_way
        starts = f"{voice.bin_with_color(other)} from {short_day(other.opens, today)}"
        return Reply(f"Nothing changed: {starts} is in the way of {name}.")
    if outcome.reason == "before_it_opens":
        return Reply(f"Nothing changed: {name} {till(stint, today)}.")
    day = short_day(outcome.day, today) if outcome.day else "that day"
    return Reply(f"Nothing changed: {day} is over.")
