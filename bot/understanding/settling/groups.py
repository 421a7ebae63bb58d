"""Groups: a group word with its number or name, lists and ranges of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.understanding.lexicon import DICTATED_NUMBERS, NUMBER_WORDS
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling.numbers import is_quantity
from bot.understanding.settling.pieces import LINKS, PEOPLE, group_of, joined, number_of
from bot.understanding.vocabulary import Vocabulary

_RANGE = frozenset(("-", "–", "—", "to", "thru", "through"))


def drop_list_marks(row: list[Item]) -> list[Item]:
    """ "1) g4 ramps": the number of a line is no group."""
    out: list[Item] = []
    for at, item in enumerate(row):
        opens = at == 0 or row[at - 1].kind is Kind.BREAK
        before = row[at - 1] if at else None
        numbered = item.text == ")" and before is not None and before.kind is Kind.NUMBER
        if numbered and (at == 1 or row[at - 2].kind is Kind.BREAK):
            out.pop()
            continue
        if not (opens and item.text in ("-", "•")):
            out.append(item)
    return out


def count_all_groups(row: list[Item]) -> list[Item]:
    """ "all 6 groups" is everyone; "all four kids in g3" is group 3, "g3, all 5 of them" too."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        part = row[at + 1] if row[at].keys == ("all",) and at + 1 < len(row) else None
        if part is not None and part.kind is Kind.PARTIAL and part.keys[-1:] == ("of",):
            at += 2
            continue
        number = row[at + 1] if at + 1 < len(row) else None
        counted = row[at].keys == ("all",) and number is not None and number.kind is Kind.NUMBER
        if (
            counted
            and at + 2 < len(row)
            and row[at + 2].keys[-1:] in (("groups",), ("teams",), ("tables",))
        ):
            out.append(joined(row[at : at + 3], Sense(Kind.EVERYONE, word="all")))
            at += 3
        elif counted:
            at += 2
            while (
                at < len(row)
                and row[at].keys
                and row[at].keys[0] in (*PEOPLE, "of", "in", "from", "the")
            ):
                at += 1
        else:
            out.append(row[at])
            at += 1
    return out


def join_groups(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
    """Join a group word with its number or name, and the numbers listed behind it."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        item = row[at]
        if item.can_be(Kind.GROUP_WORD):
            if out and _is_named_group(out[-1]) and _named_before(out, vocabulary):
                at += 1
                continue
            taken, used = _group_after(row, at, vocabulary)
            if taken is not None:
                out.append(taken)
                at += used
                at = _listed(row, at, out, vocabulary)
                continue
            if out and _named_before(out, vocabulary):
                at += 1
                continue
            out.append(_lone_group_word(item))
        elif item.kind is Kind.NUMBER and item.text.startswith("#"):
            out.append(item)
        elif item.text == "#" and at + 1 < len(row) and row[at + 1].kind is Kind.NUMBER:
            out.append(_marked_number(row[at : at + 2], vocabulary))
            at = _listed(row, at + 2, out, vocabulary)
            continue
        else:
            out.append(item)
        at += 1
    return out


def _is_named_group(item: Item) -> bool:
    """ "blue" in "blue table red box": the group word belongs to it."""
    return item.can_be(Kind.GROUP) and len(item.keys) == 1 and not item.can_be(Kind.NUMBER)


def _marked_number(span: Sequence[Item], vocabulary: Vocabulary) -> Item:
    """ "#3": a group, a child's code, or (where both are so numbered) one to be asked."""
    group = group_of(span, number_of(span[1]), vocabulary)
    student_id = vocabulary.student_by_code.get(span[1].keys[0])
    if student_id is None:
        return group
    child = Sense(Kind.STUDENT, ids=(student_id,), word=group.text)
    return replace(group, senses=(*group.senses, child) if group.sense.ids else (child,))


def _group_after(row: list[Item], at: int, vocabulary: Vocabulary) -> tuple[Item | None, int]:
    """The group named right behind a group word: "g3", "group for", "team comets"."""
    ahead = at + 1
    while ahead < len(row) and ahead <= at + 2 and row[ahead].text in ("-", "#", ".", ":", "_"):
        ahead += 1
    if ahead >= len(row):
        return None, 0
    after = row[ahead]
    number = number_of(after)
    if number is None and len(after.keys) == 1:
        key = after.keys[0]
        number = NUMBER_WORDS.get(key)
        spoken = DICTATED_NUMBERS.get(key)
        if number is None and spoken is not None and _spoken_number(row, ahead):
            number = spoken
    if number is not None:
        return group_of(row[at : ahead + 1], number, vocabulary), ahead + 1 - at
    named = after.get(Kind.GROUP)
    if named is not None and row[at].keys != ("g",):
        return joined(row[at : ahead + 1], named), ahead + 1 - at
    return None, 0


def _spoken_number(row: list[Item], at: int) -> bool:
    """Whether "for", "to", "too" behind a group word is a number: something must follow that a
    group does or is at, as in "group for did ramps"."""
    after = row[at + 1] if at + 1 < len(row) else None
    silent = (Kind.UNKNOWN, Kind.CHATTER, Kind.UNIT, Kind.STUDENT, Kind.GROUP, Kind.NUMBER)
    return after is None or after.kind not in silent


def _listed(row: list[Item], at: int, out: list[Item], vocabulary: Vocabulary) -> int:
    """Numbers behind a group belong to it: "groups 1, 2 and 4", "g1-3", "groups 1 2 4"."""
    while at < len(row):
        ahead, link = at, None
        while ahead < len(row) and row[ahead].kind in LINKS:
            link = row[ahead]
            ahead += 1
        is_range = ahead < len(row) and _is_range(row[ahead]) and link is None
        if is_range:
            ahead += 1
            if ahead < len(row) and row[ahead].can_be(Kind.GROUP_WORD):
                ahead += 1
        if ahead >= len(row) or row[ahead].kind is not Kind.NUMBER:
            return at
        if not is_range and is_quantity(row, ahead):
            return at
        last = number_of(row[ahead])
        if is_range:
            first = _number_of(out[-1], vocabulary)
            if first is None or last is None or not first < last <= first + 20:
                return at
            out.extend(
                group_of(row[ahead : ahead + 1], n, vocabulary) for n in range(first + 1, last + 1)
            )
        else:
            out.extend(row[at:ahead])
            out.append(group_of(row[ahead : ahead + 1], last, vocabulary))
        at = ahead + 1
    return at


def _is_range(item: Item) -> bool:
    return item.text in _RANGE or item.keys[:1] in (("to",), ("thru",), ("through",))


def _named_before(out: list[Item], vocabulary: Vocabulary) -> bool:
    """ "red group", "3rd group", "comets table": the group word makes the word before it a
    group."""
    before = out[-1]
    named = before.get(Kind.GROUP)
    if named is not None:
        out[-1] = before.as_(named)
        return True
    ordinal = before.get(Kind.NUMBER)
    if ordinal is None or ordinal.word != "ordinal":
        return False
    at = len(out) - 1
    while at >= 0:
        number = out[at].get(Kind.NUMBER)
        if number is not None and number.word == "ordinal":
            out[at] = group_of([out[at]], number_of(out[at]), vocabulary)
        elif out[at].kind not in LINKS:
            break
        at -= 1
    return True


def _lone_group_word(item: Item) -> Item:
    """A group word that names no group: "my group", "the table"; a single letter is unknown."""
    others = tuple(s for s in item.senses if s.kind is not Kind.GROUP_WORD)
    if others:
        return replace(item, senses=others)
    unknown = len(item.keys[0]) == 1
    return item.as_(Sense(Kind.UNKNOWN if unknown else Kind.GROUP_WORD, word=item.word))


def _number_of(item: Item, vocabulary: Vocabulary) -> int | None:
    value = item.sense.value
    return value if item.kind is Kind.GROUP and isinstance(value, int) else None


def find_owners_groups(row: list[Item], vocabulary: Vocabulary, today: date) -> list[Item]:
    """ "mia's group" is the group Mia is with."""
    out: list[Item] = []
    for item in row:
        owner = out[-1] if out else None
        child = owner.get(Kind.STUDENT) if owner is not None and owner.owned else None
        if owner is not None and child and item.can_be(Kind.GROUP_WORD) and len(child.ids) == 1:
            group_id = vocabulary.roster.group_on(child.ids[0], today)
            ids = () if group_id is None else (group_id,)
            out[-1] = joined((owner, item), Sense(Kind.GROUP, ids=ids, word=item.text))
        else:
            out.append(item)
    return out
