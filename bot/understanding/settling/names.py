"""Names in the plural, of grown-ups, and names that are common words."""

from __future__ import annotations

from collections.abc import Sequence

from bot.understanding.senses import How, Item, Kind, Sense
from bot.understanding.settling.pieces import SUBJECT, joined


def settle_plurals(row: list[Item]) -> list[Item]:
    """ "anas done" is Ana's; "roses are red" are flowers; "3 sofias" are some of the Sofias."""
    out: list[Item] = []
    for at, item in enumerate(row):
        child = item.get(Kind.STUDENT)
        after = row[at + 1] if at + 1 < len(row) else None
        if (
            child is not None
            and child.how is How.PART
            and item.keys[-1].endswith("s")
            and not item.owned
        ):
            several = len(child.ids) > 1
            plural = after is not None and after.keys[:1] in (("are",), ("were",), ("have",))
            if plural and not several:
                item = item.as_(Sense(Kind.CHATTER, word=item.text))
            elif several and out and out[-1].can_be(Kind.NUMBER):
                out.pop()
        out.append(item)
    return out


def drop_places_like_names(row: list[Item]) -> list[Item]:
    """ "in art we used red": nobody is in a child."""
    out = list(row)
    for at, item in enumerate(row):
        if at and row[at - 1].keys == ("in",) and item.kind is Kind.STUDENT and not item.owned:
            out[at] = item.as_(Sense(Kind.UNKNOWN, word=item.text))
    return out


_TITLES = frozenset(("ms", "mrs", "mr", "miss", "coach", "nurse", "principal", "dr"))


def join_titles(row: list[Item]) -> list[Item]:
    """ "ms grace" is a grown-up, whoever else is called Grace."""
    out: list[Item] = []
    for item in row:
        titled = out and out[-1].keys and out[-1].keys[-1] in _TITLES
        if titled and item.can_be(Kind.STUDENT, Kind.UNKNOWN) and not item.owned:
            along = len(out) > 1 and out[-2].can_be(Kind.PLUS)
            kind = Kind.PLAIN if along else Kind.UNKNOWN
            out[-1] = joined((out[-1], item), Sense(kind, word=item.text))
            if along:
                out[-2] = out[-2].as_(Sense(Kind.PLAIN, word=out[-2].word))
        else:
            out.append(item)
    return out


def settle_common_words(row: list[Item]) -> list[Item]:
    """ "will did ramps" and "g3 will do ramps": settled by the neighbours where they settle it."""
    out = list(row)
    for at, item in enumerate(row):
        if item.can_be(Kind.STUDENT) and item.can_be(*_ORDINARY):
            before = _near(out, at, -1)
            after = _near(row, at, 1)
            if _reads_as_name(item, before, after, is_first=at == 0):
                out[at] = item.only(Kind.STUDENT)
            elif _reads_as_word(item, before, after):
                out[at] = item.only(*_ORDINARY)
    return out


_ORDINARY = tuple(
    kind
    for kind in Kind
    if kind not in (Kind.STUDENT, Kind.GROUP, Kind.COLOR, Kind.BIN, Kind.UNKNOWN, Kind.NUMBER)
)


def _near(row: Sequence[Item], at: int, step: int) -> Item | None:
    at += step
    return row[at] if 0 <= at < len(row) else None


def _reads_as_name(item: Item, before: Item | None, after: Item | None, *, is_first: bool) -> bool:
    capital = item.text[:1].isupper() and not item.text.isupper()
    quiet = (Kind.BREAK, Kind.STOP, Kind.COMMA, Kind.COLON, Kind.PLAIN, Kind.MARK)
    opens = before is None or before.kind in quiet
    if item.owned or (capital and not opens and not is_first):
        return True
    if before is not None and before.kind in (Kind.EXCEPT, Kind.PLUS, Kind.NOT, Kind.WHOLE):
        return True
    if before is not None and before.kind is Kind.AND and after is None:
        return True
    if _is_listed(before, after):
        return True
    if after is not None and after.kind is Kind.AND and opens:
        return True
    if (
        before is not None
        and before.kind is Kind.AND
        and after is not None
        and after.keys == ("all",)
    ):
        return True
    joined = before is not None and before.kind in (Kind.AND, Kind.COMMA)
    if after is None:
        return before is not None and before.kind in (Kind.COMMA, Kind.AND)
    if after.kind is Kind.AND and (opens or joined):
        return True
    verb_next = after.can_be(Kind.DID, Kind.MISSED, Kind.STARTED) or after.word in _FINITE
    if (opens or joined) and verb_next:
        return True
    return (opens or joined) and after.can_be(Kind.BIN, Kind.COLOR, Kind.AT, Kind.COMMA, Kind.PLUS)


def _is_listed(before: Item | None, after: Item | None) -> bool:
    """ "ana hope and ben", "ana and hope today", "ana hope absent": behind a child's name, or an
    "and", what no verb can be."""
    if before is None or after is None:
        return False
    if before.kind is Kind.AND:
        return after.kind in (Kind.DAY, Kind.TIME) or after.keys[:1] in _BEING
    if before.kind is not Kind.STUDENT or before.owned:
        return False
    return after.kind in (Kind.AND, Kind.COMMA, Kind.DAY) or after.keys[:1] in _BEING


_BEING = (
    ("are",), ("r",), ("both",), ("out",), ("absent",), ("gone",), ("away",), ("sick",), ("were",),
    ("arent",), ("all",), ("late",), ("missing",), ("home",), ("this",),
)  # fmt: skip
_FINITE = frozenset(("has", "is", "was", "needs", "did", "had", "didnt", "hasnt", "wasnt", "isnt"))


def _reads_as_word(item: Item, before: Item | None, after: Item | None) -> bool:
    is_modal = item.can_be(Kind.FUTURE, Kind.IF) and not item.can_be(Kind.DID)
    if is_modal and before is not None and before.can_be(*SUBJECT):
        return True
    if is_modal and before is not None and before.keys[-1:] and before.keys[-1] in _PRONOUNS:
        return True
    return is_modal and after is not None and after.can_be(*SUBJECT) and not item.text[:1].isupper()


_PRONOUNS = frozenset(("i", "we", "you", "u", "they", "he", "she", "it", "there", "that", "who"))
_VERBISH = (Kind.DID, Kind.AT, Kind.AUX, Kind.MISSED, Kind.NOT, Kind.STARTED)
