"""The morning summary on request, when it comes, and who wants nudges at all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time

from bot.classroom.days import is_hour_allowed, is_school_day, rotations_on, school_day_after
from bot.classroom.stints import out_on
from bot.outcomes import (
    ANSWERED,
    DONE,
    REFUSED,
    DigestMoved,
    MorningDigest,
    NudgesSet,
    Outcome,
    Part,
    TodaysPlan,
)
from bot.outcomes import ToldHow as Told
from bot.requests import Digest, MoveDigest, SayHow, SetNudges
from bot.skills.sections import SECTIONS
from bot.skills.skill import Situation, Skill
from bot.understanding.digest.buttons import TOLD_CHANGE_PLAN, TOLD_SOMEONE_AWAY
from bot.understanding.digest.off import (
    TOLD_HOURS,
    TOLD_HUSH,
    TOLD_LATER,
    TOLD_LESS,
    TOLD_OFF,
    TOLD_OFF_ALONE,
    TOLD_SNOOZE,
)
from bot.understanding.digest.on import TOLD_ON
from bot.understanding.digest.summary import ASKED_DIGEST, TOLD_MOVE
from storage.classbook import ClassBook


def digest(request: Digest, now: Situation) -> Outcome:
    """Put together what is worth knowing on a school day."""
    seen = now if request.day in (None, now.today) else _on_the_morning_of(request.day, now)
    day, roster = seen.today, seen.roster
    is_on = is_school_day(roster, day)
    parts = [part for section in SECTIONS if (part := section(seen)) is not None] if is_on else []
    if now.entry_id:
        tell_parts(now.book, now.entry_id, parts)
    return MorningDigest(
        status=ANSWERED,
        day=day,
        parts=tuple(parts),
        has_rotations=bool(rotations_on(roster, day)) and bool(out_on(roster, day)),
        next_school_day=None if is_on else school_day_after(roster, day),
    )


def tell_parts(book: ClassBook, entry_id: int, parts: Iterable[Part]) -> None:
    """Keep what a summary tells of a day's rotations, so that it stays as told."""
    for part in parts:
        if isinstance(part, TodaysPlan):
            book.announce(entry_id, part.told)


def _on_the_morning_of(day: date | None, now: Situation) -> Situation:
    at = datetime.combine(day or now.today, time(), tzinfo=now.at.tzinfo)
    return replace(now, at=at)


def set_nudges(request: SetNudges, now: Situation) -> Outcome:
    """Turn the sender's nudges on or off, or hold them till a moment."""
    held = now.book.nudging().get(now.member.id)
    again = _last_nudge(request, now) if request.again else None
    if request.is_answer and again is None:
        return Told(status=ANSWERED, what="until")
    is_so = held is not None and (held.is_on, held.until) == (request.is_on, request.until)
    if is_so and again is None:
        return NudgesSet(
            status=ANSWERED, is_on=request.is_on, until=request.until, again=False, had_it_so=True
        )
    now.book.set_nudging(
        now.entry_id, now.member.id, is_on=request.is_on, until=request.until, again=again
    )
    change = {
        "what": "nudges",
        "member": now.member.name,
        "on": request.is_on,
        "until": request.until.isoformat(timespec="seconds") if request.until else None,
    }
    return NudgesSet(
        status=DONE,
        changes=(change,),
        is_on=request.is_on,
        until=request.until,
        again=again is not None,
    )


def _last_nudge(request: SetNudges, now: Situation) -> int | None:
    """The nudge that may come once more: the sender's last of today, if it has not expired then."""
    sent = [
        nudge
        for nudge in now.book.nudges(now.today)
        if nudge.member_id == now.member.id and nudge.state == "sent"
    ]
    if not sent or request.until is None or sent[-1].expires <= request.until:
        return None
    return sent[-1].id


def move_digest(request: MoveDigest, now: Situation) -> Outcome:
    """Let the morning summary come at another time, within the hours allowed."""
    class_, at = now.roster.class_, request.at
    moved = DigestMoved(status=ANSWERED, at=at, first=class_.quiet_before, last=class_.quiet_after)
    if at is None or not is_hour_allowed(class_, at):
        return replace(moved, status=REFUSED)
    if at == class_.digest_at:
        return moved
    now.book.move_digest(now.entry_id, at)
    change = {"what": "digest", "from": f"{class_.digest_at:%H:%M}", "to": f"{at:%H:%M}"}
    return replace(moved, status=DONE, changes=(change,))


def say_how(request: SayHow, now: Situation) -> Outcome:
    """Tell how to say what changes."""
    return Told(status=ANSWERED, what=request.what)


SKILL = Skill(
    name="digest",
    title="Get the morning summary, or hear less from me",
    examples=(
        "send me the morning summary",
        "morning message at 7:15",
        "quiet till monday",
        "no more nudges",
        "unmute",
    ),
    listeners=(
        TOLD_HOURS,
        TOLD_LESS,
        TOLD_OFF,
        TOLD_OFF_ALONE,
        TOLD_HUSH,
        TOLD_SNOOZE,
        TOLD_LATER,
        TOLD_ON,
        TOLD_MOVE,
        ASKED_DIGEST,
        TOLD_SOMEONE_AWAY,
        TOLD_CHANGE_PLAN,
    ),
    acts=(
        (Digest, digest),
        (SetNudges, set_nudges),
        (MoveDigest, move_digest),
        (SayHow, say_how),
    ),
)
