"""Every case of every phrase file, through the whole bot; what is not right yet is listed by name.

`not_yet.txt` holds the cases that are asked needlessly, not understood, or wrong: verdict, file,
class,
what was said. A case listed there must keep failing in just that way, so that the list cannot
rot; a
case that changes the class wrongly is never added to it without being told of in DEVELOPERS.md.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.phrases.phrasebook import HERE, Case, Classes, read_cases, verdict

DEFAULT_AT = "2026-11-24T10:41"
FILES = tuple(sorted(HERE.glob("*.toml")))
NOT_YET = HERE / "not_yet.txt"


def key(case: Case) -> str:
    """What a case is known by: its file, its class, what was said, and when if that matters."""
    at = "" if case.at == DEFAULT_AT else f" @ {case.at}"
    return f"{case.kind} | {case.class_name} | {' / '.join(case.said)}{at}".replace("\n", "⏎")


def known_failures() -> dict[str, str]:
    """Key -> verdict of the cases that are not right yet."""
    lines = NOT_YET.read_text("utf-8").splitlines()
    parts = (line.split(" | ", 1) for line in lines if line and not line.startswith("#"))
    return {name: found for found, name in parts}


@pytest.fixture(scope="module")
def classes(tmp_path_factory: pytest.TempPathFactory) -> Classes:
    """The classes of the phrase files, loaded once."""
    return Classes(HERE / "classes", tmp_path_factory.mktemp("classes"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_each_phrase_means_what_the_file_says(file: Path, classes: Classes) -> None:
    """Verdict by verdict: right, or failing in the way that is listed."""
    known = known_failures()
    found = {}
    expected = {}
    for case in read_cases(file, DEFAULT_AT):
        if not case.later:
            found[key(case)] = verdict(case, classes.answer(case))
            expected[key(case)] = known.get(key(case), "right")
    assert found == expected


def test_the_list_of_failures_names_only_cases_there_are() -> None:
    """A case that was reworded or taken out leaves the list too."""
    cases = {key(case) for file in FILES for case in read_cases(file, DEFAULT_AT)}
    assert set(known_failures()) <= cases


def test_there_are_seven_hundred_cases() -> None:
    """The phrase files are the measure of the reading."""
    assert sum(1 for file in FILES for _ in read_cases(file, DEFAULT_AT)) >= 700
