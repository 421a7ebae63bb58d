"""A child's name with one slip in it is that child or a question, never another child.

Source of the names: the first names of Faker's locales (Faker 40.63, MIT), all in Latin letters.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from random import Random

import pytest
from faker import Faker

from bot.understanding.tokens import fold
from bot.understanding.vocabulary import first_name
from storage.records import Roster, Student
from tests.checks.typing_slips import NEIGHBOURS, slips
from tests.rosters import effect_of, make_roster, read_in

LOCALES = (
    "en_US", "es_MX", "fr_FR", "de_DE", "it_IT", "pt_BR", "pl_PL", "nl_NL", "sv_SE", "tr_TR",
    "vi_VN", "en_IN", "fi_FI", "hu_HU", "cs_CZ", "en_NG", "id_ID", "en_PH",
)  # fmt: skip
_CHILDREN = 24
_INITIALS = "ABCDEFGHJKLMNPRSTVWZABCDEFGH"


@lru_cache(maxsize=1)
def _names() -> tuple[tuple[str, ...], tuple[str, ...]]:
    """First names of the United States, and of everywhere else."""
    found: list[tuple[str, ...]] = []
    for locales in (LOCALES[:1], LOCALES[1:]):
        fake = Faker(list(locales), use_weighting=False)
        fake.seed_instance(7)
        names = sorted({fake.first_name() for _ in range(4_000)})
        found.append(tuple(name for name in names if fold(name).isascii()))
    return found[0], found[1]


def random_roster(seed: int) -> Roster:
    """24 children, half with names of the United States, a few with nicknames of their own."""
    random = Random(seed)
    near, far = _names()
    drawn = [*random.sample(near, 20), *random.sample(far, 20)]
    random.shuffle(drawn)
    distinct = list({fold(name): name for name in drawn}.values())
    firsts, nicknames = distinct[:_CHILDREN], distinct[_CHILDREN : _CHILDREN + 4]
    names = [f"{name} {_INITIALS[n]}." for n, name in enumerate(firsts)]
    return make_roster(names, nicknames={names[n]: (nick,) for n, nick in enumerate(nicknames)})


def _called(student: Student) -> frozenset[str]:
    """What a child answers to: first name, the first word of it, and nicknames, folded."""
    first = first_name(student)
    return frozenset(fold(name) for name in (first, first.split()[0], *student.goes_by))


def _misread(roster: Roster, share: float, seed: int) -> Iterator[str]:
    """Slips that change anything but that child's turns; a slip that spells exactly what another
    child is called is that other child, and is left out."""
    random = Random(seed)
    for student in roster.students:
        others = frozenset(n for s in roster.students if s is not student for n in _called(s))
        for slip in slips(fold(first_name(student))):
            if slip in others or random.random() > share:
                continue
            effect = effect_of(read_in(roster, f"{slip} did ramps"), roster)
            if effect.others or any(
                c.student_id != student.id or not c.gives or c.bin_id != 1 for c in effect.changes
            ):
                credited = {roster.student[c.student_id].name for c in effect.changes}
                yield f"{seed}: {slip!r} for {student.name}: {sorted(credited)} {effect.others}"


def test_no_child_is_credited_for_another_ones_misspelt_name(all_of_it: bool) -> None:
    rosters, share = (200, 1.0) if all_of_it else (12, 0.12)
    wrong = [text for n in range(rosters) for text in _misread(random_roster(n), share, n)]
    assert wrong == []


@pytest.mark.parametrize(
    ("names", "slip"),
    [
        (("Alexa R.", "Alex A."), "alexs"),  # s is next to a: no possessive of Alex
        (("Margita R.", "Margit M."), "margits"),
        (("Emas D.", "Emma P."), "emmas"),
        (("Jose K.", "Jo C."), "jos"),
        (("Jo W.", "Joy M."), "joi"),  # sounds like Joy, is one letter from Jo
        (("Donna W.", "Don A."), "dona"),  # "Don A." run together
        (("Dulce María G.", "Maria Sophia F."), "adulce maria"),
        (("Ana Lívia A.", "Livio Z."), "ana liviao"),
        (("Ann-Mari S.", "Mary A."), "aann-mari"),
        (("Karl-Erik Z.", "Erika N."), "karl-erika"),
        (("Maria Flor B.", "Ben T."), "maria flot"),  # and Sink or Float beside it
        (("Fedor V.", "Ben T."), "redor"),  # redo
    ],
)
def test_slips_that_were_once_another_child(names: tuple[str, ...], slip: str) -> None:
    roster = make_roster(names, groups=1)
    effect = effect_of(read_in(roster, f"{slip} did ramps"), roster)
    assert effect.others == ()
    assert {(c.student_id, c.bin_id) for c in effect.changes} <= {(1, 1)}


def test_the_right_name_is_that_child_or_a_question() -> None:
    for number in range(40):
        roster = random_roster(number)
        for student in roster.students:
            effect = effect_of(read_in(roster, f"{first_name(student)} did ramps"), roster)
            assert {c.student_id for c in effect.changes} <= {student.id}, (number, student.name)


@pytest.mark.parametrize(("key", "near"), [("a", "qswz"), ("g", "bfhtvy"), ("p", "lo")])
def test_neighbouring_keys_touch(key: str, near: str) -> None:
    assert NEIGHBOURS[key] == "".join(sorted(near))


def test_a_word_of_two_letters_has_these_slips() -> None:
    made = slips("ab")
    assert {"a", "b", "ba", "sb", "av", "aab", "acb", "abz"} <= set(made)
    assert "ab" not in made
    assert len(made) == len(set(made))
