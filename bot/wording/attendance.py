"""Words for who was where."""

from __future__ import annotations

from collections import defaultdict

from bot.outcomes import Attendance
from bot.wording.voice import Reply, Voice, clock, of_bins, on_day, sentence, short_day

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
