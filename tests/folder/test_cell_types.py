"""One cell at a time."""

from datetime import time

import pytest

from bot.folder.cell_types import Refused, clock, number, rate, school_clock, weekdays, zone
from bot.folder.nearest import Register, fold, nearest_of
from bot.folder.problems import Kind


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("Mon", (0,)),
        ("monday", (0,)),
        ("Mo", (0,)),
        ("Tues.", (1,)),
        ("thurs", (3,)),
        ("Fridays", (4,)),
        ("Mon to Fri", (0, 1, 2, 3, 4)),
        ("Mon \u2013 Wed; Fri", (0, 1, 2, 4)),
        ("Mon, Wed and Fri", (0, 2, 4)),
        ("Sat-Mon", (0, 5, 6)),
        ("Tue;Tue", (1,)),
    ],
)
def test_weekdays(cell: str, expected: tuple[int, ...]) -> None:
    assert weekdays(cell) == expected


@pytest.mark.parametrize("cell", ["T", "Mon-", "weekly", "Monnday", ";", "1-5", "-"])
def test_weekdays_refused(cell: str) -> None:
    found = weekdays(cell)
    assert isinstance(found, Refused)
    assert found.kind is Kind.NOT_A_WEEKDAY


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("7:05", time(7, 5)),
        ("07:05", time(7, 5)),
        ("07:05:00", time(7, 5)),
        ("12:10 am", time(0, 10)),
        ("12:10pm", time(12, 10)),
        ("1:10 p.m.", time(13, 10)),
        ("0:00", time(0, 0)),
    ],
)
def test_clock(cell: str, expected: time) -> None:
    assert clock(cell) == expected


@pytest.mark.parametrize("cell", ["7", "7:5", "24:00", "10:60", "13:00 pm", "0:30 am", "\u0661:30"])
def test_clock_refused(cell: str) -> None:
    assert clock(cell) == Refused(Kind.NOT_A_TIME)


def test_school_clock_asks_about_the_night() -> None:
    assert school_clock("1:10") == Refused(Kind.NIGHT_TIME, ("13:10",))
    assert school_clock("1:10 am") == time(1, 10)
    assert school_clock("6:00") == time(6, 0)


@pytest.mark.parametrize(
    ("cell", "expected"), [("0", 0.0), ("0.5", 0.5), ("6%", 0.06), ("6.5 %", 0.065), ("50%", 0.5)]
)
def test_rate(cell: str, expected: float) -> None:
    assert rate(cell) == expected


@pytest.mark.parametrize("cell", ["6", "51%", "-1%", "0.51"])
def test_rate_refused(cell: str) -> None:
    assert rate(cell) == Refused(Kind.OUT_OF_RANGE, ("0", "0.5"))


@pytest.mark.parametrize("cell", ["nan", "inf", "1e3", "1,5", "\u0663", "4 sheets", "%"])
def test_numbers_are_plain(cell: str) -> None:
    assert number(0, 10)(cell) == Refused(Kind.NOT_A_NUMBER, ("a number",))


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("America/Chicago", "America/Chicago"),
        ("america/new york", "America/New_York"),
        ("Chicago", Refused(Kind.NOT_A_ZONE, ("America/Chicago",), "America/Chicago")),
        ("../../etc/passwd", Refused(Kind.NOT_A_ZONE, ("America/Chicago",), "")),
    ],
)
def test_zone(cell: str, expected: str | Refused) -> None:
    assert zone(cell) == expected


def test_fold() -> None:
    assert fold("  ZOE\u0308 M. ") == fold("zo\u00eb m") == "zoe m"
    assert fold("D'Andre") == fold("D\u2019ANDRE") == "dandre"
    assert fold("Mei-Lin") == fold("mei lin") == "mei lin"
    assert fold("...") == "..."


def test_nearest() -> None:
    assert nearest_of("gruop", ("group", "code")) == "group"
    assert nearest_of("qqq", ("group", "code")) == ""
    assert nearest_of("x", ()) == ""


def test_register() -> None:
    register = Register.of(
        ("Ramps", "Gears"), (("slides", "Ramps"), ("x", "Ramps"), ("x", "Gears"))
    )
    assert register.find("RAMPS") == "Ramps"
    assert register.find("Slides") == "Ramps"
    assert register.find("x") is None
    assert register.nearest("slidse") == "Ramps"
