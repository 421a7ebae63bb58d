"""What goes out fits the platform, for a class larger than any that is taught.

Outside source: telegram.constants of python-telegram-bot 22.8, which lists the Bot API's limits
(MessageLimit, InlineKeyboardMarkupLimit, InlineKeyboardButtonLimit). Text is counted in UTF-16
units, as the Bot API counts lengths.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from telegram.constants import InlineKeyboardMarkupLimit, MessageLimit

from bot.settings import sqlite_url
from storage import tables
from storage.database import open_database
from storage.records import Student
from storage.register import OWNER
from tests.classroom_fixture import Classroom, build, moment

CHILDREN, BINS = 40, 12  # common practice, no source: kindergarten classes rarely pass 30 children
DAY = date(2026, 11, 17)
TEXTS = (
    "hello",
    "help",
    "xyzzy",
    "everyone did {bin}",
    "who needs everything",
    "who needs {bin}",
    "what does everyone need",
    "what does group 1 need",
    "was everyone at {bin}?",
    "who was at {bin}",
    "who did what today?",
    "half of group 1 did {bin}",
    "maximiliana did {bin}",
    "maximilianus did {bin}",
    "group 77 did {bin}",
    "group 1 did something",
    "group 1 did {bin} on 2026-11-14",
    "everyone did {bin} except maximiliana",
    "why does {child} need {bin}",
    "why",
    "undo",
    "redo",
    "{child} did {bin} and {bin} and {bin}",
    "take everyone off {bin}",
)


@pytest.fixture(scope="module")
def crowd(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Classroom]:
    """Room 3 with many more children, all of one first name, and more bins, all with long names."""
    path: Path = tmp_path_factory.mktemp("crowd") / "crowd.db"
    database = open_database(sqlite_url(path))
    class_id = build(database)
    with database.writing() as work:
        book = work.book(class_id)
        owner = work.register.member(class_id, OWNER)
        roster = book.roster()
        journal = book.journal(1)
        for number in range(CHILDREN - len(roster.students)):
            student_id = journal.add(
                tables.students,
                name=f"Maximiliana {chr(65 + number % 26)}{number}-Weatherbee",
                goes_by=[],
                avoids=["wheat"] if number % 2 else [],
                position=100 + number,
            )
            journal.add(
                tables.memberships, student_id=student_id, group_id=roster.groups[0].id, first=None
            )
            starts = moment("2026-11-17T10:20").time()
            if number % 3 == 0:
                journal.add(tables.aways, student_id=student_id, first=DAY, last=DAY, starts=starts)
        for number in range(BINS - 6):
            bin_id = journal.add(
                tables.bins,
                name=f"Counting Bears on a Balance {number}",
                also_called=[],
                standards=[],
                cautions=["contains wheat"],
                seats=4,
                visits_each=3,
            )
            journal.add(
                tables.stints,
                bin_id=bin_id,
                color=f"color{number}",
                opens=date(2026, 11, 9),
                closes=date(2026, 12, 4),
                seats=4,
                visits_each=3,
            )
    assert owner is not None
    yield Classroom(database, class_id, owner, path)
    database.close()


def longest_child(room: Classroom) -> Student:
    return max(room.roster().students, key=lambda student: len(student.name))


@pytest.mark.parametrize("text", TEXTS)
def test_a_reply_fits_a_message_and_its_buttons_fit_below_it(crowd: Classroom, text: str) -> None:
    said = text.format(bin="Counting Bears on a Balance 3", child=longest_child(crowd).name)
    reply = crowd.say(said).reply
    units = len(reply.text.encode("utf-16-le")) // 2
    assert MessageLimit.MIN_TEXT_LENGTH <= units <= MessageLimit.MAX_TEXT_LENGTH
    assert len(reply.choices) <= InlineKeyboardMarkupLimit.TOTAL_BUTTON_NUMBER
    assert all(choice.label.strip() for choice in reply.choices)


@pytest.mark.parametrize("text", [text for text in TEXTS if isinstance(text, str)])
def test_a_button_can_be_texted(crowd: Classroom, text: str) -> None:
    """What a button stands for is itself a text that a person may send."""
    said = text.format(bin="Counting Bears on a Balance 3", child=longest_child(crowd).name)
    for choice in crowd.say(said).reply.choices:
        assert 0 < len(choice.send) <= MessageLimit.MAX_TEXT_LENGTH
        assert crowd.say(choice.send).outcome != "unclear", choice.send


def test_a_code_fits_into_a_start_link(crowd: Classroom) -> None:
    with crowd.database.writing() as work:
        code = work.register.new_code(crowd.owner)
    assert len(code) <= MessageLimit.DEEP_LINK_LENGTH
    assert set(code) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")
