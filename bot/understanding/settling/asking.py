"""Asking nicely, and orders to write something down."""

from __future__ import annotations

from collections.abc import Sequence

from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling.pieces import SUBJECT

_PLEASE = frozenset(("can", "could", "would", "will", "pls", "please"))


_RECORDS = frozenset((
    "log", "mark", "record", "note", "put", "add", "write", "tick", "check", "credit", "give",
    "count", "enter", "update", "save", "track", "jot", "cross", "register", "show",
))  # fmt: skip


def take_orders(row: list[Item]) -> list[Item]:
    """ "can you please mark g3 for balance?" tells, it does not ask."""
    keys = [key for item in row for key in item.keys]
    for at, key in enumerate(keys[:8]):
        if key in ("you", "u", "ya") and at and keys[at - 1] in _PLEASE:
            ahead = [k for k in keys[at + 1 : at + 4] if k not in ("please", "pls", "just", "also")]
            if ahead and ahead[0] in _RECORDS:
                return _without_asking(row)
        if (
            key in ("you", "u")
            and keys[at + 1 : at + 2] == ["can"]
            and set(keys[at + 2 : at + 4]) & _RECORDS
        ):
            return _without_asking(row)
    return row


def _without_asking(row: list[Item]) -> list[Item]:
    out = []
    told = False
    for item in row:
        if item.kind is Kind.QUERY:
            continue
        if not told and any(key in _PLEASE or key in ("you", "u", "can") for key in item.keys):
            item = item.as_(Sense(Kind.PLAIN, word=item.word))
        elif not told and item.keys[:1] and item.keys[0] in _RECORDS:
            item, told = item.as_(Sense(Kind.DID, word=item.word)), True
        out.append(item)
    return out


def take_records(row: list[Item]) -> list[Item]:
    """ "put mia down for balance", "mark magnets for owls" record; "put mia at balance" sends."""
    out = list(row)
    for at, item in enumerate(row):
        ahead = [key for other in row[at + 1 : at + 7] for key in other.keys]
        opens = all(other.kind in (Kind.PLAIN, Kind.MARK) for other in row[:at])
        records = item.keys in (("put",), ("mark",), ("write",), ("jot",))
        told = item.keys == ("mark",) and opens and (_for_somebody(row, at) or _as_away(row, at))
        if records and ("down" in ahead or told):
            out[at] = item.as_(Sense(Kind.DID, word=item.word))
    return out


def _as_away(row: Sequence[Item], at: int) -> bool:
    """ "mark ava absent", "mark ava and ben out": an order, no child called Mark."""
    names = False
    for item in row[at + 1 :]:
        if item.can_be(*SUBJECT):
            names = True
        elif item.keys[:1] in _AWAY:
            return names
        elif item.kind not in (Kind.AND, Kind.COMMA) or not names:
            return False
    return False


_AWAY = (("absent",), ("out",), ("away",), ("sick",), ("late",), ("tardy",), ("here",), ("gone",))


def _for_somebody(row: Sequence[Item], at: int) -> bool:
    """ "mark" as an order: a bin "for" children, or children "for", "as", "done" something."""
    rest = [other for other in row[at + 1 :] if other.keys != ("the",)]
    keys = [key for other in rest for key in other.keys]
    if not rest or not {"for", "as", "done"} & set(keys):
        return False
    return rest[0].kind in (*SUBJECT, Kind.BIN, Kind.COLOR) and not rest[0].can_be(Kind.DID)
