"""Words for who still needs what."""

from __future__ import annotations

from bot.classroom.needs import Needs
from bot.outcomes import ChildrenNeed, WhoIsLeft
from bot.requests import Option
from bot.wording.cautions import SCHOOL_DECIDES
from bot.wording.voice import Reply, Voice, counted, sentence, short_day, till

_NAMED_ON_A_LINE = 6


def who_is_left(outcome: WhoIsLeft, voice: Voice, entry_id: int) -> Reply:
    """Who still needs each bin, in the order in which to send them."""
    lines = [_not_out(bin_.name, stint, outcome) for bin_, stint in outcome.not_out]
    lines += [f"No bin is in the {color} box today." for color in outcome.no_such_color]
    pairs = list(zip(outcome.needs, outcome.rotations_left, strict=True))
    if len(pairs) == 1:
        lines += _one_bin(*pairs[0], outcome, voice)
    else:
        lines += [_short(needs, outcome, voice) for needs, _ in pairs]
    if not lines:
        lines.append("No bin is out today.")
    return Reply("\n".join(lines))


def _not_out(name: str, stint: object, outcome: WhoIsLeft) -> str:
    if stint is None:
        return f"{name} is on the shelf."
    return f"{name} {till(stint, outcome.today)}."  # type: ignore[arg-type]


def _one_bin(needs: Needs, left: int | None, outcome: WhoIsLeft, voice: Voice) -> list[str]:
    stint = needs.stint
    head = f"{voice.bin_with_color(stint)}"
    if not needs.students:
        lines = [f"{head}: nobody. All {needs.asked_of} have been."]
    elif stint.closes is not None and stint.closes < outcome.today:
        count = f"{len(needs.students)} of {needs.asked_of}"
        lines = [f"{head}: {count} missed it, {till(stint, outcome.today)}"]
        lines.append(sentence(f"Not been: {_with_away(needs.students, outcome, voice)}"))
    else:
        rest = "" if left is None else f", {counted(left, 'rotation', 'rotations')} left"
        count = f"{len(needs.students)} of {needs.asked_of}"
        lines = [f"{head}: {count} still to come, {till(stint, outcome.today)}{rest}"]
        lines.append(f"Send first: {_with_away(needs.students[:2], outcome, voice)}")
        if needs.students[2:]:
            lines.append(f"Then: {_with_away(needs.students[2:], outcome, voice)}")
    if needs.kept_away:
        kept = sentence(f"Kept away by a caution: {voice.children(needs.kept_away)}")
        lines.append(f"{kept} {SCHOOL_DECIDES}")
    return lines


def _with_away(students: tuple[object, ...], outcome: WhoIsLeft, voice: Voice) -> str:
    if voice.spoken is not None:
        return voice.children(students)  # type: ignore[arg-type]
    names = []
    for student in students:
        away = " (away)" if student.id in outcome.away else ""  # type: ignore[attr-defined]
        names.append(f"{voice.child(student)}{away}")  # type: ignore[arg-type]
    return ", ".join(names)


def _short(needs: Needs, outcome: WhoIsLeft, voice: Voice) -> str:
    if not needs.students:
        return f"{voice.bin_(needs.stint)}: done"
    named = voice.children(needs.students, most=_NAMED_ON_A_LINE)
    return f"{voice.bin_(needs.stint)}: {len(needs.students)} left. {named}"


def children_need(outcome: ChildrenNeed, voice: Voice, entry_id: int) -> Reply:
    """What each child still needs, soonest to close first."""
    if not outcome.children:
        return Reply("Nobody of that name is on the roster today.")
    lines = []
    for student, needs in outcome.children:
        parts = []
        for stint, missing in needs:
            times = "" if missing == 1 else f" {missing} times"
            end = f" (till {short_day(stint.closes, outcome.today)})" if stint.closes else ""
            parts.append(f"{voice.bin_(stint)}{times}{end if len(outcome.children) == 1 else ''}")
        lines.append(
            f"{voice.child(student)}: {', '.join(parts) if parts else 'nothing, all done'}"
        )
    if len(lines) > 1 and all(not needs for _, needs in outcome.children):
        done = voice.children(student for student, _ in outcome.children)
        lines = [sentence(f"All done: {done}")]
    for student, bin_ in outcome.kept_from:
        lines.append(
            f"{voice.child(student)} is kept from {bin_.name} by a caution. {SCHOOL_DECIDES}"
        )
    return Reply("\n".join(lines), _steps(outcome))


def _steps(outcome: ChildrenNeed) -> tuple[Option, ...]:
    return ()
