"""Loading a folder: the same twice changes nothing, cells apply, the chat is not run over."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path

import pytest
from sqlalchemy import func, select

from bot.folder import ClassFolder, read_folder
from bot.folder.loading import Loaded, load
from bot.settings import sqlite_url
from bot.wording.commands import loaded_lines
from storage import tables
from storage.classbook import ClassBook
from storage.database import Database, open_database
from storage.records import Roster, Student, Turn
from tests.classroom_fixture import moment

FILES = {
    "class.csv": [
        "name,time_zone,digest_at,quiet_before,quiet_after,school_days,absence_rate,keep_groups",
        "Room 9,America/New_York,07:15,06:45,17:30,Mon-Fri,0.05,mostly",
    ],
    "students.csv": [
        "name,group,goes_by,code,avoids,keep_apart,joined,left",
        "Ava R.,1,Avie,R1,,,,",
        "Ben T.,1,,R2,wheat,Chidi O.,,",
        "Chidi O.,2,,R3,,,2026-09-08,",
        "Dara L.,2,,R4,,,,",
    ],
    "bins.csv": [
        "bin,also_called,color,opens,closes,seats,visits_each,unit,standards,cautions",
        "Ramps,slides,red,2026-11-09,2026-11-20,4,1,Forces,K-PS2-1,",
        "Dough,,purple,2026-11-09,2026-12-04,4,2,,,contains wheat",
        "Gears,,,,,3,1,,,small parts",
    ],
    "supplies.csv": [
        "bin,item,kind,per_visit,per_tub,on_hand,counted_on,pack_size,lead_days,contains",
        "Ramps,record sheets,consumable,1,,30,2026-11-09,20,1,",
        "Dough,dough balls,consumable,0.5,,9,,6,2,wheat",
    ],
    "stations.csv": ["station,seats", "Book Nook,8"],
    "rotations.csv": ["weekday,starts,minutes", "Mon-Fri,10:15,20", "Mon;Wed,10:40,20"],
    "away.csv": [
        "student,from,to,weekday,starts,ends,reason",
        "Ava R.,2026-11-12,,,,,absent",
        "Dara L.,,,Tue,10:10,10:40,speech",
    ],
    "units.csv": ["unit,from,to,standards", "Forces,2026-10-19,2026-12-04,K-PS2-1"],
    "visits.csv": ["student,bin,day", "Ava R.,Ramps,2026-11-10", "Ben T.,Ramps,2026-11-10"],
}
MONDAY = moment("2026-11-16T07:00")
TUESDAY = moment("2026-11-17T07:00")


@dataclass
class Desk:
    """A folder to edit, and a database to load it into."""

    folder: Path
    database: Database

    def edit(self, file: str, old: str, new: str) -> None:
        """Replace a piece of a file that occurs once."""
        text = (self.folder / file).read_text()
        assert text.count(old) == 1, (file, old)
        (self.folder / file).write_text(text.replace(old, new))

    def without(self, file: str, line: str) -> None:
        """Take a line out of a file."""
        self.edit(file, line + "\n", "")

    def read(self) -> ClassFolder:
        found = read_folder(self.folder, machine_zone="UTC")
        assert isinstance(found, ClassFolder), found
        return found

    def load(self, now: datetime = TUESDAY, *, folder_wins: bool = False) -> Loaded:
        with self.database.writing() as work:
            return load(work, self.read(), now, folder_wins=folder_wins)

    def lines(self, now: datetime = TUESDAY) -> list[str]:
        """What a load says that it changed."""
        return loaded_lines(self.load(now))

    @contextmanager
    def book(self) -> Iterator[ClassBook]:
        with self.database.writing() as work:
            [class_] = work.register.classes()
            yield work.book(class_.id)

    def roster(self) -> Roster:
        with self.book() as book:
            return book.roster()

    def student(self, name: str) -> Student:
        return next(s for s in self.roster().students if s.name == name)

    def text(self, write: Callable[[ClassBook, int], object]) -> None:
        """Something changed in the chat: in an entry of its own."""
        with self.book() as book:
            entry_id = book.open_entry(
                kind="text", text="a text", at=MONDAY, received_at=MONDAY, member_id=1
            )
            write(book, entry_id)
            book.close_entry(entry_id, effect=True)

    def visits(self) -> set[tuple[str, str, str]]:
        with self.book() as book:
            roster, found = book.roster(), book.visits()
        return {
            (
                roster.student[c.turn.student_id].name,
                roster.bin_of(roster.stint[c.turn.stint_id]).name,
                f"{c.turn.day}",
            )
            for c in found
        }

    def rows(self) -> dict[str, int]:
        """How many rows each table holds."""
        with self.database.reading() as work:
            return {
                table.name: work.connection.execute(
                    select(func.count()).select_from(table)
                ).scalar_one()
                for table in tables.metadata.sorted_tables
            }


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """The folder, not loaded yet."""
    folder = tmp_path / "room9"
    folder.mkdir()
    for name, lines in FILES.items():
        (folder / name).write_text("\n".join(lines) + "\n")
    database = open_database(sqlite_url(tmp_path / "room9.db"))
    yield Desk(folder, database)
    database.close()


@pytest.fixture
def loaded(desk: Desk) -> Desk:
    """The folder, loaded on Monday."""
    desk.load(MONDAY)
    return desk


def test_a_first_load_writes_every_file(loaded: Desk) -> None:
    roster = loaded.roster()
    assert (roster.class_.name, roster.class_.time_zone) == ("Room 9", "America/New_York")
    assert (roster.class_.digest_at, roster.class_.absence_rate) == (time(7, 15), 0.05)
    ava, ben, chidi, _ = roster.students
    assert (ava.name, ava.goes_by, ava.code) == ("Ava R.", ("Avie",), "R1")
    assert ben.avoids == ("wheat",)
    assert [(p.student_id, p.other_id) for p in roster.apart] == [(ben.id, chidi.id)]
    assert chidi.joined == date(2026, 9, 8)
    assert [b.name for b in roster.bins] == ["Ramps", "Dough", "Gears"]
    assert [(s.color, s.closes, s.visits_each) for s in roster.stints] == [
        ("red", date(2026, 11, 20), 1),
        ("purple", date(2026, 12, 4), 2),
    ]
    assert [s.item for s in roster.supplies] == ["record sheets", "dough balls"]
    assert [(r.weekday, r.starts) for r in roster.rotations if r.weekday in (0, 1)] == [
        (0, time(10, 15)),
        (0, time(10, 40)),
        (1, time(10, 15)),
    ]
    assert [(a.first, a.weekday, a.reason) for a in roster.aways] == [
        (date(2026, 11, 12), None, "absent"),
        (None, 1, "speech"),
    ]
    assert [u.name for u in roster.units] == ["Forces"]
    assert loaded.visits() == {
        ("Ava R.", "Ramps", "2026-11-10"),
        ("Ben T.", "Ramps", "2026-11-10"),
    }
    with loaded.book() as book:
        counts = [(c.on_hand, c.counted_on) for c in book.supply_counts()]
    assert counts == [(30, date(2026, 11, 9)), (9, date(2026, 11, 16))]


def test_loading_the_same_folder_twice_changes_nothing(loaded: Desk) -> None:
    roster, rows = loaded.roster(), loaded.rows()
    assert loaded.lines() == []
    assert loaded.rows() == rows
    assert loaded.roster().class_.version == roster.class_.version


def test_the_demo_class_loaded_twice_changes_nothing(tmp_path: Path) -> None:
    demo = Path(__file__).parent.parent / "demo_roster"
    desk = Desk(demo, open_database(sqlite_url(tmp_path / "demo.db")))
    desk.load()
    rows = desk.rows()
    assert desk.lines() == []
    assert desk.rows() == rows
    desk.database.close()


CELLS: list[tuple[str, str, str, list[str]]] = [
    ("class.csv", "America/New_York", "America/Denver",
     ["setting: time zone America/New_York -> America/Denver"]),
    ("class.csv", "07:15", "07:30", ["setting: digest at 07:15 -> 07:30"]),
    ("class.csv", "Mon-Fri", "Mon-Sat", ["setting: school days 0; 1; 2; 3; 4 -> 0; 1; 2; 3; 4; 5"]),
    ("class.csv", "0.05", "0.07", ["setting: absence rate 0.05 -> 0.07"]),
    ("class.csv", "mostly", "firmly", ["setting: keep groups mostly -> firmly"]),
    ("students.csv", "Avie", "Avie;Aves", ["child Ava R.: goes by Avie -> Avie; Aves"]),
    ("students.csv", "R1,", "R9,", ["child Ava R.: code R1 -> R9"]),
    ("students.csv", "wheat", "", ["child Ben T.: avoids wheat -> none"]),
    ("students.csv", "2026-09-08", "2026-09-09",
     ["child Chidi O.: joined 2026-09-08 -> 2026-09-09"]),
    ("students.csv", "R4,,,,", "R4,,,,2026-11-13", ["child Dara L.: left none -> 2026-11-13"]),
    ("students.csv", "Dara L.,2", "Dara L.,1", ["child Dara L.: group 2 -> 1"]),
    ("students.csv", ",Chidi O.,", ",,", ["kept apart Ben T., Chidi O. removed"]),
    ("students.csv", "R4,,,,", "R4,,Ava R.,,", ["kept apart Ava R., Dara L. added"]),
    ("bins.csv", "slides", "hills", ["bin Ramps: also called slides -> hills"]),
    ("bins.csv", "Forces,K-PS2-1", ",K-PS2-1", ["bin Ramps: unit Forces -> none"]),
    ("bins.csv", "small parts", "magnets", ["bin Gears: cautions small parts -> magnets"]),
    ("bins.csv", ",3,1", ",2,1", ["bin Gears: seats 3 -> 2"]),
    ("bins.csv", "red", "green", ["out Ramps, 2026-11-09: color red -> green"]),
    ("bins.csv", "2026-12-04", "2026-12-03",
     ["out Dough, 2026-11-09: closes 2026-12-04 -> 2026-12-03"]),
    ("bins.csv", "4,2,,", "4,1,,", ["bin Dough: visits each 2 -> 1",
                                   "out Dough, 2026-11-09: visits each 2 -> 1"]),
    ("supplies.csv", ",30,", ",12,", ["supply Ramps, record sheets: on hand 30.0 -> 12.0"]),
    ("supplies.csv", "2026-11-09", "2026-11-13",
     ["supply Ramps, record sheets: counted on 2026-11-09 -> 2026-11-13"]),
    ("supplies.csv", "balls,consumable,0.5", "balls,consumable,0.75",
     ["supply Dough, dough balls: per visit 0.5 -> 0.75"]),
    ("supplies.csv", "2,wheat", "3,wheat", ["supply Dough, dough balls: lead days 2 -> 3"]),
    ("stations.csv", "8", "6", ["station Book Nook: seats 8 -> 6"]),
    ("rotations.csv", "10:15,20", "10:15,25",
     [f"rotation {day}, 10:15: minutes 20 -> 25" for day in range(5)]),
    ("away.csv", "absent", "ill", ["away Ava R., 2026-11-12, 2026-11-12: reason absent -> ill"]),
    ("units.csv", "2026-12-04", "2026-12-11", ["unit Forces: last 2026-12-04 -> 2026-12-11"]),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "told"), CELLS)
def test_a_cell_that_differs_from_the_last_load_applies(
    loaded: Desk, file: str, old: str, new: str, told: list[str]
) -> None:
    loaded.edit(file, old, new)
    assert loaded.lines() == told
    assert loaded.lines() == []
    fresh = Desk(loaded.folder, open_database(f"sqlite:///{loaded.folder.parent}/fresh.db"))
    fresh.load(MONDAY)
    assert plain(loaded.roster()) == plain(fresh.roster())
    fresh.database.close()


def plain(roster: Roster) -> dict[str, set[tuple[object, ...]]]:
    """A class without ids and the order of its lines, to be compared with another."""

    def row(record: object) -> tuple[object, ...]:
        names: tuple[str, ...] = record.__slots__  # type: ignore[attr-defined]  # our dataclasses
        hidden = ("id", "version")
        return tuple(named(n, getattr(record, n)) for n in names if n not in hidden)

    def named(name: str, value: object) -> object:
        subject = {"student_id": roster.student, "other_id": roster.student, "bin_id": roster.bin}
        return subject[name][value].name if name in subject else value  # type: ignore[index]

    groups = {(s.name, roster.group_on(s.id, date(2026, 11, 17))) for s in roster.students}
    subjects = ("students", "apart", "bins", "stints", "stations", "rotations", "aways", "units")
    found = {subject: {row(r) for r in getattr(roster, subject)} for subject in subjects}
    by_name: set[tuple[object, ...]] = {
        (name, roster.group[i].name if i else None) for name, i in groups
    }
    supplies = {(roster.bin[s.bin_id].name, *row(s)[1:]) for s in roster.supplies}
    return {**found, "class": {row(roster.class_)}, "groups": by_name, "supplies": supplies}


def test_a_count_that_differs_is_a_count_of_its_day(loaded: Desk) -> None:
    loaded.edit("supplies.csv", ",9,,6", ",7,,6")
    loaded.load(TUESDAY)
    with loaded.book() as book:
        item = book.roster().supplies[1].id
        counts = [(c.on_hand, c.counted_on) for c in book.supply_counts() if c.supply_id == item]
    assert counts == [(9, date(2026, 11, 16)), (7, date(2026, 11, 17))]


def test_another_group_counts_from_today_and_last_week_keeps_its_meaning(loaded: Desk) -> None:
    loaded.edit("students.csv", "Dara L.,2", "Dara L.,1")
    loaded.load(TUESDAY)
    roster = loaded.roster()
    dara = loaded.student("Dara L.").id
    groups = {roster.group_on(dara, date(2026, 11, day)) for day in (1, 10, 16)}
    assert {roster.group[i].name for i in groups if i} == {"2"}
    today = roster.group_on(dara, date(2026, 11, 17))
    assert today is not None
    assert roster.group[today].name == "1"


def test_a_child_missing_from_the_list_has_left_yesterday(loaded: Desk) -> None:
    loaded.without("students.csv", "Dara L.,2,,R4,,,,")
    loaded.without("away.csv", "Dara L.,,,Tue,10:10,10:40,speech")
    assert loaded.lines() == ["away Dara L., 1, 10:10, 10:40 removed", "child Dara L. left"]
    assert loaded.student("Dara L.").left == date(2026, 11, 16)
    assert loaded.lines() == []


def test_a_child_who_is_listed_again_is_back(loaded: Desk) -> None:
    original = (loaded.folder / "students.csv").read_text()
    loaded.without("away.csv", "Dara L.,,,Tue,10:10,10:40,speech")
    loaded.without("students.csv", "Dara L.,2,,R4,,,,")
    before = loaded.student("Dara L.").id
    loaded.load()
    (loaded.folder / "students.csv").write_text(original)
    assert loaded.lines() == ["child Dara L.: left 2026-11-16 -> none"]
    assert (loaded.student("Dara L.").id, loaded.student("Dara L.").left) == (before, None)


def test_a_visit_line_taken_out_takes_back_what_the_load_claimed(loaded: Desk) -> None:
    loaded.without("visits.csv", "Ben T.,Ramps,2026-11-10")
    assert loaded.lines() == ["visit Ben T., Ramps, 2026-11-10 removed"]
    assert loaded.visits() == {("Ava R.", "Ramps", "2026-11-10")}


def test_a_visit_that_a_text_claims_too_stays(loaded: Desk) -> None:
    loaded.text(log(loaded, "Ben T.", "Ramps", date(2026, 11, 10)))
    loaded.without("visits.csv", "Ben T.,Ramps,2026-11-10")
    loaded.load()
    assert ("Ben T.", "Ramps", "2026-11-10") in loaded.visits()


def test_a_visit_texted_first_and_listed_later_stands_by_both(loaded: Desk) -> None:
    loaded.text(log(loaded, "Chidi O.", "Ramps", date(2026, 11, 13)))
    loaded.edit("visits.csv", "Ben T.,", "Chidi O.,Ramps,2026-11-13\nBen T.,")
    loaded.load()
    with loaded.book() as book:
        text = next(e for e in book.recent_entries(1, 5) if e.kind == "text")
        undo = book.open_entry(
            kind="text", text="undo", at=TUESDAY, received_at=TUESDAY, member_id=1
        )
        book.journal(undo).step_back(text.id)
    assert ("Chidi O.", "Ramps", "2026-11-13") in loaded.visits()


def test_a_visit_taken_back_in_the_chat_does_not_return_with_the_same_folder(
    loaded: Desk,
) -> None:
    loaded.text(lambda book, entry_id: book.take_back(entry_id, book.claims()[:1]))
    assert loaded.lines() == []
    assert loaded.visits() == {("Ben T.", "Ramps", "2026-11-10")}


def test_an_away_taken_out_is_gone(loaded: Desk) -> None:
    loaded.without("away.csv", "Ava R.,2026-11-12,,,,,absent")
    assert loaded.lines() == ["away Ava R., 2026-11-12, 2026-11-12 removed"]
    assert [a.reason for a in loaded.roster().aways] == ["speech"]


def test_a_bin_taken_out_goes_with_its_stint_and_its_supplies(loaded: Desk) -> None:
    loaded.without("bins.csv", "Dough,,purple,2026-11-09,2026-12-04,4,2,,,contains wheat")
    loaded.without("supplies.csv", "Dough,dough balls,consumable,0.5,,9,,6,2,wheat")
    assert loaded.lines() == [
        "supply Dough, dough balls removed",
        "out Dough, 2026-11-09 removed",
        "bin Dough removed",
    ]
    roster = loaded.roster()
    assert [b.name for b in roster.bins] == ["Ramps", "Gears"]
    assert len(roster.stints) == len(roster.supplies) == 1


def test_a_bin_whose_visits_only_the_folder_told_goes_with_them(loaded: Desk) -> None:
    take_ramps_out(loaded)
    assert loaded.lines() == [
        "visit Ava R., Ramps, 2026-11-10 removed",
        "visit Ben T., Ramps, 2026-11-10 removed",
        "supply Ramps, record sheets removed",
        "out Ramps, 2026-11-09 removed",
        "bin Ramps removed",
    ]
    assert [b.name for b in loaded.roster().bins] == ["Dough", "Gears"]


def test_a_bin_that_a_text_spoke_of_stays_and_is_told_as_kept(loaded: Desk) -> None:
    loaded.text(log(loaded, "Chidi O.", "Ramps", date(2026, 11, 13)))
    take_ramps_out(loaded)
    assert loaded.lines()[-2:] == ["out Ramps, 2026-11-09 kept", "bin Ramps kept"]
    assert loaded.visits() == {("Chidi O.", "Ramps", "2026-11-13")}
    assert loaded.lines() == []


def test_a_bin_stays_as_long_as_an_undone_text_may_come_back(loaded: Desk) -> None:
    loaded.text(log(loaded, "Chidi O.", "Ramps", date(2026, 11, 13)))
    with loaded.book() as book:
        book.take_back(1, book.claims(entry_id=2))
    take_ramps_out(loaded)
    loaded.load()
    assert [b.name for b in loaded.roster().bins] == ["Ramps", "Dough", "Gears"]


def test_a_stint_whose_first_day_is_mended_is_the_same_stint(loaded: Desk) -> None:
    loaded.text(log(loaded, "Chidi O.", "Ramps", date(2026, 11, 13)))
    stint = loaded.roster().stints[0].id
    loaded.edit("bins.csv", "red,2026-11-09", "red,2026-11-10")
    assert loaded.lines() == ["out Ramps, 2026-11-10: opens 2026-11-09 -> 2026-11-10"]
    assert [(s.id, s.opens) for s in loaded.roster().stints if s.color == "red"] == [
        (stint, date(2026, 11, 10))
    ]
    assert ("Chidi O.", "Ramps", "2026-11-13") in loaded.visits()
    assert loaded.lines() == []


def test_a_bin_out_again_later_is_another_stint(loaded: Desk) -> None:
    loaded.edit("bins.csv", "Gears,", "Ramps,,red,2027-01-11,2027-01-22,4,1,,,\nGears,")
    assert loaded.lines() == ["out Ramps, 2027-01-11 added"]
    assert len(loaded.roster().stints) == 3


def test_visits_on_days_that_a_later_closing_day_brings_are_kept(loaded: Desk) -> None:
    loaded.edit("bins.csv", "2026-11-20", "2026-12-04")
    loaded.edit("visits.csv", "Ben T.,", "Chidi O.,Ramps,2026-11-24\nBen T.,")
    loaded.load(moment("2026-11-25T07:00"))
    assert ("Chidi O.", "Ramps", "2026-11-24") in loaded.visits()


def test_names_may_hold_the_signs_that_lists_are_made_of(loaded: Desk) -> None:
    loaded.edit("supplies.csv", "Ramps,record sheets", 'Ramps,"cups | lids, small"')
    assert loaded.lines() == [
        "supply Ramps, cups | lids, small added",
        "supply Ramps, record sheets removed",
    ]


# What the chat changed


def test_the_same_cell_changed_in_the_chat_and_in_the_folder_is_refused(loaded: Desk) -> None:
    loaded.text(change_student("Ava R.", code="R7"))
    loaded.edit("students.csv", "R1,", "R9,")
    loaded.edit("stations.csv", "8", "6")
    rows = loaded.rows()
    result = loaded.load()
    assert loaded_lines(result) == [
        "Changed both in the chat and in the folder:",
        "child Ava R.: code R7 -> R9",
        "Nothing was loaded. Mend the folder, or load it with --folder-wins.",
    ]
    assert (result.code, result.differences) == ("", ())
    assert loaded.rows() == rows
    assert loaded.student("Ava R.").code == "R7"
    assert [s.seats for s in loaded.roster().stations] == [8]


def test_a_folder_that_wins_applies_all_of_it(loaded: Desk) -> None:
    loaded.text(change_student("Ava R.", code="R7"))
    loaded.edit("students.csv", "R1,", "R9,")
    loaded.edit("stations.csv", "8", "6")
    result = loaded.load(folder_wins=True)
    assert loaded_lines(result) == [
        "child Ava R.: code R7 -> R9",
        "station Book Nook: seats 8 -> 6",
    ]
    assert loaded.student("Ava R.").code == "R9"


def test_what_only_the_chat_changed_is_left_alone(loaded: Desk) -> None:
    loaded.text(change_student("Ava R.", code="R7"))
    loaded.edit("stations.csv", "8", "6")
    assert loaded.lines() == ["station Book Nook: seats 8 -> 6"]
    assert loaded.student("Ava R.").code == "R7"


def test_the_same_new_value_on_both_sides_is_no_conflict(loaded: Desk) -> None:
    loaded.text(change_student("Ava R.", code="R9"))
    loaded.edit("students.csv", "R1,", "R9,")
    assert loaded.lines() == []


def test_an_away_that_the_chat_took_away_and_the_folder_changes_is_refused(loaded: Desk) -> None:
    loaded.text(
        lambda book, entry_id: book.journal(entry_id).void(
            tables.aways, [book.roster().aways[0].id]
        )
    )
    assert loaded.lines() == []
    loaded.edit("away.csv", "absent", "ill")
    assert len(loaded.load().conflicts) == 1
    loaded.load(folder_wins=True)
    assert [a.reason for a in loaded.roster().aways] == ["speech", "ill"]


# Codes, and folders that cannot be


def test_a_newer_code_replaces_the_one_before(desk: Desk) -> None:
    first, second = desk.load(MONDAY).code, desk.load(TUESDAY).code
    assert first
    assert second not in ("", first)
    with desk.database.writing() as work:
        assert work.register.redeem(first, 77, TUESDAY) is None
        joined = work.register.redeem(second, 77, TUESDAY)
    assert joined is not None
    assert (joined.role, joined.account) == ("owner", 77)


def test_a_class_with_an_owner_gets_no_code(desk: Desk) -> None:
    code = desk.load(MONDAY).code
    with desk.database.writing() as work:
        work.register.redeem(code, 77, MONDAY)
    assert desk.load(TUESDAY).code == ""


def test_two_folders_are_two_classes(loaded: Desk) -> None:
    loaded.edit("class.csv", "Room 9", "Room 10")
    assert loaded.load().is_new
    with loaded.database.reading() as work:
        assert [c.name for c in work.register.classes()] == ["Room 9", "Room 10"]


def log(desk: Desk, student: str, bin_: str, day: date) -> Callable[[ClassBook, int], None]:
    """A text that claims a visit."""
    roster = desk.roster()
    stint = next(s for s in roster.stints if roster.bin_of(s).name == bin_)
    turn = Turn(desk.student(student).id, stint.id, day)
    return lambda book, entry_id: book.claim(entry_id, [turn])


def change_student(name: str, **values: object) -> Callable[[ClassBook, int], None]:
    """A text that changes what is known of a child."""

    def write(book: ClassBook, entry_id: int) -> None:
        child = next(s for s in book.roster().students if s.name == name)
        book.journal(entry_id).change(tables.students, child.id, **values)

    return write


def take_ramps_out(desk: Desk) -> None:
    """Take the bin, its supplies and its history out of the folder."""
    desk.without("bins.csv", "Ramps,slides,red,2026-11-09,2026-11-20,4,1,Forces,K-PS2-1,")
    desk.without("supplies.csv", "Ramps,record sheets,consumable,1,,30,2026-11-09,20,1,")
    desk.without("visits.csv", "Ava R.,Ramps,2026-11-10")
    desk.without("visits.csv", "Ben T.,Ramps,2026-11-10")
