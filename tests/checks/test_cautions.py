"""Cautions against published values.

Nine major allergens: Food Allergen Labeling and Consumer Protection Act of 2004 (21 U.S.C. 321(qq))
and FASTER Act of 2021 (sesame). Small parts: 16 CFR 1501.4, a cylinder of 1.25 inches (31.7 mm).
Standards: only the shape of their codes, as printed by the Next Generation Science Standards
("K-PS2-1", "K-2-ETS1-2") and the Common Core ("K.MD.A.2").
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from bot.classroom.cautions import MAJOR_ALLERGENS, allergens_of, other_contents
from bot.wording.cautions import SCHOOL_DECIDES, SMALL_PART, reminder
from storage.records import Bin, Roster
from tests.rosters import make_roster

NINE = {
    "milk", "egg", "fish", "crustacean shellfish", "tree nut", "peanut", "wheat", "soybean",
    "sesame",
}  # fmt: skip
INCHES, MILLIMETRES = 1.25, 31.7
SHAPE = re.compile(r"(?:[K1-9]|K-2)-(?:PS|LS|ESS|ETS)\d-\d|[K1-9]\.[A-Z]{1,3}\.[A-Z]\.\d")


def said(*cautions: str) -> str:
    roster: Roster = make_roster()
    return reminder(roster, Bin(99, "Test", cautions=cautions)) or ""


def test_the_nine_major_allergens_are_these() -> None:
    assert set(MAJOR_ALLERGENS) == NINE
    assert len(MAJOR_ALLERGENS) == 9


@pytest.mark.parametrize("allergen", sorted(NINE))
def test_each_of_the_nine_is_told_and_not_for_eating(allergen: str) -> None:
    bin_ = Bin(99, "Test", cautions=(f"contains {allergen}s",))
    assert allergens_of(make_roster(), bin_) == (allergen,)
    assert said(f"contains {allergen}s").startswith(f"Mind: contains {allergen}, not for eating.")


@pytest.mark.parametrize("thing", ["coconut", "corn starch", "latex", "buckwheat"])
def test_what_is_none_of_the_nine_is_told_as_it_is(thing: str) -> None:
    """Coconut left the tree nuts with edition 5 of the FDA's questions and answers, 2025."""
    bin_ = Bin(99, "Test", cautions=(f"contains {thing}",))
    assert allergens_of(make_roster(), bin_) == ()
    assert other_contents(make_roster(), bin_) == (thing,)
    assert said(f"contains {thing}").startswith(f"Mind: contains {thing}.")


def test_the_small_parts_cylinder_is_told_in_both_measures() -> None:
    assert f"{INCHES} in ({MILLIMETRES} mm)" == SMALL_PART
    assert abs(INCHES * 25.4 - MILLIMETRES) < 0.06  # the regulation prints 31.7 for 31.75
    assert SMALL_PART in said("small parts")


@pytest.mark.parametrize(
    "tag", ["small parts", "sharp points", "magnets", "button cells", "balloons", "needs an adult"]
)
def test_a_caution_reminds_and_leaves_the_decision_to_the_school(tag: str) -> None:
    text = said(tag)
    assert text.endswith(SCHOOL_DECIDES)
    words = set(re.findall(r"[a-z]+", text.casefold()))
    assert not words & {"safe", "safely", "banned", "illegal", "forbidden", "allowed"}


def test_no_caution_is_no_reminder() -> None:
    assert reminder(make_roster(), Bin(99, "Test")) is None


def test_standards_of_the_demo_class_have_the_shape_of_codes() -> None:
    demo = Path(__file__).resolve().parents[2] / "demo_roster"
    found = []
    for name in ("bins.csv", "units.csv"):
        with (demo / name).open(encoding="utf-8") as file:
            found += [c for row in csv.DictReader(file) for c in row["standards"].split(";") if c]
    assert found
    assert [code for code in found if SHAPE.fullmatch(code) is None] == []
