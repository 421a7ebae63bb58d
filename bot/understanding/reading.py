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

from bot.requests import CorrectLog, LogVisits, Place, Request, When
from bot.understanding.apart import cut_apart
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause, Last, finds, outline_of, when_of
from bot.understanding.corrections import hear_correction
from bot.understanding.introductions import introduces, tells_more
from bot.understanding.logs import hear_logs
from bot.understanding.segments import is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling import settle
from bot.understanding.tape import lay_out
from bot.understanding.tokens import normal, tokenise
from bot.understanding.vocabulary import vocabulary_of
from bot.understanding.which import which_child, which_day
from storage.records import Roster

_COMMA = Sense(Kind.COMMA)

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
            heard.requests.append(request)
    heard.asks += more.asks


def items_of(text: str, roster: Roster, at: datetime) -> tuple[Item, ...]:
    """The items of a text, settled by where they stand."""
    vocabulary = vocabulary_of(roster)
    tokens = tokenise(normal(text))
    return settle(lay_out(tokens, vocabulary, at.date()), vocabulary, at)


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
        if made is not None:
            heard = Heard([made]) if isinstance(made, Request) else made
            told = next((request.name for request in heard.requests), "")
            day = which_day(clause, told) if told else None
            return heard if day is None else Heard(asks=[day])
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
    others = tuple(
        phrase
        for listener in listeners
        if not listener.apart and not listener.questions_only
        for phrase in listener.phrases
    )
    noticing = [x for x in listeners if x.apart and x.notices is not None]

    def notices(piece: Sequence[Item]) -> int:
        clause = Clause(tuple(piece), roster, at, text=text)
        by = ((n, x) for n, x in enumerate(noticing, 1) if x.notices and x.notices(clause))
        number, listener = next(by, (0, None))
        return number if listener is None or listener.goes_on else -number

    def goes_on(piece: Sequence[Item], by: int) -> bool:
        tells_on = noticing[by - 1].goes_on
        return tells_on is not None and tells_on(Clause(tuple(piece), roster, at, text=text))

    def is_other(piece: Sequence[Item]) -> bool:
        return finds(outline_of(piece), others) > 0

    parts = (
        part
        for sentence in _sentences(items)
        for part in cut_apart(sentence, apart, notices, goes_on, is_other)
    )
    for part in parts:
        clause = Clause(part, roster, at, when, spoken_of, find_last, text)
        if not any(is_subject(item) or is_place(item) for item in part):
            when = when_of([i for i in part if i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT)], when)
        elif part[0].kind is Kind.DAY:
            when = replace(when_of(part[:1], when), starts=when.starts, slot=when.slot)
        yield clause
        spoken_of = clause.places() or spoken_of


def _sentences(items: Sequence[Item]) -> Iterator[tuple[Item, ...]]:
    """Split at line ends, full stops and question marks, and before a question in mid-sentence.

    Halves are joined: a line that names only bins with the lines below it that name only children
    ("ramps:" / "ava" / "ben"), or the other way round; "oops." with what it puts right.
    """
    parts = list(_split(items))
    at = 0
    while at < len(parts):
        joined = parts[at]
        ahead = at + 1
        while ahead < len(parts) and _continues(joined, parts[ahead]):
            joined = [*joined[:-1], replace(joined[-1], text=",", senses=(_COMMA,)), *parts[ahead]]
            ahead += 1
        yield tuple(item for item in joined if item.kind not in (Kind.BREAK, Kind.STOP))
        at = ahead


def _continues(part: Sequence[Item], following: Sequence[Item]) -> bool:
    """Whether a part and the one behind it are two halves of one sentence."""
    if part[-1].kind not in (Kind.BREAK, Kind.STOP):
        return False
    if introduces(part) and tells_more(following):
        return True
    if any(item.can_be(Kind.ASK) for item in (*part, *following)):
        return False
    who, place = _names(part)
    next_who, next_place = _names(following)
    if who and place:
        heads = part[0:1] and _is_header_with_list(part)
        return bool(heads) and next_who != next_place and next_who == _ends_with_who(part)
    if who != place and (next_who, next_place) == (place, who):
        return True
    puts_right = any(item.can_be(Kind.KEY) for item in part) and not who and not place
    puts_right = puts_right and part[0].keys[:1] not in (("undo",), ("redo",), ("help",))
    return puts_right and (next_who or next_place) and len(part) <= _SHORT


_SHORT = 5  # words of an "oops, typo!"


def _names(part: Sequence[Item]) -> tuple[bool, bool]:
    return any(is_subject(item) for item in part), any(is_place(item) for item in part)


def _is_header_with_list(part: Sequence[Item]) -> bool:
    """A heading with a colon and the lines listed under it so far, each of one kind."""
    mentions = [is_subject(item) for item in part if is_subject(item) or is_place(item)]
    colon = next((at for at, item in enumerate(part) if item.kind is Kind.COLON), None)
    headed = colon is not None and sum(map(is_mention, part[:colon])) == 1
    joined = sum(item.kind is Kind.COMMA for item in part)
    return headed and joined > 0 and len(set(mentions[1:])) == 1 and mentions[0] != mentions[1]


def _ends_with_who(part: Sequence[Item]) -> bool:
    mentions = [is_subject(item) for item in part if is_subject(item) or is_place(item)]
    return mentions[-1]


def _split(items: Sequence[Item]) -> Iterator[list[Item]]:
    part: list[Item] = []
    who = place = told = early = False  # named in this part so far; and what they did
    for at, item in enumerate(items):
        linked = bool(part) and (
            part[-1].kind in (Kind.COMMA, Kind.AND) or part[-1].keys == ("so",)
        )
        opens_question = item.can_be(Kind.ASK) and (
            (linked and (who or place) and not (early and not place))
            or (who and place and item.keys[0] in ("who", "whos"))
            or (who and place and item.keys[0] in ("where", "wheres", "whats"))
            or (who and told and not early and item.keys[0] in ("where", "wheres", "whats"))
        )
        undoes = (
            part
            and part[0].keys == ("undo",)
            and len(part) == 2
            and part[1].kind
            in (
                Kind.AND,
                Kind.COMMA,
            )
        )
        if opens_question or undoes:
            yield part
            part, who, place, told, early = [], False, False, False, False
        part.append(item)
        told = told or (item.can_be(Kind.DID) and not part[0].can_be(Kind.ASK, Kind.AUX))
        early = early or "early" in item.keys
        who, place = who or is_subject(item), place or is_place(item)
        following = items[at + 1] if at + 1 < len(items) else None
        asks_on = (
            item.kind is Kind.QUERY
            and following is not None
            and (following.kind is Kind.OR or following.text == ")")
        )
        if asks_on:
            part[-1] = replace(item, senses=(Sense(Kind.COMMA),))
            continue
        ends = item.kind in (Kind.BREAK, Kind.QUERY) or (
            item.kind is Kind.STOP and not _is_abbreviation(items, at)
        )
        if ends:
            if any(other.kind not in (Kind.BREAK, Kind.STOP) for other in part):
                yield part
            part, who, place, told, early = [], False, False, False, False
    if part:
        yield part


def _is_abbreviation(items: Sequence[Item], at: int) -> bool:
    """A dot glued between two things ("g.3", "2.5") ends nothing."""
    item = items[at]
    following = items[at + 1] if at + 1 < len(items) else None
    if not item.glued or following is None:
        return False
    return following.glued or (_is_initial(items[at - 1]) and not following.text[:1].isupper())


def _is_initial(item: Item) -> bool:
    """ "Priya V." """
    return len(item.text) == 1 and item.text.isupper()
