"""Crediting: which children a log gives a turn, and which it must leave out or ask about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time

from bot.classroom.cautions import kept_from
from bot.classroom.presence import Presence, presence
from storage.records import Roster, Stint, Student


@dataclass(frozen=True, slots=True)
class Credit:
    """What a log means for each child it speaks of, in roster order."""

    credited: tuple[Student, ...]
    away: tuple[Student, ...] = ()
    kept_away: tuple[Student, ...] = ()
    unsure: tuple[Student, ...] = ()
    against_caution: tuple[Student, ...] = ()  # credited because named, though they avoid it
    named_though_away: tuple[Student, ...] = ()  # credited because named, though noted as away


def credit(
    roster: Roster,
    stint: Stint,
    day: date,
    rotation: time | None,
    *,
    named: Iterable[int],
    in_groups: Iterable[int],
) -> Credit:
    """Sort the children of a log: those named one by one, and those meant through a group.

    A child named is credited, with the caution or the away mentioned; a child meant through a group
    only when neither away nor kept from that bin.
    """
    by_name = set(named)
    sorted_: dict[str, list[Student]] = {}

    def put(kind: str, student: Student) -> None:
        sorted_.setdefault(kind, []).append(student)

    for student in roster.students:
        if student.id not in by_name and student.id not in in_groups:
            continue
        avoids = kept_from(roster, student, roster.bin_of(stint)) is not None
        there = presence(roster, student.id, day, rotation)
        if student.id in by_name:
            put("credited", student)
            if avoids:
                put("against_caution", student)
            if there is Presence.AWAY:
                put("named_though_away", student)
        elif avoids:
            put("kept_away", student)
        else:
            kind = {Presence.HERE: "credited", Presence.AWAY: "away", Presence.UNSURE: "unsure"}
            put(kind[there], student)
    return Credit(
        credited=tuple(sorted_.get("credited", ())),
        away=tuple(sorted_.get("away", ())),
        kept_away=tuple(sorted_.get("kept_away", ())),
        unsure=tuple(sorted_.get("unsure", ())),
        against_caution=tuple(sorted_.get("against_caution", ())),
        named_though_away=tuple(sorted_.get("named_though_away", ())),
    )
