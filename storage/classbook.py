"""The class book: every read and write for one class, in the words of the trade."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from sqlalchemy import bindparam, select

from storage.entries import Entries
from storage.nudges import Nudges
from storage.people import People
from storage.questions import Questions
from storage.records import Roster
from storage.rosters import read_roster
from storage.schedule import Schedule
from storage.stints import Stints
from storage.supplies import Supplies
from storage.tables import classes
from storage.visits import Visits

_VERSION = select(classes.c.version).where(classes.c.id == bindparam("class_id"))


class Attempt:
    """A part of a unit of work that can be taken back by itself."""

    def __init__(self) -> None:
        self.is_given_up = False

    def give_up(self) -> None:
        """Let nothing of this part be kept."""
        self.is_given_up = True


@dataclass(frozen=True)
class ClassBook(Visits, Stints, Entries, Questions, Schedule, People, Supplies, Nudges):
    """One class within one unit of work; each subject has a room of its own."""

    rosters: dict[int, Roster]

    def roster(self) -> Roster:
        """The class as it stands, read anew only where it has changed."""
        version = self.connection.execute(_VERSION, {"class_id": self.class_id}).scalar_one()
        known = self.rosters.get(self.class_id)
        if known is None or known.class_.version != version:
            known = self.rosters[self.class_id] = read_roster(self.connection, self.class_id)
        return known

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
