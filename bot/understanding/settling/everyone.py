"""Everyone, everyone in a group, everyone but."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling.pieces import LINKS, PEOPLE, SUBJECT, joined, number_of
from bot.understanding.vocabulary import Vocabulary

_OF = frozenset(("of", "in", "from"))


# "put mia in group 4" does not speak of the Mia who is in it.
_SENDS = frozenset(
    ("put", "place", "move", "stick", "switch", "seat", "add", "have", "like", "want", "let")
)


def narrow_by_group(row: list[Item], vocabulary: Vocabulary, today: date) -> list[Item]:
    out: list[Item] = []
    at = 0
    while at < len(row):
        item = row[at]
        group = row[at + 2] if at + 2 < len(row) else None
        links = at + 1 < len(row) and row[at + 1].keys in (("of",), ("in",), ("from",), ("at",))
        if links and group is not None and group.keys == ("the",) and at + 3 < len(row):
            row = [*row[: at + 2], *row[at + 3 :]]
            group = row[at + 2]
        sends = _is_sent(row, at)
        if (
            group is not None
            and links
            and group.kind is Kind.GROUP
            and group.sense.ids
            and not sends
        ):
            narrowed = _narrow(item, group, vocabulary, today)
            if narrowed is not None:
                out.append(narrowed)
                at += 3
                continue
        if item.kind is Kind.EVERYONE and at + 1 < len(row) and row[at + 1].kind is Kind.GROUP:
            at += 1  # "all group 3": the group
            continue
        out.append(item)
        at += 1
    return out


def _is_sent(row: Sequence[Item], at: int) -> bool:
    """Whether a word for sending stands before a child and those listed with it."""
    while at > 0 and (row[at - 1].kind in (*SUBJECT, *LINKS) or row[at - 1].can_be(Kind.STUDENT)):
        at -= 1
    return at > 0 and bool(row[at - 1].keys[-1:]) and row[at - 1].keys[-1] in _SENDS


def _narrow(item: Item, group: Item, vocabulary: Vocabulary, today: date) -> Item | None:
    if item.kind is Kind.EVERYONE:
        return joined((item, group), group.sense)
    if item.kind is Kind.REST:
        rest = replace(group.sense, word="rest", value=item.sense.value)
        return joined((item, group), rest)
    child = item.get(Kind.STUDENT)
    if child is None:
        return None
    members = {s.id for s in vocabulary.roster.members_of(group.sense.ids[0], today)}
    ids = tuple(i for i in child.ids if i in members)
    return joined((item, group), replace(child, ids=ids or child.ids))


def drop_rest_of_time(row: list[Item]) -> list[Item]:
    """ "the rest of the week" is no children."""
    out = list(row)
    for at, item in enumerate(row):
        behind = row[at + 1 : at + 4]
        timed = _TIME_LEFT & {key for other in behind for key in other.keys}
        if item.kind is Kind.REST and timed and behind[0].keys == ("of",):
            out[at] = item.as_(Sense(Kind.PLAIN, word=item.text))
    return out


_TIME_LEFT = frozenset((
    "week", "day", "month", "year", "morning", "afternoon", "today", "time", "rotation", "weeks",
))  # fmt: skip


def find_everyone(row: list[Item]) -> list[Item]:
    """ "all" is everyone where nobody else is named: "all did ramps", "all but mia"."""
    out = list(row)
    for at, item in enumerate(row):
        after = row[at + 1] if at + 1 < len(row) else None
        before = row[at - 1] if at else None
        if item.keys == ("class",) and before is not None and before.keys == ("the",):
            if after is not None and after.can_be(Kind.DID):
                out[at] = item.as_(Sense(Kind.EVERYONE, word="the class"))
            continue
        if item.keys != ("all",) or after is None or _has_subject_before(row, at):
            continue
        opens = before is None or before.kind in (Kind.BREAK, Kind.STOP, Kind.COMMA)
        leaves_out = after.kind in (Kind.EXCEPT, Kind.BUT)
        named = before is not None and before.kind in (*SUBJECT, Kind.BIN, Kind.COLOR)
        if (leaves_out and not (before is not None and before.kind in SUBJECT)) or (
            opens and not named and after.can_be(Kind.DID, Kind.BIN, Kind.COLOR)
        ):
            out[at] = item.as_(Sense(Kind.EVERYONE, word="all"))
    return out


def _has_subject_before(row: Sequence[Item], at: int) -> bool:
    """Whether children were named earlier in the sentence: "g3 did balance, all finished"."""
    for item in reversed(row[:at]):
        if item.kind in (Kind.BREAK, Kind.STOP):
            return False
        if item.kind in SUBJECT:
            return True
    return False


def find_other_few(row: list[Item]) -> list[Item]:
    """ "the other two", "other 3 kids": the rest, and how many they are to be."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        number = row[at + 1] if at + 1 < len(row) else None
        after = row[at + 2] if at + 2 < len(row) else None
        if row[at].keys != ("other",) or number is None or not number.can_be(Kind.NUMBER):
            out.append(row[at])
            at += 1
            continue
        people = after is not None and after.keys[-1:] and after.keys[-1] in PEOPLE
        others = after is not None and after.can_be(Kind.UNIT, Kind.GROUP_WORD, Kind.BIN_WORD)
        if others and not people:
            out.append(row[at])
            at += 1
            continue
        if out and out[-1].keys == ("the",):
            out.pop()
        width = 3 if people else 2
        rest = Sense(Kind.REST, word="the other", value=number_of(number))
        out.append(joined(row[at : at + width], rest))
        at += width
    return out


def find_deadlines(row: list[Item]) -> list[Item]:
    """ "g3 does ramps by friday" is still to come."""
    out = list(row)
    for at in range(len(row) - 1):
        if row[at].keys == ("by",) and row[at + 1].kind is Kind.DAY:
            out[at] = row[at].as_(Sense(Kind.FUTURE, word="by"))
    return out


def count_present(row: list[Item], vocabulary: Vocabulary, today: date) -> list[Item]:
    """ "g3 ramps 4/5" where the group has five is no date: all but one of them."""
    sizes = {
        len(vocabulary.roster.members_of(i.sense.ids[0], today))
        for i in row
        if i.kind is Kind.GROUP and i.sense.ids
    }
    named = any(item.kind is Kind.STUDENT for item in row)
    out = list(row)
    for at, item in enumerate(row):
        present, slash, size = item.text.replace(" ", "").partition("/")
        counts = item.kind is Kind.DAY and slash and present.isdecimal() and size.isdecimal()
        if counts and int(size) in sizes and int(present) <= int(size):
            all_told = named or present == size
            out[at] = item.as_(Sense(Kind.PLAIN if all_told else Kind.PARTIAL, word="count"))
    return out


def find_minus(row: list[Item]) -> list[Item]:
    """ "g3-mia" leaves Mia out."""
    out = list(row)
    for at in range(1, len(row) - 1):
        item, before, after = row[at], row[at - 1], row[at + 1]
        glued = item.glued and after.glued
        if item.text == "-" and glued and before.kind is Kind.GROUP and after.kind is Kind.STUDENT:
            out[at] = item.as_(Sense(Kind.EXCEPT, word="minus"))
    return out
