"""The door: a text in, requests and questions out.

    text -> tokens -> items -> settled items -> clauses -> each clause: the skill whose phrase is
    found,
    a question about children and bins, or turns taken

Pure: the class is handed in, and so is the moment the text was sent.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bot.requests import CorrectLog, LogVisits, Place, Request, Swap, When
from bot.understanding.antecedents import with_antecedent
from bot.understanding.apart import cut_apart
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause, Last, when_of
from bot.understanding.corrections import hear_correction
from bot.understanding.logs import hear_logs
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import Item, Kind
from bot.understanding.sentences import COMMA, sentences
from bot.understanding.settling import settle
from bot.understanding.tape import lay_out
from bot.understanding.tokens import normal, tokenise
from bot.understanding.vocabulary import vocabulary_of
from bot.understanding.which import which_child
from storage.records import Roster

FindLast = Callable[[], Last | None]
Hears = Callable[[Clause], Heard | Request | None]


@dataclass(frozen=True, slots=True)
class Listener:
    """What one skill listens for: phrases (see Clause) and how its request is made of a clause."""

    phrases: tuple[str, ...]
    hear: Hears
    questions_only: bool = False
    asks_of: str = ""  # the request's name, where it must be clear which child is meant
    rank: int = 0  # a higher one is heard before longer phrases of others
    apart: bool = False  # heard by itself beside others: "g3 did ramps, theo is out"
    notices: Callable[[Clause], bool] | None = None  # what no phrase can tell; first of its rank
    goes_on: Callable[[Clause], bool] | None = None  # a piece that belongs to one noticed
    takes_in: Callable[[Clause, Clause], bool] | None = None  # a clause that belongs to one before


@dataclass(frozen=True, slots=True)
class Reading:
    """What a text was read as; `items` say how each stretch of it was taken."""

    items: tuple[Item, ...]
    heard: Heard


def read(
    text: str,
    roster: Roster,
    at: datetime,
    listeners: Sequence[Listener],
    find_last: FindLast = lambda: None,
) -> Reading:
    """Read a text sent at a moment (in the class's zone) against a class.

    `listeners` are tried in order; the one whose phrase takes up most words hears the clause.
    `find_last`
    finds what the sender logged last, for corrections and for "g4 too"; it is asked only then.
    """
    items = items_of(text, roster, at)
    heard = Heard()
    for clause in _clauses(items, roster, at, find_last, listeners, normal(text)):
        _add(heard, _hear(_after(clause, heard), listeners))
    return Reading(items, heard)


_THIS_TEXT = 0  # stands for the entry in hand, which has no number yet


def _after(clause: Clause, heard: Heard) -> Clause:
    """A clause behind others of the same text corrects what those said."""
    logs = tuple(request for request in heard.requests if isinstance(request, LogVisits))
    return replace(clause, find_last=lambda: Last(_THIS_TEXT, logs)) if logs else clause


def _add(heard: Heard, more: Heard) -> None:
    for request in more.requests:
        if isinstance(request, CorrectLog) and request.instead_of == _THIS_TEXT:
            kept = [r for r in heard.requests if not isinstance(r, LogVisits)]
            heard.requests[:] = [*kept, *request.logs]
        else:
            if isinstance(request, Swap):
                heard.requests[:] = [r for r in heard.requests if not _is_why(r, request)]
            heard.requests.append(request)
    heard.asks += more.asks


def _is_why(log: Request, swap: Swap) -> bool:
    """ "everyone finished ramps. take it down": no turn of them all."""
    everyone = isinstance(log, LogVisits) and log.who.everyone and not log.who.but_students
    return everyone and isinstance(log, LogVisits) and log.place == swap.outgoing


def items_of(text: str, roster: Roster, at: datetime) -> tuple[Item, ...]:
    """The items of a text, settled by where they stand."""
    vocabulary = vocabulary_of(roster)
    tokens = tokenise(normal(text))
    return settle(lay_out(tokens, vocabulary, at.date()), vocabulary, at.date())


def _hear(clause: Clause, listeners: Sequence[Listener]) -> Heard:
    asks = clause.is_question
    found = [
        (listener.rank, _fit(listener, clause), listener)
        for listener in listeners
        if asks or not listener.questions_only
    ]
    fitting = sorted((f for f in found if f[1]), key=lambda f: (-f[0], -f[1]))
    for _, _, listener in fitting:
        which = which_child(clause, listener.asks_of) if listener.asks_of else None
        if which is not None:
            return Heard(asks=[which])
        made = listener.hear(clause)
        if isinstance(made, Request):
            return Heard([made])
        if made is not None:
            return made
    if asks:
        return Heard()
    return hear_correction(clause) or hear_logs(clause)


def _fit(listener: Listener, clause: Clause) -> int:
    """How many words of a clause a listener's phrases take up; 0 where it is not for it."""
    noticed = listener.notices is not None and listener.notices(clause)
    return _NOTICED if noticed else clause.finds(listener.phrases)


_NOTICED = 100  # before every phrase of the same rank


def _clauses(
    items: Sequence[Item],
    roster: Roster,
    at: datetime,
    find_last: FindLast,
    listeners: Sequence[Listener],
    text: str,
) -> Iterator[Clause]:
    """Sentences, with the day said before them and the bins spoken of before them."""
    when = When()
    spoken_of: tuple[Place, ...] = ()
    apart = tuple(phrase for listener in listeners if listener.apart for phrase in listener.phrases)
    noticing = [x for x in listeners if x.apart and x.notices is not None]

    def notices(piece: Sequence[Item]) -> bool:
        clause = Clause(tuple(piece), roster, at, text=text)
        return any(x.notices(clause) for x in noticing if x.notices)

    def goes_on(piece: Sequence[Item]) -> bool:
        clause = Clause(tuple(piece), roster, at, text=text)
        return any(x.goes_on(clause) for x in noticing if x.goes_on)

    parts = [
        part
        for sentence in sentences(items)
        for part in cut_apart(sentence, apart, notices, goes_on)
    ]
    taking = [x.takes_in for x in listeners if x.takes_in is not None]
    named: tuple[Item, ...] = ()
    for part in _taken_in(parts, lambda part: Clause(part, roster, at, text=text), taking):
        part = with_antecedent(part, named)
        named = tuple(item for item in part if is_subject(item)) or named
        clause = Clause(part, roster, at, when, spoken_of, find_last, text)
        if not any(is_subject(item) or is_place(item) for item in part):
            when = when_of([i for i in part if i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT)], when)
        elif part[0].kind is Kind.DAY:
            when = replace(when_of(part[:1], when), starts=when.starts, slot=when.slot)
        yield clause
        spoken_of = clause.places() or spoken_of


def _taken_in(
    parts: Sequence[tuple[Item, ...]],
    clause_of: Callable[[tuple[Item, ...]], Clause],
    taking: Sequence[Callable[[Clause, Clause], bool]],
) -> Iterator[tuple[Item, ...]]:
    """Parts joined with those behind them that belong to them: "as planned. theo was with me"."""
    held: tuple[Item, ...] = ()
    for part in parts:
        belongs = bool(held) and any(t(clause_of(held), clause_of(part)) for t in taking)
        if held and not belongs:
            yield held
        comma = replace(part[0], text=",", senses=(COMMA,), keys=())
        held = (*held, comma, *part) if belongs else part
    if held:
        yield held
