"""Words for stepping back and forth, corrections, and reasons."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date

from bot.outcomes import Explained, LogCorrected, ReadingExplained, SteppedBack
from bot.requests import Option
from bot.wording.voice import Reply, Voice, clock, listed, sentence, short_day
from storage.records import Entry, Turn

_LONGEST_QUOTE = 60
_MOST_OFFERED = 4
_MOST_NAMED = 12  # turns told of by name
_TOO_SHORT = 2  # words that tell nothing by themselves


def stepped_back(outcome: SteppedBack, voice: Voice, entry_id: int) -> Reply:
    """What an undo or a redo did."""
    word = "Redo" if outcome.forward else "Undo"
    if outcome.entry is None:
        text = "nothing to bring back" if outcome.forward else "nothing of yours to take back"
        return Reply(f"{word}: {text}.")
    quote = _quote(_words_of(outcome.entry), voice)
    if outcome.reason == "already":
        return Reply(f"Already undone: {quote}")
    if outcome.reason == "no_change":
        return Reply(f"Nothing to undo: that text changed nothing. {quote}")
    if outcome.reason == "built_on":
        return _built_on(outcome, quote)
    done = "Back again" if outcome.forward else "Undone"
    lines = [f"{done}: {quote}"]
    lines += [_stint_line(row) for row in outcome.changes if row["what"] in ("swap", "closes")]
    if outcome.removed:
        lines.append(f"No longer logged: {_turns_or_count(outcome.removed, voice)}.")
    if outcome.added:
        lines.append(f"Logged: {_turns_or_count(outcome.added, voice)}.")
    if outcome.staying:
        stays = _turns(outcome.staying, voice)
        lines.append(sentence(f"Stays, since another text says so too: {stays}"))
    choices = () if outcome.forward else (Option("Redo", "redo"),)
    return Reply("\n".join(lines), choices)


def _built_on(outcome: SteppedBack, quote: str) -> Reply:
    """What came after, and must be undone first."""
    lines = [f"Not undone: what was texted since rests on it. Undo that first. {quote}"]
    choices = tuple(
        Option(f"Undo {quoted(entry.text)}"[:_LONGEST_QUOTE], f"undo {entry.id}")
        for entry in outcome.built_on
        if entry.kind != "load"
    )
    return Reply("\n".join(lines), choices[:_MOST_OFFERED])


def _stint_line(row: Mapping[str, object]) -> str:
    """ "Pink: Shadows again, not Gears.", "Ramps is out till 2026-12-04."."""
    if row["what"] == "closes":
        return f"{row['bin']} is out {'till ' + _date(row['day']) if row['day'] else 'all year'}."
    color = str(row["color"]).capitalize()
    if not row["in"]:
        return f"{color}: {row['out']} is not out."
    return f"{color}: {row['in']}{', not ' + str(row['out']) if row['out'] else ''}."


def _date(day: object) -> str:
    told = date.fromisoformat(str(day))
    return short_day(told, told)


def _words_of(entry: Entry) -> str:
    """A text as it was sent, or what a one-word answer (or one to a calendar) stood for."""
    short = len(entry.text.split()) < _TOO_SHORT or "schedule" in entry.requests
    return entry.said if short and entry.said else entry.text


def log_corrected(outcome: LogCorrected, voice: Voice, entry_id: int) -> Reply:
    """What an edit or a correction changed."""
    if outcome.kept:
        old = _quote(outcome.entry.text, voice)
        return Reply(f"I could not read the new wording, so the old one stands: {old}")
    if outcome.built_on:
        return Reply("Nothing changed: later texts rest on the old wording. Undo those first.")
    if not outcome.added and not outcome.removed and not outcome.changes:
        return Reply("Read again: nothing changes.")
    lines = ["Changed."]
    lines += [_stint_line(row) for row in outcome.changes if row["what"] in ("swap", "closes")]
    if outcome.removed:
        lines.append(f"No longer logged: {_turns(outcome.removed, voice)}.")
    if outcome.added:
        lines.append(f"Logged: {_turns(outcome.added, voice)}.")
    return Reply("\n".join(lines), (Option("Undo", f"undo {entry_id}"),))


def _turns(turns: tuple[Turn, ...], voice: Voice) -> str:
    by_bin: dict[str, list[int]] = {}
    for turn in turns:
        by_bin.setdefault(voice.bin_(voice.roster.stint[turn.stint_id]), []).append(turn.student_id)
    return "; ".join(f"{voice.students(ids)} ({name})" for name, ids in by_bin.items())


def _turns_or_count(turns: tuple[Turn, ...], voice: Voice) -> str:
    """The turns of a text that is quoted: of a whole rotation, only how many at each bin."""
    if len(turns) <= _MOST_NAMED:
        return _turns(turns, voice)
    at = Counter(voice.bin_(voice.roster.stint[turn.stint_id]) for turn in turns)
    return f"{len(turns)} turns ({', '.join(f'{name} {count}' for name, count in at.items())})"


def explained(outcome: Explained, voice: Voice, entry_id: int) -> Reply:
    """Why a child needs a bin or not: the turns on record, what was taken back, who passed by."""
    name, child = outcome.bin_.name, voice.child(outcome.student)
    zone = voice.roster.class_.zone
    lines = []
    if outcome.caution:
        lines.append(
            f"{child} is not asked to go: the class list keeps {child} from {outcome.caution}."
        )
    elif outcome.missing:
        asked = outcome.stint.visits_each if outcome.stint else 1
        lines.append(f"{child} needs {name}: {len(_days(outcome))} of {asked} turns on record.")
    elif outcome.standing:
        lines.append(f"{child} does not need {name}: the turn is on record.")
    else:
        lines.append(f"{child} has no turn at {name} on record.")
    for claim, entry in outcome.standing:
        lines.append(f"{_day(claim.turn)}: {_told(entry, zone, voice)}")
    for claim, entry in outcome.voided:
        lines.append(f"{_day(claim.turn)}: {_told(entry, zone, voice)}, taken back later")
    for entry, _ in outcome.passed_by:
        lines.append(f"Left out of: {_told(entry, zone, voice)}")
    return Reply("\n".join(lines))


def _days(outcome: Explained) -> set[object]:
    return {claim.turn.day for claim, _ in outcome.standing}


def _day(turn: Turn) -> str:
    at = f" {clock(turn.rotation)}" if turn.rotation else ""
    return f"{short_day(turn.day, turn.day)}{at}"


def _told(entry: Entry, zone: object, voice: Voice) -> str:
    if entry.kind == "load":
        return "from the class folder"
    at = entry.at.astimezone(zone)  # type: ignore[arg-type]
    return f"{_quote(entry.text, voice)} at {clock(at.time())}, {short_day(at.date(), at.date())}"


def reading_explained(outcome: ReadingExplained, voice: Voice, entry_id: int) -> Reply:
    """How the last text was taken, word by word."""
    entry = outcome.entry
    if entry is None:
        return Reply("There is no text before this one.")
    if voice.spoken is not None:
        return Reply("Ask me in our own chat: others read along here.")
    lines = [f"Your last text: {quoted(entry.text)}"]
    if entry.said:
        lines.append(f"Taken as: {entry.said}")
    known = [f"“{text}” = {meaning}" for text, meaning in outcome.taken]
    if known:
        lines.append(listed(known, "and") + ".")
    if not entry.said:
        lines.append("It changed nothing.")
    return Reply("\n".join(lines))


def _quote(text: str, voice: Voice) -> str:
    """A text in quotation marks; not where others read along, since it may name children."""
    return quoted(text) if voice.spoken is None else "that text"


def quoted(text: str) -> str:
    """A text in quotation marks, cut where it is long."""
    flat = " ".join(text.split())
    return f"“{flat if len(flat) <= _LONGEST_QUOTE else flat[: _LONGEST_QUOTE - 1] + '…'}”"
