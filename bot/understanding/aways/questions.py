"""Asked who is away: "who's out on friday?", "is ruby here?"."""

from __future__ import annotations

from bot.requests import Request, Who, WhoIsAway
from bot.understanding.aways.words import GONE, PAST
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of

_PHRASES = (
    f"who|whos|whose|whod|whoever ... {GONE}",
    "who isnt|arent|wasnt|not here|in",
    "who ... not|isnt|wont here|coming|in",
    f"anyone|anybody|someone|somebody|any ... {GONE}",
    f"is|are|was|were|will|isnt|arent <who> ... {GONE}|here|in|present",
    f"how many ... {GONE}",
    "absences|absentees|attendance|absence",
    "who|whos ... leaves|leaving|late|leave|pulled|tardy",
    "who|whos ... here",
    f"{GONE} list",
    "is|are everyone|everybody here|in|present",
)
_IN_SHORT = (
    "^ absences|absentees|attendance|absence",
    "^ whos|who out|away|absent|gone|here $",
)


def _hear_who_is_away(clause: Clause) -> Request | None:
    if clause.bins:
        return None
    spans = spans_of(clause.items, clause.at, past=bool(PAST & clause.word_set))
    who = clause.who()
    if who.everyone:
        who = Who()
    return WhoIsAway(spans[0].first, spans[-1].last, who)


ASKED_WHO_IS_AWAY = Listener(
    _PHRASES, _hear_who_is_away, questions_only=True, asks_of="who_is_away", rank=1
)
ASKED_IN_SHORT = Listener(_IN_SHORT, _hear_who_is_away, rank=1)
