"""Cautions: what a bin contains, and for whom it is not."""

from __future__ import annotations

from collections.abc import Mapping

from storage.records import Bin, Roster, Student

_CONTAINS = "contains "


def contents(roster: Roster, bin_: Bin) -> frozenset[str]:
    """What a bin contains: its supplies' `contains` and its own "contains ..." cautions."""
    told = [tag[len(_CONTAINS) :] for tag in bin_.cautions if tag.casefold().startswith(_CONTAINS)]
    supplied = roster.contents_of.get(bin_.id, ())
    return frozenset(_plain(thing) for thing in (*told, *supplied))


def kept_from(roster: Roster, student: Student, bin_: Bin) -> str | None:
    """The thing in this bin that the student avoids, in the teacher's own word; None if none."""
    if not student.avoids:
        return None
    held = contents(roster, bin_)
    return next((thing for thing in student.avoids if _plain(thing) in held), None)


def _plain(thing: str) -> str:
    """A tag without case and plural, so that "Eggs" meets "egg"."""
    word = " ".join(thing.casefold().split())
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


MAJOR_ALLERGENS = (
    "milk", "egg", "fish", "crustacean shellfish", "tree nut", "peanut", "wheat", "soybean",
    "sesame",
)  # fmt: skip
"""The nine that food labels in the United States must name (FASTER Act of 2021; FDA)."""


def allergens_of(roster: Roster, bin_: Bin) -> tuple[str, ...]:
    """Which of the nine major allergens a bin is said to contain."""
    held = contents(roster, bin_)
    return tuple(a for a in MAJOR_ALLERGENS if held & {_plain(a), *_ALSO_CALLED.get(a, ())})


def other_contents(roster: Roster, bin_: Bin) -> tuple[str, ...]:
    """What else a bin is said to contain."""
    named = {word for a in allergens_of(roster, bin_) for word in (a, *_ALSO_CALLED.get(a, ()))}
    return tuple(sorted(contents(roster, bin_) - named))


def tags(bin_: Bin) -> tuple[str, ...]:
    """The cautions of a bin that say something other than what it contains."""
    return tuple(tag for tag in bin_.cautions if not tag.casefold().startswith(_CONTAINS))


_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "crustacean shellfish": ("shellfish", "shrimp", "crab", "crustacean"),
    "soybean": ("soy", "soya"),
    "egg": ("eggs",),
    "milk": ("dairy",),
}
