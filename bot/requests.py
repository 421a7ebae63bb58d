"""What a text asks for: typed values that travel from the reading to the skills."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Who:
    """The children meant: by group, one by one, or everyone; and those left out of that."""

    groups: tuple[int, ...] = ()
    students: tuple[int, ...] = ()
    everyone: bool = False
    but_groups: tuple[int, ...] = ()
    but_students: tuple[int, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.groups or self.students or self.everyone)


@dataclass(frozen=True, slots=True)
class Place:
    """A bin by itself, or whatever bin is in a color on the day spoken of."""

    bin_id: int | None = None
    color: str | None = None


@dataclass(frozen=True, slots=True)
class When:
    """What a text said of the time: a day, the start of a rotation, or "the second rotation"."""

    day: date | None = None
    starts: time | None = None
    slot: int | None = None
    unsure: bool = False  # a day was spoken of that may be several: "last week"
    maybe: tuple[date, ...] = ()  # the days it may be, where they can be told


@dataclass(frozen=True, slots=True)
class Request:
    """Anything a text may ask for; `name` is what programs know it by."""

    name: ClassVar[str] = ""


@dataclass(frozen=True, slots=True)
class LogVisits(Request):
    """These children had a turn at this bin."""

    name: ClassVar[str] = "log_visits"
    who: Who
    place: Place
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class HoldBack(Request):
    """Something that sounds like a turn and must not be logged: future, wish, only started."""

    name: ClassVar[str] = "log_visits"
    reason: str
    who: Who
    place: Place
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class RemoveVisits(Request):
    """These children had no turn at this bin (at any bin where `place` is None)."""

    name: ClassVar[str] = "remove_visits"
    who: Who
    place: Place | None = None
    when: When = field(default_factory=When)
    is_sure: bool = True  # said outright; else a turn on record is taken back only after asking


@dataclass(frozen=True, slots=True)
class CorrectLog(Request):
    """The sender's last log, said differently: other children, another bin, another day."""

    name: ClassVar[str] = "log_visits"
    instead_of: int
    logs: tuple[LogVisits, ...]


@dataclass(frozen=True, slots=True)
class Undo(Request):
    """Step back the sender's last change, or the one named by its number."""

    name: ClassVar[str] = "undo"
    entry_id: int | None = None


@dataclass(frozen=True, slots=True)
class Redo(Request):
    """Step forward again."""

    name: ClassVar[str] = "redo"


@dataclass(frozen=True, slots=True)
class WhoNeeds(Request):
    """Who still needs these bins; every bin that is out where none is named."""

    name: ClassVar[str] = "who_needs"
    places: tuple[Place, ...] = ()
    among: Who = field(default_factory=Who)


@dataclass(frozen=True, slots=True)
class StudentNeeds(Request):
    """What these children still need."""

    name: ClassVar[str] = "student_needs"
    who: Who
    places: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class WasThere(Request):
    """Whether, or when, these children have been at these bins."""

    name: ClassVar[str] = "was_there"
    who: Who
    places: tuple[Place, ...] = ()
    when: When = field(default_factory=When)


@dataclass(frozen=True, slots=True)
class Why(Request):
    """Why a child needs a bin (or does not); why the last text was read as it was."""

    name: ClassVar[str] = "why"
    who: Who = field(default_factory=Who)
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Help(Request):
    """What the bot can do."""

    name: ClassVar[str] = "help"


@dataclass(frozen=True, slots=True)
class Smalltalk(Request):
    """A thank-you, a greeting, a joke: nothing to do."""

    name: ClassVar[str] = "smalltalk"
    kind: str = "thanks"


@dataclass(frozen=True, slots=True)
class Option:
    """One way out of a question: what it stands for and the text that says it in full."""

    label: str
    send: str


@dataclass(frozen=True, slots=True)
class Frame:
    """A text with a gap ("{} did Ramps on 2026-11-24") and what fills it: who, place or day."""

    fills: str
    text: str
    everyone: str = ""  # whom "all of them" means here


@dataclass(frozen=True, slots=True)
class Ask:
    """A question back: what is unclear (`about`), in which words, and the ways out."""

    about: str
    words: str
    options: tuple[Option, ...]
    request: str = "log_visits"
    frame: Frame | None = None  # where any other answer goes


@dataclass(frozen=True, slots=True)
class Digest(Request):
    """The morning summary of a day, now; of today where none is named."""

    name: ClassVar[str] = "digest"
    day: date | None = None


@dataclass(frozen=True, slots=True)
class SetNudges(Request):
    """Nudges on, off, or off until a moment; `again`: the last one then comes once more, and the
    text means nothing without one where it is an answer to it ("later")."""

    name: ClassVar[str] = "digest"
    is_on: bool
    until: datetime | None = None
    again: bool = False
    is_answer: bool = False


@dataclass(frozen=True, slots=True)
class MoveDigest(Request):
    """The morning summary at another time; None where the text named none."""

    name: ClassVar[str] = "digest"
    at: time | None


@dataclass(frozen=True, slots=True)
class SayHow(Request):
    """Something of today changes, and the sender is told how to say it: away, plan."""

    name: ClassVar[str] = "digest"
    what: str
