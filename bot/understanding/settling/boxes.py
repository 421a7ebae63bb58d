"""Bins and the boxes they are in; colors that are also children or groups."""

from __future__ import annotations

from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.settling.pieces import LINKS, SUBJECT


def join_box_words(row: list[Item]) -> list[Item]:
    """A bin word settles its neighbour ("red box", "box red", "balance bin") and goes."""
    out: list[Item] = []
    for at, item in enumerate(row):
        listed = bool(out) and out[-1].kind in LINKS
        if not item.can_be(Kind.BIN_WORD) or (item.can_be(Kind.STUDENT) and (listed or not out)):
            out.append(item)
            continue
        if out and out[-1].can_be(Kind.BIN, Kind.COLOR):
            out[-1] = out[-1].only(Kind.BIN, Kind.COLOR)
        elif at + 1 < len(row) and row[at + 1].can_be(Kind.BIN, Kind.COLOR):
            row[at + 1] = row[at + 1].only(Kind.BIN, Kind.COLOR)
        else:
            out.append(item)
    return out


def prefer_bins(row: list[Item]) -> list[Item]:
    """A word that is both a bin and a supply is the bin, where children are logged."""
    out = list(row)
    for at, item in enumerate(row):
        if item.can_be(Kind.SUPPLY) and item.can_be(Kind.BIN):
            out[at] = item.only(Kind.BIN)
    return out


def settle_colors(row: list[Item]) -> list[Item]:
    """A color that is also a child or a group, settled by its neighbours; a color before a thing
    that is no box ("a red car") is no mention."""
    out = list(row)
    for at, item in enumerate(row):
        color = item.get(Kind.COLOR)
        if color is None:
            continue
        after = row[at + 1] if at + 1 < len(row) else None
        thing = after is not None and after.kind in (Kind.CHATTER, Kind.UNKNOWN, Kind.UNIT)
        if not item.can_be(*SUBJECT, Kind.BIN):
            if thing and after is not None and not after.can_be(Kind.DID, Kind.PLAIN):
                out[at] = item.as_(Sense(Kind.CHATTER, word=item.text))
            continue
        out[at] = _who_or_box(out, at)
    return out


def _who_or_box(row: list[Item], at: int) -> Item:
    """A child or group where a bin is still to come, the box where children stand before it."""
    item = row[at]
    boundary = (Kind.BREAK, Kind.STOP, Kind.QUERY)
    before, after = _mentions(row, at, -1, boundary), _mentions(row, at, 1, boundary)
    link = row[at - 1].kind if at else None
    if link in (Kind.EXCEPT, Kind.PLUS, Kind.BUT) or (item.owned and after):
        return item.only(*SUBJECT)
    listed = link in (Kind.AND, Kind.COMMA)
    if (listed or not before) and _leads_to_place(row, at):
        return item.only(*SUBJECT)
    if listed and before and _is_only_who(before[0]) and not (after and _is_only_who(after[0])):
        return item.only(*SUBJECT)
    if listed and before and _is_only_place(before[0]) and any(map(_is_only_who, before)):
        return item.only(Kind.COLOR, Kind.BIN)
    place_near = any(map(_is_only_place, (*before, *after)))
    if before and _is_only_who(before[0]):
        return item if place_near and listed else item.only(Kind.COLOR, Kind.BIN)
    if any(map(_is_only_who, before)) and not place_near:
        return item.only(Kind.COLOR, Kind.BIN)
    if place_near and not (after and _is_only_who(after[0])):
        return item.only(*SUBJECT)
    return _around_verb(row, at, before, after)


def _leads_to_place(row: list[Item], at: int) -> bool:
    """ "blue moon", "blue @ red", "blue did red" behind a link: who it is, then where."""
    ahead = at + 1
    while ahead < len(row) and row[ahead].can_be(Kind.AT, Kind.DID) and not _is_place(row[ahead]):
        ahead += 1
    if ahead >= len(row):
        return False
    said = any(item.text not in ("-", "–", "—") for item in row[at + 1 : ahead])
    return _is_only_place(row[ahead]) or (said and _is_place(row[ahead]))


def _is_place(item: Item) -> bool:
    return item.can_be(Kind.BIN, Kind.COLOR)


def _around_verb(row: list[Item], at: int, before: list[Item], after: list[Item]) -> Item:
    """ "red did blue": before the verb who, behind it where."""
    item = row[at]
    ahead = row[at + 1] if at + 1 < len(row) else None
    if after and not before and ahead is not None and ahead.can_be(Kind.DID):
        return item.only(*SUBJECT)
    verbs = [i for i in row[:at] if i.can_be(Kind.DID)]
    if before and verbs and not after:
        return item.only(Kind.COLOR, Kind.BIN)
    if not after and any(i.can_be(Kind.ASK) for i in row[:at]) and not before:
        return item.only(Kind.COLOR, Kind.BIN)
    in_box = at > 0 and row[at - 1].keys in (("in",), ("the",), ("at",))
    return item.only(Kind.COLOR, Kind.BIN) if in_box and before else item


def _is_only_who(item: Item) -> bool:
    return item.can_be(*SUBJECT) and not item.can_be(Kind.BIN, Kind.COLOR)


def _is_only_place(item: Item) -> bool:
    return item.can_be(Kind.BIN, Kind.COLOR) and not item.can_be(*SUBJECT)


def _mentions(row: list[Item], at: int, step: int, boundary: tuple[Kind, ...]) -> list[Item]:
    found = []
    at += step
    while 0 <= at < len(row) and row[at].kind not in boundary:
        if row[at].can_be(*SUBJECT, Kind.BIN, Kind.COLOR):
            found.append(row[at])
        at += step
    return found
