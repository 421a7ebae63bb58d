"""Settling items by where they stand: numbers, group words, colors, names that are common words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.understanding.lexicon import DICTATED_NUMBERS, NUMBER_WORDS
from bot.understanding.senses import How, Item, Kind, Sense
from bot.understanding.vocabulary import Vocabulary

_RANGE = frozenset(("-", "–", "—", "to", "thru", "through"))
_LINKS = (Kind.COMMA, Kind.AND, Kind.PLUS)
_SUBJECT = (Kind.GROUP, Kind.STUDENT, Kind.EVERYONE, Kind.REST)
_VERBISH = (Kind.DID, Kind.AT, Kind.AUX, Kind.MISSED, Kind.NOT, Kind.STARTED)
_OF = frozenset(("of", "in", "from"))


def settle(items: Sequence[Item], vocabulary: Vocabulary, today: date) -> tuple[Item, ...]:
    """Decide, pass by pass, what context decides; what it does not stays ambiguous."""
    row = _list_marks(_polite(list(items)))
    row = _groups(_all_groups(row), vocabulary)
    row = _boxes(_of_owner(row, vocabulary, today))
    row = _lonely_numbers(_bare_numbers(_quantities(_supplies(row)), vocabulary))
    row = _common_words(_titles(_put_down(_not_in_a_child(_plurals(row)))))
    return tuple(_minus(_colors(_everyone(_qualified(row, vocabulary, today)))))


# Asking nicely

_PLEASE = frozenset(("can", "could", "would", "will", "pls", "please"))
_RECORDS = frozenset(
    """log mark record note put add write tick check credit give count enter update save track jot cross
    register show""".split()
)


def _polite(row: list[Item]) -> list[Item]:
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


# Marks that number a list


def _list_marks(row: list[Item]) -> list[Item]:
    """ "1) g4 ramps": the number of a line is no group."""
    out: list[Item] = []
    for at, item in enumerate(row):
        opens = at == 0 or row[at - 1].kind is Kind.BREAK
        before = row[at - 1] if at else None
        if item.text == ")" and before is not None and before.kind is Kind.NUMBER:
            if at == 1 or row[at - 2].kind is Kind.BREAK:
                out.pop()
                continue
        if not (opens and item.text in ("-", "•")):
            out.append(item)
    return out


# Groups


def _all_groups(row: list[Item]) -> list[Item]:
    """ "all 6 groups" is everyone; "all four kids in g3" is group 3."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        number = row[at + 1] if at + 1 < len(row) else None
        counted = row[at].keys == ("all",) and number is not None and number.kind is Kind.NUMBER
        if (
            counted
            and at + 2 < len(row)
            and row[at + 2].keys[-1:] in (("groups",), ("teams",), ("tables",))
        ):
            out.append(_joined(row[at : at + 3], Sense(Kind.EVERYONE, word="all")))
            at += 3
        elif counted:
            at += 2
            while (
                at < len(row)
                and row[at].keys
                and row[at].keys[0] in (*_PEOPLE, "of", "in", "from", "the")
            ):
                at += 1
        else:
            out.append(row[at])
            at += 1
    return out


def _groups(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
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
    group = _group_of(span, _value(span[1]), vocabulary)
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
    number = _value(after)
    if number is None and len(after.keys) == 1:
        key = after.keys[0]
        number = NUMBER_WORDS.get(key)
        spoken = DICTATED_NUMBERS.get(key)
        if number is None and spoken is not None and _spoken_number(row, ahead):
            number = spoken
    if number is not None:
        return _group_of(row[at : ahead + 1], number, vocabulary), ahead + 1 - at
    named = after.get(Kind.GROUP)
    if named is not None and row[at].keys != ("g",):
        return _joined(row[at : ahead + 1], named), ahead + 1 - at
    return None, 0


def _spoken_number(row: list[Item], at: int) -> bool:
    """Whether "for", "to", "too" behind a group word is a number: something must follow that a
    group does or is at, as in "group for did ramps"."""
    after = row[at + 1] if at + 1 < len(row) else None
    silent = (Kind.UNKNOWN, Kind.CHATTER, Kind.UNIT, Kind.STUDENT, Kind.GROUP)
    return after is None or after.kind not in silent


def _listed(row: list[Item], at: int, out: list[Item], vocabulary: Vocabulary) -> int:
    """Numbers behind a group belong to it: "groups 1, 2 and 4", "g1-3", "groups 1 2 4"."""
    while at < len(row):
        ahead, link = at, None
        while ahead < len(row) and row[ahead].kind in _LINKS:
            link = row[ahead]
            ahead += 1
        is_range = ahead < len(row) and _is_range(row[ahead]) and link is None
        if is_range:
            ahead += 1
            if ahead < len(row) and row[ahead].can_be(Kind.GROUP_WORD):
                ahead += 1
        if ahead >= len(row) or row[ahead].kind is not Kind.NUMBER:
            return at
        if not is_range and (
            _is_quantity(row, ahead) or (link is None and _starts_pair(row, ahead))
        ):
            return at
        last = _value(row[ahead])
        if is_range:
            first = _number_of(out[-1], vocabulary)
            if first is None or last is None or not first < last <= first + 20:
                return at
            out.extend(
                _group_of(row[ahead : ahead + 1], n, vocabulary) for n in range(first + 1, last + 1)
            )
        else:
            out.extend(row[at:ahead])
            out.append(_group_of(row[ahead : ahead + 1], last, vocabulary))
        at = ahead + 1
    return at


def _starts_pair(row: list[Item], at: int) -> bool:
    """A number right behind a group and before a clock-like or counted thing is no group."""
    return False


def _is_range(item: Item) -> bool:
    return item.text in _RANGE or item.keys[:1] in (("to",), ("thru",), ("through",))


def _named_before(out: list[Item], vocabulary: Vocabulary) -> bool:
    """ "red group", "3rd group", "comets table": the group word makes the word before it a group."""
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
            out[at] = _group_of([out[at]], _value(out[at]), vocabulary)
        elif out[at].kind not in _LINKS:
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


def _group_of(span: Sequence[Item], number: int | None, vocabulary: Vocabulary) -> Item:
    group_id = vocabulary.group_by_number.get(number) if number is not None else None
    ids = () if group_id is None else (group_id,)
    return _joined(span, Sense(Kind.GROUP, ids=ids, word=str(number), value=number))


def _joined(span: Sequence[Item], sense: Sense) -> Item:
    text = " ".join(item.text for item in span)
    keys = tuple(key for item in span for key in item.keys)
    return Item(text, span[0].start, span[-1].end, (sense,), keys, span[-1].owned)


def _value(item: Item) -> int | None:
    sense = item.get(Kind.NUMBER)
    return sense.value if sense is not None and isinstance(sense.value, int) else None


def _number_of(item: Item, vocabulary: Vocabulary) -> int | None:
    value = item.sense.value
    return value if item.kind is Kind.GROUP and isinstance(value, int) else None


def _of_owner(row: list[Item], vocabulary: Vocabulary, today: date) -> list[Item]:
    """ "mia's group" is the group Mia is with."""
    out: list[Item] = []
    for item in row:
        owner = out[-1] if out else None
        child = owner.get(Kind.STUDENT) if owner is not None and owner.owned else None
        if owner is not None and child and item.can_be(Kind.GROUP_WORD) and len(child.ids) == 1:
            group_id = vocabulary.roster.group_on(child.ids[0], today)
            ids = () if group_id is None else (group_id,)
            out[-1] = _joined((owner, item), Sense(Kind.GROUP, ids=ids, word=item.text))
        else:
            out.append(item)
    return out


# Colors and boxes


def _boxes(row: list[Item]) -> list[Item]:
    """A bin word settles its neighbour ("red box", "box red", "balance bin") and goes."""
    out: list[Item] = []
    for at, item in enumerate(row):
        listed = bool(out) and out[-1].kind in _LINKS
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


def _supplies(row: list[Item]) -> list[Item]:
    """A word that is both a bin and a supply is the bin, where children are logged."""
    out = list(row)
    for at, item in enumerate(row):
        if item.can_be(Kind.SUPPLY) and item.can_be(Kind.BIN):
            out[at] = item.only(Kind.BIN)
    return out


# Numbers


def _is_quantity(row: Sequence[Item], at: int) -> bool:
    """Whether a number counts things: "3 kids", "2 counters", "5 = 3 + 2", "2.5"."""
    after = row[at + 1] if at + 1 < len(row) else None
    before = row[at - 1] if at else None
    if after is not None and (
        (after.can_be(Kind.UNIT, Kind.SUPPLY) and not after.can_be(Kind.BIN))
        or after.text in ("=", "%", "x", "×", "*")
        or (after.text == "." and after.glued and at + 2 < len(row) and row[at + 2].glued)
    ):
        return True
    return before is not None and before.text in ("=", "$", "×", "*", "~")


def _quantities(row: list[Item]) -> list[Item]:
    """ "3 kids from group 2" is a part of a group; other counted things are no mention at all."""
    out: list[Item] = []
    at = 0
    while at < len(row):
        item = row[at]
        if item.kind is Kind.NUMBER and _is_quantity(row, at):
            if at + 1 == len(row):
                out.append(item.as_(Sense(Kind.UNIT, word=item.word)))
                break
            after = row[at + 1]
            people = after.keys[:1] and after.keys[0] in _PEOPLE
            grouped = any(other.kind is Kind.GROUP for other in row[:at])
            of = at + 2 < len(row) and row[at + 2].keys in (("of",), ("from",), ("in",))
            kind = Kind.PARTIAL if people and (of or not grouped) else Kind.UNIT
            out.append(_joined(row[at : at + 2], Sense(kind, word=after.word)))
            at += 2
        else:
            out.append(item)
            at += 1
    return out


_PEOPLE = frozenset(
    ("kids", "kid", "children", "child", "students", "student", "boys", "girls", "boy", "girl",
     "people", "friends", "ppl")
)  # fmt: skip


def _bare_numbers(row: list[Item], vocabulary: Vocabulary) -> list[Item]:
    """A bare number is a group, a child's code, or both; what is near settles it, else it is asked."""
    out = list(row)
    for at, item in enumerate(row):
        if item.kind is not Kind.NUMBER:
            continue
        value = _value(item)
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


_COUNTED_PLACES = frozenset(
    """room rooms page pages grade chapter day period bus lesson unit week version step level floor
    problem number question line row part door hall locker""".split()
)


def _lonely_numbers(row: list[Item]) -> list[Item]:
    """A bare number means children only where it touches a bin or a list of children."""
    out = list(row)
    for at, item in enumerate(row):
        if not item.can_be(Kind.NUMBER) or not item.can_be(Kind.GROUP, Kind.STUDENT):
            continue
        before, after = _touching(row, at, -1), _touching(row, at, 1)
        after_number = (
            at + 1 < len(row)
            and row[at + 1].kind is Kind.GROUP
            and not (row[at + 1].can_be(Kind.NUMBER))
        )
        is_preposition = after_number and before is not None and before.can_be(Kind.BIN, Kind.DID)
        placed = at > 0 and row[at - 1].keys[-1:] and row[at - 1].keys[-1] in _COUNTED_PLACES
        near = any(
            n is not None
            and (
                n.can_be(
                    *_SUBJECT, Kind.BIN, Kind.COLOR, Kind.EXCEPT, Kind.PLUS, Kind.NOT, Kind.BUT
                )
            )
            for n in (before, after)
        )
        alone = len([i for i in row if i.kind not in (Kind.PLAIN, Kind.MARK)]) <= 2
        said = after is not None and after.can_be(Kind.DID, Kind.NOT, Kind.MISSED, Kind.STARTED)
        if (
            placed
            or is_preposition
            or not (near or said or alone or (before and before.can_be(Kind.KEY)))
        ):
            out[at] = item.as_(Sense(Kind.UNIT, word=item.word))
    return out


def _touching(row: Sequence[Item], at: int, step: int) -> Item | None:
    """The next item that means something, over links, prepositions and fillers."""
    at += step
    while 0 <= at < len(row):
        item = row[at]
        over = item.kind in (
            *_LINKS,
            Kind.OR,
            Kind.AT,
            Kind.PLAIN,
            Kind.MARK,
            Kind.COLON,
            Kind.GROUP_WORD,
        )
        if not over and not (item.kind in (Kind.DID, Kind.AUX) and step > 0 and False):
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
    while 0 <= at < len(row) and (row[at].kind in _LINKS or row[at].can_be(*_SUBJECT)):
        if row[at].can_be(*_SUBJECT):
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
            out.extend(_group_of([row[at]], n, vocabulary) for n in range(first, last + 1))
            at += 3
        else:
            out.append(item)
            at += 1
    return out


# Names in the plural


def _plurals(row: list[Item]) -> list[Item]:
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


# Adults


_TITLES = frozenset(("ms", "mrs", "mr", "miss", "coach", "nurse", "principal", "dr"))


def _not_in_a_child(row: list[Item]) -> list[Item]:
    """ "in art we used red": nobody is in a child."""
    out = list(row)
    for at, item in enumerate(row):
        if at and row[at - 1].keys == ("in",) and item.kind is Kind.STUDENT and not item.owned:
            out[at] = item.as_(Sense(Kind.UNKNOWN, word=item.text))
    return out


def _put_down(row: list[Item]) -> list[Item]:
    """ "put mia down for balance", "mark magnets for owls" record; "put mia at balance" sends."""
    out = list(row)
    for at, item in enumerate(row):
        ahead = [key for other in row[at + 1 : at + 7] for key in other.keys]
        opens = all(other.kind in (Kind.PLAIN, Kind.MARK) for other in row[:at])
        records = item.keys in (("put",), ("mark",), ("write",), ("jot",))
        told = item.keys == ("mark",) and opens and _for_somebody(row, at)
        if records and ("down" in ahead or told):
            out[at] = item.as_(Sense(Kind.DID, word=item.word))
    return out


def _for_somebody(row: Sequence[Item], at: int) -> bool:
    """ "mark" as an order: a bin "for" children, or children "for", "as", "done" something."""
    rest = [other for other in row[at + 1 :] if other.keys != ("the",)]
    keys = [key for other in rest for key in other.keys]
    if not rest or not {"for", "as", "done"} & set(keys):
        return False
    return rest[0].kind in (*_SUBJECT, Kind.BIN, Kind.COLOR) and not rest[0].can_be(Kind.DID)


def _titles(row: list[Item]) -> list[Item]:
    """ "ms grace" is a grown-up, whoever else is called Grace."""
    out: list[Item] = []
    for item in row:
        titled = out and out[-1].keys and out[-1].keys[-1] in _TITLES
        if titled and item.can_be(Kind.STUDENT, Kind.UNKNOWN) and not item.owned:
            along = len(out) > 1 and out[-2].can_be(Kind.PLUS)
            kind = Kind.PLAIN if along else Kind.UNKNOWN
            out[-1] = _joined((out[-1], item), Sense(kind, word=item.text))
            if along:
                out[-2] = out[-2].as_(Sense(Kind.PLAIN, word=out[-2].word))
        else:
            out.append(item)
    return out


# A minus sign


def _minus(row: list[Item]) -> list[Item]:
    """ "g3-mia" leaves Mia out."""
    out = list(row)
    for at in range(1, len(row) - 1):
        item, before, after = row[at], row[at - 1], row[at + 1]
        glued = item.glued and after.glued
        if item.text == "-" and glued and before.kind is Kind.GROUP and after.kind is Kind.STUDENT:
            out[at] = item.as_(Sense(Kind.EXCEPT, word="minus"))
    return out


# Names that are common words


def _common_words(row: list[Item]) -> list[Item]:
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


_FINITE = frozenset(("has", "is", "was", "needs", "did", "had", "didnt", "hasnt", "wasnt", "isnt"))


def _reads_as_word(item: Item, before: Item | None, after: Item | None) -> bool:
    is_modal = item.can_be(Kind.FUTURE, Kind.IF) and not item.can_be(Kind.DID)
    if is_modal and before is not None and before.can_be(*_SUBJECT):
        return True
    return (
        is_modal and after is not None and after.can_be(*_SUBJECT) and not item.text[:1].isupper()
    )


# "sofia from group 3", "everyone in group 3"


def _qualified(row: list[Item], vocabulary: Vocabulary, today: date) -> list[Item]:
    out: list[Item] = []
    at = 0
    while at < len(row):
        item = row[at]
        group = row[at + 2] if at + 2 < len(row) else None
        links = at + 1 < len(row) and row[at + 1].keys in (("of",), ("in",), ("from",), ("at",))
        if links and group is not None and group.keys == ("the",) and at + 3 < len(row):
            row = [*row[: at + 2], *row[at + 3 :]]
            group = row[at + 2]
        if group is not None and links and group.kind is Kind.GROUP and group.sense.ids:
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


def _narrow(item: Item, group: Item, vocabulary: Vocabulary, today: date) -> Item | None:
    if item.kind is Kind.EVERYONE:
        return _joined((item, group), group.sense)
    if item.kind is Kind.REST:
        return _joined((item, group), replace(group.sense, word="rest"))
    child = item.get(Kind.STUDENT)
    if child is None:
        return None
    members = {s.id for s in vocabulary.roster.members_of(group.sense.ids[0], today)}
    ids = tuple(i for i in child.ids if i in members)
    return _joined((item, group), replace(child, ids=ids or child.ids))


# Everyone


def _everyone(row: list[Item]) -> list[Item]:
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
        named = before is not None and before.kind in (*_SUBJECT, Kind.BIN, Kind.COLOR)
        if (leaves_out and not (before is not None and before.kind in _SUBJECT)) or (
            opens and not named and after.can_be(Kind.DID, Kind.BIN, Kind.COLOR)
        ):
            out[at] = item.as_(Sense(Kind.EVERYONE, word="all"))
    return out


def _has_subject_before(row: Sequence[Item], at: int) -> bool:
    """Whether children were named earlier in the sentence: "g3 did balance, all finished"."""
    for item in reversed(row[:at]):
        if item.kind in (Kind.BREAK, Kind.STOP):
            return False
        if item.kind in _SUBJECT:
            return True
    return False


# Colors


def _colors(row: list[Item]) -> list[Item]:
    """A color that is also a child or a group, settled by its neighbours; a color before a thing
    that is no box ("a red car") is no mention."""
    out = list(row)
    for at, item in enumerate(row):
        color = item.get(Kind.COLOR)
        if color is None:
            continue
        after = row[at + 1] if at + 1 < len(row) else None
        thing = after is not None and after.kind in (Kind.CHATTER, Kind.UNKNOWN, Kind.UNIT)
        if not item.can_be(*_SUBJECT, Kind.BIN):
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
        return item.only(*_SUBJECT)
    listed = link in (Kind.AND, Kind.COMMA)
    if listed and before and _is_only_who(before[0]) and not (after and _is_only_who(after[0])):
        return item.only(*_SUBJECT)
    if listed and before and _is_only_place(before[0]) and any(map(_is_only_who, before)):
        return item.only(Kind.COLOR, Kind.BIN)
    place_near = any(map(_is_only_place, (*before, *after)))
    if before and _is_only_who(before[0]):
        return item if place_near and listed else item.only(Kind.COLOR, Kind.BIN)
    if any(map(_is_only_who, before)) and not place_near:
        return item.only(Kind.COLOR, Kind.BIN)
    if place_near and not (after and _is_only_who(after[0])):
        return item.only(*_SUBJECT)
    return _around_verb(row, at, before, after)


def _around_verb(row: list[Item], at: int, before: list[Item], after: list[Item]) -> Item:
    """ "red did blue": before the verb who, behind it where."""
    item = row[at]
    ahead = row[at + 1] if at + 1 < len(row) else None
    if after and not before and ahead is not None and ahead.can_be(Kind.DID):
        return item.only(*_SUBJECT)
    verbs = [i for i in row[:at] if i.can_be(Kind.DID)]
    if before and verbs and not after:
        return item.only(Kind.COLOR, Kind.BIN)
    if not after and any(i.can_be(Kind.ASK) for i in row[:at]) and not before:
        return item.only(Kind.COLOR, Kind.BIN)
    in_box = at > 0 and row[at - 1].keys in (("in",), ("the",), ("at",))
    return item.only(Kind.COLOR, Kind.BIN) if in_box and before else item


def _is_only_who(item: Item) -> bool:
    return item.can_be(*_SUBJECT) and not item.can_be(Kind.BIN, Kind.COLOR)


def _is_only_place(item: Item) -> bool:
    return item.can_be(Kind.BIN, Kind.COLOR) and not item.can_be(*_SUBJECT)


def _mentions(row: list[Item], at: int, step: int, boundary: tuple[Kind, ...]) -> list[Item]:
    found = []
    at += step
    while 0 <= at < len(row) and row[at].kind not in boundary:
        if row[at].can_be(*_SUBJECT, Kind.BIN, Kind.COLOR):
            found.append(row[at])
        at += step
    return found
