"""A class on its way through a day: what it says unasked at each moment."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from bot.nudges.previewing import Upcoming, preview
from bot.nudges.speaking import Spoken, speak_up
from storage import tables
from storage.records import Member, Nudge
from tests.classroom_fixture import Classroom, moment

TUESDAY = "2026-11-17"


def anyone(member: Member) -> bool:
    """Everybody can be written to."""
    return True


def look(
    room: Classroom, at: str, reaches: Callable[[Member], bool] = anyone
) -> tuple[Spoken, ...]:
    """What the class says at a moment of its own clock."""
    return look_at(room, moment(at), reaches)


def look_at(
    room: Classroom, now: datetime, reaches: Callable[[Member], bool] = anyone
) -> tuple[Spoken, ...]:
    """What the class says at a moment."""
    with room.database.writing() as work:
        return speak_up(work, room.class_id, now, reaches).spoken


def kinds(spoken: tuple[Spoken, ...]) -> list[str]:
    """Their kinds, in order."""
    return [said.kind for said in spoken]


def coming(room: Classroom, first: str, last: str) -> tuple[Upcoming, ...]:
    """The preview between two moments of the class's clock."""
    with room.database.reading() as work:
        return preview(work, room.class_id, moment(first), moment(last), anyone)


def on_record(room: Classroom) -> tuple[Nudge, ...]:
    """Every nudge sent or passed over."""
    with room.database.reading() as work:
        return work.book(room.class_id).nudges(datetime.min.date())


def states(room: Classroom, day: str = TUESDAY) -> dict[str, str]:
    """Kind -> what became of it on a day."""
    return {n.kind: n.state for n in on_record(room) if n.day.isoformat() == day}


def change_class(room: Classroom, **settings: object) -> None:
    """Give the class other settings, as a folder would."""
    with room.book() as book:
        book.journal(1).change(tables.classes, room.class_id, **settings)
