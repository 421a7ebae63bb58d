"""The nudges that would go out between two moments if nothing new were texted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.classroom.rotation.memo import Plans
from bot.nudges.memory import Memory, memory_of
from bot.nudges.schedule import (
    REMEMBERED,
    Reaches,
    Slot,
    recipients,
    situation,
    slots_on,
    slots_once_more,
)
from bot.nudges.speaking import reply_of
from storage.classbook import ClassBook
from storage.database import Work
from storage.records import Roster


@dataclass(frozen=True, slots=True)
class Upcoming:
    """A nudge that would go out: when (in the class's zone), what, and to whom by name."""

    at: datetime
    kind: str
    about: str
    to: tuple[str, ...]
    text: str


def preview(
    work: Work, class_id: int, first: datetime, last: datetime, reaches: Reaches
) -> tuple[Upcoming, ...]:
    """What would be sent from `first` to `last`, both included, in order of time; writes nothing.

    Each nudge remembers those before it, so that the preview of a week is as few as the week.
    """
    book = work.book(class_id)
    roster, held = book.roster(), book.nudging()
    zone = roster.class_.zone
    day, end = first.astimezone(zone).date(), last.astimezone(zone).date()
    known = book.nudges(day - REMEMBERED)
    memory, plans = memory_of(known), Plans()
    members = recipients(work.register.members(class_id), held, reaches)
    days = (day + timedelta(days=n) for n in range((end - day).days + 1))
    slots = [slot for on in days for slot in slots_on(roster, on, members, held)]
    slots += slots_once_more(roster, members, held, known)
    timed = [(s.at, s) for s in slots if s.at is not None and first <= s.at <= last]
    found = [
        said
        for at, slot in sorted(timed, key=lambda pair: pair[0])
        if at < slot.expires and (said := _said(slot, at, book, roster, memory, plans)) is not None
    ]
    return tuple(_together(found))


def _said(
    slot: Slot,
    at: datetime,
    book: ClassBook,
    roster: Roster,
    memory: Memory,
    plans: Plans,
) -> Upcoming | None:
    """What a slot would say at its moment, remembered as said."""
    kind, day, member = slot.kind.name, slot.day, slot.member
    if slot.again is None and memory.has_had(kind, day, member.id):
        return None
    if memory.has_had_enough(day, member.id):
        return None
    told = {} if slot.again is not None else memory.told(kind, member.id)
    saying = slot.kind.says(situation(book, roster, member, at, plans), told)
    levels = saying.levels if saying else {}
    memory.remember(kind, day, member.id, times=int(saying is not None), levels=levels)
    if saying is None:
        return None
    text = reply_of(saying, roster, 0).text
    return Upcoming(at.astimezone(roster.class_.zone), kind, saying.about, (member.name,), text)


def _together(found: list[Upcoming]) -> Iterator[Upcoming]:
    """The same words to several members at one moment as one."""
    to: dict[tuple[datetime, str, str, str], list[str]] = {}
    for one in found:
        to.setdefault((one.at, one.kind, one.about, one.text), []).extend(one.to)
    for (at, kind, about, text), names in to.items():
        yield Upcoming(at, kind, about, tuple(names), text)
