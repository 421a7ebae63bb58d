"""Told that nudges are wanted again: "unmute", "turn the reminders back on"."""

from __future__ import annotations

from bot.requests import Request, SetNudges
from bot.understanding.clause import Clause
from bot.understanding.digest.words import NEGATIONS, NUDGES, TELL, TELLING, only_asks, slips
from bot.understanding.reading import Listener

_ON = (
    f"^ {slips('unmute')}|unsnooze",
    "^ un mute|silence|snooze",
    f"turn|switch the|your|my|all? {NUDGES} back? on",
    f"turn|switch on the|your|my|all? {NUDGES}",
    f"turn|switch on again? the|your|my? {NUDGES}",
    f"{NUDGES} back? on",
    f"start|resume|restart|enable|continue the|your|my|with? {NUDGES}",
    f"start|resume {TELLING} me? again?",
    f"{TELL} me again $",
    f"start|resume sending me? the|my? {NUDGES}? again",
    "turn|switch them|those back on",
    f"you|u can|may|could {TELL} me again?",
    f"want|need|like the|your|my? {NUDGES} back|again",
    "you can|may talk|speak again",
)


def _hear_on(clause: Clause) -> Request | None:
    if clause.children or clause.bins or only_asks(clause):
        return None
    words = clause.word_set
    return None if NEGATIONS & words else SetNudges(is_on=True)


TOLD_ON = Listener(_ON, _hear_on)
