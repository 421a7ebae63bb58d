"""Which nudges have their time on a day, for whom, and from when each may be sent."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.classroom.rotation.memo import Plans
from bot.nudges.kinds import KINDS, NudgeKind
from bot.nudges.times import allowed_from
from bot.skills.skill import Situation
from storage.classbook import ClassBook
from storage.records import Member, Nudge, Nudging, Roster

NUDGED = ("owner", "co-teacher")  # others get nudges only where they ask for them
REMEMBERED = timedelta(days=120)  # how far back "never twice" looks: longer than bins stay out

Reaches = Callable[[Member], bool]


@dataclass(frozen=True, slots=True)
class Slot:
    """One nudge in waiting: `at` is when it may be sent, None where the member wants none."""

    kind: NudgeKind
    day: date
    member: Member
    due: datetime
    expires: datetime
    at: datetime | None
    again: Nudge | None = None  # the one sent before that is to come once more


def slots_on(
    roster: Roster, day: date, members: Sequence[Member], held: Mapping[int, Nudging]
) -> Iterator[Slot]:
    """The nudges whose time is on a day, in the order of KINDS, for these members."""
    for kind in KINDS:
        times = kind.due(roster, day)
        if times is None:
            continue
        due, expires = times
        for member in members:
            at = allowed_from(due, roster.class_, held.get(member.id))
            yield Slot(kind, day, member, due, expires, at)


def slots_once_more(
    roster: Roster,
    members: Sequence[Member],
    held: Mapping[int, Nudging],
    known: Sequence[Nudge],
) -> Iterator[Slot]:
    """The nudges that members have put off and that have not come again."""
    for member in members:
        wish = held.get(member.id)
        if wish is None or wish.is_on or wish.until is None or wish.again is None:
            continue
        for nudge in known:
            if nudge.id == wish.again and nudge.at < wish.until:
                [kind] = [kind for kind in KINDS if kind.name == nudge.kind]
                at = allowed_from(wish.until, roster.class_, None)
                yield Slot(kind, nudge.day, member, nudge.due, nudge.expires, at, nudge)


def recipients(
    members: Sequence[Member], held: Mapping[int, Nudging], reaches: Reaches
) -> tuple[Member, ...]:
    """The members who get nudges: owner and co-teachers, and whoever has asked for them."""
    return tuple(
        member
        for member in members
        if reaches(member)
        and (member.role in NUDGED or ((wish := held.get(member.id)) is not None and wish.is_on))
    )


def situation(
    book: ClassBook, roster: Roster, member: Member, now: datetime, plans: Plans
) -> Situation:
    """The class as it stands at a moment, for one member; no entry is in hand yet."""
    local = now.astimezone(roster.class_.zone)
    return Situation(book, roster, 0, member, local, plans=plans)
