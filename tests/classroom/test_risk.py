"""Who will not get to a bin in time, and whom to send first today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time

from bot.classroom.plans import ask_planner
from bot.classroom.risk import Risk, risks, send_today
from bot.classroom.rotation.planning import plan_rotations
from storage.records import Away, Roster, Turn
from tests.rosters import NOW, make_roster

MONDAY = datetime(2026, 11, 30, 15, 0, tzinfo=NOW.tzinfo)  # four days, eight rotations are left
ZONE_INFO = NOW.tzinfo
KAI, LUCA = 3, 4


def a_class(**aways: Away) -> Roster:
    """Four children, one bin of two seats that closes on Friday 4 December."""
    names = ("Ava R.", "Ben T.", "Kai Q.", "Luca B.")
    roster = make_roster(names, groups=2, bins={"Ramps": "red"})
    [stint] = roster.stints
    return replace(roster, stints=(replace(stint, seats=2),), aways=tuple(aways.values()))


def at_risk(roster: Roster, tally: Mapping[int, Mapping[int, int]], now: datetime = MONDAY,
            turns: tuple[Turn, ...] = ()) -> list[tuple[list[str], int, int]]:  # fmt: skip
    """Children, turns needed, turns expected, for each bin at risk by the plan and the rate."""
    asked = ask_planner(roster, tally, now, last=date(2026, 12, 4))
    unmet: dict[int, dict[int, int]] = {}
    for one in plan_rotations(asked.problem).unmet:
        unmet.setdefault(one.stint, {})[one.student] = one.visits
    return [(_names(r), r.needed, r.expected) for r in risks(roster, tally, turns, unmet, now)]


def _names(risk: Risk) -> list[str]:
    return [student.name for student in risk.students]


def test_with_room_for_all_nothing_is_at_risk() -> None:
    assert at_risk(a_class(), {}) == []


def test_a_child_away_till_the_end_is_at_risk() -> None:
    gone = Away(1, KAI, date(2026, 12, 1), date(2026, 12, 4))
    assert at_risk(a_class(gone=gone), {}) == [(["Kai Q."], 4, 3)]
    assert at_risk(a_class(gone=gone), {1: {KAI: 1}}) == []


def test_a_bin_with_too_few_seats_is_at_risk() -> None:
    wednesday = datetime(2026, 12, 2, 15, 0, tzinfo=ZONE_INFO)
    roster = a_class()
    twice = replace(roster, stints=(replace(roster.stints[0], seats=1, visits_each=2),))
    [(names, needed, expected)] = at_risk(twice, {}, wednesday)
    assert (needed, expected) == (8, 4)  # one seat in four rotations
    assert len(names) >= 2


def test_the_present_rate_is_believed_near_the_end() -> None:
    """Five days, ten rotations, one turn among them: at that rate 0.8 of three come yet."""
    days = (date(2026, 11, 23 + n) for n in range(5))
    turns = tuple(Turn(1, 1 if n == 0 else 2, day) for n, day in enumerate(days))
    assert at_risk(a_class(), {1: {1: 1}}, MONDAY, turns) == [([], 3, 0)]


def test_a_few_who_fit_into_one_rotation_are_no_risk_at_any_rate() -> None:
    days = (date(2026, 11, 23 + n) for n in range(5))
    turns = tuple(Turn(1, 2, day) for day in days)
    assert at_risk(a_class(), {1: {1: 1, 2: 1}}, MONDAY, turns) == []


def test_with_less_than_two_days_left_it_is_too_late_to_warn() -> None:
    gone = Away(1, KAI, date(2026, 12, 1), date(2026, 12, 4))
    for day, expected in ((2, 1), (3, 0)):
        now = datetime(2026, 12, day, 15, 0, tzinfo=ZONE_INFO)
        assert len(at_risk(a_class(gone=gone), {}, now)) == expected


def test_the_child_with_fewest_spare_chances_is_sent_first() -> None:
    mostly = Away(1, LUCA, date(2026, 12, 2), date(2026, 12, 4))
    now = datetime(2026, 12, 1, 7, 0, tzinfo=ZONE_INFO)
    roster = a_class(mostly=mostly)
    assert [s.name for s, _ in send_today(roster, {}, now)] == ["Luca B.", "Ava R.", "Ben T."]
    assert send_today(roster, {1: {1: 1, 2: 1, 3: 1, 4: 1}}, now) == ()


def test_a_child_away_today_is_not_sent() -> None:
    today = Away(1, LUCA, date(2026, 12, 1), date(2026, 12, 1))
    morning = Away(2, KAI, date(2026, 12, 1), date(2026, 12, 1), None, time(8), time(10, 35))
    now = datetime(2026, 12, 1, 7, 0, tzinfo=ZONE_INFO)
    sent = [s.name for s, _ in send_today(a_class(a=today, b=morning), {}, now)]
    assert sent == ["Kai Q.", "Ava R.", "Ben T."]
