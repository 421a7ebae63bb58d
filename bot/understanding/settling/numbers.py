"""Numbers: groups, codes of children, or counts of something else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import time

from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling.pieces import LINKS, PEOPLE, SUBJECT, group_of, joined, number_of
from bot.understanding.times import read_time
from bot.understanding.vocabulary import Vocabulary


def is_quantity(row: Sequence[Item], at: int) -> bool:
    """Whether a number counts things: "3 kids", "2 counters", "5 = 3 + 2", "2.5"."""
    after = row[at + 1] if at + 1 < len(row) else None
    before = row[at - 1] if at else None
    if after is not None and (
        (after.can_be(Kind.UNIT, Kind.SUPPLY) and not after.can_be(Kind.BIN))
        or after.text in ("=", "%", "x", "×", "*")
        or (after.text == "." and after.glued and at + 2 < len(row) and row[at + 2].glued)
    ):
        return True
    made = before is not None and before.keys[-1:] in (("made",), ("built",), ("sorted",))
    if made and at > 1 and row[at - 2].can_be(*SUBJECT):
        return True  # "rose made 3 bird feeders"
    multiplies = before is not None and before.text == "*" and at > 1
    return multiplies or (before is not None and before.text in ("=", "$", "×", "~"))


def join_quantities(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
    """ "3 kids from group 2" is a part of a group; other counted things are no mention at all."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        width = _part_of_group(row, at)
        shares = [i.keys[:2] for i in row[at : at + 3]]
        if row[at].kind is Kind.NUMBER and shares[1:2] == [("out", "of")] and len(shares) > 2:
            out.append(joined(row[at : at + 3], Sense(Kind.PARTIAL, word="some")))  # "2 out of 4"
            width = 3
        elif not vocabulary.group_by_number and _counts_group(row, at):
            out.append(row[at].as_(Sense(Kind.PARTIAL, word="some")))  # "two greens did ramps"
        elif width:
            out.append(joined(row[at : at + width], Sense(Kind.PARTIAL, word="some")))
        elif row[at].kind is Kind.NUMBER and is_quantity(row, at):
            width = min(2, len(row) - at)
            out.append(joined(row[at : at + width], Sense(_kind_of_count(row, at), word="count")))
        else:
            out.append(row[at])
        at += max(1, width)
    return out


def _counts_group(row: Sequence[Item], at: int) -> bool:
    after = row[at + 1] if at + 1 < len(row) else None
    number = row[at].kind is Kind.NUMBER and row[at].sense.word != "ordinal"
    return number and after is not None and after.kind is Kind.GROUP


def _kind_of_count(row: Sequence[Item], at: int) -> Kind:
    """People counted are a part of somebody, unless their group was named before."""
    after = row[at + 1] if at + 1 < len(row) else None
    people = after is not None and _is_people(after)
    grouped = any(other.kind is Kind.GROUP for other in row[:at])
    return Kind.PARTIAL if people and not grouped else Kind.UNIT


def _part_of_group(row: Sequence[Item], at: int) -> int:
    """How many items of "2 freinds of g3", "3 kids from", "threee from g3" stand here before the
    group; 0 if it is no such part."""
    counted = row[at].kind is Kind.NUMBER
    width = 2 if counted and at + 1 < len(row) and _may_count(row[at + 1]) else 1
    link, group = row[at + width : at + width + 1], row[at + width + 1 : at + width + 2]
    if not link or link[0].keys not in (("of",), ("from",), ("in",)):
        return 0
    if not group or not (group[0].kind is Kind.GROUP or group[0].can_be(Kind.NUMBER)):
        return 0
    return width if counted or row[at].kind is Kind.UNKNOWN else 0


def _is_people(item: Item) -> bool:
    return any(word in PEOPLE for word in (*item.keys[:1], item.sense.word))


def _may_count(item: Item) -> bool:
    return item.kind is Kind.UNKNOWN or _is_people(item)


def read_bare_numbers(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
    """A bare number is a group, a child's code, or both; what is near settles it, else it is
    asked."""
    out = list(row)
    for at, item in enumerate(row):
        if item.kind is not Kind.NUMBER:
            continue
        value = number_of(item)
        moment = _clock_time(item.keys[0], vocabulary)
        if moment is not None and item.sense.word == "number":
            out[at] = item.as_(Sense(Kind.TIME, value=moment))
            continue
        senses: list[Sense] = []
        group_id = vocabulary.group_by_number.get(value) if value is not None else None
        if group_id is not None and item.sense.word != "ordinal":
            senses.append(Sense(Kind.GROUP, ids=(group_id,), word=str(value), value=value))
        code = str(value) if item.sense.word == "word" else item.keys[0]
        student_id = vocabulary.student_by_code.get(code)
        if student_id is not None:
            senses.append(Sense(Kind.STUDENT, ids=(student_id,), word=item.text))
        if len(senses) == 2 and item.sense.word == "number" and item.keys[0] != str(value):
            senses = senses[1:]  # "07" is written like a code
        if senses:
            out[at] = replace(item, senses=(*senses, *item.senses))
    return _ranges(_lists_agree(out), vocabulary)


def _clock_time(digits: str, vocabulary: Vocabulary) -> time | None:
    """ "930", "1015": a rotation's start written without its colon."""
    if len(digits) not in (3, 4) or digits in vocabulary.student_by_code:
        return None
    moment = read_time(f"{digits[:-2]}:{digits[-2:]}")
    starts = {rotation.starts for rotation in vocabulary.roster.rotations}
    return moment if moment in starts else None


_COUNTED_PLACES = frozenset((
    "room", "rooms", "page", "pages", "grade", "chapter", "day", "period", "bus", "lesson",
    "unit", "week", "version", "step", "level", "floor", "problem", "number", "question",
    "line", "row", "part", "door", "hall", "locker",
))  # fmt: skip


def drop_lonely_numbers(row: list[Item]) -> list[Item]:
    """A bare number means children only where it touches a bin or a list of children."""
    out = list(row)
    for at, item in enumerate(row):
        is_bare = item.can_be(Kind.NUMBER) and item.can_be(Kind.GROUP, Kind.STUDENT)
        if is_bare and (_belongs_elsewhere(row, at) or not _touches_children_or_bin(row, at)):
            out[at] = item.as_(Sense(Kind.UNIT, word=item.word))
    return out


def _belongs_elsewhere(row: Sequence[Item], at: int) -> bool:
    """ "room 3", "done 4 g3" (for), "the seed 1" (one)."""
    before = row[at - 1] if at else None
    after = row[at + 1] if at + 1 < len(row) else None
    if before is None:
        return False
    if before.keys[-1:] and before.keys[-1] in _COUNTED_PLACES:
        return True
    explicit = after is not None and after.kind is Kind.GROUP and not after.can_be(Kind.NUMBER)
    touched = _touching(row, at, -1)
    if explicit and touched is not None and touched.can_be(Kind.BIN, Kind.DID):
        return True
    is_place = before.can_be(Kind.BIN, Kind.COLOR)
    return _is_one(row[at]) and is_place and at > 1 and row[at - 2].keys == ("the",)


def _is_one(item: Item) -> bool:
    """A 1, which dictation writes for "one"."""
    return item.keys == ("1",)


def _touches_children_or_bin(row: Sequence[Item], at: int) -> bool:
    if at and row[at - 1].text == "*":
        return True  # "*4" puts right a typo
    before, after = _touching(row, at, -1), _touching(row, at, 1)
    beside = (*SUBJECT, Kind.BIN, Kind.COLOR, Kind.EXCEPT, Kind.PLUS, Kind.NOT, Kind.BUT)
    if any(near is not None and near.can_be(*beside) for near in (before, after)):
        return True
    if after is not None and after.can_be(Kind.DID, Kind.NOT, Kind.MISSED, Kind.STARTED):
        return True
    alone = len([i for i in row if i.kind not in (Kind.PLAIN, Kind.MARK)]) <= 2
    return alone or (before is not None and before.can_be(Kind.KEY))


def _touching(row: Sequence[Item], at: int, step: int) -> Item | None:
    """The next item that means something, over links, prepositions and fillers."""
    at += step
    while 0 <= at < len(row):
        item = row[at]
        over = item.kind in (
            *LINKS,
            Kind.OR,
            Kind.AT,
            Kind.PLAIN,
            Kind.MARK,
            Kind.COLON,
            Kind.GROUP_WORD,
        )
        if not over:
            return item
        at += step
    return None


def _lists_agree(row: list[Item]) -> list[Item]:
    """A number listed with a group that is named as such is a group."""
    out = list(row)
    for at, item in enumerate(row):
        if not (item.can_be(Kind.GROUP) and item.can_be(Kind.STUDENT)):
            continue
        for near in (*_list_neighbours(row, at, -1), *_list_neighbours(row, at, 1)):
            kinds = {kind for kind in (Kind.GROUP, Kind.STUDENT) if near.can_be(kind)}
            if kinds == {Kind.GROUP}:
                out[at] = item.only(Kind.GROUP)
                break
    return out


def _list_neighbours(row: Sequence[Item], at: int, step: int) -> list[Item]:
    found = []
    at += step
    while 0 <= at < len(row) and (row[at].kind in LINKS or row[at].can_be(*SUBJECT)):
        if row[at].can_be(*SUBJECT):
            found.append(row[at])
        at += step
    return found


def _ranges(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
    """ "1-3 ramps": a range of bare group numbers."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        item = row[at]
        first, last = item.sense.value, row[at + 2].sense.value if at + 2 < len(row) else None
        if (
            item.kind is Kind.GROUP
            and isinstance(first, int)
            and isinstance(last, int)
            and row[at + 1].text in ("-", "–", "—")
            and row[at + 2].can_be(Kind.GROUP)
            and first < last <= first + 20
        ):
            out.extend(group_of([row[at]], n, vocabulary) for n in range(first, last + 1))
            at += 3
        else:
            out.append(item)
            at += 1
    return out
