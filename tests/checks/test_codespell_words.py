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


KNOWN_WRONG = (
    "'g3 did ramps mission accomplised' for 'g3 did ramps mission accomplished'",
    "'mission accomplised g3 did ramps' for 'mission accomplished g3 did ramps'",
    "'g3 did ramps mission accomplissed' for 'g3 did ramps mission accomplished'",
    "'mission accomplissed g3 did ramps' for 'mission accomplished g3 did ramps'",
    "'g3 did ramps mission acomplished' for 'g3 did ramps mission accomplished'",
    "'mission acomplished g3 did ramps' for 'mission accomplished g3 did ramps'",
    "\"arn't g3 do ramps\" for 'arent g3 do ramps'",
    "'g3 builded ramps' for 'g3 built ramps'",
    "'mia builded ramps' for 'mia built ramps'",
    "'clame g3 did ramps' for 'claim g3 did ramps'",
    "'g3 did ramps clame' for 'g3 did ramps claim'",
    "'g3 did ramps hapend' for 'g3 did ramps happened'",
    "'hapend g3 did ramps' for 'happened g3 did ramps'",
    "\"havne't g3 do ramps\" for 'havent g3 do ramps'",
    "'g3 headng to do ramps' for 'g3 heading to do ramps'",
    "'g3 did ramps, meaned g4' for 'g3 did ramps, meant g4'",
    "'g3 did ramps, ment g4' for 'g3 did ramps, meant g4'",
    "'2 minuts of g3 did ramps' for '2 minutes of g3 did ramps'",
    "'g3 did ramps misson accomplished' for 'g3 did ramps mission accomplished'",
    "'misson accomplished g3 did ramps' for 'mission accomplished g3 did ramps'",
    "'group numver 3 did ramps' for 'group number 3 did ramps'",
    "'g3 did ramps, ava skept' for 'g3 did ramps, ava skipped'",
    "'mia teached ramps' for 'mia taught ramps'",
    "'g3 wnated to do ramps' for 'g3 wanted to do ramps'",
    "'g3 did ramps, wront g4' for 'g3 did ramps, wrong g4'",
)
"""What is still read otherwise; a word that is mended must be taken off this list."""


def test_enough_words_are_in_the_dictionary() -> None:
    cases = list(in_sentences())
    assert len({case.word for case in cases}) >= 400
    assert len({case.wrong for case in cases}) >= 2_500


def test_a_misspelt_ordinary_word_never_changes_the_class_otherwise() -> None:
    _, wrong = _judged(in_sentences())
    assert wrong == list(KNOWN_WRONG)


def test_a_misspelt_bin_or_day_never_changes_the_class_otherwise() -> None:
    counts, wrong = _judged(of_bins_and_days())
    assert wrong == []
    assert sum(counts.values()) >= 40


@pytest.mark.parametrize(("cases", "floor"), [(in_sentences, 0.85), (of_bins_and_days, 0.95)])
def test_most_misspelt_words_do_what_the_right_word_does(cases: object, floor: float) -> None:
    assert callable(cases)
    counts, _ = _judged(cases())
    assert counts["same"] / sum(counts.values()) >= floor
