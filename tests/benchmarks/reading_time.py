"""How long it takes to read a message: `python -m tests.benchmarks.reading_time`.

Printed are: time per message for a class of 30 children and 12 bins over every text of
tests/phrases; some of these texts with 30, 300 and 3,000 names, as ratios within one run; and
messages of 4,096 characters, per character, against ordinary ones. The vocabulary is built before,
as the bot builds it once for each state of the roster; that is timed apart.
"""

from __future__ import annotations

import gc
import tomllib
from collections.abc import Sequence
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

from bot.understanding.vocabulary import vocabulary_of
from storage.records import Roster
from tests.rosters import NAMES, make_roster, read_in

PHRASES = Path(__file__).parent.parent / "phrases"
SIZES = (30, 300, 3_000)
LONGEST = 4_096
_SYLLABLES = (
    "ka",
    "lo",
    "mi",
    "ru",
    "te",
    "va",
    "no",
    "shi",
    "dre",
    "bel",
    "zu",
    "har",
    "qui",
    "po",
)


def texts() -> list[str]:
    """Every text of the phrase files, the ones said before the text judged among them."""
    found: list[str] = []
    for file in sorted(PHRASES.glob("*.toml")):
        for case in tomllib.loads(file.read_text("utf-8"))["case"]:
            said = case["say"]
            found += said if isinstance(said, list) else [said]
    return found


def roster_of(size: int) -> Roster:
    """A class of this many children: the usual ones, then names made of syllables."""
    names = list(NAMES[:size])
    number = 0
    while len(names) < size:
        number += 1
        digits = (number % 14, number // 14 % 14, number // 196 % 14)
        first = "".join(_SYLLABLES[digit] for digit in digits).capitalize()
        names.append(f"{first} {'ABCDEFGHJK'[number % 10]}.")
    return make_roster(names, groups=max(6, size // 5))


def milliseconds(roster: Roster, messages: Sequence[str], *, rounds: int = 1) -> list[float]:
    """Time of each reading, after one reading of another text has built the vocabulary."""
    vocabulary_of(roster)
    read_in(roster, "zzyzx qqq")
    taken = []
    for _ in range(rounds):
        for text in messages:
            start = perf_counter()
            read_in(roster, text)
            taken.append((perf_counter() - start) * 1_000)
    return taken


def growth(messages: Sequence[str], sizes: Sequence[int] = SIZES) -> dict[int, list[float]]:
    """Each message's time (best of three) against the same message in the smallest class; the
    classes take turns, message by message."""
    rosters = {size: roster_of(size) for size in sizes}
    for roster in rosters.values():
        milliseconds(roster, messages[:1])
    ratios: dict[int, list[float]] = {size: [] for size in sizes}
    for text in messages:
        took = {size: min(milliseconds(r, [text], rounds=3)) for size, r in rosters.items()}
        for size in sizes:
            ratios[size].append(took[size] / took[sizes[0]])
    return ratios


def building(size: int) -> float:
    """Milliseconds to build the vocabulary of a class of this many children."""
    roster = roster_of(size)
    start = perf_counter()
    vocabulary_of(roster)
    return (perf_counter() - start) * 1_000


def long_message(messages: Sequence[str]) -> str:
    """Messages one after the other, cut at the longest that the platform sends."""
    return ". ".join(messages)[:LONGEST]


def per_character(roster: Roster, messages: Sequence[str]) -> tuple[float, float]:
    """Milliseconds per character of ordinary messages (in total) and of long ones."""
    ordinary = sum(milliseconds(roster, messages)) / sum(len(text) for text in messages)
    longs = [long_message(messages[at : at + 400]) for at in range(0, len(messages), 200)]
    longs = [text for text in longs if len(text) == LONGEST]
    return ordinary, max(milliseconds(roster, longs)) / LONGEST


def report() -> str:
    """All measurements as text."""
    messages = texts()
    gc.collect()
    taken = milliseconds(roster_of(30), messages)
    cuts = quantiles(taken, n=100)
    lines = [
        f"{len(messages)} messages, 30 children, 12 bins: median {median(taken):.2f} ms,"
        f" p99 {cuts[98]:.2f} ms, longest {max(taken):.2f} ms",
    ]
    sample = messages[::10]
    for size, ratios in growth(sample).items():
        lines.append(
            f"{size:>6} names: {median(ratios):6.2f} times the time of {SIZES[0]} (median),"
            f" {quantiles(ratios, n=100)[98]:6.2f} times (p99 of the messages);"
            f" vocabulary built in {building(size):.0f} ms"
        )
    ordinary, long = per_character(roster_of(30), messages[::2])
    lines.append(
        f"{LONGEST} characters: {long * LONGEST:.0f} ms, {long / ordinary:.2f} times an ordinary"
        " message's time per character (slowest of several)"
    )
    return "\n".join(lines)


if __name__ == "__main__":
    print(report())
