"""Told that nudges are not wanted: "no more nudges", "quiet till monday", "snooze"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta

from bot.requests import Request, SayHow, SetNudges
from bot.understanding.clause import Clause
from bot.understanding.digest.until import until_when
from bot.understanding.digest.words import (
    NEGATIONS,
    NUDGES,
    SUMMARY,
    TELL,
    TELLING,
    TILL,
    names_children,
    only_asks,
    slips,
)
from bot.understanding.reading import Listener

_OFF = (
    f"no more of? the|your|these? {NUDGES}",
    f"no {NUDGES} {TILL}|please|today|<day>|anymore",
    "stop|quit|pause|mute|silence|disable|cancel|hold with|w|on? all? of? "
    f"the|your|my|these|those? {NUDGES}",
    f"stop|quit {TELLING} me|us",
    f"stop|quit|pause|hold sending|sedning|everything|anything {TILL}|me|us|stuff|things|{NUDGES}",
    f"turn|switch|shut off the|your|my|all|these? {NUDGES}",
    f"turn|switch|shut the|your|my|all|these? {NUDGES} off",
    f"{NUDGES} off",
    f"dont|stop|never {TELL} me|us",
    f"dont|never {TELL} me|us ... again|anymore|{TILL}",
    f"do not {TELL} me|us",
    f"dont want|need any|the|your|these? more? {NUDGES}",
    f"do not want|need any|the|your|these? more? {NUDGES}",
    f"no longer want|need any|the|your|these? {NUDGES}",
)
_OFF_ALONE = (
    "^ mute",
    "^ please|pls|can|could|would you? please? mute|pause",
    f"^ please? stop|quit {TELLING} $",
    f"^ no {NUDGES} $",
    "^ no need to remind|text|nudge me",
)
_LESS = (
    f"too many {NUDGES}",
    "you text|message|write|send|nudge|remind me? too|so much|many|often",
    f"less|fewer {NUDGES}",
    "^ please|pls? unsubscribe",
    f"stop|quit|cancel|skip|dont|no|disable|not|off ... the? morning|daily? {SUMMARY}",
)
_HOURS = (
    f"no|stop|quit|dont|never|nothing ... {NUDGES}|{TELL}|{TELLING}|anything|nothing|stuff|send|"
    "sending ... after|before|past|during|between",
    "^ please|pls? nothing after|before|past",
    f"only {TELL}|{NUDGES} ... after|before|between|during",
)
_HUSH = (
    f"^ {slips('silence')}|hush|shush|shh|shhh|dnd $",
    f"^ quiet|silence|hush|shush|shh|silent {TILL}|please|pls|now|mode",
    "^ quiet $",
    f"be|stay|go|keep quiet|silent {TILL}|please|now",
    "^ please? be|stay|go|keep quiet|silent",
    "^ please|pls|can|could|would you? please? hush|silence|be quiet",
    "^ please? do not disturb",
    "^ please? leave me alone",
    "^ please? leave me in peace",
)
_SNOOZE_PHRASES = (
    f"^ {slips('snooze')}",
    f"^ please|pls|can|could|would you? please? {slips('snooze')}",
    f"{slips('snooze')} it|this|that|for|an|till|until",
    "^ please|pls|can|could|would|will? you? please? remind|nudge|ask|ping|text|tell me again? "
    "later|in",
)
_LATER = (
    "^ ask|remind again? later $",
    "^ again later|in",
    "^ maybe? later $",
    "^ in an|a|half|10|15|20|30|45|ten|twenty|thirty hour|an|a|min|mins|minutes",
)
_OFF_WORDS = frozenset(("mute", "stop", "silence", "pause", "disable", "quit", "off"))
_TILL_WORDS = frozenset(("till", "til", "until", "untill"))
_SNOOZE = timedelta(hours=1)


def _hear_hours(clause: Clause) -> Request | None:
    """ "no messages after 4": hours for every day, not a moment till which they rest."""
    if names_children(clause) or clause.bins or only_asks(clause) or _names_person(clause):
        return None
    return None if _TILL_WORDS & clause.word_set else SayHow("hours")


def _names_person(clause: Clause) -> bool:
    """ "no messages from parents"."""
    return bool(clause.word_set & {"from", "mom", "dad", "parents", "office", "principal"})


def _hear_less(clause: Clause) -> Request | None:
    named = names_children(clause) or clause.bins or _names_person(clause)
    return None if named or only_asks(clause) else SayHow("less")


def _hear_off(clause: Clause) -> Request | None:
    words = clause.words
    if names_children(clause) or clause.bins or only_asks(clause) or _names_person(clause):
        return None
    if NEGATIONS - {"no"} & set(words) and _OFF_WORDS & set(words):
        return None  # "don't stop the reminders"
    until = until_when(clause)
    if until is None and _TILL_WORDS & set(words):
        return SayHow("until")
    return SetNudges(is_on=False, until=until)


def _hear_hush(clause: Clause) -> Request | None:
    """ "quiet": till the end of the day, where it says no more."""
    heard = _hear_off(clause)
    if isinstance(heard, SetNudges) and heard.until is None:
        tomorrow = clause.at.date() + timedelta(days=1)
        return SetNudges(
            is_on=False, until=datetime.combine(tomorrow, time(), tzinfo=clause.at.tzinfo)
        )
    return heard


def _hear_snooze(clause: Clause) -> Request | None:
    if names_children(clause) or clause.bins or only_asks(clause):
        return None
    if NEGATIONS & clause.word_set:
        return None
    until = until_when(clause) or clause.at + _SNOOZE
    return SetNudges(is_on=False, until=until, again=True)


def _hear_later(clause: Clause) -> Request | None:
    heard = _hear_snooze(clause)
    return replace(heard, is_answer=True) if isinstance(heard, SetNudges) else heard


TOLD_HOURS = Listener(_HOURS, _hear_hours, rank=4)
TOLD_LESS = Listener(_LESS, _hear_less, rank=4)
TOLD_OFF = Listener(_OFF, _hear_off, rank=4, apart=True)
TOLD_OFF_ALONE = Listener(_OFF_ALONE, _hear_off)
TOLD_HUSH = Listener(_HUSH, _hear_hush)
TOLD_SNOOZE = Listener(_SNOOZE_PHRASES, _hear_snooze)
TOLD_LATER = Listener(_LATER, _hear_later)
