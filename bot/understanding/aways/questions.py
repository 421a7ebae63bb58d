"""Asked who is away: "who's out on friday?", "is ruby here?"."""

from __future__ import annotations

from bot.requests import Request, Who, WhoIsAway
from bot.understanding.aways.words import ERRAND, GONE, PAST, SERVICE
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_said

_PHRASES = (
    f"who|whos|whose|whod|whoever ... {GONE}",
    "who isnt|arent|wasnt|not here|in",
    "who ... not|isnt|wont|cant be? here|coming|in",
    "who|whos all|is|are|am|i|we|else* missing|missin $",
    "who|whos all|is|are|am|i|we|else|will|be* missing|missin "
    "today|tomorrow|<day>|this|at|in|next|and|from",
    "who do|will i|we have <day>|today|tomorrow|this|in",
    "who|whos|whose ... pulled|pullout|pulls|leaves|leaving|leave|late|tardy",
    f"who|whos|whose has|have|had|goes|going|with|at|got to|at|for|a|an|the* {SERVICE}|{ERRAND}",
    f"anyone|anybody|someone|somebody|any ... {GONE}",
    f"is|are|was|were|will|isnt|arent <who> ... {GONE}|here|in|present|back|late|coming",
    "will|can <who> ... here|in|back|out|absent|away|there",
    "when is|are|does|do|will|did|s <who> ... back|return|returning|here|come|coming|leave|leaving",
    "whens <who> ... back|returning|here|coming|leaving",
    "is|are|does|do <who> ... leave|leaving|late|picked|leaves",
    f"how many ... {GONE}|missing",
    f"which|what kids|kid|students|student|children|child ... {GONE}|missing|late|leaving|coming",
    "anyone|anybody|someone|somebody ... leaving|late|pulled|leaves",
    "when is|are|does|do|did <who> ... pulled|away|out|absent|gone|speech|ot",
    "absences|absentees|attendance|absence",
    "who|whos|anyone|anybody ... vacation|hospital|trip",
    "who|whos ... here",
    f"{GONE} list",
    "is|are everyone|everybody here|in|present",
    "is|are <who> here|in|present",
)
_IN_SHORT = (
    "^ absences|absentees|attendance|absence",
    "^ any|list|show|todays|tomorrows|<day>|the|me|all* absences|absentees|absence",
    "^ whos|who is? out|away|absent|gone|here|missing <day>|today|tomorrow? $",
    "^ who|whos out|away|absent|gone|missing $",
    "^ list|show|tell|remind|send me? whos|who ... out|away|absent|gone|missing",
)


def _hear_who_is_away(clause: Clause) -> Request | None:
    if clause.bins:
        return None
    spans = spans_said(clause, past=bool(PAST & clause.word_set))
    who = clause.who()
    if who.everyone:
        who = Who()
    return WhoIsAway(spans[0].first, spans[-1].last, who)


ASKED_WHO_IS_AWAY = Listener(
    _PHRASES, _hear_who_is_away, questions_only=True, asks_of="who_is_away", rank=1
)
ASKED_IN_SHORT = Listener(_IN_SHORT, _hear_who_is_away, rank=1)
