"""What a text asks for: typed values that travel from the reading to the skills, by subject."""

from __future__ import annotations

from bot.requests.asking import Ask, Frame, Option
from bot.requests.attendance import Covered, WasThere
from bot.requests.aways import NoteAway, NoteBack, WhoIsAway
from bot.requests.calendar import AskCalendar, ChooseEvents, ReadCalendar, SentFile, TakeCalendar
from bot.requests.closing import MoveClosing
from bot.requests.digest import Digest, MoveDigest, SayHow, SetNudges
from bot.requests.journal import Redo, Undo, Why
from bot.requests.meant import Place, Span, When, Who
from bot.requests.moves import KeepApart, MoveStudent, NewStudent, StudentLeft, SwapStudents
from bot.requests.needs import StudentNeeds, WhoNeeds
from bot.requests.plans import CanFinish, LogAsPlanned, ShowPlan
from bot.requests.request import Request
from bot.requests.schedule import ChangeSchedule
from bot.requests.supplies import AskRestock, HoldSupply, ReportSupply, WhySupply
from bot.requests.swap_checks import SuggestSwap, SwapCheck
from bot.requests.swaps import Swap
from bot.requests.talk import Help, Smalltalk
from bot.requests.visits import CorrectLog, HoldBack, LogAsBefore, LogVisits, RemoveVisits

__all__ = [
    "Ask",
    "AskCalendar",
    "AskRestock",
    "CanFinish",
    "ChangeSchedule",
    "ChooseEvents",
    "CorrectLog",
    "Covered",
    "Digest",
    "Frame",
    "Help",
    "HoldBack",
    "HoldSupply",
    "KeepApart",
    "LogAsBefore",
    "LogAsPlanned",
    "LogVisits",
    "MoveClosing",
    "MoveDigest",
    "MoveStudent",
    "NewStudent",
    "NoteAway",
    "NoteBack",
    "Option",
    "Place",
    "ReadCalendar",
    "Redo",
    "RemoveVisits",
    "ReportSupply",
    "Request",
    "SayHow",
    "SentFile",
    "SetNudges",
    "ShowPlan",
    "Smalltalk",
    "Span",
    "StudentLeft",
    "StudentNeeds",
    "SuggestSwap",
    "Swap",
    "SwapCheck",
    "SwapStudents",
    "TakeCalendar",
    "Undo",
    "WasThere",
    "When",
    "Who",
    "WhoIsAway",
    "WhoNeeds",
    "Why",
    "WhySupply",
]
