"""Speaking up: what is due is claimed by a row, entered in the journal and handed to the edge.

All of it belongs to the caller's unit of work, the outgoing letter too: a crash before its end
leaves nothing claimed, one after it leaves the letter to be sent. The row is unique, so that of two
processes only one speaks.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.classroom.days import is_hour_allowed
from bot.classroom.rotation.memo import Plans
from bot.nudges.kinds import Levels, Saying
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
from bot.outcomes import MorningDigest
from bot.skills.digest import tell_parts
from bot.wording import word
from bot.wording.voice import Reply, Voice, fitted
from storage.classbook import ClassBook
from storage.database import Work
from storage.nudges import ENOUGH, LATE, NOTHING, OFF, SENT
from storage.records import Member, Nudge, Roster

_LONGEST_REST = timedelta(minutes=10)  # wishes and hours may change meanwhile


@dataclass(frozen=True, slots=True)
class Spoken:
    """A nudge that is claimed and on its way to one member."""

    member: Member
    kind: str
    reply: Reply
    entry_id: int


@dataclass(frozen=True, slots=True)
class Spell:
    """What was said at one look at a class, and when to look again."""

    spoken: tuple[Spoken, ...]
    look_again: datetime


@dataclass(frozen=True)
class _Look:
    """One class at one moment."""

    book: ClassBook
    roster: Roster
    memory: Memory
    now: datetime
    plans: Plans

    @property
    def is_quiet(self) -> bool:
        """Whether this is no hour for writing: what is late by then waits too."""
        local = self.now.astimezone(self.roster.class_.zone)
        return not is_hour_allowed(self.roster.class_, local.time())


def speak_up(
    work: Work, class_id: int, now: datetime, reaches: Reaches, plans: Plans | None = None
) -> Spell:
    """Claim whatever is due in a class for the members that `reaches` says can be written to.

    Raises PlanFirst, where `plans` says so, for a plan that is to be made outside of the unit.
    """
    book = work.book(class_id)
    roster, held = book.roster(), book.nudging()
    today = now.astimezone(roster.class_.zone).date()
    known = book.nudges(today - REMEMBERED)
    look = _Look(book, roster, memory_of(known), now, plans or Plans())
    members = recipients(work.register.members(class_id), held, reaches)
    days = [today + timedelta(days=n) for n in (-1, 0, 1)]
    slots = [slot for day in days for slot in slots_on(roster, day, members, held)]
    slots += slots_once_more(roster, members, held, known)
    spoken = [said for slot in slots if (said := _take_up(slot, look)) is not None]
    coming = [slot.at for slot in slots if slot.at is not None and slot.at > now]
    coming += [wish.until for wish in held.values() if wish.until and wish.until > now]
    return Spell(tuple(spoken), min([*coming, now + _LONGEST_REST]))


def _take_up(slot: Slot, look: _Look) -> Spoken | None:
    """Send a slot's nudge if it may be sent now; note it as passed over if it never will be."""
    kind, member, now = slot.kind, slot.member, look.now
    if slot.again is not None:
        return _once_more(slot, slot.again, look)
    if now < slot.due or look.memory.has_had(kind.name, slot.day, member.id):
        return None
    if now >= slot.expires or slot.at is None:
        _claim(slot, look, OFF if slot.at is None else LATE)
        return None
    if now < slot.at or look.is_quiet:
        return None
    saying = _said(slot, look, look.memory.told(kind.name, member.id))
    if saying is None or look.memory.has_had_enough(slot.day, member.id):
        _claim(slot, look, NOTHING if saying is None else ENOUGH)
        return None
    nudge_id = _claim(slot, look, SENT, saying)
    return None if nudge_id is None else _enter(nudge_id, slot, saying, look)


def _once_more(slot: Slot, nudge: Nudge, look: _Look) -> Spoken | None:
    """A nudge that was put off, when its moment has come and it still means something."""
    if slot.at is None or not slot.at <= look.now < slot.expires or look.is_quiet:
        return None
    if look.memory.has_had_enough(slot.day, slot.member.id):
        return None
    saying = _said(slot, look, {})
    if saying is None or not look.book.claim_again(nudge, look.now):
        return None
    return _enter(nudge.id, slot, saying, look)


def _said(slot: Slot, look: _Look, told: Levels) -> Saying | None:
    now = situation(look.book, look.roster, slot.member, look.now, look.plans)
    return slot.kind.says(now, told)


def _claim(slot: Slot, look: _Look, state: str, saying: Saying | None = None) -> int | None:
    """Write the row; None where another process has it."""
    times = int(state == SENT)
    levels = saying.levels if saying else {}
    nudge_id = look.book.claim_nudge(
        slot.member.id,
        slot.kind.name,
        slot.day,
        about=saying.about if saying else "",
        levels=dict(levels),
        due=slot.due,
        expires=slot.expires,
        state=state,
        at=look.now,
        times=times,
    )
    look.memory.remember(slot.kind.name, slot.day, slot.member.id, times=times, levels=levels)
    return nudge_id


def _enter(nudge_id: int, slot: Slot, saying: Saying, look: _Look) -> Spoken:
    """Put what is said into the journal, so that why can explain it."""
    book, kind, member = look.book, slot.kind, slot.member
    entry_id = book.open_entry(
        kind="nudge", text="", at=look.now, received_at=look.now, member_id=member.id
    )
    reply = reply_of(saying, look.roster, entry_id)
    book.close_entry(
        entry_id,
        outcome=saying.outcome.status,
        requests=[kind.name],
        reply=reply.text,
        result={
            "choices": [{"label": c.label, "send": c.send} for c in reply.choices],
            "levels": dict(saying.levels),
        },
    )
    book.note_nudge(nudge_id, entry_id=entry_id)
    if isinstance(saying.outcome, MorningDigest):
        tell_parts(book, entry_id, saying.outcome.parts)
    return Spoken(member, kind.name, reply, entry_id)


def reply_of(saying: Saying, roster: Roster, entry_id: int) -> Reply:
    """What is said in words, to a member alone."""
    reply = word(saying.outcome, Voice(roster), entry_id)
    return Reply(fitted(reply.text), reply.choices)
