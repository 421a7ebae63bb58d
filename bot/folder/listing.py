"""Which files of a folder belong to the class, which look misspelled, and what they hold."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from rapidfuzz.distance import OSA

from bot.folder.columns import FILES, STUDENTS
from bot.folder.problems import Kind, Problem

MOST_BYTES = 5 * 1024 * 1024
# Saved by a spreadsheet program or an editor instead of the file that is read.
_OTHER_FORMS = {"xlsx", "xls", "ods", "numbers", "txt", "tsv", "ical", "icalendar", ""}


@dataclass(frozen=True, slots=True)
class Listing:
    """The bytes of each known file that is there (None: cannot be read), and the problems."""

    contents: Mapping[str, bytes | None]
    problems: tuple[Problem, ...]


def list_folder(path: Path) -> Listing:
    """Take the known files of the folder at `path`; names match in any case."""
    try:
        entries = sorted(path.iterdir(), key=lambda entry: entry.name)
    except OSError:
        return Listing({}, (Problem(path.name, Kind.FOLDER_MISSING, accepted=(STUDENTS,)),))
    contents: dict[str, bytes | None] = {}
    problems: list[Problem] = []
    for entry in entries:
        known = entry.name.casefold()
        if known not in FILES:
            continue
        if known in contents:
            problems.append(Problem(known, Kind.FILE_TWICE, found=entry.name))
            continue
        content = _read(entry, known)
        contents[known] = content if isinstance(content, bytes) else None
        problems += [content] if isinstance(content, Problem) else []
    problems += _misspelled(entries, contents)
    if STUDENTS not in contents and not any(STUDENTS in fault.accepted for fault in problems):
        problems.append(Problem(STUDENTS, Kind.FILE_MISSING))
    return Listing(contents, tuple(problems))


def _read(entry: Path, file: str) -> bytes | Problem:
    try:
        with entry.open("rb") as opened:
            content = opened.read(MOST_BYTES + 1)
    except OSError:
        return Problem(file, Kind.FILE_UNREADABLE)
    if len(content) > MOST_BYTES:
        return Problem(file, Kind.FILE_TOO_BIG, accepted=("5 MB",))
    return content


def _misspelled(entries: list[Path], contents: Mapping[str, bytes | None]) -> Iterator[Problem]:
    for entry in entries:
        name = entry.name.casefold()
        if name in FILES or name.startswith((".", "~")):
            continue
        for known in FILES:
            if _looks_like(name, known, is_there=known in contents):
                yield Problem(entry.name, Kind.FILE_MISSPELLED, found=entry.name, accepted=(known,))
                break


def _looks_like(name: str, known: str, *, is_there: bool) -> bool:
    """A slip of the pen in the name, or the right name in another form of file."""
    stem, _, ending = name.partition(".")
    known_stem, _, known_ending = known.partition(".")
    slips = 1 if len(known_stem) < 5 else 2
    near = OSA.distance(stem.replace(" ", ""), known_stem) <= slips
    if ending == known_ending:
        return near
    return near and not is_there and ending in _OTHER_FORMS | {"csv", "ics"}
