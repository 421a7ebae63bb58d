"""A small invented class in a database of its own, and short forms for texting about it.

Room 3 in New York, Tuesday 2026-11-17: four groups, two children called Sofia, one child away, one
away for half the morning, one kept from wheat. Built through the journal, as a load would.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot.conversation import Answer, Incoming, take
from bot.requests import SentFile
from bot.settings import sqlite_url
from storage import tables
from storage.classbook import ClassBook
from storage.database import Database, open_database
from storage.journal import Journal
from storage.records import Member, Roster
from storage.register import OWNER

ZONE = ZoneInfo("America/New_York")
TODAY = date(2026, 11, 17)  # a Tuesday
SECOND_ROTATION = "2026-11-17T10:41"
GROUPS = {
    "1": ("Ava R.", "Ben T.", "Chidi O.", "Mia K."),
    "2": ("Sofia R.", "Dara L.", "Ines F."),
    "3": ("Sofia T.", "Kai Q.", "Luca B.", "Priya N."),
    "4": ("Theo N.", "Jo B.", "Wei Z."),
}
NAMES = tuple(name for names in GROUPS.values() for name in names)
STINTS = {
    "Ramps": "red",
    "Balance": "yellow",
    "Magnets": "green",
    "Shadows": "pink",
    "Dough": "purple",
}
OPENS, CLOSES = date(2026, 11, 9), date(2026, 11, 27)
LAST_TERM = date(2026, 10, 5), date(2026, 10, 23)  # Ramps was out in blue then


@dataclass(frozen=True)
class Classroom:
    """The class in its database, and its owner."""

    database: Database
    class_id: int
    owner: Member
    path: Path

    @contextmanager
    def book(self) -> Iterator[ClassBook]:
        """The class book in a unit of work that is kept."""
        with self.database.writing() as work:
            yield work.book(self.class_id)

    def roster(self) -> Roster:
        """The class as it stands."""
        with self.database.reading() as work:
            return work.book(self.class_id).roster()

    def say(
        self,
        text: str,
        at: str = SECOND_ROTATION,
        *,
        member: Member | None = None,
        key: str | None = None,
        message: str | None = None,
        kind: str = "text",
        place: str = "chat",
        private: bool = True,
        received_at: str | None = None,
        file: SentFile | None = None,
    ) -> Answer:
        """Text the bot (or send it a file) at a moment, local to the class."""
        incoming = Incoming(
            text,
            moment(at),
            moment(received_at or at),
            kind="file" if file else kind,
            place=place,
            key=key,
            message=message,
            private=private,
            file=file,
        )
        with self.book() as book:
            return take(book, member or self.owner, incoming)

    def member(self, name: str, role: str = "aide") -> Member:
        """Another member of the class."""
        with self.database.writing() as work:
            return work.register.add_member(self.class_id, name, role=role)

    def visits(self) -> set[tuple[str, str, str]]:
        """Every visit that stands: student, bin, day."""
        with self.database.reading() as work:
            book = work.book(self.class_id)
            roster, found = book.roster(), book.visits()
        return {
            (
                roster.student[claim.turn.student_id].name,
                roster.bin_of(roster.stint[claim.turn.stint_id]).name,
                claim.turn.day.isoformat(),
            )
            for claim in found
        }

    def at_bin(self, name: str, day: date = TODAY) -> set[str]:
        """The students with a visit to a bin on a day."""
        return {child for child, bin_, on in self.visits() if (bin_, on) == (name, f"{day}")}


def moment(text: str) -> datetime:
    """A moment in the class's zone."""
    return datetime.fromisoformat(text).replace(tzinfo=ZONE)


def students_added(answer: Answer) -> list[object]:
    """The names under `visits_added`."""
    return _students(answer, "visits_added")


def students_removed(answer: Answer) -> list[object]:
    """The names under `visits_removed`."""
    return _students(answer, "visits_removed")


def _students(answer: Answer, key: str) -> list[object]:
    visits = answer.result[key]
    assert isinstance(visits, list)
    return [visit["student"] for visit in visits]


def needs_told(answer: Answer) -> Mapping[str, list[str]]:
    """The `needs` of an answer's facts."""
    facts = answer.result["facts"]
    assert isinstance(facts, Mapping)
    needs: Mapping[str, list[str]] = facts["needs"]
    return needs


def sends(answer: Answer) -> dict[str, str]:
    """Label -> text of an answer's buttons."""
    return {choice.label: choice.send for choice in answer.reply.choices}


def build(database: Database, name: str = "Room 3") -> int:
    """Write the class and give its id."""
    with database.writing() as work:
        class_id = work.register.add_class(
            name,
            time_zone=ZONE.key,
            digest_at=time(7, 0),
            quiet_before=time(6, 30),
            quiet_after=time(18, 0),
            school_days=[0, 1, 2, 3, 4],
            absence_rate=0.06,
            keep_groups="mostly",
        )
        book = work.book(class_id)
        loaded = moment("2026-11-09T07:00")
        entry_id = book.open_entry(
            kind="load", text="load", at=loaded, received_at=loaded, member_id=None
        )
        journal = book.journal(entry_id)
        students = _write_students(journal)
        _write_bins(journal)
        _write_week(journal, students)
    return class_id


def _write_students(journal: Journal) -> dict[str, int]:
    ids: dict[str, int] = {}
    for group, names in GROUPS.items():
        group_id = journal.add(tables.groups, name=group)
        for name in names:
            ids[name] = journal.add(
                tables.students,
                name=name,
                goes_by=[],
                avoids=["wheat"] if name == "Wei Z." else [],
                position=len(ids),
            )
            journal.add(tables.memberships, student_id=ids[name], group_id=group_id)
    return ids


def _write_bins(journal: Journal) -> None:
    for name, color in STINTS.items():
        bin_id = _write_bin(journal, name, ["contains wheat"] if name == "Dough" else [])
        _write_stint(journal, bin_id, color, OPENS, CLOSES)
        if name == "Ramps":
            _write_stint(journal, bin_id, "blue", *LAST_TERM)
    _write_stint(journal, _write_bin(journal, "Patterns", []), "blue", OPENS, None, visits_each=2)
    _write_bin(journal, "Gears", [])


def _write_bin(journal: Journal, name: str, cautions: list[str]) -> int:
    return journal.add(
        tables.bins,
        name=name,
        also_called=[],
        standards=[],
        cautions=cautions,
        seats=4,
        visits_each=1,
    )


def _write_stint(
    journal: Journal,
    bin_id: int,
    color: str,
    opens: date,
    closes: date | None,
    *,
    visits_each: int = 1,
) -> None:
    journal.add(
        tables.stints,
        bin_id=bin_id,
        color=color,
        opens=opens,
        closes=closes,
        seats=4,
        visits_each=visits_each,
    )


def _write_week(journal: Journal, students: Mapping[str, int]) -> None:
    for weekday in range(5):
        for starts in (time(10, 15), time(10, 40)):
            journal.add(tables.rotations, weekday=weekday, starts=starts, minutes=20)
    journal.add(
        tables.aways, student_id=students["Theo N."], first=TODAY, last=TODAY, reason="absent"
    )
    journal.add(
        tables.aways,
        student_id=students["Priya N."],
        first=TODAY,
        last=TODAY,
        starts=time(10, 38),
        reason="leaves early",
    )
    journal.add(tables.closures, day=date(2026, 11, 11), reason="Veterans Day")


@pytest.fixture(scope="session")
def classroom_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The class as a database file, to be copied."""
    path = tmp_path_factory.mktemp("classroom") / "room3.db"
    database = open_database(sqlite_url(path))
    build(database)
    database.close()
    return path


@pytest.fixture
def classroom(classroom_file: Path, tmp_path: Path) -> Iterator[Classroom]:
    """The class in a fresh file."""
    path = tmp_path / "room3.db"
    shutil.copy(classroom_file, path)
    with opened(path) as room:
        yield room


@contextmanager
def opened(path: Path) -> Iterator[Classroom]:
    """The first class of a database file."""
    database = open_database(sqlite_url(path))
    try:
        with database.reading() as work:
            class_, *_ = work.register.classes()
            owner = work.register.member(class_.id, OWNER)
        assert owner is not None
        yield Classroom(database, class_.id, owner, path)
    finally:
        database.close()


@pytest.fixture
def classbook(classroom: Classroom) -> Iterator[ClassBook]:
    """The class book in a unit of work that is kept at the end."""
    with classroom.book() as book:
        yield book
