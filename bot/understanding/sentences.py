"""A text in sentences: where one ends, and which halves belong together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from bot.understanding.segments import is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind, Sense

COMMA = Sense(Kind.COMMA)


def sentences(items: Sequence[Item]) -> Iterator[tuple[Item, ...]]:
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
            joined = [*joined[:-1], replace(joined[-1], text=",", senses=(COMMA,)), *parts[ahead]]
            ahead += 1
        yield tuple(item for item in joined if item.kind not in (Kind.BREAK, Kind.STOP))
        at = ahead


def _continues(part: Sequence[Item], following: Sequence[Item]) -> bool:
    """Whether a part and the one behind it are two halves of one sentence."""
    if part[-1].kind not in (Kind.BREAK, Kind.STOP):
        return False
    if any(item.can_be(Kind.ASK) for item in (*part, *following)):
        return False
    if any(item.can_be(Kind.MISSED) for item in following):
        return False  # "ramps: ava, ben. kai absent"
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
    who = place = told = idle = False  # named in this part so far; and what they did
    for at, item in enumerate(items):
        told_of = _relative_to(items, at)
        if told_of:
            part += (replace(item, text="but", senses=(Sense(Kind.BUT),)), *told_of)
            continue
        linked = bool(part) and part[-1].kind in (Kind.COMMA, Kind.AND)
        following = items[at + 1] if at + 1 < len(items) else None
        opens_question = item.can_be(Kind.ASK) and (
            (linked and (who or place) and not (idle and not place and _asks_where(item)))
            or (who and place and item.keys[0] in ("who", "whos"))
            or (who and place and item.keys[0] in ("where", "wheres", "whats"))
            or (who and place and told and _asks_on(item, following))
        )
        opens_question = opens_question or (linked and who and place and _asks_from(items, at))
        asked = any(i.can_be(Kind.ASK) for i in part[:_EARLY])
        states = place and (
            (linked and asked and _states_from(items, at))
            or (who and not asked and _needs_from(items, at))
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
        so_asks = who and item.keys == ("so",) and _opens_asking(following)
        if opens_question or undoes or states or so_asks:
            yield part
            part, who, place, told, idle = [], False, False, False, False
        part.append(item)
        told = told or (item.can_be(Kind.DID) and not part[0].can_be(Kind.ASK, Kind.AUX))
        idle = idle or bool(_IDLE & set(item.keys))
        who, place = who or is_subject(item), place or is_place(item)
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
            part, who, place, told, idle = [], False, False, False, False
    if part:
        yield part


def _asks_from(items: Sequence[Item], at: int) -> bool:
    """ "g3 balance, did g2 do magnets?": a question from here to its mark."""
    if not items[at].can_be(Kind.AUX) or at + 1 >= len(items) or not is_subject(items[at + 1]):
        return False
    ends = next((i for i in items[at:] if i.kind in (Kind.BREAK, Kind.STOP, Kind.QUERY)), None)
    return ends is not None and ends.kind is Kind.QUERY


def _states_from(items: Sequence[Item], at: int) -> bool:
    """ "who needs ramps and g3 just did balance": a statement from here on."""
    if not is_subject(items[at]):
        return False
    told = [i for i in items[at:] if i.kind not in (Kind.PLAIN, Kind.COMMA, Kind.AND)]
    kinds = [_PLACE if is_place(i) else i.kind for i in told[1:4]]
    return Kind.DID in kinds and _PLACE in kinds[kinds.index(Kind.DID) :]


def _needs_from(items: Sequence[Item], at: int) -> bool:
    """ "g3 did balance and g4 still needs ramps": what is needed, told of from here on."""
    told = [i for i in items[at : at + 4] if i.keys not in (("still",), ("also",))]
    if len(told) < 3 or not is_subject(told[0]) or not is_place(told[2]):
        return False
    return told[1].keys[-1:] in (("needs",), ("need",))


_EARLY = 3  # words within which a question word makes a question
_PLACE = "place"


_ASKS_ON = (("can",), ("could",), ("what",), ("whats",), ("who",), ("where",), ("would",))
_ASKED_OF_WHAT = ("next", "now", "should", "do", "else")
_IDLE = frozenset(("early", "done", "finished", "through", "ready", "free"))


def _opens_asking(item: Item | None) -> bool:
    return item is not None and not is_subject(item) and item.keys[:1] in _ASKS_ON


def _asks_where(item: Item) -> bool:
    return item.keys[:1] in (("where",), ("wheres",), ("what",), ("whats",))


def _asks_on(item: Item, following: Item | None) -> bool:
    """ "g3 did ramps what now"."""
    after = following.keys[:1] if following is not None else ()
    return item.keys == ("what",) and bool(after) and after[0] in _ASKED_OF_WHAT


def _relative_to(items: Sequence[Item], at: int) -> Sequence[Item]:
    """ "g3 ramps except ava who did magnets": no question, but what ava did; who that is."""
    if items[at].keys != ("who",) or at < 2 or at + 1 >= len(items):
        return ()
    outs = [n for n in range(at) if items[n].kind in (Kind.EXCEPT, Kind.BUT)]
    relates = items[at + 1].can_be(Kind.DID, Kind.AUX, Kind.MISSED)
    end = at - (items[at - 1].kind is Kind.COMMA)
    if not outs or not relates or items[end - 1].kind is not Kind.STUDENT:
        return ()
    listed = items[outs[-1] + 1 : end]
    only = all(i.kind in (Kind.STUDENT, Kind.AND, Kind.COMMA) for i in listed)
    return listed if only else items[end - 1 : end]


def _is_abbreviation(items: Sequence[Item], at: int) -> bool:
    """A dot glued between two things ("g.3", "2.5") ends nothing."""
    item = items[at]
    return item.glued and at + 1 < len(items) and items[at + 1].glued
