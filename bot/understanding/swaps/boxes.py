"""Colors of boxes that look like something else: one nobody has used yet, or a child's name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from bot.classroom.stints import colors
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import How, Item, Kind
from bot.understanding.tokens import fold
from storage.records import Roster

_COLORS = frozenset((
    "red", "orange", "yellow", "green", "blue", "purple", "pink", "brown", "black", "white", "gray",
    "silver", "gold", "teal", "turquoise", "aqua", "cyan", "navy", "lime", "mint", "olive", "tan",
    "beige", "cream", "ivory", "maroon", "burgundy", "magenta", "fuchsia", "lavender", "lilac",
    "violet", "indigo", "peach", "coral", "salmon", "mustard", "khaki", "bronze", "copper", "clear",
    "rainbow", "striped", "plum", "rose", "ruby", "charcoal", "neon",
))  # fmt: skip
_SHADES = frozenset(("light", "dark", "hot", "neon", "bright", "pale", "baby", "sky", "royal"))
_BOXES = frozenset(
    ("box", "bin", "tub", "container", "tote", "bucket", "basket", "crate", "drawer")
)
_OTHERS = frozenset(("other", "second", "spare", "extra", "another", "different"))
_LEADS = frozenset(("in", "into", "inside", "to"))
_ARTICLES = frozenset(("the", "a", "an", "our", "my", "new", "that", "this", "big", "small"))


def is_shade(items: Sequence[Item], at: int) -> bool:
    """ "light" of "light blue"."""
    ahead = items[at + 1] if at + 1 < len(items) else None
    return items[at].keys[-1:] != () and items[at].keys[-1] in _SHADES and _names_color(ahead)


def is_before_color(items: Sequence[Item], at: int, roster: Roster) -> bool:
    """ "a", "big" or "light" in front of the color of a box: nothing by themselves."""
    if is_shade(items, at):
        return True
    article = set(items[at].keys) <= _ARTICLES and at + 1 < len(items)
    return article and (items[at + 1].kind is Kind.COLOR or is_shade(items, at + 1)
                        or color_at(items, at + 1, roster) is not None)  # fmt: skip


def color_at(items: Sequence[Item], at: int, roster: Roster) -> str | None:
    """The color of a box named here, in the class's spelling; None where it is none.

    "put gears in violet", "red closes friday", "in the gray box", "in a light blue one".
    """
    item = items[at]
    known = _known(roster)
    if at and is_shade(items, at - 1):
        word = f"{items[at - 1].keys[-1]} {_spelt(fold(item.text))}"
        return known.get(word, word)
    word = _spelt(fold(item.text))
    if word not in known and word not in _COLORS:
        return None
    if is_place(item) and item.sense.how is not How.CLOSE:
        return None
    color = known.get(word)
    if color is not None and item.kind is Kind.CHATTER:
        return color
    if color is None and (word not in _COLORS or not _is_led_in(items, at)):
        return None
    after = color is None and _is_boxed(items, at)
    led_in = _is_led_in(items, at) and any(is_place(i) for i in items[:at])
    named = is_subject(item) and any(map(is_subject, items[:at]))
    if is_subject(item):
        return (color or word) if (led_in or after) and not named else None
    return color or word


def is_new(color: str, roster: Roster) -> bool:
    """Whether no bin of the class has been in this color, nor will be."""
    return _spelt(fold(color)) not in _known(roster)


@lru_cache(maxsize=64)
def _known(roster: Roster) -> Mapping[str, str]:
    """The colors of a class as they may be typed."""
    return {_spelt(fold(color)): color for color in colors(roster)}


def is_plain(item: Item, text: str) -> bool:
    """Whether a color is said to be a box in this text: "the gray box", not "in gray"."""
    ahead = text[item.end :].casefold().split()[:1]
    return bool(ahead) and ahead[0].strip(".,!") in _BOXES


def is_another(items: Sequence[Item], at: int) -> bool:
    """ "the other blue box": not the one the class knows."""
    before = items[at - 1].keys[-1:] if at else ()
    return bool(set(before) & _OTHERS)


def _spelt(word: str) -> str:
    return "gray" if word == "grey" else word


def _names_color(item: Item | None) -> bool:
    return item is not None and (item.kind is Kind.COLOR or _spelt(fold(item.text)) in _COLORS)


def _is_boxed(items: Sequence[Item], at: int) -> bool:
    after = items[at + 1].keys if at + 1 < len(items) else ()
    return bool(after) and after[0] in _BOXES


def _is_led_in(items: Sequence[Item], at: int) -> bool:
    before = at - 1
    while before >= 0 and set(items[before].keys) <= (_ARTICLES | _SHADES):
        before -= 1
    return before >= 0 and items[before].keys[-1:] != () and items[before].keys[-1] in _LEADS
