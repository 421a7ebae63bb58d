"""Which days a swap gives to the bin that goes and to the one that comes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time

import pytest

from bot.classroom.swaps import CannotSwap, Swap, day_of_swap, exchange
from storage.records import Bin, Closure, Roster, Stint
from tests.rosters import make_roster

TUESDAY = date(2026, 11, 24)
GEARS = Bin(91, "Gears", seats=5)


def roster(*stints: Stint, closed: tuple[date, ...] = ()) -> Roster:
    plain = make_roster()
    closures = tuple(Closure(n, day, "closed") for n, day in enumerate(closed))
    return replace(
        plain, bins=(*plain.bins, GEARS), stints=(*plain.stints, *stints), closures=closures
    )


def red(on: Roster) -> Stint:
    return next(stint for stint in on.stints if stint.color == "red")


def at(clock: str, day: date = TUESDAY) -> datetime:
    return datetime.combine(day, time.fromisoformat(clock))


@pytest.mark.parametrize(
    ("clock", "said", "is_now", "used", "expected"),
    [
        ("10:00", None, False, False, date(2026, 11, 24)),
        ("10:00", None, False, True, date(2026, 11, 25)),
        ("10:00", None, True, True, date(2026, 11, 24)),
        ("10:00", TUESDAY, False, True, date(2026, 11, 25)),
        ("15:00", None, False, False, date(2026, 11, 25)),
        ("15:00", None, True, False, date(2026, 11, 24)),
        ("10:00", date(2026, 11, 30), False, True, date(2026, 11, 30)),
        ("10:00", date(2026, 11, 23), False, False, CannotSwap("past", date(2026, 11, 23))),
        ("10:00", date(2026, 11, 28), False, False, CannotSwap("no_school", date(2026, 11, 28))),
    ],
)
def test_the_day_of_a_swap(
    clock: str, said: date | None, is_now: bool, used: bool, expected: date | CannotSwap
) -> None:
    found = day_of_swap(roster(), at(clock), said, is_now=is_now, has_been_used=used)
    assert found == expected


def test_without_school_today_a_swap_begins_on_the_next_school_day() -> None:
    on = roster(closed=(date(2026, 11, 26), date(2026, 11, 27)))
    found = day_of_swap(on, at("10:00", date(2026, 11, 26)), None, is_now=True, has_been_used=False)
    assert found == date(2026, 11, 30)


def test_the_bin_that_goes_is_out_till_the_school_day_before() -> None:
    on = roster(closed=(date(2026, 11, 26), date(2026, 11, 27)))
    made = exchange(on, "red", red(on), GEARS, date(2026, 11, 30))
    assert isinstance(made, Swap)
    assert made.last == date(2026, 11, 25)


def test_a_bin_used_on_the_day_keeps_that_day() -> None:
    on = roster()
    made = exchange(on, "red", red(on), GEARS, TUESDAY, has_been_used=True)
    assert isinstance(made, Swap)
    assert made.last == TUESDAY


def test_a_stint_that_never_was_out_has_no_last_day() -> None:
    on = roster()
    made = exchange(on, "red", red(on), GEARS, red(on).opens)
    assert isinstance(made, Swap)
    assert made.last is None


def test_a_bin_that_closes_before_keeps_its_closing_day() -> None:
    on = roster()
    made = exchange(on, "red", red(on), GEARS, date(2026, 12, 14))
    assert isinstance(made, Swap)
    assert made.last == red(on).closes


def test_the_new_bin_stays_as_many_school_days_as_the_old_one_was_to() -> None:
    on = roster()  # red: 9 November to 4 December, 20 school days
    made = exchange(on, "red", red(on), GEARS, date(2026, 12, 7))
    assert isinstance(made, Swap)
    assert made.closes == date(2027, 1, 1)
    alone = exchange(on, "teal", None, GEARS, date(2026, 12, 7))
    assert isinstance(alone, Swap)
    assert alone.closes == date(2026, 12, 18)  # ten, where nothing says so


def test_the_next_stint_in_the_color_cuts_it_short() -> None:
    later = Stint(900, 3, "red", date(2026, 12, 14), None, 4, 1)
    on = roster(later)
    made = exchange(on, "red", red(on), GEARS, date(2026, 12, 7), till=date(2026, 12, 18))
    assert isinstance(made, Swap)
    assert (made.closes, made.followed_by) == (date(2026, 12, 11), later)


def test_the_next_stint_of_the_bin_cuts_it_short() -> None:
    later = Stint(900, GEARS.id, "teal", date(2026, 12, 14), None, 4, 1)
    on = roster(later)
    made = exchange(on, "red", red(on), GEARS, date(2026, 12, 7))
    assert isinstance(made, Swap)
    assert (made.closes, made.followed_by) == (date(2026, 12, 11), later)


def test_a_color_holds_one_bin_at_a_time() -> None:
    on = roster()
    found = exchange(on, "red", None, GEARS, TUESDAY)
    assert found == CannotSwap("full", TUESDAY, red(on))


def test_a_bin_is_in_one_color_at_a_time() -> None:
    on = roster()
    other = next(stint for stint in on.stints if stint.color == "yellow")
    found = exchange(on, "red", red(on), on.bin_of(other), TUESDAY)
    assert found == CannotSwap("running", TUESDAY, other)


def test_no_school_day_in_between_is_refused() -> None:
    on = roster()
    found = exchange(on, "red", red(on), GEARS, date(2026, 12, 7), till=date(2026, 12, 6))
    assert found == CannotSwap("too_short", date(2026, 12, 7), None)
