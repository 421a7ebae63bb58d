"""Number words, against num2words 0.5.14: what is read as a group, and what never is.

A class of twelve groups; the reader claims the words zero to twelve and first to tenth. Larger
number words name no group of the class, whichever they begin or end with.
"""

from __future__ import annotations

import pytest
from num2words import num2words

from bot.understanding.lexicon import NUMBER_WORDS, ORDINAL_WORDS
from tests.rosters import NAMES, Effect, effect_of, make_roster, read_in

_GROUPS = 12
_ROSTER = make_roster(NAMES, groups=_GROUPS)
_SENTENCES = ("group {} did ramps", "grp {} finished ramps", "team {} ramps", "ramps: group {}")
_BARE = ("{} did ramps", "{} ramps")
_ORDINALS = ("{} group did ramps", "the {} group finished ramps")


def _effect(text: str) -> Effect:
    return effect_of(read_in(_ROSTER, text), _ROSTER)


def _members(number: int) -> frozenset[int]:
    day_members = (m.student_id for m in _ROSTER.memberships if m.group_id == number)
    return frozenset(day_members)


def _credited(text: str) -> frozenset[int]:
    effect = _effect(text)
    assert not effect.others, text
    assert all(change.gives and change.bin_id == 1 for change in effect.changes), text
    return frozenset(change.student_id for change in effect.changes)


def _spellings(number: int) -> tuple[str, ...]:
    """ "twenty-one", "twenty one" and "twentyone"."""
    word = str(num2words(number))
    return tuple(dict.fromkeys((word, word.replace("-", " "), word.replace("-", ""))))


def test_the_reader_claims_the_words_of_num2words() -> None:
    assert {str(num2words(n)): n for n in range(13)} == NUMBER_WORDS
    assert {str(num2words(n, to="ordinal")): n for n in range(1, 11)} == ORDINAL_WORDS


@pytest.mark.parametrize("number", range(1, _GROUPS + 1))
def test_a_number_word_behind_group_is_that_group(number: int) -> None:
    for sentence in _SENTENCES:
        assert _credited(sentence.format(num2words(number))) == _members(number), sentence


@pytest.mark.parametrize("number", range(1, 11))
def test_an_ordinal_word_before_group_is_that_group(number: int) -> None:
    for to in ("ordinal", "ordinal_num"):
        for sentence in _ORDINALS:
            text = sentence.format(num2words(number, to=to))
            assert _credited(text) == _members(number), text


@pytest.mark.parametrize("number", range(100))
def test_a_number_word_is_never_another_group(number: int) -> None:
    for word in _spellings(number):
        for sentence in (*_SENTENCES, *_BARE):
            text = sentence.format(word)
            allowed = _members(number) if number else frozenset()
            assert _credited(text) <= allowed, text


@pytest.mark.parametrize("number", range(1, 100))
def test_an_ordinal_is_never_another_group(number: int) -> None:
    words = {
        str(num2words(number, to="ordinal")),
        str(num2words(number, to="ordinal")).replace("-", " "),
        str(num2words(number, to="ordinal_num")),
    }
    for word in sorted(words):
        for sentence in _ORDINALS:
            text = sentence.format(word)
            assert _credited(text) <= _members(number), text


@pytest.mark.parametrize("number", range(_GROUPS + 1, 100))
def test_digits_beyond_the_last_group_are_no_group(number: int) -> None:
    for text in (f"group {number} did ramps", f"g{number} ramps", f"{number} did ramps"):
        assert _credited(text) == frozenset(), text
