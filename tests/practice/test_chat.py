"""The practice chat: buttons by number, the demo class week after week, ways to leave."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.practice.chat import demo_folder, practice
from bot.settings import sqlite_url
from storage.database import open_database
from storage.records import Roster
from tests.calendars import ics

TUESDAY = datetime(2026, 11, 17, 16, 41, tzinfo=UTC)


def chat(folder: Path, *lines: str, now: datetime = TUESDAY) -> str:
    """What is on the screen after these lines."""
    out = io.StringIO()
    source = io.StringIO("".join(f"{line}\n" for line in lines))
    assert practice(source, out, lambda: now, folder=folder) == 0
    return out.getvalue()


def roster(folder: Path) -> Roster:
    database = open_database(sqlite_url(folder / "practice.db"))
    with database.reading() as work:
        [class_] = work.register.classes()
        found = work.book(class_.id).roster()
    database.close()
    return found


def test_a_number_presses_the_button_of_that_number(tmp_path: Path) -> None:
    screen = chat(tmp_path, "sofia did ramps on 2026-11-17", "2", "quit")
    question, answer = screen.split("> ")[1:3]
    assert "[1] Sofia R.  [2] Sofia T.  [3] Both" in question
    assert "Ramps" in answer
    assert "Sofia T." in answer


def test_a_number_without_a_button_is_a_text(tmp_path: Path) -> None:
    screen = chat(tmp_path, "7", "9" * 5000, "quit")
    assert screen.count("> ") == 3


def test_a_line_sends_a_calendar_file(tmp_path: Path) -> None:
    path = tmp_path / "our days.ics"
    path.write_bytes(ics("DTSTART;VALUE=DATE:20261201|SUMMARY:Staff day"))
    screen = chat(tmp_path, f"file '{path}'", "1", "file nowhere.ics", "file", "quit")
    asked, taken, missing, text = screen.split("> ")[1:5]
    assert "1. Staff day, Tue 1 Dec" in asked
    assert "[1] All of them  [2] None" in asked
    assert taken.startswith("Noted: no school on 1 day.")
    assert missing.startswith("That file cannot be read (No such file or directory)")
    assert text.startswith("I did not get that")
    assert "“file PATH” sends a calendar file" in screen


@pytest.mark.parametrize("word", ["quit", "EXIT", " q ", ":q"])
def test_a_word_leaves(tmp_path: Path, word: str) -> None:
    assert chat(tmp_path, word, "hello").endswith(
        "Bye. What you texted here is kept for next time.\n"
    )
    assert chat(tmp_path, word, "hello").count("> ") == 1


def test_the_end_of_the_input_leaves(tmp_path: Path) -> None:
    assert chat(tmp_path).endswith("Bye. What you texted here is kept for next time.\n")


def test_ctrl_c_leaves(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def pressed() -> str:
        raise KeyboardInterrupt

    source, out = io.StringIO(), io.StringIO()
    monkeypatch.setattr(source, "readline", pressed)
    assert practice(source, out, lambda: TUESDAY, folder=tmp_path) == 0
    assert out.getvalue().endswith("Bye. What you texted here is kept for next time.\n")


def test_what_was_texted_is_kept_for_next_time(tmp_path: Path) -> None:
    chat(tmp_path, "g3 did ramps on 2026-11-17", "quit")
    screen = chat(tmp_path, "g3 did ramps on 2026-11-17", "quit")
    assert "Nothing new" in screen


def test_the_demo_class_moves_on_by_weeks_and_no_bin_is_out_twice(tmp_path: Path) -> None:
    chat(tmp_path, "g3 did ramps on 2026-11-17", "quit")
    before = roster(tmp_path)
    for week in range(1, 4):
        chat(tmp_path, "quit", now=TUESDAY + timedelta(weeks=week))
        now = roster(tmp_path)
        assert len(now.stints) == len(before.stints)
        opens = {stint.opens - timedelta(weeks=week) for stint in now.stints}
        assert opens == {stint.opens for stint in before.stints}


@pytest.mark.parametrize("days", [0, 1, 100, 365, 3650])
def test_the_demo_class_looks_like_the_middle_of_a_term(days: int) -> None:
    now = TUESDAY + timedelta(days=days)
    folder = demo_folder(now)
    last_visit = max(visit.day for visit in folder.visits)
    assert 1 <= (now.date() - last_visit).days <= 7
    out = [b for b in folder.bins if b.opens and b.opens <= now.date()]
    assert sum(b.last_day is None or b.last_day >= now.date() for b in out) >= 4


def test_what_is_due_is_shown_once_before_the_next_prompt(tmp_path: Path) -> None:
    morning = datetime(2026, 11, 17, 13, 20, tzinfo=UTC)  # 7:20 in the class
    screen = chat(tmp_path, "2", "quit", now=morning)
    before, answer = screen.split("> ")[:2]
    assert "Tue 17 Nov." in before
    assert before.splitlines()[-1] == (
        "[1] Ran as planned  [2] Someone is away  [3] Change the plan"
    )
    assert answer.startswith("Text me who")
    assert "Tue 17 Nov." not in chat(tmp_path, "quit", now=morning)
