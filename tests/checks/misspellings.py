"""Real misspellings of the words a reader knows, each in a sentence where the word does its work.

Source: the dictionary of the installed package `codespell` (2.4.3; CC BY-SA 3.0, derived from
Wikipedia's lists of common misspellings), read at test time and not shipped.
"""

from __future__ import annotations

import codecs
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import codespell_lib

from bot.understanding.lexicon import LEXICON, ORDINARY
from bot.understanding.senses import Kind
from bot.understanding.tokens import fold

_SHORTEST = 5
_BINS = ("balance", "bridges", "circuits", "levers", "magnets", "mirrors", "patterns", "shadows")
_DAYS = ("yesterday", "monday", "tuesday", "wednesday", "thursday", "friday")
_DICTIONARY = Path(codespell_lib.__file__).parent / "data" / "dictionary.txt"
_VULGAR = tuple(codecs.decode(stem, "rot13") for stem in ("phag", "fuvg", "shpx", "qvpx", "nany"))

SENTENCES: Mapping[Kind, tuple[str, ...]] = {
    Kind.GROUP_WORD: ("{} 3 did ramps",),
    Kind.BIN_WORD: ("g3 did the red {}",),
    Kind.PLUS: ("g3 did ramps {} luca",),
    Kind.EXCEPT: ("g3 did ramps {} ava", "everyone {} ava did ramps"),
    Kind.EVERYONE: ("{} did ramps",),
    Kind.REST: ("{} did ramps",),
    Kind.DID: ("g3 {} ramps", "mia {} ramps"),
    Kind.AT: ("g3 {} ramps",),
    Kind.NOT: ("g3 {} ramps", "mia {} do ramps"),
    Kind.MISSED: ("mia {} ramps", "g3 did ramps, ava {}", "g3 did ramps but ava {}"),
    Kind.ASK: ("{} did ramps",),
    Kind.AUX: ("{} g3 do ramps",),
    Kind.FUTURE: ("g3 {} ramps", "g3 {} do ramps"),
    Kind.IF: ("{} g3 did ramps",),
    Kind.DOUBT: ("{} g3 did ramps", "g3 did ramps {}"),
    Kind.PARTIAL: ("{} g3 did ramps", "{} of g3 did ramps"),
    Kind.STARTED: ("g3 {} ramps",),
    Kind.WHOLE: ("{} sofias did ramps",),
    Kind.UNIT: ("g3 did ramps for 2 {}", "2 {} of g3 did ramps"),
    Kind.KEY: ("g3 did ramps, {} g4", "{} mia off ramps"),
    Kind.CHATTER: ("g3 did ramps and {}", "mia {} ramps"),
    Kind.PLAIN: ("g3 did ramps {}", "{} g3 did ramps"),
}
_BY_LAST_WORD: Mapping[str, tuple[str, ...]] = {
    "to": ("g3 {} do ramps",),
    "of": ("{} g3 did ramps",),
    "from": ("{} g3 did ramps",),
    "in": ("{} g3 did ramps",),
}
_BY_PHRASE: Mapping[str, tuple[str, ...]] = {
    "rather than": ("g3 did ramps {} balance",),
    "instead of": ("g3 did ramps {} balance",),
    "according to": ("{} luca g3 did ramps",),
    "at least": ("{} 2 of g3 did ramps",),
    "almost": ("{} all of g3 did ramps",),
    "explain": ("{} why mia needs ramps",),
    "by friday": ("g3 to do ramps {}",),
}


def _sentences(phrase: str, kind: Kind) -> tuple[str, ...]:
    """Where a phrase of this kind may stand, so that the sentence is one that people write."""
    last = phrase.split()[-1]
    if phrase in _BY_PHRASE:
        return _BY_PHRASE[phrase]
    if kind in (Kind.IF, Kind.PARTIAL, Kind.DOUBT, Kind.FUTURE) and last in _BY_LAST_WORD:
        return _BY_LAST_WORD[last]
    return SENTENCES.get(kind, ())


@dataclass(frozen=True, slots=True)
class Misspelt:
    """A misspelling, the word it stands for, and both in the same sentence."""

    word: str
    wrong: str
    correct_text: str
    wrong_text: str


@lru_cache(maxsize=1)
def misspellings() -> Mapping[str, tuple[str, ...]]:
    """Folded correct word -> its misspellings; only those with a single correction."""
    found: dict[str, list[str]] = defaultdict(list)
    for line in _DICTIONARY.read_text("utf-8").splitlines():
        wrong, _, right = line.partition("->")
        if "," in right or " " in right or any(stem in wrong for stem in _VULGAR):
            continue
        found[fold(right)].append(wrong)
    return {word: tuple(wrongs) for word, wrongs in found.items()}


def in_sentences() -> Iterator[Misspelt]:
    """Every misspelling of every ordinary word, in each sentence of that word's sense."""
    for word in sorted(ORDINARY):
        if len(word) < _SHORTEST or word not in misspellings():
            continue
        phrase = min((p for p in LEXICON if word in p), key=lambda p: (len(p), p))
        if word in _BINS:
            continue  # read as the bin, and misspelt as the bin below
        for wrong in misspellings()[word]:
            if (fold(wrong),) in LEXICON:
                continue  # the lexicon lists it itself, with its meaning
            said = " ".join(wrong if w == word else w for w in phrase)
            for kind in LEXICON[phrase]:
                for sentence in _sentences(" ".join(phrase), kind):
                    yield Misspelt(
                        word, wrong, sentence.format(" ".join(phrase)), sentence.format(said)
                    )


def of_bins_and_days() -> Iterator[Misspelt]:
    """Misspellings of bins and of day words, which are no part of the lexicon."""
    for words, sentence in ((_BINS, "g3 did {}"), (_DAYS, "g3 did ramps {}")):
        for word in words:
            for wrong in misspellings().get(word, ()):
                yield Misspelt(word, wrong, sentence.format(word), sentence.format(wrong))
