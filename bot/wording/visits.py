"""Words for turns taken and turns taken back."""

from __future__ import annotations

from bot.outcomes import ANSWERED, HeldBack, NotLogged, VisitsLogged, VisitsRemoved, WhichDay
from bot.requests import Option
from bot.wording.cautions import SCHOOL_DECIDES
from bot.wording.voice import (
    Reply,
    Voice,
    clock,
    counted,
    listed,
    on_day,
    sentence,
    short_day,
    till,
)


def visits_logged(outcome: VisitsLogged, voice: Voice, entry_id: int) -> Reply:
    """Who got a turn, who was left out and why, and how many still need it."""
    name = voice.bin_(outcome.stint)
    day = "" if outcome.day == outcome.today else f" {on_day(outcome.day, outcome.today)}"
    lines = []
    if outcome.added:
        who = voice.students(turn.student_id for turn in outcome.added)
        lines.append(f"✓ {name}{day}: {who}{_without(outcome, voice)}")
        if outcome.already:
            who = voice.students(turn.student_id for turn in outcome.already)
            lines.append(sentence(f"On record before: {who}"))
    elif outcome.already:
        who = voice.students(turn.student_id for turn in outcome.already)
        at = f" (told at {clock(outcome.already_at.time())})" if outcome.already_at else ""
        lines.append(f"Nothing new: {who} had that turn at {name}{day} on record{at}.")
    else:
        lines.append(f"{name}{day}: nobody logged yet.")
    lines += _cautions(outcome, voice)
    for student in outcome.credit.unsure:
        lines.append(f"Was {voice.child(student)} with them? Away for a part of that day.")
    if outcome.added and outcome.needs is not None and not outcome.credit.unsure:
        lines.append(_still(outcome, voice))
    return Reply("\n".join(lines), _next_steps(outcome, name, entry_id))


def _without(outcome: VisitsLogged, voice: Voice) -> str:
    parts = []
    if outcome.excepted:
        parts.append(f"not {voice.children(outcome.excepted)}")
    if outcome.credit.away:
        parts.append(f"away: {voice.children(outcome.credit.away)}")
    if outcome.credit.kept_away:
        parts.append(f"kept away by a caution: {voice.children(outcome.credit.kept_away)}")
    if outcome.not_on_roster:
        parts.append(f"not on the roster that day: {voice.children(outcome.not_on_roster)}")
    return f" ({'; '.join(parts)})" if parts else ""


def _cautions(outcome: VisitsLogged, voice: Voice) -> list[str]:
    lines = []
    if outcome.credit.named_though_away:
        who = voice.children(outcome.credit.named_though_away)
        lines.append(f"You had noted {who} as away; logged, since you named the child.")
    if outcome.credit.against_caution:
        who = voice.children(outcome.credit.against_caution)
        lines.append(f"Caution: your class list keeps {who} from this bin. {SCHOOL_DECIDES}")
    return lines


def _still(outcome: VisitsLogged, voice: Voice) -> str:
    needs = outcome.needs
    if needs is None or not needs.students:
        return "Everyone who is to go has been."
    first = f"; {voice.children(needs.students[:2])} first" if len(needs.students) > 2 else ""
    if len(needs.students) <= 2:
        return sentence(f"Still to come: {voice.children(needs.students)}")
    return f"{counted(len(needs.students), 'child', 'children')} still to come{first}."


def _next_steps(outcome: VisitsLogged, name: str, entry_id: int) -> tuple[Option, ...]:
    if outcome.choices:
        return outcome.choices
    undo = (Option("Undo", f"undo {entry_id}"),) if outcome.added else ()
    return (*undo, Option("Who's left", f"who needs {name}"))


def not_logged(outcome: NotLogged, voice: Voice, entry_id: int) -> Reply:
    """Why nothing was logged."""
    day = outcome.day
    name = outcome.bin_.name if outcome.bin_ else f"the {outcome.place.color} box"
    if outcome.reason == "future":
        return Reply(f"Not logged: that is still to come. Text it once {name} has run.")
    if outcome.reason == "no_school" and day is not None:
        return Reply(f"Not logged: there was no school on {short_day(day, day)}.")
    if outcome.reason == "no_rotation":
        return Reply("Not logged: that day has no such rotation.")
    if outcome.reason == "not_out" and day is not None:
        where = _where_instead(outcome, voice)
        return Reply(f"Not logged: {name} was not out on {short_day(day, day)}.{where}")
    who = voice.children(outcome.students)
    reasons = {
        "away": f"Not logged: {who} away. Name the child if they were there after all.",
        "caution": f"Not logged: your class list keeps {who} from this bin. {SCHOOL_DECIDES}",
        "not_on_roster": f"Not logged: {who} not on the roster that day.",
        "nobody": "Not logged: nobody is left to give that turn to.",
    }
    return Reply(reasons[outcome.reason])


def _where_instead(outcome: NotLogged, voice: Voice) -> str:
    stint, day = outcome.stint, outcome.day
    if outcome.bin_ is None:
        return " No bin was in that color."
    if stint is None or day is None:
        return " It is on the shelf."
    return f" It {'is ' if till(stint, day).startswith('out') else ''}{till(stint, day)}."


def held_back(outcome: HeldBack, voice: Voice, entry_id: int) -> Reply:
    """What was understood and on purpose not logged."""
    name = outcome.bin_.name if outcome.bin_ else "that bin"
    texts = {
        "future": f"Nothing logged: that is still to come. Text me once {name} has run.",
        "if": f"Nothing logged: that reads like a maybe. Text me once {name} has run.",
        "started": f"Only started: nothing logged, so the turn at {name} is still to come.",
    }
    return Reply(texts[outcome.request.reason])


def which_day(outcome: WhichDay, voice: Voice, entry_id: int) -> Reply:
    """Today, or the last school day?"""
    why = (
        "Today's first rotation has not begun."
        if outcome.is_school_day
        else "There is no school today."
    )
    if outcome.is_vague:
        return Reply("Which day was that?", outcome.choices)
    return Reply(f"Which day was that? {why}", outcome.choices)


def visits_removed(outcome: VisitsRemoved, voice: Voice, entry_id: int) -> Reply:
    """Which turns were taken back."""
    where = f" at {outcome.bin_.name}" if outcome.bin_ else ""
    day = on_day(outcome.day, outcome.today)
    if outcome.status == ANSWERED:
        who = voice.children(outcome.students)
        return Reply(sentence(f"Nothing to take back: no turn{where} {day} on record for {who}"))
    bins = sorted({voice.bin_(voice.roster.stint[t.stint_id]) for t in outcome.removed})
    who = voice.students(turn.student_id for turn in outcome.removed)
    return Reply(f"Taken back {day}: {who}, {listed(bins)}.", (Option("Undo", f"undo {entry_id}"),))
