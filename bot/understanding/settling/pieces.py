"""What the passes of settling share."""

from __future__ import annotations

from collections.abc import Sequence

from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.vocabulary import Vocabulary

SUBJECT = (Kind.GROUP, Kind.STUDENT, Kind.EVERYONE, Kind.REST)


LINKS = (Kind.COMMA, Kind.AND, Kind.PLUS)


PEOPLE = frozenset(
    ("kids", "kid", "children", "child", "students", "student", "boys", "girls", "boy", "girl",
     "people", "friends", "ppl")
)  # fmt: skip


def joined(span: Sequence[Item], sense: Sense) -> Item:
    text = " ".join(item.text for item in span)
    keys = tuple(key for item in span for key in item.keys)
    return Item(text, span[0].start, span[-1].end, (sense,), keys, span[-1].owned)


def number_of(item: Item) -> int | None:
    sense = item.get(Kind.NUMBER)
    return sense.value if sense is not None and isinstance(sense.value, int) else None


def group_of(span: Sequence[Item], number: int | None, vocabulary: Vocabulary) -> Item:
    group_id = vocabulary.group_by_number.get(number) if number is not None else None
    ids = () if group_id is None else (group_id,)
    return joined(span, Sense(Kind.GROUP, ids=ids, word=str(number), value=number))
