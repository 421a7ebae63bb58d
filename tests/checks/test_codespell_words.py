"""Words misspelt as people misspell them change a class as the right word would, or not at all.

Source of the misspellings: codespell's dictionary, see `misspellings`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache

import pytest

from tests.checks.misspellings import Misspelt, in_sentences, of_bins_and_days
from tests.rosters import Effect, effect_of, make_roster, read_in

_ROSTER = make_roster()


@lru_cache(maxsize=8192)
def _effect(text: str) -> Effect:
    return effect_of(read_in(_ROSTER, text), _ROSTER)


def _verdict(case: Misspelt) -> str:
    meant, got = _effect(case.correct_text), _effect(case.wrong_text)
    if (got.changes, got.others) == (meant.changes, meant.others):
        return "same"
    if not got.changes and not got.others:
        return "asked" if got.asks else "nothing"
    in_part = got.changes <= meant.changes and set(got.others) <= set(meant.others)
    return "asked" if in_part and got.asks else "wrong"


def _judged(cases: Iterable[Misspelt]) -> tuple[Counter[str], list[str]]:
    verdicts = [(_verdict(case), case) for case in cases]
    wrong = [
        f"{case.wrong_text!r} for {case.correct_text!r}" for v, case in verdicts if v == "wrong"
    ]
    return Counter(v for v, _ in verdicts), wrong


def test_enough_words_are_in_the_dictionary() -> None:
    cases = list(in_sentences())
    assert len({case.word for case in cases}) >= 400
    assert len({case.wrong for case in cases}) >= 2_500


def test_a_misspelt_ordinary_word_never_changes_the_class_otherwise() -> None:
    _, wrong = _judged(in_sentences())
    assert wrong == []


def test_a_misspelt_bin_or_day_never_changes_the_class_otherwise() -> None:
    counts, wrong = _judged(of_bins_and_days())
    assert wrong == []
    assert sum(counts.values()) >= 40


@pytest.mark.parametrize(("cases", "floor"), [(in_sentences, 0.85), (of_bins_and_days, 0.95)])
def test_most_misspelt_words_do_what_the_right_word_does(cases: object, floor: float) -> None:
    assert callable(cases)
    counts, _ = _judged(cases())
    assert counts["same"] / sum(counts.values()) >= floor
