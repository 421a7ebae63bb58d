"""Who was not where the plan says: what is said behind "as planned", piece by piece.

A piece with an "except", a "not" or an absence in it names children (or a bin) to leave out; one
that puts a child at another bin leaves the child out and is a log; one that tells of a child
something else ("rose loved it") leaves open whether the child was there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from bot.requests import Ask, LogVisits, NoteAway, Place, Request, Who
from bot.understanding.aways.away import TOLD_AWAY
from bot.understanding.clause import Clause, place_of
from bot.understanding.logs import hear_logs
from bot.understanding.segments import SUBJECT, is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind
from bot.understanding.vocabulary import vocabulary_of
from storage.records import Roster

_ABSENT = frozenset((
    "out", "absent", "away", "sick", "home", "gone", "ill", "nurse", "nurses", "office", "speech",
    "ot", "pt", "late", "left", "pulled", "me", "bathroom", "therapy", "counselor", "counselors",
    "resource", "testing", "dentist", "doctor", "doctors", "library", "hallway", "principal",
    "principals", "stayed", "missing", "skipped", "sat",
))  # fmt: skip
_LEAVES_OUT = frozenset(("no", "not", "only", "minus", "less"))
_AWAY_ALL_DAY = frozenset(("absent", "sick", "ill"))
_LINKS = (Kind.COMMA, Kind.STOP, Kind.BREAK)
_SILENT = (
    Kind.PLAIN, Kind.AND, Kind.COMMA, Kind.MARK, Kind.STOP, Kind.DAY, Kind.TIME, Kind.SLOT,
    Kind.GROUP_WORD, Kind.AT, Kind.COLON, Kind.AUX, Kind.DID, Kind.PLUS, Kind.KEY, Kind.BIN_WORD,
)  # fmt: skip


@dataclass(slots=True)
class Exceptions:
    """Whom to leave out, whom to ask about, and what else is said of them."""

    but: Who = field(default_factory=Who)
    but_places: tuple[Place, ...] = ()
    asides: list[Item] = field(default_factory=list)
    requests: list[Request] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)
    is_open: bool = False  # somebody is left out, and it cannot be told who
    is_strange: bool = False  # something is said that may matter
    is_other: bool = False  # a turn is told of, not an exception


def exceptions_of(clause: Clause, items: Sequence[Item], *, is_all: bool) -> Exceptions:
    """The exceptions in what stands behind the word for the plan."""
    found = Exceptions()
    left_out: list[Item] = []
    marked = False  # an "except" goes on over the names listed behind it
    for marker, piece in _pieces(items):
        named = [item for item in piece if is_subject(item)]
        bare = all(is_subject(i) or i.can_be(*_SILENT) for i in piece) and not _is_absent(piece)
        opens = marker in (Kind.EXCEPT, Kind.BUT) or _leaves_out(piece)
        marked = opens or (marked and bare)
        if opens and (
            _names_times(piece) or _is_open(piece, marker) or _hides_name(piece, clause.roster)
        ):
            found.is_open = True
        elif any(is_place(item) for item in piece):
            _elsewhere(clause, piece, found, left_out, opens=opens, is_all=is_all)
        elif not named:
            found.is_strange = found.is_strange or _is_strange(piece)
        elif any(item.kind in (Kind.EVERYONE, Kind.REST) for item in named):
            found.is_open = found.is_open or opens or _is_absent(piece)
        elif not all(len(item.sense.ids) == 1 for item in named):
            found.is_open = True
        elif marker is Kind.EXCEPT or _leaves_out(piece) or _is_absent(piece) or (marked and bare):
            left_out += named
            found.requests += _aways(clause, piece)
        else:
            found.asides += named
    who = Clause(tuple(left_out), clause.roster, clause.at).who()
    found.but = Who(who.groups, who.students)
    return found


def _pieces(items: Sequence[Item]) -> Iterator[tuple[Kind | None, tuple[Item, ...]]]:
    """What stands between commas and exceptions, each with the "but" or "except" before it; names
    without anything said of them go with what follows."""
    piece: list[Item] = []
    marker: Kind | None = None
    for item in items:
        opens = item.kind in (Kind.EXCEPT, Kind.BUT)
        ends = opens or (item.kind in _LINKS and not (piece and _are_names(piece) and not marker))
        if ends and (piece or marker):
            yield marker, tuple(piece)
            piece, marker = [], None
        if opens:
            marker = item.kind
        elif item.kind not in _LINKS or piece:
            piece.append(item)
    if piece or marker:
        yield marker, tuple(piece)


def _are_names(piece: Sequence[Item]) -> bool:
    return all(is_subject(i) or i.kind in (Kind.AND, Kind.COMMA) for i in piece)


def _leaves_out(piece: Sequence[Item]) -> bool:
    first = next((item for item in piece if item.text not in "([-–—"), None)
    return first is not None and bool(set(first.keys) & _LEAVES_OUT) and not is_subject(first)


def _is_absent(piece: Sequence[Item]) -> bool:
    said = [item for item in piece if not is_subject(item)]
    return any(
        item.can_be(Kind.MISSED, Kind.NOT) or _ABSENT & {*item.keys, *item.word.split()}
        for item in said
    )


def _names_times(piece: Sequence[Item]) -> bool:
    """ "except the last rotation": not to be told apart from a part of the day."""
    times = any(item.kind in (Kind.TIME, Kind.SLOT, Kind.DAY) for item in piece)
    return times and not any(is_mention(item) for item in piece)


def _is_open(piece: Sequence[Item], marker: Kind | None) -> bool:
    """ "except two kids", "except zelda", "but no ... group 9"."""
    named = [item for item in piece if is_mention(item)]
    rest = [item for item in piece if not is_mention(item)]
    unsure = any(item.can_be(Kind.PARTIAL, Kind.NUMBER) for item in rest)
    unknown = next((n for n, i in enumerate(piece) if i.kind is Kind.UNKNOWN), None)
    first = next((n for n, i in enumerate(piece) if is_mention(i)), len(piece))
    strange = unknown is not None and (unknown < first or not named or _is_listed(piece, unknown))
    return (not named and (marker is Kind.EXCEPT or unsure)) or (unsure and not named) or strange


def _hides_name(piece: Sequence[Item], roster: Roster) -> bool:
    """ "minus art may": a name, or an ordinary word?"""
    vocabulary = vocabulary_of(roster)
    return any(
        sense.kind in SUBJECT and sense.ids and len(piece) > 1
        for item in piece
        if not is_mention(item) and len("".join(item.keys)) > 1
        for sense in vocabulary.look_up(item.keys)
    )


def _is_listed(piece: Sequence[Item], at: int) -> bool:
    """ "mia and zelda"."""
    return at > 0 and piece[at - 1].kind in (Kind.AND, Kind.COMMA)


def _is_strange(piece: Sequence[Item]) -> bool:
    """Words that may turn it all round: "but we ran out of time", "for the first 5 minutes"."""
    return any(i.can_be(*_TURNS_ROUND) and not i.can_be(Kind.PLAIN, Kind.DID) for i in piece) or (
        any(i.kind is Kind.UNIT for i in piece)
    )


_TURNS_ROUND = (
    Kind.NOT, Kind.DOUBT, Kind.IF, Kind.PARTIAL, Kind.MISSED, Kind.STARTED, Kind.FUTURE,
    Kind.NUMBER,
)  # fmt: skip


def _elsewhere(
    clause: Clause,
    piece: Sequence[Item],
    found: Exceptions,
    left_out: list[Item],
    *,
    opens: bool,
    is_all: bool,
) -> None:
    """ "rose did clay instead" is a log of its own; "except the loom" leaves out a bin."""
    named = [item for item in piece if is_subject(item)]
    if not named:
        places = [place for item in piece if is_place(item) and (place := place_of(item))]
        if opens and all(item.can_be(*_SILENT, Kind.NOT) or is_place(item) for item in piece):
            found.but_places = (*found.but_places, *places)
        else:
            found.is_open = found.is_open or opens
            found.is_other = found.is_other or not opens
        return
    if not opens and not is_all:
        found.is_other = True
        return
    heard = hear_logs(replace(clause, items=tuple(piece)))
    if any(item.kind in (Kind.EVERYONE, Kind.REST) for item in named):
        found.is_open = True
        return
    left_out += named
    found.requests += [r for r in heard.requests if isinstance(r, LogVisits)]
    found.asks += heard.asks


def _aways(clause: Clause, piece: Sequence[Item]) -> list[Request]:
    """ "theo was absent": noted too, so that later rotations know."""
    if not _AWAY_ALL_DAY & {key for item in piece for key in item.keys}:
        return []
    told = replace(clause, items=tuple(piece))
    heard = TOLD_AWAY.hear(told) if told.finds(TOLD_AWAY.phrases) else None
    return [heard] if isinstance(heard, NoteAway) else []
