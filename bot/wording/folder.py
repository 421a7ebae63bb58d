"""What is wrong with a class folder, one line for each problem."""

from collections.abc import Callable

from bot.folder.problems import Kind, Problem


def word_problem(problem: Problem) -> str:
    """One line: the file, the line and the column, what was found, what is accepted."""
    place = problem.file
    if problem.line is not None:
        place += f" line {problem.line}"
    if problem.column is not None:
        place += f', column "{problem.column}"'
    near = f' Did you mean "{problem.nearest}"?' if problem.nearest else ""
    return f"{place}: {_SENTENCES[problem.kind](problem)}{near}"


def _fixed(sentence: str) -> Callable[[Problem], str]:
    """A sentence with {found}; {first}, {second} or {all} of what is accepted; {other} line."""

    def word(problem: Problem) -> str:
        first, second = (*problem.accepted, "", "")[:2]
        return sentence.format(
            found=problem.found,
            first=first,
            second=second,
            all=", ".join(problem.accepted),
            other=problem.other_line,
        )

    return word


def _overlap(what: str) -> Callable[[Problem], str]:
    def word(problem: Problem) -> str:
        name, till = problem.accepted
        if till:
            when, mend = f"till {till}", f"a day after {till}, or an earlier closing day there"
        else:
            when, mend = "all year", "a closing day there"
        what_is = what.format(found=problem.found, name=name)
        return f"{what_is} {when} (line {problem.other_line}); accepted: {mend}."

    return word


def _not_out(problem: Problem) -> str:
    name, *stints = problem.accepted
    if not stints:
        return f'found {problem.found}, but "{name}" is on the shelf; accepted: a bin that was out.'
    return f'found {problem.found}, but "{name}" was not out; accepted: {" or ".join(stints)}.'


def _not_on_roster(problem: Problem) -> str:
    joined, left = problem.accepted
    span = " ".join(
        part
        for part in (f"from {joined}" if joined else "", f"till {left}" if left else "")
        if part
    )
    return f"found {problem.found}, when this child was not in the class; accepted: {span}."


def _rows(problem: Problem) -> str:
    if problem.accepted:
        return f"found {problem.found} students; accepted: at most {problem.accepted[0]}."
    return "found a second class; accepted: one line below the header."


_SENTENCES: dict[Kind, Callable[[Problem], str]] = {
    Kind.FOLDER_MISSING: _fixed("found no folder; accepted: a folder with {first} in it."),
    Kind.FILE_MISSING: _fixed("not found; accepted: a file with one student a line."),
    Kind.FILE_MISSPELLED: _fixed('found "{found}", which is not read; accepted: {first}.'),
    Kind.FILE_TWICE: _fixed('found again as "{found}"; accepted: one file of this name.'),
    Kind.FILE_TOO_BIG: _fixed("found more than {first}; accepted: {first} or less."),
    Kind.FILE_UNREADABLE: _fixed("found, but it cannot be opened; accepted: a plain file."),
    Kind.FILE_NEEDED: _fixed(
        "found lines about bins, but no {first}; accepted: {first} with them."
    ),
    Kind.NOT_UTF8: _fixed("found a byte {found} that is not UTF-8; accepted: CSV saved as UTF-8."),
    Kind.NOT_TEXT: _fixed("found the control sign {found}; accepted: plain text."),
    Kind.BAD_QUOTES: _fixed(
        'found a quotation mark without its partner; accepted: "..." around a cell, "" in it.'
    ),
    Kind.NO_HEADER: _fixed("found nothing; accepted: a header line with some of {all}."),
    Kind.NO_ROWS: _fixed("found no students; accepted: one student a line below the header."),
    Kind.TOO_MANY_ROWS: _rows,
    Kind.COLUMN_UNKNOWN: _fixed('found "{found}", which is not known; accepted: {all}.'),
    Kind.COLUMN_TWICE: _fixed('found "{found}" again; accepted: each column once.'),
    Kind.COLUMN_MISSING: _fixed("not found in the header; accepted: {all}."),
    Kind.COLUMN_UNNAMED: _fixed('found "{found}" under no name; accepted: a name in the header.'),
    Kind.ROW_TOO_LONG: _fixed(
        'found "{found}", a cell too many; accepted: as many cells as the header, quotes around a '
        "cell with a comma."
    ),
    Kind.CELL_BLANK: _fixed("found nothing; accepted: a value on every line."),
    Kind.CELL_TOO_LONG: _fixed("found a very long cell; accepted: at most {first} letters."),
    Kind.NOT_A_DATE: _fixed('found "{found}"; accepted: a day like 2026-11-24.'),
    Kind.NOT_A_TIME: _fixed('found "{found}"; accepted: a time like 10:15 or 13:40.'),
    Kind.NIGHT_TIME: _fixed(
        'found "{found}", which is at night; accepted: {first} or "{found} am".'
    ),
    Kind.NOT_A_NUMBER: _fixed('found "{found}"; accepted: {first}.'),
    Kind.OUT_OF_RANGE: _fixed('found "{found}"; accepted: {first} to {second}.'),
    Kind.NOT_A_CHOICE: _fixed('found "{found}"; accepted: {all}.'),
    Kind.NOT_A_WEEKDAY: _fixed('found "{found}"; accepted: {all}, lists Mon;Wed, ranges Mon-Fri.'),
    Kind.NOT_A_ZONE: _fixed('found "{found}"; accepted: a time zone like {first}.'),
    Kind.TWICE: _fixed('found "{found}", which is on line {other} too; accepted: each once.'),
    Kind.UNKNOWN_STUDENT: _fixed('found "{found}"; accepted: a name in students.csv.'),
    Kind.UNKNOWN_BIN: _fixed('found "{found}"; accepted: a bin in bins.csv.'),
    Kind.UNKNOWN_UNIT: _fixed('found "{found}"; accepted: a unit in units.csv ({all}).'),
    Kind.APART_FROM_SELF: _fixed('found "{found}", the same child; accepted: other children.'),
    Kind.ENDS_BEFORE: _fixed("found {found}; accepted: {first} or later."),
    Kind.HOURS_BACKWARDS: _fixed("found {found}; accepted: a time after {first}."),
    Kind.AWAY_WITHOUT_TIME: _fixed("found no day; accepted: a day, a weekday or a time of day."),
    Kind.COLOR_WITHOUT_DAY: _fixed(
        'found nothing, but the color "{found}"; accepted: the day it goes out, or no color.'
    ),
    Kind.DAY_WITHOUT_COLOR: _fixed(
        "found nothing, but the day {found}; accepted: the color it is out in, or no days."
    ),
    Kind.STINTS_OVERLAP: _overlap('found "{found}", which is out already'),
    Kind.COLOR_TAKEN: _overlap('found "{found}", but "{name}" is in it'),
    Kind.NO_SCHOOL_DAY: _fixed("found {found}, without a school day; accepted: at least one."),
    Kind.FACTS_DISAGREE: _fixed(
        'found "{found}"; accepted: "{first}" as on line {other}, or blank.'
    ),
    Kind.STATION_IS_BIN: _fixed('found "{found}", a bin in bins.csv; accepted: what is not a bin.'),
    Kind.ROTATIONS_OVERLAP: _fixed(
        "found {found}, while the one on line {other} runs; accepted: {first} or later."
    ),
    Kind.ROTATION_OFF_DAY: _fixed("found {found}, without school; accepted: {all}."),
    Kind.PAST_MIDNIGHT: _fixed("found {found}, which runs past midnight; accepted: fewer."),
    Kind.NOT_OUT: _not_out,
    Kind.NOT_ON_ROSTER: _not_on_roster,
    Kind.NOT_A_CALENDAR: _fixed('found "{found}"; accepted: an iCalendar file (.ics).'),
    Kind.EVENT_UNREADABLE: _fixed('found "{found}"; accepted: an event as RFC 5545 describes it.'),
    Kind.EVENT_TOO_LONG: _fixed("found a longer event; accepted: at most {first} days."),
    Kind.REPEATS_TOO_OFTEN: _fixed('found "{found}"; accepted: daily, weekly, monthly, yearly.'),
    Kind.TOO_MANY_EVENTS: _fixed(
        "found too many events to work out; accepted: fewer than {first}."
    ),
}
