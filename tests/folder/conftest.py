"""A class folder written for one test, read, and put into words."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from bot.folder import ClassFolder, Problems, read_folder
from bot.wording.folder import word_problem

Files = Mapping[str, str | bytes]
ROSTER = "name\nAva R.\nBen T.\n"


@pytest.fixture
def read(tmp_path: Path) -> Callable[[Files], ClassFolder | Problems]:
    """Writes the files given (with a roster of two where none is given) and reads the folder."""

    def read_files(files: Files) -> ClassFolder | Problems:
        folder = tmp_path / "Room 7"
        folder.mkdir(exist_ok=True)
        for name, content in {"students.csv": ROSTER, **files}.items():
            (folder / name).write_bytes(content.encode() if isinstance(content, str) else content)
        return read_folder(folder, machine_zone="America/Chicago")

    return read_files


@pytest.fixture
def said(read: Callable[[Files], ClassFolder | Problems]) -> Callable[[Files], list[str]]:
    """The problems of a folder in words; an empty list where it loads."""

    def said_of(files: Files) -> list[str]:
        found = read(files)
        return [word_problem(one) for one in found.listed] if isinstance(found, Problems) else []

    return said_of


@pytest.fixture
def clean(read: Callable[[Files], ClassFolder | Problems]) -> Callable[[Files], ClassFolder]:
    """A folder that must load."""

    def clean_of(files: Files) -> ClassFolder:
        found = read(files)
        assert isinstance(found, ClassFolder), found
        return found

    return clean_of
