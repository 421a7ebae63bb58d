"""Whatever is written: no exception, and no change that the reading does not account for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from random import Random

import pytest

from bot.requests import LogVisits, Place, When, Who
from bot.understanding.clause import Last
from bot.understanding.reading import Reading, read
from storage.records import Roster
from tests.rosters import LISTENERS, NOW, make_roster
from tests.understanding.explained import unexplained
from tests.understanding.message_maker import MessageMaker

_ROSTER = make_roster(nicknames={"Jayden F.": ("Jay",), "Hannah G.": ("Nana", "Banana")})
_LASTS = (
    None,
    None,
    Last(7, (LogVisits(Who(groups=(3,)), Place(1), When(NOW.date())),)),
    Last(8, (LogVisits(Who(students=(1, 14)), Place(color="red"), When(NOW.date())),)),
)


def _messages(count: int, seed: int) -> Iterator[tuple[str, Last | None]]:
    maker, random = MessageMaker(_ROSTER, seed), Random(seed)
    for _ in range(count):
        yield maker.message(), random.choice(_LASTS)


def _found(last: Last | None) -> Last | None:
    return last


def faults(count: int, seed: int = 1) -> list[str]:
    """Every made-up message that raises, or changes what it does not account for."""
    found = []
    for text, last in _messages(count, seed):
        try:
            reading = read(text, _ROSTER, NOW, LISTENERS, partial(_found, last))
        except Exception as raised:
            found.append(f"{text!r}: {type(raised).__name__}: {raised}")
            continue
        found += [f"{text!r}: {what}" for what in unexplained(reading, _ROSTER, NOW, last)]
    return found


def test_made_up_messages_change_only_what_they_account_for(all_of_it: bool) -> None:
    assert faults(200_000 if all_of_it else 4_000) == []


@pytest.mark.parametrize("text", ["9" * 40 + " nov 23", "11-" + "9" * 30, "nov " + "9" * 30])
def test_numbers_no_calendar_holds_are_read(text: str) -> None:
    assert list(unexplained(read(text, _ROSTER, NOW, LISTENERS), _ROSTER, NOW)) == []


def test_the_same_seed_makes_the_same_messages() -> None:
    assert list(_messages(50, 3)) == list(_messages(50, 3))


@pytest.mark.parametrize("text", ["g3 did ramps", "mia did ramps", "everyone but ava did ramps"])
def test_a_reading_of_another_text_accounts_for_nothing(text: str) -> None:
    """The check itself finds a change that no word explains."""
    reading = read(text, _ROSTER, NOW, LISTENERS)
    forged = Reading(read("luca did the pink bin", _ROSTER, NOW, LISTENERS).items, reading.heard)
    assert list(unexplained(reading, _ROSTER, NOW)) == []
    assert len(list(unexplained(forged, _ROSTER, NOW))) == 2


def test_a_roster_of_nobody_is_read_too() -> None:
    empty = Roster(class_=_ROSTER.class_)
    maker = MessageMaker(_ROSTER, 5)
    heard = [read(maker.message(), empty, NOW, LISTENERS).heard for _ in range(300)]
    changes = [
        r for one in heard for r in one.requests if isinstance(r, LogVisits) and r.who.groups
    ]
    assert changes == []
