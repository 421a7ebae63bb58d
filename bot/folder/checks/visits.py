"""History brought along: children on the roster that day, at bins that were out that day."""

from collections.abc import Iterator

from bot.folder.columns import BINS, VISITS
from bot.folder.draft import Draft
from bot.folder.nearest import fold
from bot.folder.problems import Kind, Problem
from bot.folder.rows import Line
from bot.folder.values import BinLine, Student, Visit


def visits_happened(draft: Draft) -> Iterator[Problem]:
    """Every visit can have happened; a day without school is no obstacle."""
    if draft.visits and not draft.has(BINS):
        yield Problem(VISITS, Kind.FILE_NEEDED, accepted=(BINS,))
        return
    students = {line.value.name: line.value for line in reversed(draft.students)}
    for line in draft.visits:
        yield from _student_problems(draft, line, students)
        yield from _bin_problems(draft, line)


def _student_problems(
    draft: Draft, line: Line[Visit], students: dict[str, Student]
) -> Iterator[Problem]:
    one, place = line.value, line.value.place
    if "student" in line.bad or not draft.knows_students():
        return
    name = draft.roster.find(one.student)
    if name is None:
        near, at = draft.roster.nearest(one.student), (place.line, "student", one.student)
        yield Problem(place.file, Kind.UNKNOWN_STUDENT, *at, nearest=near)
        return
    joined, left = students[name].joined, students[name].left
    early, late = joined and one.day < joined, left and one.day > left
    if (early or late) and "day" not in line.bad:
        accepted = (joined.isoformat() if joined else "", left.isoformat() if left else "")
        at = (place.line, "day", one.day.isoformat())
        yield Problem(place.file, Kind.NOT_ON_ROSTER, *at, accepted)


def _bin_problems(draft: Draft, line: Line[Visit]) -> Iterator[Problem]:
    one, place = line.value, line.value.place
    if "bin" in line.bad or not draft.knows_bins():
        return
    name = draft.bin_names.find(one.bin)
    if name is None:
        near, at = draft.bin_names.nearest(one.bin), (place.line, "bin", one.bin)
        yield Problem(place.file, Kind.UNKNOWN_BIN, *at, nearest=near)
        return
    stints = draft.stints.get(fold(name), ())
    unsure = "day" in line.bad or any(
        other.bad & {"opens", "closes"}
        for other in draft.bins
        if fold(other.value.bin) == fold(name)
    )
    if not unsure and not any(_is_out(stint.value, one) for stint in stints):
        at = (place.line, "day", one.day.isoformat())
        accepted = (name, *(_days(stint.value) for stint in stints))
        yield Problem(place.file, Kind.NOT_OUT, *at, accepted)


def _is_out(stint: BinLine, one: Visit) -> bool:
    opened = stint.opens is not None and stint.opens <= one.day
    return opened and (stint.closes is None or one.day <= stint.closes)


def _days(stint: BinLine) -> str:
    opens = stint.opens.isoformat() if stint.opens else ""
    return f"{opens} to {stint.closes}" if stint.closes else f"{opens} on"
