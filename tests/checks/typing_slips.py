"""Single slips of a thumb: every text that one insertion, deletion, swap or neighbouring key makes.

The keyboard is QWERTY; its keys stand half a key further right in each lower row (common practice,
no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_lowercase

_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_WIDEST = 1.2  # in keys, between the middles of two keys that a thumb may confuse


def _place(letter: str) -> tuple[float, float]:
    row = next(number for number, keys in enumerate(_ROWS) if letter in keys)
    return _ROWS[row].index(letter) + row / 2, row


def _are_near(one: str, other: str) -> bool:
    (x, y), (u, v) = _place(one), _place(other)
    return one != other and (x - u) ** 2 + (y - v) ** 2 <= _WIDEST**2


NEIGHBOURS = {
    letter: "".join(other for other in ascii_lowercase if _are_near(letter, other))
    for letter in ascii_lowercase
}


def slips(word: str) -> tuple[str, ...]:
    """Every single slip of a word in lower case, each once, the word itself left out."""
    made = dict.fromkeys(_slips(word))
    return tuple(slip for slip in made if slip.strip() and slip != word)


def _slips(word: str) -> Iterator[str]:
    for at in range(len(word) + 1):
        before, after = word[:at], word[at:]
        yield from (before + letter + after for letter in ascii_lowercase)
        if after:
            yield before + after[1:]
            yield from (before + near + after[1:] for near in NEIGHBOURS.get(after[0], ""))
        if len(after) > 1:
            yield before + after[1] + after[0] + after[2:]
