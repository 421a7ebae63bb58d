"""How a word is mistyped, and how it sounds: the two ways a name comes in wrong."""

from __future__ import annotations

from functools import lru_cache

_SHORTEST = 3  # letters of a name that ordinary words sound like
_SAFE_LENGTH = 5  # shorter names are a slip away from too many others
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_NEIGHBOURS = {
    key: "".join(
        near
        for other, letters in enumerate(_ROWS)
        for place, near in enumerate(letters)
        if near != key and abs(other - row) <= 1 and abs(place - at) <= 1
    )
    for row, keys in enumerate(_ROWS)
    for at, key in enumerate(keys)
}
_SOUNDS = (("ph", "f"), ("ck", "k"), ("c", "k"), ("y", "i"), ("z", "s"), ("x", "ks"), ("w", "v"))


@lru_cache(maxsize=65536)
def sound_of(word: str) -> str:
    """A word as it sounds, roughly: "sophia" and "sofia", "leyla" and "leila", "hanna" and "hannah"
    are one. Common practice for names, no source."""
    for spelt, heard in _SOUNDS:
        word = word.replace(spelt, heard)
    single = _single(word)
    return single[:-1] if len(single) > 3 and single.endswith("h") else single


def _single(word: str) -> str:
    """A word with every letter that is doubled written once."""
    return "".join(a for a, b in zip(word, word[1:] + " ", strict=True) if a != b)


def is_slip(word: str, name: str) -> bool:
    """Whether a name (one edit away) was mistyped or written as it sounds, rather than another name
    written: a letter doubled or left single, two swapped, one lost or added inside, a neighbouring
    key hit."""
    plain = name.replace(" ", "")
    if sound_of(word) == sound_of(plain):
        alike = len(word) == len(plain) or _single(word) == _single(plain)
        return len(plain) > _SHORTEST or alike  # "pass" is not "Paz"
    if len(plain) < _SAFE_LENGTH or word[0] != plain[0] or word[-1] != plain[-1]:
        return False
    if len(word) != len(plain) or sorted(word) == sorted(plain):
        return True
    [slip] = [(a, b) for a, b in zip(word, plain, strict=True) if a != b]
    return slip[1] in _NEIGHBOURS.get(slip[0], "") and not set(slip) <= set("aeiouy")
