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
class Span:
    """Days from-to (both included; None leaves that side open), or one weekday again and again,
    and what part of those days: by the clock, or by rotations ("the second")."""

    first: date | None = None
    last: date | None = None
    weekday: int | None = None
    starts: time | None = None
    ends: time | None = None
    slots: tuple[int, ...] = ()

    @property
    def names_day(self) -> bool:
        """Whether a day was said."""
        return self.first is not None or self.last is not None or self.weekday is not None

    @property
    def is_part(self) -> bool:
        """Whether it is only a part of the day."""
        return self.starts is not None or self.ends is not None or bool(self.slots)


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
class LogAsBefore(Request):
    """These children had a turn at the bin where they were on a day before: "same as yesterday"."""

    name: ClassVar[str] = "log_visits"
    who: Who
    before: date
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
class ShowPlan(Request):
    """Who goes where: on a day or until one, everywhere or of these children, at these bins."""

    name: ClassVar[str] = "plan"
    first: date | None = None
    last: date | None = None
    who: Who = field(default_factory=Who)
    places: tuple[Place, ...] = ()
    starts: time | None = None
    slot: int | None = None
    is_next: bool = False  # only the rotation that comes next


@dataclass(frozen=True, slots=True)
class CanFinish(Request):
    """Whether everybody gets to these bins (to all) before they close, or by a day."""

    name: ClassVar[str] = "plan"
    places: tuple[Place, ...] = ()
    by: date | None = None
    who: Who = field(default_factory=Who)


@dataclass(frozen=True, slots=True)
class LogAsPlanned(Request):
    """The children were where the plan sent them, but for those left out."""

    name: ClassVar[str] = "log_visits"
    when: When = field(default_factory=When)
    only: Who = field(default_factory=Who)
    but: Who = field(default_factory=Who)
    whole_day: bool = False
    but_places: tuple[Place, ...] = ()  # bins that did not run


@dataclass(frozen=True, slots=True)
class NoteAway(Request):
    """These children cannot be at a bin then."""

    name: ClassVar[str] = "away"
    who: Who
    spans: tuple[Span, ...]
    reason: str = ""
    corrects: bool = False  # what was logged of them meanwhile is not so


@dataclass(frozen=True, slots=True)
class NoteBack(Request):
    """These children are here after all, or again."""

    name: ClassVar[str] = "away"
    who: Who
    day: date | None = None
    starts: time | None = None
    after_all: bool = False  # they never were away


@dataclass(frozen=True, slots=True)
class WhoIsAway(Request):
    """Who is away on a day; whether these children are."""

    name: ClassVar[str] = "who_is_away"
    day: date | None = None
    last: date | None = None
    who: Who = field(default_factory=Who)


@dataclass(frozen=True, slots=True)
class MoveStudent(Request):
    """These children rotate with another group, from a day on or for some days."""

    name: ClassVar[str] = "move_student"
    who: Who
    group_id: int
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class SwapStudents(Request):
    """Two children take each other's place in their groups."""

    name: ClassVar[str] = "move_student"
    one: int
    other: int
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class NewStudent(Request):
    """A child joins the class."""

    name: ClassVar[str] = "move_student"
    called: str
    group_id: int | None = None
    first: date | None = None
    is_sure: bool = True  # no other child is called nearly so


@dataclass(frozen=True, slots=True)
class StudentLeft(Request):
    """A child leaves the class; `last` is its last day."""

    name: ClassVar[str] = "move_student"
    who: Who
    last: date | None = None


@dataclass(frozen=True, slots=True)
class KeepApart(Request):
    """These children are kept apart, or no longer."""

    name: ClassVar[str] = "move_student"
    who: Who
    apart: bool = True


@dataclass(frozen=True, slots=True)
class ChangeSchedule(Request):
    """No school, a rotation lost or added, school after all.

    `what`: no_school, lost (rotations by slot or time; all of the day where none is named), block
    (starts, ends), extra (starts), school, runs (a rotation that was lost runs after all).
    """

    name: ClassVar[str] = "schedule"
    what: str
    spans: tuple[Span, ...]
    reason: str = ""
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class SentFile:
    """A file that came with a message: its name and its bytes, or why there are none.

    `trouble`: too_big, lost (it could not be had from where it was kept), or nothing.
    """

    name: str
    content: bytes = b""
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class ReadCalendar(Request):
    """A calendar file was sent: which of its events would close school? Nothing changes yet."""

    name: ClassVar[str] = "schedule"
    file: SentFile


@dataclass(frozen=True, slots=True)
class ChooseEvents(Request):
    """Which events of a calendar are to count: those chosen so far (None: all), which of them to
    show first, and words that name none of them for sure."""

    name: ClassVar[str] = "schedule"
    calendar: int  # the entry that brought it
    chosen: tuple[int, ...] | None = None  # numbers as shown, from 1
    first: int = 1
    strange: str = ""


@dataclass(frozen=True, slots=True)
class TakeCalendar(Request):
    """Let events of a calendar count, by their numbers (None: all; empty: none)."""

    name: ClassVar[str] = "schedule"
    calendar: int
    chosen: tuple[int, ...] | None = None


@dataclass(frozen=True, slots=True)
class AskCalendar(Request):
    """How a calendar is sent."""

    name: ClassVar[str] = "schedule"


@dataclass(frozen=True, slots=True)
class Covered(Request):
    """What the class has covered this school year: bins and standards."""

    name: ClassVar[str] = "was_there"
    about: str = "bins"  # or standards, or units


@dataclass(frozen=True, slots=True)
class SwapCheck(Request):
    """Whether these bins may go; every bin that is out where none is named."""

    name: ClassVar[str] = "swap_check"
    places: tuple[Place, ...] = ()
    incoming: int | None = None  # the bin that would come instead
    about: str = "ready"  # or closes: till when it is out


@dataclass(frozen=True, slots=True)
class SuggestSwap(Request):
    """What goes out next: in this color, or after this bin."""

    name: ClassVar[str] = "suggest_swap"
    place: Place | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Swap(Request):
    """A bin goes, another comes, or only one of the two.

    Of two bins named the one that is out goes. `into_color` is where the text puts the bin that
    comes without speaking of an exchange; `is_open` says that a bin goes and the text does not say
    what comes.
    """

    name: ClassVar[str] = "swap"
    outgoing: Place | None = None
    incoming: Place | None = None
    into_color: str | None = None
    day: date | None = None
    till: date | None = None
    is_now: bool = False
    is_anyway: bool = False
    is_open: bool = False


@dataclass(frozen=True, slots=True)
class MoveClosing(Request):
    """A bin stays out till another day, or so many weeks or school days longer."""

    name: ClassVar[str] = "schedule"
    place: Place
    day: date | None = None
    longer: tuple[int, str] | None = None


@dataclass(frozen=True, slots=True)
class Why(Request):
    """Why a child needs a bin (or does not); why the last text was read as it was."""

    name: ClassVar[str] = "why"
    who: Who = field(default_factory=Who)
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class ReportSupply(Request):
    """What became of a supply: `kind` is counted, added, found, lost, discarded or wanted."""

    name: ClassVar[str] = "supply_report"
    kind: str
    supply_id: int
    amount: float | None = None  # in single things; None where all of it, or none is said
    when: When = field(default_factory=When)
    tub: int | None = None
    again: bool = False  # "another 20": said outright that it is not the same 20 as before


@dataclass(frozen=True, slots=True)
class HoldSupply(Request):
    """Something of supplies that changes nothing: still to be done, a maybe, an unknown item."""

    name: ClassVar[str] = "supply_report"
    reason: str  # future, unknown
    words: str = ""


@dataclass(frozen=True, slots=True)
class AskRestock(Request):
    """What is short, or how much there is of these supplies."""

    name: ClassVar[str] = "restock"
    supplies: tuple[int, ...] = ()  # every one where none is named
    until: date | None = None  # what has to be done by this day


@dataclass(frozen=True, slots=True)
class WhySupply(Request):
    """The arithmetic behind what is short."""

    name: ClassVar[str] = "why"
    supplies: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Help(Request):
    """What the bot can do, all of it or about one theme."""

    name: ClassVar[str] = "help"
    words: tuple[str, ...] = ()  # that may name the theme


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
    """A text with a gap ("{} did Ramps on 2026-11-24") and what fills it: who, place, day, amount,
    or events of a calendar."""

    fills: str
    text: str
    everyone: str = ""  # whom "all of them" means here; the names of events, one a line


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
