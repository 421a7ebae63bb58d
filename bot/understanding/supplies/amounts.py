"""Amounts: "12", "a dozen", "twenty-five", "1.5", "a", "-3", "3-4", "a few"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.understanding.lexicon import NUMBER_WORDS, TENS_WORDS
from bot.understanding.tokens import Kind, Token

_TEENS = {
    "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
_ONES = {**NUMBER_WORDS, **_TEENS}
_VAGUE = frozenset((
    "some", "few", "several", "couple", "lots", "bunch", "handful", "stack", "pile", "plenty",
    "half", "many", "most", "loads", "tons", "more", "extra", "extras", "new", "various",
))  # fmt: skip
_TIMES = {"hundred": 100, "dozen": 12, "dz": 12, "doz": 12}
_MOST_DIGITS = 9  # more is no amount of anything; asked about as absurd
_MINUS = ("-", "−", "–")


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as said: its value, None where it is vague; how many tokens it takes; whether it
    was written as a number rather than as "a"."""

    value: float | None
    width: int
    is_article: bool = False


def amount_at(tokens: Sequence[Token], at: int) -> Amount | None:
    """The amount that begins at this token."""
    if at and tokens[at - 1].key == "in" and _is_broken(tokens, at):
        return None
    found = _number(tokens, at)
    if found is not None:
        return None if _is_label(tokens, at) else _with_others(tokens, at, found)
    key = tokens[at].key
    after = tokens[at + 1].key if at + 1 < len(tokens) else ""
    if key == "half" and after == "a" and _key(tokens, at + 2) == "dozen":
        return Amount(6, 3)
    if key in ("a", "one", "another") and after == "dozen":
        return Amount(12, 2)
    if key == "a" and after == "hundred":
        return Amount(100, 2)
    if key == "dozen":
        return Amount(12, 1)
    if key in ("a", "an", "another"):
        return None if after in _VAGUE else Amount(1, 1, is_article=True)
    if key == "no":
        return Amount(0, 1)
    return Amount(None, 1) if key in _VAGUE and key not in ("more", "extra", "new") else None


def _number(tokens: Sequence[Token], at: int) -> Amount | None:
    token = tokens[at]
    if token.text in _MINUS and _opens(tokens, at) and at + 1 < len(tokens):
        ahead = _number(tokens, at + 1) if tokens[at + 1].glued else None
        return None if ahead is None else Amount(-(ahead.value or 0), ahead.width + 1)
    if token.kind is Kind.NUMBER:
        found = _digits(tokens, at)
        times = _TIMES.get(_key(tokens, at + found.width), 0)
        return Amount((found.value or 0) * times, found.width + 1) if times else found
    if token.key in TENS_WORDS:
        ahead_at = at + 2 if _key(tokens, at + 1) == "-" else at + 1
        ones = NUMBER_WORDS.get(_key(tokens, ahead_at), 0)
        if 0 < ones < 10:
            return Amount(TENS_WORDS[token.key] + ones, ahead_at + 1 - at)
        return Amount(TENS_WORDS[token.key], 1)
    if token.key in _ONES:
        times = _TIMES.get(_key(tokens, at + 1), 0)
        return Amount(_ONES[token.key] * (times or 1), 2 if times else 1)
    return None


def _digits(tokens: Sequence[Token], at: int) -> Amount:
    if len(tokens[at].key) > _MOST_DIGITS:
        return Amount(float(10**_MOST_DIGITS), 1)
    whole = float(tokens[at].number or 0)
    mark, after = _glued(tokens, at + 1), _glued(tokens, at + 2)
    if mark is not None and after is not None and after.kind is Kind.NUMBER:
        if mark.text == ".":
            return Amount(float(f"{tokens[at].key}.{after.key}"), 3)
        if mark.text == "," and len(after.key) == 3:
            return Amount(whole * 1000 + float(after.key), 3)
    return Amount(whole, 1)


def _with_others(tokens: Sequence[Token], at: int, first: Amount) -> Amount:
    """ "4 of 6", "4 out of the 6" is four; of "3-4", "3 or 4" it is not said which."""
    ahead = at + first.width
    link = 2 if _key(tokens, ahead) == "out" and _key(tokens, ahead + 1) == "of" else 1
    between = "of" if link == 2 else _key(tokens, ahead)
    ahead += link
    while between == "of" and _key(tokens, ahead) in ("the", "our", "my", "all"):
        ahead += 1
    second = _number(tokens, ahead) if ahead < len(tokens) else None
    if second is None or second.value is None:
        return first
    if between == "of" and (first.value or 0) <= second.value:
        return Amount(first.value, ahead + second.width - at)
    if between in ("-", "–", "or", "to") and (first.value or 0) > 0:
        return Amount(None, ahead + second.width - at)
    return first


def _is_broken(tokens: Sequence[Token], at: int) -> bool:
    """ "snapped in half", "tore in two"."""
    return tokens[at].key == "half" or (tokens[at].key == "two" and at + 1 == len(tokens))


def _is_label(tokens: Sequence[Token], at: int) -> bool:
    """ "wheel #3": which, not how many."""
    return at > 0 and tokens[at - 1].text == "#"


def _opens(tokens: Sequence[Token], at: int) -> bool:
    """Whether a dash stands at the beginning of a word: a minus."""
    return not tokens[at].glued


def _glued(tokens: Sequence[Token], at: int) -> Token | None:
    return tokens[at] if at < len(tokens) and tokens[at].glued else None


def _key(tokens: Sequence[Token], at: int) -> str:
    return tokens[at].key if at < len(tokens) else ""
