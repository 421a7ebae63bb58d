"""Told that children change groups: "move ruby to group 2", "omar is with g1 today"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from bot.requests import Ask, MoveStudent, Option, Request, Span, SwapStudents, Who
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import move_in_full
from bot.understanding.clause import Clause
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.moves.doubts import is_thought, is_unsure, said_words
from bot.understanding.reading import Listener
from bot.understanding.senses import Item, Kind
from bot.understanding.spans import spans_said

_NUMBERS = "1|2|3|4|5|6|7|8|9|10|11|12|one|two|three|four|five|six|seven|eight|nine|ten"
_GROUP = f"<who>|{_NUMBERS}"
_ORDERS = (
    "move|put|switch|shift|change|transfer|place|send|stick|swap|assign|reassign|moving|moved|add|"
    "switched|changed|adding|putting|switching|bump|have|let|make|seat|reassigned|placed|trade"
)
_SAID = (
    "is|are|be|will|ll|gonna|going|goes|go|moves|move|moved|moving|switches|switch|switched|"
    "switching|changes|changed|changing|transfers|transferred|belongs|belong|joins|join|joined|"
    "joining|sits|sit|sitting|stays|stay|staying|works|work|working|rotates|rotate|rotating|tags|"
    "tag|tagging|becomes|become|has|have|been|got|to|into|in|from|with|w|onto|over|back|along|a|an|"
    "the|group|groups|part|of|member|now|today|<day>|for|just|only|both|all|also|please|->|→|=>|-|"
    ">|=|and|should|today|officially|permanently|temporarily|table|at|team|then|up|<time>"
)
_PHRASES = (
    f"{_ORDERS} <who> {_SAID}* to|in|into|with|w|from|onto|join|joins|a|an|back the? {_GROUP}",
    f"{_ORDERS} <who> a|an <who>",
    f"{_ORDERS} <who> group to|from|into {_GROUP}",
    f"<who> {_SAID}* to|into|in|with|w|join|joins|joining|joined|a|an|group|->|→|=>|- the? "
    f"{_GROUP}",
    f"{_ORDERS} <who> for|today|<day>|now|please|back|only|till|until|this|$",
    f"<who> {_SAID}* joins|join|joining|joined|becomes|become <who>",
    "<who> is|are|be|will|now|<day>* <who> now|today|<day>|from|till|until|for|again",
    f"<who> from {_NUMBERS} to {_NUMBERS}",
    "<who> gets|takes|has|have <who> <day>|today|now|for|till|until|this",
    "swap|switch|trade|exchange|swapping|switching|swapped|switched|traded <who> and|with|for* "
    "<who>?",
    "<who> are|is|will|both|be* swap|swaps|swapped|switch|switches|switched|trade|trades|traded|"
    "swapping|switching|"
    "trading|exchange|change groups|group|places|place|spots|teams",
)
_IN_SHORT = ("^ <who> <day>|now|from|till|until",)
_TO = frozenset((
    "to", "into", "in", "with", "w", "join", "joins", "joined", "joining", "onto", "becomes",
    "become", "is", "are", "a", "an", "group", "now", "the", "->", "→", "=>", ">", "today",
    "tomorrow", "for", "be", "back",
))  # fmt: skip
_SWAPS = frozenset((
    "swap", "switch", "trade", "exchange", "swaps", "switches", "trades", "swapping", "switching",
    "trading", "swapped", "switched", "traded",
))  # fmt: skip
_PRAISE = frozenset(("a", "an"))
_WHILE = frozenset(("today", "for", "only", "just", "temporarily"))
_FOR_GOOD = frozenset((
    "from", "starting", "now", "beginning", "permanently", "officially", "good", "forever", "on",
))  # fmt: skip
_MOVES = frozenset((
    "move", "moves", "moved", "moving", "switch", "switches", "switching", "transfer", "changes",
    "transfers", "transferring",
))  # fmt: skip
_STAYS = frozenset((
    "goes", "go", "going", "sits", "sit", "sitting", "works", "work", "working", "rotates",
    "rotate", "rotating", "tags", "tag", "tagging", "joins", "join", "joining", "gets", "takes",
    "with", "stays", "staying", "is", "are",
))  # fmt: skip


def _hear_move(clause: Clause) -> Heard | Request | None:
    words = said_words(clause)
    everyone = any(item.kind is Kind.EVERYONE for item in clause.children)
    if is_unsure(clause) or clause.bins or everyone or words & {"was", "were", "apart", "together"}:
        return None
    span = _days(clause)
    swapped = _swapped(clause)
    if swapped is not None:
        return SwapStudents(*swapped, *span)
    moves = [
        MoveStudent(Who(students=move.students), move.group_id, *span) for move in _moves(clause)
    ]
    if not moves or _is_praise(clause) or _is_dashed(clause):
        return None
    unsure = is_thought(clause) or _is_called(clause)
    if unsure or (span[0] is not None and _may_be_a_stay(clause, span)):
        return _asked(moves, clause, span)
    return Heard(list(moves))


@dataclass(frozen=True, slots=True)
class _Move:
    students: tuple[int, ...]
    group_id: int


def _moves(clause: Clause) -> Iterator[_Move]:
    """Children, and behind them their group: "ava to 3 and ben to 4"; "from 2" is left behind."""
    waiting: list[int] = []
    items = [item for item in clause.items if item.kind not in (Kind.MARK, Kind.COMMA)]
    takes = _taken_in(items)
    if takes is not None:
        yield takes
        return
    for at, item in enumerate(items):
        before = items[at - 1].keys[-1:] if at else ()
        if item.kind is Kind.STUDENT and len(item.sense.ids) == 1:
            known = item.sense.ids[0]
            waiting = [known] if known in waiting else [*waiting, known]
            continue
        group_id = _group(item, clause)
        if group_id is None or before == ("from",) or not waiting:
            continue
        if item.kind is Kind.GROUP or (before and before[0] in _TO):
            yield _Move(tuple(waiting), group_id)
            waiting = []


def _taken_in(items: Sequence[Item]) -> _Move | None:
    """ "group 3 gets mia today"."""
    first = items[0] if items else None
    if first is None or first.kind is not Kind.GROUP or not first.sense.ids or len(items) < 3:
        return None
    students = tuple(i.sense.ids[0] for i in items if i.kind is Kind.STUDENT and i.sense.ids)
    taken = items[1].keys[:1] in (("gets",), ("takes",), ("has",), ("have",))
    return _Move(students, first.sense.ids[0]) if taken and students else None


def _group(item: Item, clause: Clause) -> int | None:
    """The group an item names, a bare number too."""
    if item.kind is Kind.GROUP:
        return item.sense.ids[0] if len(item.sense.ids) == 1 else None
    if item.kind in (Kind.DAY, Kind.TIME, Kind.STUDENT) or not item.keys:
        return None
    said = str(NUMBER_WORDS.get(item.keys[0], item.keys[0]))
    return next((group.id for group in clause.roster.groups if group.name == said), None)


def _swapped(clause: Clause) -> tuple[int, int] | None:
    """The two children who take each other's place."""
    who = clause.who()
    swaps = bool(_SWAPS & clause.word_set) and not who.groups
    two = tuple(dict.fromkeys((*who.students, *who.but_students)))
    if not swaps or len(two) != 2 or any(True for _ in _moves(clause)):
        return None
    return two[0], two[1]


def _is_called(clause: Clause) -> bool:
    """ "grace is a star": as likely said in praise."""
    groups = [at for at, item in enumerate(clause.items) if item.kind is Kind.GROUP]
    named = any(at and clause.items[at - 1].keys[-1:] in (("a",), ("an",)) for at in groups)
    return named and not clause.word_set & {"make", "making", "made"}


def _is_dashed(clause: Clause) -> bool:
    """ "mia - g3", with no arrow in it: a list rather than a move."""
    for before, item in pairwise(clause.items):
        if item.kind is Kind.GROUP and before.keys == () and before.text in "-–—":
            return True
    return False


def _is_praise(clause: Clause) -> bool:
    days = any(item.kind is Kind.DAY for item in clause.items)
    told = _WHILE | {"now", "from", "till", "until", "becomes", "become", "starting"}
    return _is_called(clause) and not days and not told & clause.word_set


def _may_be_a_stay(clause: Clause, span: tuple[date | None, date | None]) -> bool:
    """ "put mia in group 2 tomorrow": for that day, or from then on?"""
    words = clause.word_set
    later = span[0] is not None and span[0] > clause.at.date() and span[1] is None
    return (
        later
        and bool(words & {"put", "have", "let", "place", "add", "stick"})
        and not words & _FOR_GOOD
    )


def _asked(
    moves: Sequence[MoveStudent], clause: Clause, span: tuple[date | None, date | None]
) -> Heard:
    roster, today = clause.roster, clause.at.date()
    first = span[0] or today
    stays = [replace(move, first=first, last=span[1] or first) for move in moves]
    for_good = [replace(move, first=first, last=None) for move in moves]
    both = [("From then on" if first > today else "From now on", for_good)]
    both.insert(
        0, (f"Just {first:%a} {first.day} {first:%b}" if first > today else "Just today", stays)
    )
    if span[1] is not None and span[1] != first:
        both = [(YES, stays)]
    options = [
        Option(label, "\n".join(move_in_full(move, roster) for move in meant))
        for label, meant in both
    ]
    ask = Ask("confirm_note", "", (*options, Option(NO, "no")), MoveStudent.name)
    return Heard(asks=[ask])


def _days(clause: Clause) -> tuple[date | None, date | None]:
    """From when to when: "today" alone is a stay of one day, "from monday" is for good, "works with
    them tomorrow" is that day."""
    [span, *_] = spans_said(clause)
    words = clause.word_set
    if "the day" in " ".join(clause.words) and span.first is None:
        return clause.at.date(), clause.at.date()
    for_good = bool(words & (_FOR_GOOD - {"on"})) or "from now on" in " ".join(clause.words)
    if span.first is None:
        return None, span.last
    moves = words & _MOVES and not words & _WHILE
    if span.first != span.last:
        is_week = "next week" in " ".join(clause.words) and span.weekday is None
        return (span.first, None) if moves and is_week else (span.first, _last(clause, span))
    if _last(clause, span) != span.last:
        return span.first, _last(clause, span)
    later = span.first > clause.at.date()
    if for_good and not words & {"only", "just"}:
        return span.first, None
    stays = words & _WHILE or (not later) or (words & _STAYS and not words & {*_ORDERS.split("|")})
    return (span.first, span.last) if stays else (span.first, None)


_MAY = ("can|could|may <who> be|go|sit|work|join|move|switch|rotate|stay|come ... <who>",)


def _hear_may(clause: Clause) -> Heard | None:
    """ "can mia be with group 2 today?": shall that be noted?"""
    moves = [MoveStudent(Who(students=m.students), m.group_id) for m in _moves(clause)]
    if not moves or clause.bins or any(i.kind is Kind.EVERYONE for i in clause.children):
        return None
    return _asked(moves, clause, _days(clause))


ASKED_MOVE = Listener(_MAY, _hear_may, questions_only=True, asks_of="move_student", rank=3)


def _last(clause: Clause, span: Span) -> date | None:
    """The last of days in a row: "today and tomorrow"."""
    last = span.last
    for following in spans_said(clause)[1:]:
        if last is not None and following.first == last + timedelta(days=1):
            last = following.last
    return last


TOLD_MOVE = Listener(_PHRASES, _hear_move, asks_of="move_student", rank=1, apart=True)
TOLD_IN_SHORT = Listener(_IN_SHORT, _hear_move, asks_of="move_student")
