"""Told that a rotation runs at another time: "move the 10:45 to 2"; asked about first."""

from __future__ import annotations

from bot.classroom.days import nth_rotation, rotations_on, running_at
from bot.requests import Ask, ChangeSchedule, Option, Span
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import schedule_in_full
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.schedule.changes import heard_as
from bot.understanding.senses import Kind

_PHRASES = (
    "move|moving|push|pushing|shift|reschedule|bump|switch|change the|our|first|second|last|todays|"
    "tomorrows|<day>|rotation|slot|back|up* <time> ... to|till|until|back|for",
    "<time> is|got|was|has|been|will|be|gets|<day>|rotation* moved|pushed|rescheduled|shifted|"
    "bumped|changed|moves ... to|till|until",
)


def _hear_moved(clause: Clause) -> Heard | None:
    heard = heard_as("lost", clause)
    slots = [i.sense.value for i in clause.items if i.kind is Kind.SLOT]
    if heard is None:
        return None
    [span, *_] = heard.spans
    times = [moment for moment in (span.starts, span.ends) if moment is not None]
    day = span.first or clause.at.date()
    rotations = rotations_on(clause.roster, day)
    old = nth_rotation(rotations, slots[0]) if slots and isinstance(slots[0], int) else None
    if old is None and len(times) == 2:
        old = running_at(rotations, times.pop(0))
    if old is None or len(times) != 1:
        return None
    text = "\n".join(
        schedule_in_full(ChangeSchedule(what, (Span(day, day, None, moment),)))
        for what, moment in (("lost", old.starts), ("extra", times[0]))
    )
    options = (Option(YES, text), Option(NO, "no"))
    return Heard(asks=[Ask("confirm_note", "", options, ChangeSchedule.name)])


TOLD_MOVED = Listener(_PHRASES, _hear_moved, rank=3, apart=True)
