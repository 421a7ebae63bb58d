"""The lines of an iCalendar file, and the repeat rules in it that would never be worked out.

Checked in the text, before any parsing: the parser itself expands the rules of time zones.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from bot.folder.problems import Kind, Problem

_FREQUENCIES = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
_RULE = re.compile(r"(RRULE|EXRULE)\b", re.IGNORECASE)
_PART = re.compile(r"\b(FREQ|INTERVAL|BYHOUR|BYMINUTE|BYSECOND)\s*=([^;]*)", re.IGNORECASE)
_BREAK = re.compile(r"\r?\n")
# More times of day than a school's event ever has.
_MOST_TIMES = 4


@dataclass(frozen=True, slots=True)
class ContentLine:
    """One unfolded line (RFC 5545, section 3.1) and the line of the file on which it begins."""

    number: int
    text: str


def content_lines(text: str) -> list[ContentLine]:
    """`text` unfolded: a line that begins with a blank goes on with the one before it."""
    parts: list[tuple[int, list[str]]] = []
    for number, line in enumerate(_BREAK.split(text), start=1):
        if parts and line[:1] in (" ", "\t"):
            parts[-1][1].append(line[1:])
        elif line:
            parts.append((number, [line]))
    return [ContentLine(number, "".join(pieces)) for number, pieces in parts]


def rule_faults(lines: Sequence[ContentLine], *, file: str) -> dict[int, Problem]:
    """By line number: rules that repeat within a day, or that never step on."""
    faults: dict[int, Problem] = {}
    for line in lines:
        match = _RULE.match(line.text)
        if match and (fault := _fault(line, match[1].upper(), file)):
            faults[line.number] = fault
    return faults


def _fault(line: ContentLine, name: str, file: str) -> Problem | None:
    for part, value in _PART.findall(line.text):
        said, found = value.strip().upper(), f"{part.upper()}={value.strip()[:40]}"
        if part.upper() == "FREQ":
            if said not in _FREQUENCIES:
                return Problem(file, Kind.REPEATS_TOO_OFTEN, line.number, name, found)
        elif part.upper() == "INTERVAL":
            if not re.fullmatch(r"0*[1-9][0-9]{0,5}", said):
                return Problem(file, Kind.EVENT_UNREADABLE, line.number, name, found)
        elif said.count(",") >= _MOST_TIMES:
            return Problem(file, Kind.REPEATS_TOO_OFTEN, line.number, name, found)
    return None
