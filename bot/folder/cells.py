"""CSV bytes to rows of clean cells that know their line.

Accepts a byte-order mark, CRLF, blank lines, short rows and blank columns at the end. Cells come
out in NFC, trimmed, inner whitespace folded to one space.
"""

import csv
import io
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from bot.folder.problems import Kind, Problem

LONGEST_CELL = 1000
_INVISIBLE = dict.fromkeys(map(ord, "\u200b\ufeff\u2060"))


@dataclass(frozen=True, slots=True)
class Cells:
    """One record: the line on which it begins, its cells in order."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The records of one file, the header first, and what was wrong with its text."""

    rows: tuple[Cells, ...]
    problems: tuple[Problem, ...]


def read_sheet(content: bytes, *, file: str) -> Sheet:
    """Split `content` into records; on a text problem the records before it are kept."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        byte = f"0x{content[error.start]:02x}"
        return Sheet((), (Problem(file, Kind.NOT_UTF8, line, found=byte),))
    rows: list[Cells] = []
    problems: list[Problem] = []
    for step in _records(text, file):
        if isinstance(step, Problem):
            problems.append(step)
        elif any(step.cells):
            rows.append(step)
    return Sheet(tuple(rows), tuple(problems))


def _records(text: str, file: str) -> Iterator[Cells | Problem]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    while True:
        line = reader.line_num + 1
        try:
            raw = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            yield _csv_problem(str(error), file, line)
            return
        yield from (_cell_problem(cell, file, line) for cell in raw if _is_bad(cell))
        yield Cells(line, tuple("" if _is_bad(cell) else clean(cell) for cell in raw))


def _csv_problem(reason: str, file: str, line: int) -> Problem:
    kind = Kind.CELL_TOO_LONG if "field limit" in reason else Kind.BAD_QUOTES
    return Problem(file, kind, line, accepted=(str(LONGEST_CELL),))


def _is_bad(cell: str) -> bool:
    return len(cell) > LONGEST_CELL or _control_sign(cell) is not None


def _control_sign(cell: str) -> str | None:
    return next(
        (sign for sign in cell if unicodedata.category(sign) == "Cc" and not sign.isspace()), None
    )


def _cell_problem(cell: str, file: str, line: int) -> Problem:
    sign = _control_sign(cell)
    if sign is not None:
        return Problem(file, Kind.NOT_TEXT, line, found=f"U+{ord(sign):04X}")
    return Problem(file, Kind.CELL_TOO_LONG, line, found=clean(cell), accepted=(str(LONGEST_CELL),))


def clean(cell: str) -> str:
    """The cell's text in NFC, without invisible signs, runs of whitespace folded."""
    return " ".join(unicodedata.normalize("NFC", cell.translate(_INVISIBLE)).split())
