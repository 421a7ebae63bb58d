"""The door: a text in, requests and questions out.

    text -> tokens -> items -> settled items -> clauses -> each clause: the skill whose phrase is found,
    a question about children and bins, or turns taken

Pure: the class is handed in, and so is the moment the text was sent.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bot.requests import Place, Request, When
from bot.understanding.clause import Clause, Last, when_of
from bot.understanding.corrections import hear_correction
from bot.understanding.logs import Heard, hear_logs
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settle import settle
from bot.understanding.statement import is_place, is_subject
from bot.understanding.tape import lay_out
from bot.understanding.tokens import normal, tokenise
from bot.understanding.vocabulary import vocabulary_of
from storage.records import Roster

_COMMA = Sense(Kind.COMMA)

Hears = Callable[[Clause], Heard | Request | None]


@dataclass(frozen=True, slots=True)
class Listener:
    """What one skill listens for: phrases (see Clause) and how its request is made of a clause."""

    phrases: tuple[str, ...]
    hear: Hears
    questions_only: bool = False


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
    last: Last | None = None,
) -> Reading:
    """Read a text sent at a moment (in the class's zone) against a class.

    `listeners` are tried in order; the one whose phrase takes up most words hears the clause. `last`
    is what the sender logged last, for corrections and for "g4 too".
    """
    items = items_of(text, roster, at)
    heard = Heard()
    for clause in _clauses(items, roster, at, last):
        heard.add(_hear(clause, listeners))
    return Reading(items, heard)


def items_of(text: str, roster: Roster, at: datetime) -> tuple[Item, ...]:
    """The items of a text, settled by where they stand."""
    vocabulary = vocabulary_of(roster)
    tokens = tokenise(normal(text))
    return settle(lay_out(tokens, vocabulary, at.date()), vocabulary, at.date())


def _hear(clause: Clause, listeners: Sequence[Listener]) -> Heard:
    asks = clause.is_question
    best: tuple[int, Listener] | None = None
    for listener in listeners:
        if listener.questions_only and not asks:
            continue
        length = clause.finds(listener.phrases)
        if length and (best is None or length > best[0]):
            best = (length, listener)
    if best is not None:
        made = best[1].hear(clause)
        if isinstance(made, Request):
            return Heard([made])
        if made is not None:
            return made
    if asks:
        return Heard()
    return hear_correction(clause) or hear_logs(clause)


def _clauses(
    items: Sequence[Item], roster: Roster, at: datetime, last: Last | None
) -> Iterator[Clause]:
    """Sentences, with the day said before them and the bins spoken of before them."""
    when = When()
    spoken_of: tuple[Place, ...] = ()
    for part in _sentences(items):
        clause = Clause(part, roster, at, when, spoken_of, last)
        if not any(is_subject(item) or is_place(item) for item in part):
            when = when_of([i for i in part if i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT)], when)
        elif part[0].kind is Kind.DAY:
            when = replace(when_of(part[:1], when), starts=when.starts, slot=when.slot)
        yield clause
        spoken_of = clause.places() or spoken_of


def _sentences(items: Sequence[Item]) -> Iterator[tuple[Item, ...]]:
    """Split at line ends, full stops and question marks, and before a question in mid-sentence;
    a line with only bins or only children is joined with the next."""
    held: list[Item] = []
    for part in _split(items):
        joined = [*held, *part]
        has_who = any(is_subject(item) for item in joined)
        has_place = any(is_place(item) for item in joined)
        half = has_who != has_place and part[-1].kind is Kind.BREAK
        plain = not any(item.can_be(Kind.DID, Kind.ASK, Kind.QUERY) for item in joined)
        if half and plain:
            held = [*joined[:-1], replace(part[-1], text=",", senses=(_COMMA,))]
            continue
        held = []
        yield tuple(item for item in joined if item.kind not in (Kind.BREAK, Kind.STOP))
    if held:
        yield tuple(item for item in held if item.kind not in (Kind.BREAK, Kind.STOP))


def _split(items: Sequence[Item]) -> Iterator[list[Item]]:
    part: list[Item] = []
    for at, item in enumerate(items):
        opens_question = (
            item.can_be(Kind.ASK)
            and part
            and part[-1].kind in (Kind.COMMA, Kind.AND)
            and any(is_place(other) or is_subject(other) for other in part)
        )
        if opens_question:
            yield part
            part = []
        part.append(item)
        ends = item.kind in (Kind.BREAK, Kind.QUERY) or (
            item.kind is Kind.STOP and not _is_abbreviation(items, at)
        )
        if ends:
            if any(other.kind not in (Kind.BREAK, Kind.STOP) for other in part):
                yield part
            part = []
    if part:
        yield part


def _is_abbreviation(items: Sequence[Item], at: int) -> bool:
    """A dot glued between two things ("g.3", "2.5") ends nothing."""
    item = items[at]
    return item.glued and at + 1 < len(items) and items[at + 1].glued
