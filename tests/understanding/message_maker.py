"""Messages made up by chance: sentences of the right shape, broken in places, and plain soup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from string import ascii_lowercase

from bot.understanding.lexicon import LEXICON
from bot.understanding.vocabulary import first_name
from storage.records import Roster

_PHRASES = tuple(sorted(" ".join(phrase) for phrase in LEXICON))
_SHAPES = (
    "{who} did {bin}",
    "{who} {verb} {bin} except {who}",
    "{bin}: {who}, {who}",
    "{who} {bin} {who} {bin}",
    "{who} and {who} finished {bin} {when}",
    "{when} {who} was at {bin} but {who} {word}",
    "did {who} do {bin}?",
    "who needs {bin}",
    "oops that was {who}",
    "not {who}",
    "{word} {who} did {bin}",
    "{who} did {bin}, {word} {who}",
    "everyone minus {who} did {bin}",
    "take {who} off {bin}",
    "{who} did {bin}\n{who} did {bin}",
    "{who} did {bin}. {who} {word} {bin}",
    "{who} {word} {bin}",
    "undo {word}",
)
_WHENS = (
    "yesterday", "today", "last thu", "on monday", "11/23", "nov 23", "the 23rd", "at 10:15",
    "first rotation", "2 days ago", "last week", "tomorrow", "this morning", "10:40", "11/31", "",
)  # fmt: skip
_VERBS = ("did", "finished", "was at", "has done", "went to", "started", "skipped", "needs", "")
_MARKS = (
    *tuple(".,;:!?-/&+=()[]{}\"'*#@%$~|\\_<>…’“”—–•→✓❌"),
    "\n",
    "\r\n",
    "\t",
    "...",
    "??",
    "/",
)
_STRANGE = (
    "🙂", "👩‍🏫", "🎉🎉", "✅", "🚫", "é", "ÿ", "ß", "İ", "ﬁ", "Ⅲ", "３", "٣", "½", "²", "你好",
    "привет", "עברית", "\u200b", "\u202e", "\ufeff", "a\u0301", "\x00", "\ud800", "Ǆ", "１１/２３",
    "0x1f", "1e9", "9" * 40, "00", "007", "g0", "g-1", "#", "http://a.b/c?d=1", "@room", "/start",
    "n̈", "ﷺ", "1/0/0", "99:99", "25:61", "0th", "11-23", "31st", "1st-3rd", "2026-13-45",
)  # fmt: skip


class MessageMaker:
    """Makes messages about one class; the same seed, the same messages."""

    def __init__(self, roster: Roster, seed: int) -> None:
        self._random = Random(seed)
        self._bins = [*(b.name for b in roster.bins), *(s.color for s in roster.stints)]
        names = [name for s in roster.students for name in (s.name, first_name(s), *s.goes_by)]
        groups = [f"g{g.name}" for g in roster.groups] + [f"group {g.name}" for g in roster.groups]
        self._who = [*names, *groups, *groups, "everyone", "the rest", "both sofias", "1", "2-4"]
        self._soup: Sequence[Callable[[], str]] = (
            self._a_who,
            self._a_bin,
            lambda: self._random.choice(_PHRASES),
            lambda: self._random.choice(_PHRASES),
            lambda: self._random.choice(_WHENS),
            lambda: self._random.choice(_MARKS),
            lambda: self._random.choice(_STRANGE),
            self._junk,
            lambda: str(self._random.randrange(40)),
        )

    def message(self) -> str:
        """The next message."""
        if self._random.random() < 0.5:
            words = [self._random.choice(self._soup)() for _ in range(self._random.randint(1, 12))]
            return self._broken(" ".join(words) if self._random.random() < 0.8 else "".join(words))
        return self._broken(self._sentence())

    def _sentence(self) -> str:
        shape = self._random.choice(_SHAPES)
        while "{" in shape:
            shape = shape.replace("{who}", self._a_who().casefold(), 1)
            shape = shape.replace("{bin}", self._a_bin().casefold(), 1)
            shape = shape.replace("{when}", self._random.choice(_WHENS), 1)
            shape = shape.replace("{verb}", self._random.choice(_VERBS), 1)
            shape = shape.replace("{word}", self._random.choice((*_PHRASES, "")), 1)
        return shape

    def _a_who(self) -> str:
        return self._random.choice(self._who)

    def _a_bin(self) -> str:
        return self._random.choice(self._bins)

    def _junk(self) -> str:
        return "".join(self._random.choices(ascii_lowercase, k=self._random.randint(1, 12)))

    def _broken(self, text: str) -> str:
        """One slip, one piece of soup or one cut more, now and then."""
        chance, at = self._random.random(), self._random.randint(0, len(text))
        if chance < 0.15:
            return text[:at] + self._random.choice(ascii_lowercase) + text[at:]
        if chance < 0.3:
            return text[:at] + text[at + 1 :]
        if chance < 0.45:
            return text[:at] + self._random.choice(self._soup)() + text[at:]
        return text.upper() if chance < 0.5 else text
