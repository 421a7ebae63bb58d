"""Told that children are here again: "omar is back", "felix isn't absent"."""

from __future__ import annotations

from datetime import date

from bot.requests import NoteBack, Request
from bot.understanding.aways.words import GONE, is_only_thought_of, is_unsure, said_words
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_said, weekday_meant

_FILL = (
    "is|are|s|was|were|r|just|now|finally|actually|already|all|both|also|here|in|be|been|will|has|"
    "have|got|she|he|they|shes|hes|theyre|looks|like|again|<day>|<time>"
)
_NOT = "not|isnt|arent|wasnt|werent|never"
_PHRASES = (
    f"<who> {_FILL}* back",
    "<who> came|comes|coming|come|was|got|gets|returned ... back",
    f"<who> {_FILL}* returned|returns|returning|arrived",
    f"<who> {_FILL}* walked|walks|strolled|came|rolled|wandered in",
    f"<who> is|are|was|were {_FILL}* here",
    "<who> is|are|was|were just|now|finally? here",
    f"<who> {_FILL}* arrived|showed|shows|got|came here|in|up|back",
    "<who> just arrived",
    "<who> here now|today|after|again|<day>",
    f"<who> {_FILL}* {_NOT} {_FILL}* absent|away|out|sick|gone",
    "^ <who> is|are? here $",
    "<who> made it in|after",
    "mark|put|count|note <who> down? as? present|here|back",
    "<who> made it $",
)
_DENIED = frozenset((*_NOT.split("|"), "neither", "nor", "nobody"))


def _hear_back(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    found = clause.find(_PHRASES)
    if found is None or who.groups or words & {"put", "move", "switch", "with", "hold", "holding"}:
        return None
    if not who or who.everyone or clause.bins or clause.is_question:
        return None
    if is_only_thought_of(clause) or is_unsure(clause):
        return None
    said = set(found.words.split())
    denied = words & (_DENIED | {"wont", "cant", "cannot", "didnt", "doesnt"})
    denies_away = bool(said & _DENIED and said & {*GONE.split("|")})
    gone = said_words(clause) & {*GONE.split("|")}
    if (denied or gone) and not denies_away:
        return None  # "omar is out, back monday" is told of an away
    after_all = "after" in words or "actually" in words or denies_away
    spans = spans_said(clause)
    moment = spans[0].starts or (spans[0].ends if "by" in words else None)
    return NoteBack(who, _day(clause), moment, after_all)


def _day(clause: Clause) -> date | None:
    """The day from which on they are here."""
    today = clause.at.date()
    days = [item.sense for item in clause.items if item.kind is Kind.DAY]
    named = [(day.value, day.word) for day in days if isinstance(day.value, date)]
    if not named:
        return clause.when.day
    day, how = named[0]
    return weekday_meant(day, "either" if how == "vague" else how, today, past=False)


TOLD_BACK = Listener(_PHRASES, _hear_back, asks_of="away", rank=2, apart=True)
