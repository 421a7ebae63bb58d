"""What came of a request: typed values that travel from the skills to the wording."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time

from bot.classroom.calendars import Found, SchoolEvent
from bot.classroom.coverage import Covered
from bot.classroom.credit import Credit
from bot.classroom.needs import Needs
from bot.classroom.plans import Sitting
from bot.classroom.readiness import Readiness
from bot.classroom.restocking import Restock
from bot.classroom.risk import Risk
from bot.classroom.suggestions import Suggestion
from bot.classroom.swaps import Swap
from bot.requests import Ask, Frame, HoldBack, HoldSupply, Option, Place, ReportSupply
from storage.records import (
    Away,
    Bin,
    Claim,
    Entry,
    Rotation,
    Seated,
    Stint,
    Student,
    Turn,
)

DONE, REFUSED, ANSWERED, ASKED = "done", "refused", "answered", "asked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What every outcome says of itself: its status, what changed, what programs may want to
    know."""

    status: str
    added: tuple[Turn, ...] = ()
    removed: tuple[Turn, ...] = ()
    changes: tuple[Mapping[str, object], ...] = ()
    facts: Mapping[str, object] = field(default_factory=dict)
    choices: tuple[Option, ...] = ()  # ways out of a question
    frames: tuple[Frame, ...] = ()  # where another answer to it goes
    said: str | None = None  # the request in full words
    claims: bool = False  # it vouches for turns that only others had told of


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitsLogged(Outcome):
    """Turns were logged, or were on record already."""

    stint: Stint
    day: date
    rotation: time | None
    today: date
    already: tuple[Turn, ...]
    already_at: datetime | None
    credit: Credit
    excepted: tuple[Student, ...]
    not_on_roster: tuple[Student, ...]
    needs: Needs | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotLogged(Outcome):
    """A log that cannot be: the bin was not out, the day is not yet, nobody is left to credit."""

    reason: str
    place: Place
    bin_: Bin | None = None
    stint: Stint | None = None  # the one to speak of instead
    day: date | None = None
    students: tuple[Student, ...] = ()
    rotation: Rotation | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBack(Outcome):
    """Understood, and on purpose not logged: a future turn, a wish, one only started."""

    request: HoldBack
    bin_: Bin | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhichDay(Outcome):
    """A log that may mean today or the last school day."""

    today: date
    is_school_day: bool
    is_vague: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitsRemoved(Outcome):
    """Turns were taken back, or there were none to take back."""

    stint: Stint | None
    bin_: Bin | None
    day: date
    today: date
    students: tuple[Student, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SteppedBack(Outcome):
    """A change was undone (or redone); `staying` are visits another entry still claims."""

    entry: Entry | None
    forward: bool
    reason: str = ""
    built_on: tuple[Entry, ...] = ()  # what must be undone first
    staying: tuple[Turn, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LogCorrected(Outcome):
    """An earlier text now means something else."""

    entry: Entry
    kept: bool = False  # the new wording could not be read, so the old meaning stays
    built_on: bool = False  # turns were logged since at a bin that it put out


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoIsLeft(Outcome):
    """Who still needs each of these bins."""

    needs: tuple[Needs, ...]
    rotations_left: tuple[int | None, ...]
    away: Mapping[int, tuple[Student, ...]]
    today: date
    not_out: tuple[tuple[Bin, Stint | None], ...] = ()
    no_such_color: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildrenNeed(Outcome):
    """What each of these children still needs."""

    children: tuple[tuple[Student, tuple[tuple[Stint, int], ...]], ...]
    only: tuple[Stint, ...]
    kept_from: tuple[tuple[Student, Bin], ...]
    today: date
    label: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance(Outcome):
    """Who was at which bin: visits on record, and children asked about who have none."""

    visits: tuple[Claim, ...]
    without: tuple[Student, ...]
    bins: tuple[Bin, ...]
    is_yes_or_no: bool
    day: date | None
    today: date


@dataclass(frozen=True, slots=True)
class Unplanned:
    """A need the plan cannot meet: who, which bin, how many visits, why (a planner's Reason)."""

    student: Student
    stint: Stint
    visits: int
    reason: str


@dataclass(frozen=True, slots=True)
class Mended:
    """What would help: rotations more on a day, seats more at a stint, days more for it; and how
    many needed visits would still be left."""

    what: str  # rotations, seats, days
    amount: int
    stint: Stint | None
    day: date | None
    unmet: int


@dataclass(frozen=True, slots=True)
class Moved:
    """What changes in a plan that was told: a child goes elsewhere in a rotation of a day."""

    day: date
    starts: time
    student: Student
    sitting: Sitting | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanShown(Outcome):
    """Who goes where: the sittings asked for, and what the whole plan cannot do."""

    today: date
    who: tuple[Student, ...]
    sittings: tuple[Sitting, ...] = ()
    label: str | None = None
    unmet: tuple[Unplanned, ...] = ()
    mends: tuple[Mended, ...] = ()
    done_by: date | None = None
    proven: bool = True
    reason: str = ""  # why there is nothing to show
    day: date | None = None
    is_next: bool = False
    is_whole: bool = False  # nothing but what was not asked for is left out


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishForeseen(Outcome):
    """Whether everybody gets to a bin in time."""

    stints: tuple[tuple[Stint, tuple[Student, ...], date | None], ...]  # who cannot, and when last
    by: date | None
    today: date
    unmet: tuple[Unplanned, ...]
    mends: tuple[Mended, ...]
    only_if_first: tuple[Stint, ...] = ()  # the plan has them later
    miss_out: tuple[Unplanned, ...] = ()  # elsewhere, if those go first


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedAsPlanned(Outcome):
    """What was told was logged as it was told, rotation by rotation."""

    today: date
    day: date
    sittings: tuple[Sitting, ...] = ()
    left_out: tuple[Student, ...] = ()
    away: tuple[Student, ...] = ()
    elsewhere: tuple[Student, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayNoted(Outcome):
    """Children are away (or back); what that changes today."""

    students: tuple[Student, ...]
    today: date
    aways: tuple[Away, ...] = ()
    back: bool = False
    already: tuple[Student, ...] = ()
    moved: tuple[Moved, ...] = ()
    at_risk: tuple[Unplanned, ...] = ()
    logged: tuple[
        tuple[Student, Stint, time | None], ...
    ] = ()  # on record meanwhile: what of that?
    not_on_roster: tuple[Student, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayTold(Outcome):
    """Who is away on some days, by day."""

    days: tuple[tuple[date, tuple[tuple[Student, tuple[Away, ...]], ...]], ...]
    asked: tuple[Student, ...]
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentMoved(Outcome):
    """A child is in another group, joins, leaves, or is kept apart."""

    what: str  # moved, new, left, stays, apart, together, already, near
    students: tuple[Student, ...]
    group: str
    first: date | None
    last: date | None
    today: date
    size: int = 0
    moved: tuple[Moved, ...] = ()
    called: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleChanged(Outcome):
    """Days without school, rotations lost or added; what that changes."""

    what: str
    days: tuple[date, ...]
    rotations: tuple[Rotation, ...]
    reason: str
    today: date
    moved: tuple[Moved, ...]
    at_risk: tuple[Unplanned, ...]
    logged: int = 0  # turns on record that day


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarRead(Outcome):
    """What a calendar that was sent would change, or why it changes nothing.

    `trouble`: not_a_calendar, empty, too_many, too_big, lost, how (nothing was sent), or nothing.
    """

    file: str
    today: date
    trouble: str = ""
    found: Found = field(default_factory=Found)
    later: int = 0  # events too far ahead
    unread: tuple[int, ...] = ()  # lines of events that cannot be read


@dataclass(frozen=True, slots=True, kw_only=True)
class EventsOffered(Outcome):
    """A calendar's events by number, to choose from: those chosen so far, those shown."""

    calendar: int
    today: date
    events: tuple[SchoolEvent, ...]
    chosen: tuple[int, ...]
    shown: tuple[int, ...]
    strange: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarTaken(Outcome):
    """What a calendar changed: events with the days that were news, and what that changes.

    `trouble`: unknown (there is no such calendar), none (nothing was chosen), known, or nothing.
    """

    today: date
    trouble: str = ""
    events: tuple[SchoolEvent, ...] = ()
    left_out: tuple[SchoolEvent, ...] = ()  # events not chosen
    moved: tuple[Moved, ...] = ()
    at_risk: tuple[Unplanned, ...] = ()
    logged: int = 0  # turns on record on days that are closed now


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained(Outcome):
    """Why a child needs a bin, or does not."""

    student: Student
    bin_: Bin
    stint: Stint | None
    standing: tuple[tuple[Claim, Entry], ...]
    voided: tuple[tuple[Claim, Entry], ...]
    missing: int
    caution: str | None
    passed_by: tuple[
        tuple[Entry, str], ...
    ] = ()  # logs of the child's group that left the child out


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingExplained(Outcome):
    """How the last text was taken."""

    entry: Entry | None
    taken: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyReported(Outcome):
    """A count, a loss, a restock was written down (or was on record already)."""

    request: ReportSupply
    line: Restock
    seats: int | None  # of the stint, where pieces leave fewer than it has
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyHeld(Outcome):
    """Understood, and on purpose not written down."""

    request: HoldSupply


@dataclass(frozen=True, slots=True, kw_only=True)
class RestockList(Outcome):
    """What is short, or how much there is of the supplies asked about."""

    lines: tuple[Restock, ...]
    asked: tuple[Restock, ...]  # supplies asked about by name; () where the whole list was
    uncounted: int
    until: date | None
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyExplained(Outcome):
    """The arithmetic behind a supply."""

    lines: tuple[Restock, ...]
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage(Outcome):
    """What the class has covered this school year: children who have been, of those it is for."""

    about: str
    covered: tuple[Covered, ...]
    not_out: tuple[Bin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapChecked(Outcome):
    """Whether each bin may go, and (for one bin) what could come."""

    states: tuple[Readiness, ...]
    next_: tuple[Suggestion, ...]
    incoming: Bin | None
    set_down: Stint | None  # what is to come into that color anyway
    about: str
    today: date
    on_shelf: tuple[tuple[Bin, Stint | None], ...] = ()  # with the stint to come
    no_such_color: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSuggested(Outcome):
    """What could go into a color next, best first."""

    color: str | None
    outgoing: Stint | None
    day: date
    next_: tuple[Suggestion, ...]
    set_down: Stint | None
    today: date
    names_kept: bool  # the owner is told for whom a bin is not


@dataclass(frozen=True, slots=True, kw_only=True)
class Swapped(Outcome):
    """A bin was put out, taken down, or exchanged."""

    swap: Swap
    today: date
    waits: bool  # it begins a school day later, since the bin that goes was used today
    still_to_come: tuple[Student, ...]
    kept_away: tuple[Student, ...]
    names_kept: bool  # the owner is told for whom a bin is not


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSwapped(Outcome):
    """A swap that cannot be, and why."""

    reason: str
    today: date
    day: date
    bin_: Bin | None = None
    stint: Stint | None = None
    color: str | None = None
    offers: tuple[Option, ...] = ()  # what could be done instead


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapAsked(Outcome):
    """A swap that waits for an answer: who would miss out, which color, or what comes."""

    about: str
    today: date
    outgoing: Stint | None = None
    incoming: Bin | None = None
    misses: tuple[Student, ...] = ()
    earliest: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingMoved(Outcome):
    """A bin stays out till another day."""

    stint: Stint
    closes: date
    asked_for: date
    today: date
    misses: tuple[Student, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingStays(Outcome):
    """A closing day that cannot be moved so, and why."""

    reason: str
    today: date
    place: Place
    bin_: Bin | None = None
    stint: Stint | None = None
    in_the_way: Stint | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Outcome):
    """Something is unclear, and the ways out are offered."""

    ask: Ask


@dataclass(frozen=True, slots=True, kw_only=True)
class Helped(Outcome):
    """What the bot can do: theme, title and examples of each skill; of one theme, or all."""

    skills: tuple[tuple[str, str, tuple[str, ...]], ...]
    theme: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Smiled(Outcome):
    """A friendly word back."""

    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear(Outcome):
    """Not understood; the nearest things the bot can do are offered."""

    kind: str = "text"
    offers: tuple[str, ...] = ()


# The morning digest and the other nudges


@dataclass(frozen=True, slots=True)
class AwayToday:
    """Children away all day, and children away in some rotations of it."""

    all_day: tuple[Student, ...]
    in_part: tuple[tuple[Student, tuple[time, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class TodaysPlan:
    """Who goes where today, and the same as it is kept once it is told."""

    sittings: tuple[Sitting, ...]
    told: Mapping[tuple[date, time], Sequence[Seated]]
    unmet: tuple[Unplanned, ...] = ()  # at bins that close by the next school day


@dataclass(frozen=True, slots=True)
class LostRotations:
    """Rotations that do not run today, and why; `all_of_them` where none does."""

    starts: tuple[time, ...]
    reason: str
    all_of_them: bool


@dataclass(frozen=True, slots=True)
class SendToday:
    """Children to send first, each with the bin."""

    pairs: tuple[tuple[Student, Stint], ...]


@dataclass(frozen=True, slots=True)
class CopyToday:
    """What to copy or buy today, most urgent first."""

    lines: tuple[Restock, ...]
    day: date


@dataclass(frozen=True, slots=True)
class BoxesToday:
    """Bins everyone has been to, bins whose last day it is, bins that are out from today."""

    finished: tuple[Stint, ...]
    last_day: tuple[Stint, ...]
    first_day: tuple[Stint, ...]


Part = AwayToday | TodaysPlan | LostRotations | SendToday | CopyToday | BoxesToday


@dataclass(frozen=True, slots=True, kw_only=True)
class MorningDigest(Outcome):
    """What is worth knowing on a school day."""

    day: date
    parts: tuple[Part, ...]
    has_rotations: bool
    next_school_day: date | None = None  # named only where this day is none


@dataclass(frozen=True, slots=True, kw_only=True)
class AtRisk(Outcome):
    """Bins that not everyone will reach before they close."""

    risks: tuple[Risk, ...]
    today: date
    mends: tuple[Mended, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingLogged(Outcome):
    """No turn is on record for a day whose rotations are over."""

    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortSupplies(Outcome):
    """What has to be copied or bought by the next school day."""

    lines: tuple[Restock, ...]
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class NextWeek(Outcome):
    """A look at the next week with school: its days, what opens and closes, who is away."""

    today: date
    days: tuple[date, ...]
    closed: tuple[tuple[date, str], ...]
    opening: tuple[Stint, ...]
    closing: tuple[tuple[Stint, int], ...]  # with the children who still need it
    away: tuple[tuple[Student, tuple[date, ...]], ...]
    short: tuple[Restock, ...] = ()  # to copy or buy before that week is over


@dataclass(frozen=True, slots=True, kw_only=True)
class NudgesSet(Outcome):
    """A member wants nudges, none, or none until a moment; `again` where one comes once more."""

    is_on: bool
    until: datetime | None
    again: bool
    had_it_so: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DigestMoved(Outcome):
    """The morning summary comes at another time; refused where the text named none (`at` None) or
    one outside the hours allowed, from `first` to before `last`."""

    at: time | None
    first: time
    last: time


@dataclass(frozen=True, slots=True, kw_only=True)
class NudgeExplained(Outcome):
    """Why the bot spoke up by itself."""

    entry: Entry
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldHow(Outcome):
    """How to tell of what changes today."""

    what: str
