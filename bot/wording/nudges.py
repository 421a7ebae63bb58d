"""Words for the morning summary and for everything else the bot says unasked."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, time, timedelta
from typing import Any

from bot.classroom.risk import Risk
from bot.outcomes import (
    REFUSED,
    AtRisk,
    AwayToday,
    BoxesToday,
    CopyToday,
    DigestMoved,
    LostRotations,
    MorningDigest,
    NextWeek,
    NothingLogged,
    NudgeExplained,
    NudgesSet,
    Part,
    SendToday,
    ShortSupplies,
    TodaysPlan,
    ToldHow,
)
from bot.requests import Option
from bot.wording.journal import quoted
from bot.wording.plans import mend_line, rotation_lines, unmet_lines
from bot.wording.supplies import copy_lines, due_lines
from bot.wording.voice import Reply, Voice, clock, counted, listed, sentence, short_day
from storage.records import Stint

AS_PLANNED = Option("Ran as planned", "everyone where the plan says today")
SOMEONE_AWAY = Option("Someone is away", "someone is away")
CHANGE_PLAN = Option("Change the plan", "change the plan")
SNOOZE = Option("In an hour", "snooze an hour")
_NAMED = 6  # children or bins named on a line


# The morning summary


def morning_digest(outcome: MorningDigest, voice: Voice, entry_id: int) -> Reply:
    """One screen for a school day; one line where there is nothing to say."""
    day = short_day(outcome.day, outcome.day)
    if outcome.next_school_day is not None:
        back = short_day(outcome.next_school_day, outcome.day)
        return Reply(f"{day}: no school. Next school day: {back}.")
    lines = [line for part in outcome.parts for line in _PARTS[type(part)](part, voice)]
    if not lines:
        text = (
            "everyone is here and nothing is pressing" if outcome.has_rotations else "no rotation"
        )
        return Reply(f"{day}: {text}.", _buttons(outcome))
    if isinstance(outcome.parts[0], AwayToday):
        head = f"{day}. {lines.pop(0)}"
    else:
        head = f"{day}. Everyone is here."
    return Reply("\n".join([head, *lines]), _buttons(outcome))


def _buttons(outcome: MorningDigest) -> tuple[Option, ...]:
    return (AS_PLANNED, SOMEONE_AWAY, CHANGE_PLAN) if outcome.has_rotations else ()


def _away(part: AwayToday, voice: Voice) -> list[str]:
    said = []
    if part.all_day:
        names = voice.children(part.all_day, most=_NAMED)
        said.append(sentence(f"Away: {names}"))
    for student, starts in part.in_part[:_NAMED]:
        said.append(sentence(f"{voice.child(student)} misses {listed([clock(s) for s in starts])}"))
    return [" ".join(said)]


def _lost(part: LostRotations, voice: Voice) -> list[str]:
    reason = f" ({part.reason})" if part.reason else ""
    if part.all_of_them:
        return [f"No rotation today{reason}."]
    return [f"Not running today{reason}: {listed([clock(starts) for starts in part.starts])}."]


def _plan(part: TodaysPlan, voice: Voice) -> list[str]:
    day = part.sittings[0].day
    return [*rotation_lines(part.sittings, voice), *unmet_lines(part.unmet, (), day, voice)]


def _send_first(part: SendToday, voice: Voice) -> list[str]:
    to: dict[Stint, list[str]] = {}
    for student, stint in part.pairs:
        to.setdefault(stint, []).append(voice.child(student))
    told = [
        f"{listed(names)} to {voice.bin_(stint)}{_till(stint.closes)}"
        for stint, names in to.items()
    ]
    return [f"Send first: {', '.join(told)}"]


def _till(closes: date | None) -> str:
    return f" (till {closes:%a} {closes.day} {closes:%b})" if closes else ""


def _copy(part: CopyToday, voice: Voice) -> list[str]:
    return [sentence(line) for line in copy_lines(part.lines, voice.roster, part.day)]


def _boxes(part: BoxesToday, voice: Voice) -> list[str]:
    said = (
        ("New today", part.first_day),
        ("Last day", part.last_day),
        ("Everyone has been, may go", part.finished),
    )
    return [
        f"{head}: {', '.join(voice.bin_with_color(stint) for stint in stints)}"
        for head, stints in said
        if stints
    ]


_PARTS: Mapping[type[Part], Callable[[Any, Voice], list[str]]] = {
    AwayToday: _away,
    LostRotations: _lost,
    TodaysPlan: _plan,
    SendToday: _send_first,
    CopyToday: _copy,
    BoxesToday: _boxes,
}


# The other nudges


def at_risk(outcome: AtRisk, voice: Voice, entry_id: int) -> Reply:
    """Bins that not everyone will reach in time, and for whom it is tight."""
    bins = [voice.bin_(risk.stint) for risk in outcome.risks]
    lines = [f"Not everyone will get to {listed(bins[:_NAMED])} in time."]
    alike: dict[tuple[date | None, str], list[str]] = {}
    for risk in outcome.risks:
        key = risk.stint.closes, _risk(risk, voice)
        alike.setdefault(key, []).append(voice.bin_(risk.stint))
    for (closes, said), names in list(alike.items())[:_NAMED]:
        till = f" (till {short_day(closes, outcome.today)})" if closes else ""
        lines.append(sentence(f"{listed(names[:_NAMED])}{till}: {said}"))
    lines += [mend_line(mend, outcome.today, voice) for mend in outcome.mends[:1]]
    choices = tuple(Option(f"Who needs {name}", f"who still needs {name}") for name in bins[:3])
    return Reply("\n".join(lines), choices)


def _risk(risk: Risk, voice: Voice) -> str:
    said = []
    if risk.needed - risk.expected > len(risk.students):
        turns = counted(risk.needed, "turn", "turns")
        said.append(f"{turns} still needed, room for about {risk.expected} at this rate")
    if risk.students:
        names = voice.children(risk.students, most=_NAMED)
        said.append(f"no turn left in the plan for {names}")
    return "; ".join(said)


def nothing_logged(outcome: NothingLogged, voice: Voice, entry_id: int) -> Reply:
    """Nothing is on record for today."""
    return Reply("Nothing is logged for today. Did it run as planned?", (AS_PLANNED, SNOOZE))


def short_supplies(outcome: ShortSupplies, voice: Voice, entry_id: int) -> Reply:
    """What to copy or buy before the next school day."""
    lines = due_lines(outcome.lines, voice.roster, outcome.today)
    return Reply("\n".join(sentence(line) for line in lines))


def next_week(outcome: NextWeek, voice: Voice, entry_id: int) -> Reply:
    """What the next week with school holds."""
    if not outcome.days:
        return Reply("No school day is in sight.")
    lines = [_week(outcome.days, outcome.today)]
    lines += [
        f"No school {_span(days, outcome.today)}{f' ({reason})' if reason else ''}."
        for days, reason in _runs(outcome.closed)
    ]
    for stint in outcome.opening:
        lines.append(
            f"{voice.bin_with_color(stint)} opens {short_day(stint.opens, outcome.today)}."
        )
    for stint, left in outcome.closing:
        closes = short_day(stint.closes, outcome.today) if stint.closes else ""
        who = "everyone has been" if not left else f"{counted(left, 'child', 'children')} to come"
        lines.append(f"{voice.bin_with_color(stint)} closes {closes}: {who}.")
    for student, away in outcome.away[:_NAMED]:
        on = listed([f"{day:%a}" for day in away])
        lines.append(sentence(f"{voice.child(student)} is away {on}"))
    lines += [sentence(line) for line in due_lines(outcome.short, voice.roster, outcome.today)]
    return Reply("\n".join(lines))


def _week(days: Sequence[date], today: date) -> str:
    count = counted(len(days), "school day", "school days")
    next_monday = today + timedelta(days=7 - today.weekday())
    if days[0] >= next_monday + timedelta(days=7):
        return f"No school next week. Back {short_day(days[0], today)}, for {count}."
    return f"Next week: {count}, {_span(days, today)}."


def _span(days: Sequence[date], today: date) -> str:
    first, last = short_day(days[0], today), short_day(days[-1], today)
    return first if first == last else f"{first} to {last}"


def _runs(closed: Sequence[tuple[date, str]]) -> Iterator[tuple[list[date], str]]:
    """Closed days one after the other, for the same reason, as one."""
    run: list[date] = []
    for at, (day, reason) in enumerate(closed):
        run.append(day)
        following = closed[at + 1] if at + 1 < len(closed) else None
        if following is None or following[1] != reason or (following[0] - day).days > 3:
            yield run, reason
            run = []


# Who wants them, and when


def nudges_set(outcome: NudgesSet, voice: Voice, entry_id: int) -> Reply:
    """Nudges are on, off, or held."""
    undo = () if outcome.had_it_so else (Option("Undo", f"undo {entry_id}"),)
    if outcome.is_on:
        return Reply("I will speak up again when there is something to do.", undo)
    if outcome.until is None:
        return Reply(
            "I will not write by myself any more; I still answer. Text “unmute” to hear from me.",
            (Option("Unmute", "unmute"),),
        )
    at = outcome.until
    when = short_day(at.date(), at.date())
    when += f", {clock(at.time())}" if at.time() != time() else ""
    if outcome.again:
        return Reply(f"I will say it again at {clock(at.time())}, and nothing till then.", undo)
    return Reply(f"Quiet till {when}.", (*undo, Option("Unmute", "unmute")))


def digest_moved(outcome: DigestMoved, voice: Voice, entry_id: int) -> Reply:
    """The morning summary has another time, or why not."""
    hours = f"{clock(outcome.first)} and {clock(outcome.last)}"
    if outcome.at is None:
        return Reply("At what time? Text for example “morning message at 7:15”.")
    if outcome.status == REFUSED:
        return Reply(
            f"Not at {clock(outcome.at)}: the class's hours for messages are between {hours}."
        )
    text = f"The morning summary comes at {clock(outcome.at)} on school days."
    return Reply(text, (Option("Undo", f"undo {entry_id}"),) if outcome.changes else ())


def told_how(outcome: ToldHow, voice: Voice, entry_id: int) -> Reply:
    """How to say what changes."""
    if outcome.what == "hours":
        class_ = voice.roster.class_
        hours = f"{clock(class_.quiet_before)} and {clock(class_.quiet_after)}"
        return Reply(
            f"I speak up between {hours} only, as set for the class. To hear nothing more for now,"
            " tap or text “quiet till tomorrow”.",
            (Option("Quiet till tomorrow", "quiet till tomorrow"),),
        )
    return Reply(_HOW[outcome.what])


_HOW = {
    "away": "Text me who, as in “theo is out today” or “priya leaves at 10:30”.",
    "plan": "Text me what changes, as in “no second rotation today” or “kai is with group 2”.",
    "less": "“mute” ends the messages that I begin, “quiet till monday” holds them.",
    "until": "Till when? Text for example “quiet till monday” or “snooze an hour”.",
}
_RULES = {
    "digest": "the morning summary comes on school days at the time set for the class",
    "at_risk": "a bin closes before everyone who needs it can have been there",
    "not_logged": "the day's last rotation was over and no turn was logged",
    "restock": "something has to be copied or bought before it runs short",
    "friday": "it was the last school day of the week",
}


def nudge_explained(outcome: NudgeExplained, voice: Voice, entry_id: int) -> Reply:
    """Why the bot spoke up."""
    zone = voice.roster.class_.zone
    at = outcome.entry.at.astimezone(zone)
    told = f"I wrote at {clock(at.time())} because {_RULES[outcome.kind]}."
    first_line = (outcome.entry.reply or "").partition("\n")[0]
    lines = [told]
    if voice.spoken is None and first_line:
        lines.append(f"It said: {quoted(first_line)}")
    lines.append("“mute” ends such messages, “quiet till monday” holds them.")
    return Reply("\n".join(lines))


# On the command line

NOTHING_COMING = "Nothing would be sent."


def preview_lines(upcoming: Any) -> str:
    """One nudge to come: when, what kind, to whom; its text below."""
    at = upcoming.at
    head = f"{at:%a} {at.date().isoformat()} {at:%H:%M}  {upcoming.kind}"
    text = "\n".join(f"    {line}" for line in upcoming.text.split("\n"))
    return f"{head}, to {listed(upcoming.to)}\n{text}"
