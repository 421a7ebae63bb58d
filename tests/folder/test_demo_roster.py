"""The invented class is what the README says it is, and like a real one."""

from collections import Counter
from datetime import date, time
from pathlib import Path

import pytest

from bot.folder import ClassFolder, read_folder
from bot.folder.columns import FILES
from bot.folder.nearest import fold

DEMO = Path(__file__).parents[2] / "demo_roster"
MONDAY = date(2026, 11, 16)


@pytest.fixture(scope="module")
def demo() -> ClassFolder:
    """The demo class, which must be sound."""
    folder = read_folder(DEMO, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    return folder


def test_all_ten_files(demo: ClassFolder) -> None:
    """One of each."""
    assert [one.name for one in demo.files] == list(FILES)
    assert sorted(entry.name for entry in DEMO.iterdir()) == sorted(FILES)


def test_class(demo: ClassFolder) -> None:
    """24 children in six groups of four, one who joined and one who left; one avoids wheat."""
    now = [one for one in demo.students if one.left is None]
    assert len(now) == 24
    assert Counter(one.group for one in now) == dict.fromkeys("123456", 4)
    assert [one.name for one in demo.students if one.joined] == ["Leilani K."]
    assert [one.name for one in demo.students if one.left] == ["Jonah A."]
    assert [one.name for one in demo.students if one.avoids == ("wheat",)] == ["Zoë M."]
    apart = {one.name: one.keep_apart for one in demo.students if one.keep_apart}
    assert apart == {"D'Andre W.": ("Omar H.",), "Omar H.": ("D'Andre W.",)}
    first_names = Counter(one.name.split()[0] for one in demo.students)
    assert [name for name, times in first_names.items() if times > 1] == ["Sofia"]


def test_six_bins_are_out(demo: ClassFolder) -> None:
    """In six colors, the others on the shelf; one of them contains wheat."""
    out = {
        one.color: one.bin
        for one in demo.bins
        if one.opens and one.opens <= MONDAY and (one.last_day is None or one.last_day >= MONDAY)
    }
    assert out == {
        "red": "Ramps",
        "pink": "Shadows",
        "yellow": "Balance",
        "green": "Sink or Float",
        "blue": "Patterns",
        "purple": "Dough Shapes",
    }
    assert len({one.bin for one in demo.bins}) == 10
    assert [one.bin for one in demo.bins if "contains wheat" in one.cautions] == ["Dough Shapes"]


def test_history_agrees_with_aways(demo: ClassFolder) -> None:
    """Nobody away all day has a visit, nor Zoë with the dough; groups of four at most."""
    whole_days = [one for one in demo.aways if not one.starts and one.from_day and one.to_day]
    gone = {
        (one.student, visit.day)
        for one in whole_days
        for visit in demo.visits
        if one.from_day and one.to_day and one.from_day <= visit.day <= one.to_day
    }
    assert len(gone) > 9
    assert not gone & {(visit.student, visit.day) for visit in demo.visits}
    assert ("Zoë M.", "Dough Shapes") not in {(one.student, one.bin) for one in demo.visits}
    a_day = Counter((visit.student, visit.day) for visit in demo.visits)
    assert max(a_day.values()) <= 2
    at_bin = Counter((visit.bin, visit.day) for visit in demo.visits)
    assert max(at_bin.values()) <= 8
    days = {visit.day for visit in demo.visits}
    assert (min(days), max(days), len(days)) == (date(2026, 11, 2), date(2026, 11, 13), 9)


def test_every_open_bin_is_still_needed(demo: ClassFolder) -> None:
    """By some children but not by all, on the Monday after the history."""
    missing = {}
    for one in demo.bins:
        if not one.opens or (one.last_day and one.last_day < MONDAY):
            continue
        held = Counter(
            visit.student
            for visit in demo.visits
            if visit.bin == one.bin and visit.day >= one.opens
        )
        missing[one.bin] = sum(
            held[student.name] < one.visits_each
            for student in demo.students
            if not student.left
            and not any(fold(f"contains {avoided}") in one.cautions for avoided in student.avoids)
        )
    assert missing == {
        "Ramps": 6,
        "Shadows": 3,
        "Balance": 8,
        "Sink or Float": 2,
        "Patterns": 4,
        "Dough Shapes": 13,
    }


def test_days(demo: ClassFolder) -> None:
    """Two rotations a day; a closed day in the history; an early release every Wednesday."""
    assert [(one.weekdays, one.starts, one.minutes) for one in demo.rotations] == [
        ((0, 1, 2, 3, 4), time(10, 15), 20),
        ((0, 1, 2, 3, 4), time(10, 40), 20),
    ]
    assert date(2026, 11, 11) in {one.day for one in demo.closures}
    early = [one for one in demo.blocks if one.summary == "Early release"]
    assert {one.day.weekday() for one in early} == {2}
    assert {(one.starts, one.ends) for one in early} == {(time(13, 15), time(15, 15))}
    assert len(early) == 38
