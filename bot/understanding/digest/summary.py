"""Asked for the morning summary, or told when it comes: "morning message at 7:15"."""

from __future__ import annotations

from datetime import date

from bot.requests import Digest, MoveDigest, Request
from bot.understanding.clause import Clause
from bot.understanding.digest.until import clock_time
from bot.understanding.digest.words import SUMMARY, only_asks
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind

_MESSAGE = "message|msg|text|update|report|note|list|email|brief|nudge|reminder"
_HOURS = "5|6|7|8|9|10|11|five|six|seven|eight|nine|ten|half|quarter"
_DIGEST = (
    f"^ the|my|todays|send|please? {SUMMARY}",
    f"send|give|show|get|tell|text me|us? the|a|my|todays|this? morning|daily|days? {SUMMARY}",
    f"morning|daily|todays|<day> {SUMMARY}|{_MESSAGE}",
    f"send|give|show|get me|us? the|a|my? morning|daily {SUMMARY}|{_MESSAGE}",
    f"{SUMMARY} of|for the? day|morning|<day>",
    f"can|could|may i|we have|get|see the|my|a? morning|daily? {SUMMARY}",
    "what do|should i|we need? to? know <day>|this",
    "what do|should i|we need to know",
    "what ... for <day> in short",
    "brief me",
    "catch me up",
    "fill me in",
    "get me up to speed",
    "whats up <day>",
    "what is up <day>",
    "what does|is <day> look|looking like?",
    "whats <day> look|looking like?",
    "how does|is|hows <day> look|looking",
    "how is|are <day> shaping",
    "anything i|we should|need|gotta to? know|do|prep <day>|this",
    "anything i|we should|need to? know",
    "whats|what is? going|happening on? <day> $",
    f"^ quick|short|daily {SUMMARY}",
    f"{SUMMARY} now|please|pls|again",
)
_MOVE = (
    f"{SUMMARY} at|to|for|by|around <time>|{_HOURS}",
    f"morning|daily {_MESSAGE}|{SUMMARY} at|to|for|by|around|is <time>|{_HOURS}",
    f"{SUMMARY} <time>",
    f"morning|daily {_MESSAGE}|{SUMMARY} <time>",
    f"{SUMMARY}|{_MESSAGE} in the morning at <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily? "
    f"{SUMMARY} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily "
    f"{_MESSAGE} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|set|make the|my|your? morning|daily {_MESSAGE}|{SUMMARY}",
    f"move|change|set the|my|your? time|hour? of? the? {SUMMARY}",
    f"morning|daily {_MESSAGE}|{SUMMARY} ... earlier|later|sooner",
    f"{SUMMARY} earlier|later|sooner",
    f"text|send|give|get|have me? the|my? morning|daily? {SUMMARY} at <time>|{_HOURS}",
)


def _hear_digest(clause: Clause) -> Request | None:
    if clause.children or clause.bins:
        return None
    days = [i.sense.value for i in clause.items if i.kind is Kind.DAY and i.sense.value]
    told = days[0] if days else None
    if not isinstance(told, date):
        return Digest()
    return Digest(told) if told >= clause.at.date() else None


def _hear_move(clause: Clause) -> Request | None:
    told_of = clause.word_set & _TOLD_OF or clause.is_negative
    if clause.children or clause.bins or told_of or only_asks(clause):
        return None
    return MoveDigest(clock_time(clause))


_TOLD_OF = frozenset(("was", "were", "came", "got", "had", "said", "wrong", "why", "yesterday"))


ASKED_DIGEST = Listener(_DIGEST, _hear_digest, rank=3)
TOLD_MOVE = Listener(_MOVE, _hear_move, rank=3)
