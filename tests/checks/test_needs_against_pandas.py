"""Needs and counts against a pivot table of pandas over the exported visits, on generated classes.

Outside source: pandas (read_csv, merge, drop_duplicates, pivot_table). What is counted follows from
the export alone: a visit is a student, a bin and a day; it belongs to the period in which that bin
was out on that day. The class itself (who is asked to go where) is known from its generator.
"""

from __future__ import annotations

import io
import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest

from bot.conversation import Incoming, take
from bot.exports import EXPORTS, write_csv
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from bot.settings import sqlite_url
from storage.classbook import ClassBook
from storage.database import Database, Work, open_database
from storage.records import Member, Turn
from tests.classroom_fixture import moment

CLASSES = 48
NOW = moment("2026-11-17T14:00")
TODAY = NOW.date()
TERM = [date(2026, 10, 19) + timedelta(days=n) for n in range(30) if (n % 7) < 5]  # to 17 Nov
FIRST_NAMES = (
    *("Amara", "Bea", "Caleb", "Dina", "Elif", "Farid", "Gia", "Hugo", "Ines", "Jalen", "Kofi"),
    *("Lena", "Malik", "Nora", "Oskar", "Pilar", "Quinn", "Rosa", "Samir", "Tessa", "Uma", "Vera"),
    *("Wyatt", "Xenia", "Yusuf", "Zara"),
)
BINS = ("Ramps", "Balance", "Magnets", "Shadows", "Mirrors", "Gears", "Towers", "Pulleys")
COLORS = ("red", "yellow", "green", "pink", "purple", "orange", "teal", "brown")
TEXTS, CLAIMS = 6, 60


@dataclass(frozen=True)
class Child:
    """A generated student."""

    name: str
    group: int
    avoids: str
    joined: date | None
    left: date | None


@dataclass(frozen=True)
class Period:
    """A bin that is out in a color; `closes` None is all year."""

    bin: str
    color: str
    opens: date
    closes: date | None
    visits_each: int
    contains: str


@dataclass(frozen=True)
class Generated:
    """One class."""

    name: str
    children: tuple[Child, ...]
    periods: tuple[Period, ...]


def generate(number: int) -> Generated:
    """A class that is the same for the same number."""
    dice = random.Random(number)
    children = [_child(name, dice) for name in FIRST_NAMES[: dice.randint(4, len(FIRST_NAMES))]]
    periods: list[Period] = []
    for bin_, color in zip(BINS[: dice.randint(2, len(BINS))], COLORS, strict=False):
        contains = dice.choice(["", "", "wheat", "egg"])
        if dice.random() < 0.5:  # it was out before
            earlier = Period(bin_, color, TERM[0], TERM[8], dice.randint(1, 2), contains)
            periods.append(earlier)
        opens = TERM[dice.randint(10, 20)]
        closes = dice.choice([None, TERM[-2], TODAY, date(2026, 12, 4), date(2026, 12, 4)])
        periods.append(Period(bin_, color, opens, closes, dice.randint(1, 3), contains))
    return Generated(f"Room {number + 100}", tuple(children), tuple(periods))


def _child(first: str, dice: random.Random) -> Child:
    return Child(
        f"{first} {dice.choice('ABCD')}.",
        dice.randint(1, 4),
        dice.choice(["", "", "", "wheat", "egg"]),
        TERM[dice.randint(0, 12)] if dice.random() < 0.2 else None,
        TERM[dice.randint(13, len(TERM) - 1)] if dice.random() < 0.15 else None,
    )


def write_folder(made: Generated, path: Path) -> ClassFolder:
    """The class as a folder, read back."""
    path.mkdir()
    files = {
        "class.csv": ["name,time_zone", f"{made.name},America/New_York"],
        "students.csv": [
            "name,group,avoids,joined,left",
            *(
                f"{c.name},{c.group},{c.avoids},{c.joined or ''},{c.left or ''}"
                for c in made.children
            ),
        ],
        "bins.csv": [
            "bin,color,opens,closes,visits_each,cautions",
            *(
                f"{p.bin},{p.color},{p.opens},{p.closes or ''},{p.visits_each},"
                f"{'contains ' + p.contains if p.contains else ''}"
                for p in made.periods
            ),
        ],
        "rotations.csv": ["starts", "10:15", "10:40"],
    }
    for name, lines in files.items():
        (path / name).write_text("\n".join(lines) + "\n")
    folder = read_folder(path, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    return folder


def fill(work: Work, class_id: int, owner: Member, number: int) -> None:
    """Random turns: by texts, by claims of other entries, said twice, taken back, undone."""
    dice = random.Random(-number - 1)
    book = work.book(class_id)
    for _ in range(TEXTS):
        _text(book, owner, dice)
    made: list[int] = []
    for _ in range(CLAIMS // 4):
        made.append(_entry(book))
        turns = [turn for _ in range(4) if (turn := _turn(book, dice))]
        book.claim(made[-1], list({turn.key: turn for turn in turns}.values()))
    taking = _entry(book)
    book.take_back(taking, dice.sample(book.claims(), k=min(5, len(book.claims()))))
    for entry_id in dice.sample([*made, taking], k=4):
        book.journal(_entry(book)).step_back(entry_id)
    take(book, owner, Incoming("undo", NOW, NOW))


def _text(book: ClassBook, owner: Member, dice: random.Random) -> None:
    turn = _turn(book, dice)
    if turn is not None:
        roster = book.roster()
        child, stint = roster.student[turn.student_id], roster.stint[turn.stint_id]
        text = f"{child.name} did {roster.bin_of(stint).name} on {turn.day}"
        answer = take(book, owner, Incoming(text, NOW, NOW))
        assert answer.requests == ("log_visits",), text


def _turn(book: ClassBook, dice: random.Random) -> Turn | None:
    """A turn on a day on which the bin was out and the child in the class."""
    roster = book.roster()
    stint, child, day = dice.choice(roster.stints), dice.choice(roster.students), dice.choice(TERM)
    return Turn(child.id, stint.id, day) if stint.is_out(day) and child.is_on_roster(day) else None


def _entry(book: ClassBook) -> int:
    return book.open_entry(kind="text", text="x", at=NOW, received_at=NOW, member_id=None)


@pytest.fixture(scope="module")
def school(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    """Every generated class in one database."""
    folders = tmp_path_factory.mktemp("school")
    database = open_database(sqlite_url(folders / "school.db"))
    for number in range(CLASSES):
        folder = write_folder(generate(number), folders / f"{number}")
        with database.writing() as work:
            load(work, folder, NOW)
            class_ = work.register.classes()[-1]
            [owner] = work.register.members(class_.id)
            fill(work, class_.id, owner, number)
    yield database
    database.close()


def exported(work: Work, class_id: int, what: str) -> pd.DataFrame:
    """A table as it leaves the bot."""
    out = io.StringIO()
    write_csv(EXPORTS[what](work.book(class_id), work.register, NOW), out)
    out.seek(0)
    return pd.read_csv(out, dtype=str, keep_default_na=False)


def held(made: Generated, visits: pd.DataFrame) -> pd.DataFrame:
    """Days at each period, by student: a pivot table with a row for every child."""
    periods = pd.DataFrame(
        [(n, p.bin, f"{p.opens}", f"{p.closes or '9999'}") for n, p in enumerate(made.periods)],
        columns=["period", "bin", "opens", "closes"],
    )
    placed = visits.merge(periods, on="bin")
    placed = placed[(placed.opens <= placed.day) & (placed.day <= placed.closes)]
    days = placed.drop_duplicates(["student", "period", "day"])
    table = days.pivot_table(index="student", columns="period", values="day", aggfunc="count")
    names = [child.name for child in made.children]
    return table.reindex(index=names, columns=range(len(made.periods))).fillna(0).astype(int)


def needs_expected(made: Generated, table: pd.DataFrame) -> set[tuple[str, str, int, int]]:
    """Who needs what: bin, student, visits held, visits asked."""
    return {
        (period.bin, child.name, int(table.loc[child.name, n]), period.visits_each)
        for n, period in enumerate(made.periods)
        if period.opens <= TODAY and (period.closes is None or period.closes >= TODAY)
        for child in made.children
        if (child.joined is None or child.joined <= TODAY)
        and (child.left is None or child.left >= TODAY)
        and not (child.avoids and child.avoids == period.contains)
        and table.loc[child.name, n] < period.visits_each
    }


@pytest.mark.parametrize("number", range(CLASSES))
def test_needs_and_counts_are_those_of_a_pivot_table(school: Database, number: int) -> None:
    made = generate(number)
    with school.reading() as work:
        class_ = next(c for c in work.register.classes() if c.name == made.name)
        visits, needs = exported(work, class_.id, "visits"), exported(work, class_.id, "needs")
    assert len(visits) > 0
    assert not visits.duplicated(["student", "bin", "day"]).any()
    expected = needs_expected(made, held(made, visits))
    rows = needs.itertuples(index=False)
    found = [(row.bin, row.student, int(row.visits), int(row.asked)) for row in rows]
    assert set(found) == expected
    assert len(found) == len(expected)


@pytest.mark.parametrize("number", range(0, CLASSES, 6))
def test_an_answer_counts_as_the_pivot_table_does(school: Database, number: int) -> None:
    made = generate(number)
    with school.reading() as work:
        class_ = next(c for c in work.register.classes() if c.name == made.name)
        [owner] = work.register.members(class_.id)
        visits = exported(work, class_.id, "visits")
        answer = take(work.book(class_.id), owner, Incoming("who needs everything", NOW, NOW))
    facts = answer.result["facts"]
    assert isinstance(facts, dict)
    found = {(bin_, name) for bin_, names in facts["needs"].items() for name in names}
    assert found == {row[:2] for row in needs_expected(made, held(made, visits))}


def test_the_generated_classes_differ_in_what_matters(school: Database) -> None:
    made = [generate(number) for number in range(CLASSES)]
    assert any(c.left and c.left < TODAY for one in made for c in one.children)
    assert any(p.closes and p.closes < TODAY for one in made for p in one.periods)
    assert any(
        c.avoids and c.avoids == p.contains
        for one in made
        for c in one.children
        for p in one.periods
    )
