"""What came of a request: typed values that travel from the skills to the wording, by subject."""

from __future__ import annotations

from bot.outcomes.attendance import Attendance, Coverage
from bot.outcomes.aways import AwayNoted, AwayTold
from bot.outcomes.calendar import CalendarRead, CalendarTaken, EventsOffered
from bot.outcomes.closing import ClosingMoved, ClosingStays
from bot.outcomes.journal import Explained, LogCorrected, ReadingExplained, SteppedBack
from bot.outcomes.moves import StudentMoved
from bot.outcomes.needs import ChildrenNeed, WhoIsLeft
from bot.outcomes.nudges import (
    AtRisk,
    AwayToday,
    BoxesToday,
    CopyToday,
    DigestMoved,
    LostRotations,
    MorningDigest,
    NextWeek,
    NothingLogged,
    NudgeExplained,
    NudgesSet,
    Part,
    SendToday,
    ShortSupplies,
    TodaysPlan,
    ToldHow,
)
from bot.outcomes.outcome import ANSWERED, ASKED, DONE, REFUSED, Outcome
from bot.outcomes.plans import FinishForeseen, LoggedAsPlanned, Mended, Moved, PlanShown, Unplanned
from bot.outcomes.questions import Question
from bot.outcomes.schedule import ScheduleChanged
from bot.outcomes.supplies import RestockList, SupplyExplained, SupplyHeld, SupplyReported
from bot.outcomes.swap_checks import NextSuggested, SwapChecked
from bot.outcomes.swaps import NotSwapped, SwapAsked, Swapped
from bot.outcomes.talk import Helped, Smiled, Unclear
from bot.outcomes.visits import HeldBack, NotLogged, VisitsLogged, VisitsRemoved, WhichDay

__all__ = [
    "ANSWERED",
    "ASKED",
    "DONE",
    "REFUSED",
    "AtRisk",
    "Attendance",
    "AwayNoted",
    "AwayToday",
    "AwayTold",
    "BoxesToday",
    "CalendarRead",
    "CalendarTaken",
    "ChildrenNeed",
    "ClosingMoved",
    "ClosingStays",
    "CopyToday",
    "Coverage",
    "DigestMoved",
    "EventsOffered",
    "Explained",
    "FinishForeseen",
    "HeldBack",
    "Helped",
    "LogCorrected",
    "LoggedAsPlanned",
    "LostRotations",
    "Mended",
    "MorningDigest",
    "Moved",
    "NextSuggested",
    "NextWeek",
    "NotLogged",
    "NotSwapped",
    "NothingLogged",
    "NudgeExplained",
    "NudgesSet",
    "Outcome",
    "Part",
    "PlanShown",
    "Question",
    "ReadingExplained",
    "RestockList",
    "ScheduleChanged",
    "SendToday",
    "ShortSupplies",
    "Smiled",
    "SteppedBack",
    "StudentMoved",
    "SupplyExplained",
    "SupplyHeld",
    "SupplyReported",
    "SwapAsked",
    "SwapChecked",
    "Swapped",
    "TodaysPlan",
    "ToldHow",
    "Unclear",
    "Unplanned",
    "VisitsLogged",
    "VisitsRemoved",
    "WhichDay",
    "WhoIsLeft",
]
