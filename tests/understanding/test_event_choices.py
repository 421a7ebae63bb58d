"""What a text picks of a calendar's events, and what is no answer at all."""

from __future__ import annotations

import pytest

from bot.requests import ChooseEvents, TakeCalendar
from bot.understanding.event_choices import (
    EVENTS,
    Picked,
    events_picked,
    full,
    in_short,
    request_of,
)
from storage.records import Question

NAMES = (
    "Thanksgiving break", "Winter break", "Book Fair", "Martin Luther King Jr. Day",
    "Presidents' Day", "Spring break", "Picture day", "No School", "No School", "Early release",
    "Parent-Teacher Conferences",
)  # fmt: skip
QUESTION = Question(
    1,
    7,
    (("All of them", full("close", None, 7)), ("None", full("close", (), 7))),
    ((EVENTS, "close {} of calendar 7", "\n".join(NAMES)),),
)


def picked(text: str) -> Picked | None:
    return events_picked(text, QUESTION)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("all", "all"),
        ("All of them!", "all"),
        ("yes", "all"),
        ("everything", "all"),
        ("none", "none"),
        ("None of them", "none"),
        ("no", "none"),
        ("nothing", "none"),
        ("cancel", "none"),
        ("1 3 and 5", "1 3 5"),
        ("1, 3 & 5", "1 3 5"),
        ("#2", "2"),
        ("2", "2"),
        ("1-4, 7", "1-4 7"),
        ("1 to 3", "1-3"),
        ("one and three", "1 3"),
        ("the second one", "2"),
        ("the first two", "1-2"),
        ("last", "11"),
        ("the last 2", "10-11"),
        ("all but book fair", "1-2 4-11"),
        ("all but the bok fair", "1-2 4-11"),
        ("all except 3", "1-2 4-11"),
        ("all but 3 and 7", "1-2 4-6 8-11"),
        ("everything except picture day and the book fair", "1-2 4-6 8-11"),
        ("yes but not the book fair", "1-2 4-11"),
        ("not the book fair", "1-2 4-11"),
        ("no book fair", "1-2 4-11"),
        ("skip the book fair", "1-2 4-11"),
        ("leave out 2", "1 3-11"),
        ("only winter break", "2"),
        ("just winter break and spring break", "2 6"),
        ("none but winter break", "2"),
        ("no, only winter break", "2"),
        ("winter break but not spring break", "2"),
        ("thanksgiving", "1"),
        ("mlk", "4"),
        ("mlk day", "4"),
        ("presidents day", "5"),
        ("parent teacher conferences", "11"),
        ("only no school", "8-9"),
    ],
)
def test_an_answer_picks(text: str, numbers: str) -> None:
    assert picked(text) == Picked(f"close {numbers} of calendar 7")


@pytest.mark.parametrize("text", ["choose", "let me choose", "Pick", "which ones?"])
def test_an_answer_asks_for_the_list(text: str) -> None:
    assert picked(text) == Picked("choose all of calendar 7")


@pytest.mark.parametrize(
    ("text", "strange"),
    [
        ("break", "break"),
        ("only break", "break"),
        ("all but bake sale", "bake sale"),
        ("12", "12"),
        ("0", "0"),
        ("1 and 99", "99"),
        ("no 3", "no 3"),
    ],
)
def test_what_names_no_event_for_sure_is_asked_about_and_nothing_taken(
    text: str, strange: str
) -> None:
    assert picked(text) == Picked(f"choose all of calendar 7: {strange}", is_sure=False)


@pytest.mark.parametrize(
    "text",
    [
        "g3 did balance",
        "1 ramps 2 balance 3 magnets",
        "undo",
        "who still needs ramps",
        "everyone did ramps",
        "thanks",
        "theo out today",
        "no school",
        "",
        "...",
        "close all of calendar 7",
    ],
)
def test_what_is_no_answer(text: str) -> None:
    assert picked(text) is None


def test_yes_takes_what_was_offered_first() -> None:
    chosen = Question(1, 7, (("Take these 2", "close 1-2 of calendar 7"),), QUESTION.frames)
    assert events_picked("yes", chosen) == Picked("close 1-2 of calendar 7")
    assert events_picked("all", chosen) == Picked("close all of calendar 7")


def test_another_question_is_not_about_events() -> None:
    assert events_picked("all", Question(1, 7, (), (("who", "{} did Ramps", ""),))) is None


@pytest.mark.parametrize(
    ("text", "request_"),
    [
        (full("close", None, 412), TakeCalendar(412, None)),
        (full("close", (), 412), TakeCalendar(412, ())),
        (full("close", (1, 2, 3, 7), 412), TakeCalendar(412, (1, 2, 3, 7))),
        (full("choose", (2, 3), 412, 21), ChooseEvents(412, (2, 3), 21)),
        ("choose all of calendar 7: bake sale", ChooseEvents(7, None, 1, "bake sale")),
        (" Close ALL of calendar 7 ", TakeCalendar(7, None)),
        ("close balance on monday", None),
        ("close all", None),
    ],
)
def test_a_text_in_full_words_means_the_same_whenever_it_is_sent(
    text: str, request_: object
) -> None:
    assert request_of(text) == request_


def test_numbers_in_short_are_the_same_numbers() -> None:
    for numbers in [(), (1,), (1, 2), (1, 3, 4, 5, 9), tuple(range(1, 400, 2))]:
        made = request_of(full("close", numbers, 1))
        assert isinstance(made, TakeCalendar)
        assert made.chosen == numbers
    assert in_short([3, 1, 2, 7]) == "1-3 7"
