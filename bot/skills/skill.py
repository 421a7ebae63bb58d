"""What a skill is: what it listens for, how it acts, and what it is given to act with."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from bot.classroom.children import Meant as Children
from bot.classroom.children import children_meant
from bot.classroom.rotation.memo import Plans
from bot.classroom.stints import nearest_stint, stint_in, stint_of
from bot.classroom.suggestions import school_year_of
from bot.outcomes import Outcome
from bot.requests import Place, Request, Who
from bot.understanding.reading import Listener
from storage.classbook import ClassBook
from storage.records import Bin, Member, Roster, Stint

# A skill as help tells of it: its theme, its title, and texts to send.
Told = tuple[str, str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Situation:
    """Where a request is acted on: the class book, its roster, the entry, who sent it and when."""

    book: ClassBook
    roster: Roster
    entry_id: int
    member: Member
    at: datetime  # in the class's zone
    skills: tuple[Told, ...] = ()
    plans: Plans = field(default_factory=Plans)

    @property
    def today(self) -> date:
        """The day on which the text was sent, in the class's zone."""
        return self.at.date()

    def children(self, who: Who, day: date) -> Children:
        """The children a request means on a day."""
        return children_meant(
            self.roster,
            day,
            groups=who.groups,
            students=who.students,
            everyone=who.everyone,
            but_groups=who.but_groups,
            but_students=who.but_students,
        )

    def stint(self, place: Place, day: date) -> Stint | None:
        """The stint a place stands for on a day."""
        if place.bin_id is not None:
            return stint_of(self.roster, place.bin_id, day)
        return stint_in(self.roster, place.color or "", day)

    def had_this_year(self, day: date) -> dict[int, set[int]]:
        """The children who have been at each bin in the school year of a day."""
        year = school_year_of(day)
        stints = {
            s.id: s.bin_id for s in self.roster.stints if s.closes is None or s.closes >= year
        }
        had: dict[int, set[int]] = {}
        for stint_id, held in self.book.tally(stints).items():
            had.setdefault(stints[stint_id], set()).update(held)
        return had

    def stints_asked(
        self, places: Iterable[Place], *, closed_too: bool
    ) -> tuple[tuple[Stint, ...], tuple[tuple[Bin, Stint | None], ...], tuple[str, ...]]:
        """The stints that places stand for today; bins that are not out, each with the stint to
        come; and colors with nothing in them. `closed_too` takes a bin's last stint where it has
        closed."""
        stints: list[Stint] = []
        not_out: list[tuple[Bin, Stint | None]] = []
        no_color: list[str] = []
        for place in places:
            stint = self.stint(place, self.today)
            if stint is not None:
                stints.append(stint)
            elif place.bin_id is None:
                no_color.append(place.color or "")
            else:
                other = nearest_stint(self.roster, place.bin_id, self.today)
                is_past = other is not None and other.opens <= self.today
                if other is not None and is_past and closed_too:
                    stints.append(other)
                else:
                    coming = None if is_past else other
                    not_out.append((self.roster.bin[place.bin_id], coming))
        return tuple(dict.fromkeys(stints)), tuple(not_out), tuple(no_color)

    def bin_at(self, place: Place, stint: Stint | None) -> Bin | None:
        """The bin a place stands for: by name, or as what is out in its color."""
        if stint is not None:
            return self.roster.bin_of(stint)
        return self.roster.bin[place.bin_id] if place.bin_id is not None else None


Act = Callable[[Any, Situation], Outcome]  # each takes its own request type


@dataclass(frozen=True, slots=True)
class Skill:
    """One thing the bot can do. `acts` pairs each request type with what carries it out."""

    name: str
    title: str  # for help: what a teacher gets from it
    examples: tuple[str, ...]  # texts that may be sent as they stand
    listeners: tuple[Listener, ...]
    acts: tuple[tuple[type[Request], Act], ...]
