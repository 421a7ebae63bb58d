"""Cautions: what a bin contains, and for whom it is not."""

from __future__ import annotations

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
