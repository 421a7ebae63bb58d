"""What goes out next: the reasons, and their order."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bot.classroom.suggestions import Suggestion, school_year_of, suggestions
from storage.records import Bin, Roster, Stint, Student, Supply, Unit
from tests.rosters import make_roster

FIRST, LAST = date(2026, 11, 30), date(2026, 12, 11)
SHELF = (
    Bin(91, "Gears", unit="Forces", standards=("K-PS2-1",), seats=4),
    Bin(92, "Coins", seats=4),
    Bin(93, "Dough", unit="Shapes", cautions=("contains wheat",), seats=4),
)
FORCES = Unit(1, "Forces", date(2026, 11, 1), date(2026, 12, 1), ("K-PS2-1", "K-PS2-2"))


def roster(*units: Unit, supplies: tuple[Supply, ...] = ()) -> Roster:
    plain = make_roster()
    return replace(plain, bins=(*plain.bins, *SHELF), units=units, supplies=supplies)


def ranked(
    on: Roster,
    had: dict[int, set[int]] | None = None,
    on_hand: dict[int, float] | None = None,
) -> list[Suggestion]:
    return list(suggestions(on, FIRST, LAST, had=had or {}, on_hand=on_hand or {}))


def names(found: list[Suggestion]) -> list[str]:
    return [suggestion.bin_.name for suggestion in found]


def everyone(on: Roster) -> set[int]:
    return {student.id for student in on.students}


def test_only_bins_that_are_free_all_the_time_are_suggested() -> None:
    on = roster()
    assert names(ranked(on)) == ["Gears", "Coins", "Dough"]
    later = Stint(900, 92, "teal", date(2026, 12, 10), None, 4, 1)
    assert names(ranked(replace(on, stints=(*on.stints, later)))) == ["Gears", "Dough"]


def test_a_bin_of_the_unit_taught_then_comes_first() -> None:
    shapes = replace(FORCES, name="shapes", standards=())
    assert names(ranked(roster(shapes)))[0] == "Dough"
    over = replace(shapes, last=date(2026, 11, 29))
    assert names(ranked(roster(over)))[0] == "Gears"


def test_the_standards_taught_then_are_a_reason() -> None:
    taught = replace(FORCES, name="Motion")
    [first, *_] = ranked(roster(taught))
    assert (first.bin_.name, first.unit, first.standards) == ("Gears", None, ("K-PS2-1",))


def test_what_most_have_had_this_year_comes_last_even_if_it_fits() -> None:
    on = roster(FORCES)
    most = set(sorted(everyone(on))[: len(on.students) // 2 + 1])
    found = ranked(on, had={91: most})
    assert names(found) == ["Coins", "Dough", "Gears"]
    assert found[-1].not_had == len(on.students) - len(most)


def test_a_kit_that_is_short_gives_way_to_one_that_is_not() -> None:
    wheels = Supply(1, 92, "coins", "piece", per_tub=6)
    sheets = Supply(2, 91, "sheets", "consumable")
    on = roster(supplies=(wheels, sheets))
    children = len(on.students)
    found = ranked(on, on_hand={1: 22, 2: children})
    assert names(found) == ["Gears", "Dough", "Coins"]
    assert [(s.supply.item, s.missing) for s in found[-1].short] == [("coins", 2)]  # 4 tubs of 6


def test_stock_must_do_for_the_whole_class() -> None:
    sheets = Supply(2, 91, "sheets", "consumable", per_visit=2)
    on = roster(supplies=(sheets,))
    [gears] = [s for s in ranked(on, on_hand={2: 40}) if s.bin_.name == "Gears"]
    assert [short.missing for short in gears.short] == [2 * len(on.students) - 40]
    [gears] = [s for s in ranked(on) if s.bin_.name == "Gears"]
    assert (gears.short, gears.uncounted) == ((), (sheets,))


def test_children_kept_away_are_told_and_not_counted() -> None:
    plain = roster()
    child = replace(plain.students[0], avoids=("wheat",))
    on = replace(plain, students=(child, *plain.students[1:]))
    [dough] = [s for s in ranked(on) if s.bin_.name == "Dough"]
    assert (dough.kept_away, dough.meant_for) == ((child,), len(plain.students) - 1)


def test_the_bin_that_was_out_longest_ago_comes_first_among_equals() -> None:
    on = roster()
    past = (
        Stint(901, 91, "teal", date(2026, 10, 1), date(2026, 10, 30), 4, 1),
        Stint(902, 92, "teal", date(2026, 9, 1), date(2026, 9, 30), 4, 1),
    )
    assert names(ranked(replace(on, stints=(*on.stints, *past)))) == ["Dough", "Coins", "Gears"]


def test_a_school_year_begins_in_august() -> None:
    assert school_year_of(date(2026, 8, 1)) == date(2026, 8, 1)
    assert school_year_of(date(2027, 7, 31)) == date(2026, 8, 1)


def test_nobody_on_the_roster_is_no_trouble() -> None:
    gone = tuple(
        Student(s.id, s.name, left=date(2026, 11, 1), position=s.position)
        for s in roster().students
    )
    found = ranked(replace(roster(), students=gone))
    assert {suggestion.meant_for for suggestion in found} == {0}
