"""Words for who was where."""

from __future__ import annotations

from collections import defaultdict

from bot.classroom.coverage import Covered
from bot.outcomes import Attendance, Coverage
from bot.wording.voice import (
    Reply,
    Voice,
    clock,
    counted,
    listed,
    of_bins,
    on_day,
    sentence,
    short_day,
)

_MOST_DAYS = 10


def attendance(outcome: Attendance, voice: Voice, entry_id: int) -> Reply:
    """Visits on record, by day and bin; then who of those asked about has none."""
    where = f" at {of_bins(outcome.bins)}" if outcome.bins else ""
    day = f" {on_day(outcome.day, outcome.today)}" if outcome.day else ""
    lines = []
    if outcome.visits and outcome.without and outcome.bins:
        lines.append(sentence(f"In part{where}{day}. Not {voice.children(outcome.without)}"))
    elif outcome.without or not outcome.visits:
        who = f" for {voice.children(outcome.without)}" if outcome.without else ""
        lines.append(sentence(f"No turn{where}{day} on record{who}"))
    elif outcome.is_yes_or_no:
        lines.append(f"Yes{where}{day}.")
    lines += _by_day(outcome, voice)
    return Reply("\n".join(lines))


def _by_day(outcome: Attendance, voice: Voice) -> list[str]:
    grouped: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for claim in outcome.visits:
        turn = claim.turn
        grouped[turn.day, turn.rotation, turn.stint_id].append(turn.student_id)
    lines = []
    for (day, rotation, stint_id), ids in list(grouped.items())[-_MOST_DAYS:]:
        at = f" {clock(rotation)}" if rotation is not None else ""  # type: ignore[arg-type]
        name = voice.bin_(voice.roster.stint[stint_id])  # type: ignore[index]
        lines.append(f"{short_day(day, outcome.today)}{at} {name}: {voice.students(ids)}")  # type: ignore[arg-type]
    if len(grouped) > _MOST_DAYS:
        lines.insert(0, f"The last {_MOST_DAYS}:")
    return lines


def coverage(outcome: Coverage, voice: Voice, entry_id: int) -> Reply:
    """What everyone has had, what some have, what nobody has."""
    one, many = {"standards": ("standard", "standards"), "units": ("unit", "units")}.get(
        outcome.about, ("bin", "bins")
    )
    if not outcome.covered:
        return Reply(f"No {many} covered yet this school year.")
    done = [c for c in outcome.covered if c.by_all]
    begun = [c for c in outcome.covered if c.had and not c.by_all]
    ahead = [c for c in outcome.covered if not c.had and not c.by_all]
    count = counted(len(done), one, many)
    lines = [f"This school year {count} by everyone, {len(begun)} in part."]
    if done:
        lines.append(sentence(f"By everyone: {listed([c.name for c in done])}"))
    if begun:
        lines.append(sentence(f"In part: {', '.join(_of(c) for c in begun)}"))
    if ahead:
        lines.append(sentence(f"Out, nobody yet: {listed([c.name for c in ahead])}"))
    if outcome.not_out and outcome.about == "bins":
        lines.append(sentence(f"Not out yet: {of_bins(outcome.not_out)}"))
    return Reply("\n".join(lines))


def _of(covered: Covered) -> str:
    return f"{covered.name} {covered.had} of {covered.meant_for}"
