"""Stock on hand, learned use, what is short and by when, lost seats: the rules by themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time

import pytest

from bot.classroom.coming import Coming, Expected, coming_to
from bot.classroom.demand import covering
from bot.classroom.restocking import Restock, due_by, due_next_week, restock_of
from bot.classroom.supplies import ADDED, LOST, WANTED, Stock, Used, stock_of
from bot.classroom.tubs import full_tubs, seats_by_stint, seats_now
from storage.records import Away, Closure, Count, Move, Roster, Supply
from tests.rosters import NOW, make_roster

SHEETS = Supply(1, 1, "record sheets", "consumable", 1.0, None, 20, 1)
CARS = Supply(2, 1, "toy cars", "piece", 1.0, 2, 1, 5)
MON, TUE, WED, THU, FRI = (date(2026, 11, day) for day in (23, 24, 25, 26, 27))
TODAY = NOW.date()  # Tuesday, 10:41, in the rotation of 10:40


def count(number: float, day: date = MON, at: time | None = None, id_: int = 1) -> Count:
    """A count of sheets."""
    return Count(id_, 1, number, day, at, made_by=id_ * 10)


def used(day: date, ended: time | None = None, told: time | None = None, entry: int = 99) -> Used:
    """One visit."""
    return Used(day, ended, told, entry)


def stock(*counts: Count, moves: tuple[Move, ...] = (), visits: tuple[Used, ...] = ()) -> Stock:
    """The stock of sheets."""
    return stock_of(SHEETS, counts, moves, visits)


# On hand


def test_on_hand_is_the_last_count_and_what_came_less_what_went_and_what_visits_used() -> None:
    moves = (Move(1, 1, 20, ADDED, TUE, made_by=20), Move(2, 1, -3, LOST, TUE, made_by=21))
    held = stock(count(10), moves=moves, visits=(used(TUE),) * 4)
    assert (held.on_hand, held.visits_since, held.moved_since) == (23, 4, 17)


def test_each_visit_uses_what_one_visit_uses() -> None:
    held = stock_of(replace(SHEETS, per_visit=2.5), (count(10),), (), (used(TUE),) * 3)
    assert held.on_hand == 2.5


def test_a_supply_that_was_never_counted_is_not_guessed() -> None:
    assert stock().on_hand is None
    assert stock(moves=(Move(1, 1, -3, LOST, TUE),)).on_hand is None


def test_the_first_restock_of_a_supply_never_counted_starts_from_nothing() -> None:
    assert stock(moves=(Move(1, 1, 30, ADDED, MON),), visits=(used(TUE),)).on_hand == 29


def test_below_zero_is_told_as_it_is() -> None:
    assert stock(count(2), visits=(used(TUE),) * 5).on_hand == -3


# A visit on the day of the count


@pytest.mark.parametrize(
    ("visit", "left"),
    [
        (used(TUE, time(11, 0), None), 9),  # its rotation still runs, and it was not told yet
        (used(TUE, time(11, 0), time(10, 30), 5), 10),  # told before the count
        (used(TUE, time(10, 35), None), 10),  # its rotation had ended
        (used(TUE, None, time(10, 50)), 9),  # told after it, rotation unknown
        (used(MON, time(11, 0), None), 10),
        (used(WED, time(10, 35), None), 9),
    ],
)
def test_a_visit_on_the_day_of_a_count_is_taken_off_once(visit: Used, left: float) -> None:
    assert stock(count(10, TUE, time(10, 41)), visits=(visit,)).on_hand == left


def test_a_count_without_a_time_was_made_when_the_day_was_over() -> None:
    assert stock(count(10, TUE), visits=(used(TUE), used(WED))).on_hand == 9


# Learned use


def test_a_count_teaches_the_use_of_the_visits_before_it() -> None:
    held = stock(count(30), count(17, THU, id_=2), visits=(used(TUE),) * 10)
    assert [(one.visits, one.used, one.per_visit) for one in held.lessons] == [(10, 13, 1.3)]
    assert held.use == pytest.approx(1.09)  # 1 + 0.3 x (1.3 - 1)


def test_counts_without_visits_between_them_teach_nothing() -> None:
    assert stock(count(30), count(17, THU, id_=2)).lessons == ()


def test_a_restock_between_counts_is_no_use() -> None:
    moves = (Move(1, 1, 20, ADDED, TUE, made_by=15),)
    held = stock(count(10), count(20, THU, id_=2), moves=moves, visits=(used(TUE),) * 10)
    assert held.use == 1


def test_what_was_thrown_out_teaches_nothing() -> None:
    thrown = replace(count(0, THU, id_=2), learns=False)
    assert stock(count(30), thrown, visits=(used(TUE),) * 10).use == 1


def test_more_than_three_times_the_told_use_is_something_not_told() -> None:
    held = stock(count(30), count(4, THU, id_=2), visits=(used(TUE),) * 4)
    assert held.lessons[0].per_visit == 6.5
    assert held.use == 1


def test_more_found_than_there_can_be_is_no_lesson() -> None:
    assert stock(count(10), count(30, THU, id_=2), visits=(used(TUE),) * 4).lessons == ()


def test_a_word_that_it_is_low_holds_until_something_comes() -> None:
    low = Move(1, 1, 0, WANTED, TUE, made_by=20)
    held = stock(count(10), moves=(low,))
    assert held.wanted == low
    came = Move(2, 1, 20, ADDED, TUE, made_by=21)
    assert stock(count(10), moves=(low, came)).wanted is None


# Enough nineteen times in twenty


def test_known_visits_with_the_told_use_need_no_spare() -> None:
    assert covering(9, 1, 1, are_sure=True) == 9


def test_use_beyond_what_was_told_comes_as_a_poisson() -> None:
    """10 visits at 1.3: 10, and the 95% point of a Poisson of mean 3, which is 6."""
    assert covering(10, 1.3, 1, are_sure=True) == 16


def test_visits_from_a_rate_are_a_poisson() -> None:
    """The 95% point of a Poisson of mean 5 is 9."""
    assert covering(5, 2, 2, are_sure=False) == 18


# Visits to come


def roster(**changes: object) -> Roster:
    """24 children, bins with four seats, out 9 Nov to 4 Dec, two rotations a day."""
    return replace(make_roster(), **changes)  # type: ignore[arg-type]


def coming(class_: Roster, held: int = 15, at: datetime = NOW) -> Coming:
    """Visits to come at Ramps when this many children have been."""
    tally = {1: {student.id: 1 for student in class_.students[:held]}}
    return coming_to(class_, tally, class_.stints[0], at, {})


def test_who_still_needs_it_comes_and_is_spread_over_the_rotations_left() -> None:
    ahead = coming(roster())
    assert ahead.are_sure
    assert round(ahead.visits, 6) == 9
    assert [expected.day for expected in ahead.days][:3] == [TUE, WED, THU]
    assert ahead.days[0].visits == pytest.approx(9 / 17)  # one of the 17 rotations left is today


def test_no_more_come_than_have_seats() -> None:
    late = datetime(2026, 12, 4, 10, 0, tzinfo=NOW.tzinfo)
    assert coming(roster(), 0, late).visits == 8


def test_a_child_away_till_the_end_does_not_come() -> None:
    away = (Away(1, 24, TUE, None),)
    assert round(coming(roster(aways=away)).visits, 6) == 8


def test_nobody_comes_on_a_day_without_school() -> None:
    closed = (Closure(1, THU, "Holiday"), Closure(2, FRI, "Holiday"))
    assert THU not in [expected.day for expected in coming(roster(closures=closed)).days]


def test_a_plan_says_when_they_come() -> None:
    class_ = roster()
    planned = (Expected(WED, 4.0), Expected(THU, 5.0))
    assert coming_to(class_, {}, class_.stints[0], NOW, {}, planned).days == planned


def test_a_year_round_bin_is_forecast_four_weeks_from_its_own_rate() -> None:
    class_ = roster()
    stint = replace(class_.stints[0], closes=None)
    past = {date(2026, 11, day): 2 for day in (9, 10, 11, 12, 13, 16, 17, 18, 19, 20, 23)}
    ahead = coming_to(class_, {}, stint, NOW, past)
    assert not ahead.are_sure
    assert len(ahead.days) == 21
    assert ahead.visits == pytest.approx(42)


# Short, order, by


def line(on_hand: float, days: tuple[Expected, ...], supply: Supply = SHEETS) -> Restock:
    """What a supply needs with these visits to come."""
    class_ = roster()
    held = stock_of(supply, (Count(1, supply.id, on_hand, MON),), (), ())
    return restock_of(class_, held, Coming(class_.stints[0], days, are_sure=True), TODAY)


PLAN = (Expected(TUE, 0.0), Expected(WED, 4.0), Expected(THU, 4.0), Expected(FRI, 1.0))


def test_what_is_short_is_ordered_in_packs_a_lead_time_before_the_first_shortage() -> None:
    found = line(4, PLAN)
    assert (found.needed, found.short, found.order) == (9, 5, 20)
    assert (found.runs_out, found.by) == (THU, WED)


def test_what_is_enough_is_not_listed() -> None:
    found = line(9, PLAN)
    assert (found.is_short, found.order, found.by) == (False, 0, None)


def test_by_is_today_where_it_is_too_late() -> None:
    assert line(0, PLAN, replace(SHEETS, lead_days=5)).by == TODAY


def test_a_lead_time_counts_school_days() -> None:
    monday = (Expected(date(2026, 11, 30), 9.0),)
    assert line(0, monday).by == FRI


def test_below_zero_the_shortage_is_what_is_needed_and_what_is_owed() -> None:
    assert line(-3, PLAN).short == 12


def test_pieces_are_needed_for_every_seat_at_once() -> None:
    found = line(7, PLAN, CARS)
    assert (found.needed, found.short, found.by) == (8, 1, TODAY)


def test_the_lists_of_a_day_and_of_a_friday() -> None:
    urgent, later = line(0, PLAN), line(4, (Expected(date(2026, 12, 3), 9.0),))
    after = line(4, (Expected(date(2026, 12, 10), 9.0),))
    assert due_by([later, urgent], TODAY) == (urgent,)
    assert due_next_week([after, later, urgent], FRI) == (urgent, later)


# Tubs


@pytest.mark.parametrize(("pieces", "tubs", "seats"), [(10, 5, 4), (8, 4, 4), (7, 3, 3), (0, 0, 0)])
def test_a_short_tub_is_a_lost_seat(pieces: float, tubs: int, seats: int) -> None:
    class_ = roster(supplies=(SHEETS, CARS))
    held = stock_of(CARS, (Count(1, 2, pieces, MON),), (), ())
    assert full_tubs(held) == tubs
    assert seats_now(class_, [held], class_.stints[0]) == seats
    assert seats_by_stint(class_, {2: held}).get(1, 4) == seats


def test_pieces_never_counted_lose_no_seat() -> None:
    class_ = roster(supplies=(CARS,))
    assert seats_now(class_, [stock_of(CARS, (), (), ())], class_.stints[0]) == 4
