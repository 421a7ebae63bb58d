"""Asked for the morning summary, or told when it comes: "morning message at 7:15"."""

from __future__ import annotations

from datetime import date

from bot.requests import Digest, MoveDigest, Request
from bot.understanding.clause import Clause
from bot.understanding.digest.until import clock_time
from bot.understanding.digest.words import slips
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind

_SUMMARY = slips("digest", "summary", "briefing", "rundown", "overview", "roundup") + "|recap"
_MESSAGE = "message|msg|text|update|report|note|list|email|brief|nudge|reminder"
_HOURS = "5|6|7|8|9|10|11|five|six|seven|eight|nine|ten|half|quarter"
_DIGEST = (
    f"^ the|my|todays|send|please? {_SUMMARY}",
    f"send|give|show|get|tell|text me|us? the|a|my|todays|this? morning|daily|days? {_SUMMARY}",
    f"morning|daily|todays|<day> {_SUMMARY}|{_MESSAGE}",
    f"send|give|show|get me|us? the|a|my? morning|daily {_SUMMARY}|{_MESSAGE}",
    f"{_SUMMARY} of|for the? day|morning|<day>",
    f"can|could|may i|we have|get|see the|my|a? morning|daily? {_SUMMARY}",
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
)
_MOVE = (
    f"{_SUMMARY} at|to|for|by|around <time>|{_HOURS}",
    f"morning|daily {_MESSAGE}|{_SUMMARY} at|to|for|by|around|is <time>|{_HOURS}",
    f"{_SUMMARY} <time>",
    f"morning|daily {_MESSAGE}|{_SUMMARY} <time>",
    f"{_SUMMARY}|{_MESSAGE} in the morning at <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily? "
    f"{_SUMMARY} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily "
    f"{_MESSAGE} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|set|make the|my|your? morning|daily {_MESSAGE}|{_SUMMARY}",
    f"move|change|set the|my|your? time|hour? of? the? {_SUMMARY}",
    f"morning|daily {_MESSAGE}|{_SUMMARY} ... earlier|later|sooner",
    f"{_SUMMARY} earlier|later|sooner",
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
    return None if clause.children or clause.bins else MoveDigest(clock_time(clause))


ASKED_DIGEST = Listener(_DIGEST, _hear_digest, rank=3)
TOLD_MOVE = Listener(_MOVE, _hear_move, rank=3)
