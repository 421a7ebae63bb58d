"""The class book: every read and write for one class, in the words of the trade."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, and_, bindparam, func, or_, select

from storage.journal import Journal
from storage.records import Claim, Count, Entry, Question, Roster, Turn
from storage.rosters import read_counts, read_roster
from storage.tables import changes, claims, classes, entries, questions

_MOST_NAMED = 500
_HIGHEST_ID = 2**31 - 1

Tally = Mapping[int, Mapping[int, int]]
"""Visits held: stint id -> student id -> number of days."""


# What every message asks for is built once: putting a query together costs as much as running it.
_VERSION = select(classes.c.version).where(classes.c.id == bindparam("class_id"))
_BY_KEY = select(entries).where(
    entries.c.class_id == bindparam("class_id"), entries.c.key == bindparam("key")
)
_CLOSE = entries.update().where(entries.c.id == bindparam("entry_id"))
_PENDING = (
    select(questions)
    .where(
        questions.c.member_id == bindparam("member_id"),
        questions.c.place == bindparam("place"),
        questions.c.closed.is_(False),
    )
    .order_by(questions.c.id.desc())
    .limit(1)
)
_TALLY = (
    select(claims.c.stint_id, claims.c.student_id, func.count(claims.c.day.distinct()))
    .where(claims.c.stint_id.in_(bindparam("stints", expanding=True)), claims.c.voided_by.is_(None))
    .group_by(claims.c.stint_id, claims.c.student_id)
)
_STANDING = (
    select(claims)
    .where(
        claims.c.class_id == bindparam("class_id"),
        claims.c.student_id.in_(bindparam("students", expanding=True)),
        claims.c.stint_id == bindparam("stint_id"),
        claims.c.day == bindparam("day"),
        claims.c.voided_by.is_(None),
    )
    .order_by(claims.c.id)
)


class Attempt:
    """A part of a unit of work that can be taken back by itself."""

    def __init__(self) -> None:
        self.is_given_up = False

    def give_up(self) -> None:
        """Let nothing of this part be kept."""
        self.is_given_up = True


@dataclass(frozen=True)
class ClassBook:
    """One class within one unit of work."""

    connection: Connection
    class_id: int
    rosters: dict[int, Roster]

    def roster(self) -> Roster:
        """The class as it stands, read anew only where it has changed."""
        version = self.connection.execute(_VERSION, {"class_id": self.class_id}).scalar_one()
        known = self.rosters.get(self.class_id)
        if known is None or known.class_.version != version:
            known = self.rosters[self.class_id] = read_roster(self.connection, self.class_id)
        return known

    def journal(self, entry_id: int) -> Journal:
        """Writing on behalf of one entry."""
        return Journal(self.connection, self.class_id, entry_id)

    def supply_counts(self) -> tuple[Count, ...]:
        """Every supply count that stands, oldest first."""
        return read_counts(self.connection, self.class_id)

    def loaded(self) -> dict[str, Any] | None:
        """The facts of the folder this class was last loaded from."""
        query = select(classes.c.loaded).where(classes.c.id == self.class_id)
        return self.connection.execute(query).scalar()

    def keep_loaded(self, facts: Mapping[str, object]) -> None:
        """Remember the facts of the folder just loaded."""
        query = classes.update().where(classes.c.id == self.class_id)
        self.connection.execute(query, {"loaded": facts})

    @contextmanager
    def attempt(self) -> Iterator[Attempt]:
        """What is written inside is kept, unless the attempt is given up."""
        savepoint = self.connection.begin_nested()
        attempt = Attempt()
        try:
            yield attempt
        finally:
            if attempt.is_given_up:
                savepoint.rollback()
                self.rosters.pop(self.class_id, None)
            else:
                savepoint.commit()

    # Visits

    def tally(self, stint_ids: Collection[int]) -> Tally:
        """How many visits each student holds at each of these stints."""
        held: dict[int, dict[int, int]] = defaultdict(dict)
        for stint_id, student_id, days in self.connection.execute(
            _TALLY, {"stints": list(stint_ids)}
        ):
            held[stint_id][student_id] = days
        return held

    def claims(
        self,
        *,
        students: Collection[int] | None = None,
        stints: Collection[int] | None = None,
        day: date | None = None,
        entry_id: int | None = None,
        voided: bool = False,
    ) -> tuple[Claim, ...]:
        """Claims that fit every condition given, oldest first; voided ones only if asked."""
        query = select(claims)
        if day is not None or (students is None and stints is None and entry_id is None):
            # Not beside the rest, which belong to one class: its index would be taken for theirs.
            query = query.where(claims.c.class_id == self.class_id)
        if students is not None:
            query = query.where(claims.c.student_id.in_(students))
        if stints is not None:
            query = query.where(claims.c.stint_id.in_(stints))
        if day is not None:
            query = query.where(claims.c.day == day)
        if entry_id is not None:
            query = query.where(claims.c.made_by == entry_id)
        if not voided:
            query = query.where(claims.c.voided_by.is_(None))
        return tuple(map(_claim, self.connection.execute(query.order_by(claims.c.id))))

    def visits(self) -> tuple[Claim, ...]:
        """Every visit that stands, each by its oldest standing claim, in order of day."""
        first: dict[tuple[int, int, date], Claim] = {}
        for claim in self.claims():
            first.setdefault(claim.turn.key, claim)
        return tuple(sorted(first.values(), key=lambda c: (c.turn.day, c.id)))

    def visits_loaded(self) -> tuple[Claim, ...]:
        """The claims that class folders made and that stand, in order of day."""
        query = (
            select(claims)
            .where(claims.c.made_by.in_(self._loads()), claims.c.voided_by.is_(None))
            .order_by(claims.c.day, claims.c.id)
        )
        return tuple(map(_claim, self.connection.execute(query)))

    def stints_spoken_of(self) -> frozenset[int]:
        """Stints at which anything but a load ever claimed a visit or took one back."""
        loads = self._loads()
        query = (
            select(claims.c.stint_id)
            .distinct()
            .where(
                claims.c.class_id == self.class_id,
                or_(
                    claims.c.made_by.not_in(loads),
                    and_(claims.c.voided_by.is_not(None), claims.c.voided_by.not_in(loads)),
                ),
            )
        )
        return frozenset(self.connection.scalars(query))

    def _loads(self) -> Select[tuple[int]]:
        return select(entries.c.id).where(
            entries.c.class_id == self.class_id, entries.c.kind == "load"
        )

    def days_at(self, turns: Iterable[Turn]) -> dict[tuple[int, int, date], list[Claim]]:
        """The standing claims on the visits that these turns speak of."""
        wanted = {turn.key for turn in turns}
        if not wanted:
            return {}
        found: dict[tuple[int, int, date], list[Claim]] = defaultdict(list)
        for stint_id, day in {(stint, day) for _, stint, day in wanted}:
            students = {student for student, stint, at in wanted if (stint, at) == (stint_id, day)}
            meant = {
                "class_id": self.class_id,
                "students": list(students),
                "stint_id": stint_id,
                "day": day,
            }
            for claim in map(_claim, self.connection.execute(_STANDING, meant)):
                found[claim.turn.key].append(claim)
        return found

    def claim(self, entry_id: int, turns: Sequence[Turn]) -> None:
        """Say, in the name of an entry, that these turns took place."""
        rows = [
            {
                "student_id": turn.student_id,
                "stint_id": turn.stint_id,
                "day": turn.day,
                "rotation": turn.rotation,
            }
            for turn in turns
        ]
        self.journal(entry_id).add_all(claims, rows)

    def take_back(self, entry_id: int, taken: Iterable[Claim]) -> None:
        """Void claims in the name of an entry."""
        self.journal(entry_id).void(claims, [claim.id for claim in taken])

    def touched(self, entry_id: int) -> tuple[Turn, ...]:
        """The turns an entry claimed, took back or put back, and those of what it stepped back."""
        lines = select(changes.c.row_id).where(
            changes.c.entry_id == entry_id, changes.c.subject == claims.name
        )
        stepped = select(entries.c.id).where(entries.c.undone_by == entry_id)
        spoken_of = or_(
            claims.c.made_by == entry_id, claims.c.made_by.in_(stepped), claims.c.id.in_(lines)
        )
        query = select(claims).where(spoken_of)
        found = (_claim(row).turn for row in self.connection.execute(query.order_by(claims.c.id)))
        return tuple({turn.key: turn for turn in found}.values())

    # The journal

    def open_entry(
        self,
        *,
        kind: str,
        text: str,
        at: datetime,
        received_at: datetime,
        member_id: int | None,
        key: str | None = None,
        place: str | None = None,
        message: str | None = None,
        replaces: int | None = None,
    ) -> int:
        """Take an entry and give its id."""
        row = {
            "class_id": self.class_id,
            "kind": kind,
            "text": text,
            "at": at,
            "received_at": received_at,
            "member_id": member_id,
            "key": key,
            "place": place,
            "message": message,
            "replaces": replaces,
            "effect": False,
        }
        result = self.connection.execute(entries.insert(), row).inserted_primary_key
        assert result is not None
        return int(result[0])

    def close_entry(self, entry_id: int, **came_of_it: object) -> None:
        """Note what came of an entry: outcome, requests, reply, said, result, effect."""
        self.connection.execute(_CLOSE, {"entry_id": entry_id, **came_of_it})

    def entry(self, entry_id: int) -> Entry | None:
        """One entry of this class; a number too large for a row is none."""
        if not 0 < entry_id <= _HIGHEST_ID:
            return None
        return self._first_entry(entries.c.id == entry_id)

    def entry_by_key(self, key: str) -> Entry | None:
        """The entry that an earlier delivery of the same thing made."""
        row = self.connection.execute(_BY_KEY, {"class_id": self.class_id, "key": key}).first()
        return None if row is None else _entry(row)

    def entry_of_message(self, place: str, message: str) -> Entry | None:
        """The newest entry made of a message of a chat: the text itself or its last edit."""
        return self._first_entry(entries.c.place == place, entries.c.message == message)

    def last_change(self, member_id: int | None) -> Entry | None:
        """The member's newest entry that changed something and still stands."""
        return self._first_entry(
            entries.c.member_id == member_id, entries.c.effect, entries.c.undone_by.is_(None)
        )

    def last_undone(self, member_id: int | None) -> Entry | None:
        """The member's newest undo that stands, unless something was changed since."""
        newest = self._first_entry(
            entries.c.member_id == member_id,
            entries.c.undone_by.is_(None),
            or_(entries.c.effect, entries.c.kind == "undo"),
        )
        return newest if newest is not None and newest.kind == "undo" else None

    def wordings(self, entry: Entry) -> tuple[Entry, ...]:
        """An entry and those it replaced, newest first: what one message has said so far."""
        chain = [entry]
        while chain[-1].replaces is not None:
            earlier = self.entry(chain[-1].replaces)
            if earlier is None:
                break
            chain.append(earlier)
        return tuple(chain)

    def undone_through(self, entry_id: int) -> Entry | None:
        """The entry that an undo took back."""
        return self._first_entry(entries.c.undone_by == entry_id)

    def recent_entries(self, member_id: int | None, limit: int) -> tuple[Entry, ...]:
        """The member's newest entries, newest first."""
        query = (
            select(entries)
            .where(entries.c.class_id == self.class_id, entries.c.member_id == member_id)
            .order_by(entries.c.id.desc())
            .limit(limit)
        )
        return tuple(map(_entry, self.connection.execute(query)))

    def entries(self, entry_ids: Collection[int]) -> dict[int, Entry]:
        """Entries by id; all are read where there are too many to name."""
        wanted = set(entry_ids)
        query = select(entries).where(entries.c.class_id == self.class_id)
        if len(wanted) <= _MOST_NAMED:
            query = query.where(entries.c.id.in_(wanted))
        return {row.id: _entry(row) for row in self.connection.execute(query) if row.id in wanted}

    def _first_entry(self, *conditions: object) -> Entry | None:
        query = (
            select(entries)
            .where(and_(entries.c.class_id == self.class_id, *conditions))  # type: ignore[arg-type]
            .order_by(entries.c.id.desc())
            .limit(1)
        )
        row = self.connection.execute(query).first()
        return None if row is None else _entry(row)

    # Questions

    def ask(
        self,
        entry_id: int,
        member_id: int,
        place: str,
        choices: Sequence[tuple[str, str]],
        frames: Sequence[tuple[str, str, str]] = (),
    ) -> None:
        """Keep a question that waits for an answer of this member in this place."""
        row = {
            "class_id": self.class_id,
            "member_id": member_id,
            "place": place,
            "entry_id": entry_id,
            "choices": [list(choice) for choice in choices],
            "frames": [list(frame) for frame in frames],
            "closed": False,
        }
        self.connection.execute(questions.insert(), row)

    def pending_question(self, member_id: int, place: str) -> Question | None:
        """The newest question that this member has not answered in this place."""
        asked = {"member_id": member_id, "place": place}
        row = self.connection.execute(_PENDING, asked).first()
        if row is None:
            return None
        choices = tuple((label, send) for label, send in row.choices)
        frames = tuple((fills, text, every) for fills, text, every in row.frames)
        return Question(row.id, row.entry_id, choices, frames)

    def close_questions(self, member_id: int, place: str) -> None:
        """Drop whatever was asked: the next message is here."""
        query = questions.update().where(
            questions.c.member_id == member_id,
            questions.c.place == place,
            questions.c.closed.is_(False),
        )
        self.connection.execute(query, {"closed": True})


def _claim(row: Row[tuple[object, ...]]) -> Claim:
    turn = Turn(row.student_id, row.stint_id, row.day, row.rotation)
    return Claim(row.id, turn, row.made_by)


def _entry(row: Row[tuple[object, ...]]) -> Entry:
    values = {name: getattr(row, name) for name in Entry.__slots__}
    values["requests"] = tuple(values["requests"] or ())
    values["result"] = values["result"] or {}
    return Entry(**values)
