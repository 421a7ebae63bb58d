"""Every mistake a folder can hold, and the exact words about it."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from bot.folder import ClassFolder, Problems, read_folder
from bot.folder.problems import Kind, Problem
from bot.wording.folder import word_problem

Said = Callable[[Mapping[str, str | bytes]], list[str]]

RAMPS = "bin,color,opens,closes\nRamps,red,2026-11-02,2026-11-20\n"
STUDENT_COLUMNS = "name, group, goes_by, code, avoids, keep_apart, joined, left"
WEEKDAYS = "Mon, Tue, Wed, Thu, Fri, Sat, Sun, lists Mon;Wed, ranges Mon-Fri"


def event(*lines: str) -> str:
    """A calendar with one event; its first own line is line 4 of the file."""
    whole = ("BEGIN:VCALENDAR", "VERSION:2.0", "BEGIN:VEVENT", "UID:1", *lines)
    return "\r\n".join((*whole, "END:VEVENT", "END:VCALENDAR", ""))


CASES: dict[str, tuple[dict[str, str | bytes], list[str]]] = {
    # files
    "misspelled file": (
        {"visit.csv": "x\n"},
        ['visit.csv: found "visit.csv", which is not read; accepted: visits.csv.'],
    ),
    "file in another form": (
        {"bins.xlsx": b"PK"},
        ['bins.xlsx: found "bins.xlsx", which is not read; accepted: bins.csv.'],
    ),
    "file twice": (
        {"Students.csv": "name\nAva\n"},
        ['students.csv: found again as "students.csv"; accepted: one file of this name.'],
    ),
    "too big": (
        {"units.csv": b"unit\n" + b"x" * (5 * 1024 * 1024)},
        ["units.csv: found more than 5 MB; accepted: 5 MB or less."],
    ),
    # text
    "not UTF-8": (
        {"students.csv": b"name\nAva R.\nJos\xe9\n"},
        ["students.csv line 3: found a byte 0xe9 that is not UTF-8; accepted: CSV saved as UTF-8."],
    ),
    "not text": (
        {"students.csv": "name\nAv\0a\n"},
        ["students.csv line 2: found the control sign U+0000; accepted: plain text."],
    ),
    "open quote": (
        {"students.csv": 'name,group\nAva R.,1\n"Ben T.,2\n'},
        [
            "students.csv line 3: found a quotation mark without its partner; "
            'accepted: "..." around a cell, "" in it.'
        ],
    ),
    "empty file": (
        {"students.csv": "\r\n\r\n"},
        [f"students.csv: found nothing; accepted: a header line with some of {STUDENT_COLUMNS}."],
    ),
    "no students": (
        {"students.csv": "name,group\n"},
        ["students.csv: found no students; accepted: one student a line below the header."],
    ),
    "too many students": (
        {"students.csv": "name\n" + "".join(f"Child {n}\n" for n in range(5001))},
        ["students.csv: found 5001 students; accepted: at most 5000."],
    ),
    "second class": (
        {"class.csv": "name\nRoom 7\nRoom 8\n"},
        ["class.csv line 3: found a second class; accepted: one line below the header."],
    ),
    "unknown column": (
        {"students.csv": "name,gruop\nAva R.,1\n"},
        [
            'students.csv line 1, column "gruop": found "gruop", which is not known; '
            f'accepted: {STUDENT_COLUMNS}. Did you mean "group"?'
        ],
    ),
    "column twice": (
        {"students.csv": "name,group,Group\nAva R.,1,2\n"},
        ['students.csv line 1, column "group": found "Group" again; accepted: each column once.'],
    ),
    "column missing": (
        {"students.csv": "group\n1\n"},
        [
            'students.csv line 1, column "name": not found in the header; '
            f"accepted: {STUDENT_COLUMNS}."
        ],
    ),
    "unnamed column": (
        {"students.csv": "name,,group\nAva R.,x,1\n"},
        [
            'students.csv line 2, column "2": found "x" under no name; '
            "accepted: a name in the header."
        ],
    ),
    "cell too many": (
        {"students.csv": "name,group\nAva R.,1\nR., Ben,1\n"},
        [
            'students.csv line 3, column "3": found "1", a cell too many; accepted: as many '
            "cells as the header, quotes around a cell with a comma."
        ],
    ),
    # cells
    "blank name": (
        {"students.csv": "name,group\nAva R.,1\n,1\n"},
        ['students.csv line 3, column "name": found nothing; accepted: a value on every line.'],
    ),
    "long cell": (
        {"students.csv": f"name,group\nAva R.,{'x' * 1001}\n"},
        ["students.csv line 2: found a very long cell; accepted: at most 1000 letters."],
    ),
    "date": (
        {"students.csv": "name,joined\nAva R.,11/24/2026\nBen T.,2026-02-30\nCy,0206-01-01\n"},
        [
            'students.csv line 2, column "joined": found "11/24/2026"; '
            "accepted: a day like 2026-11-24.",
            'students.csv line 3, column "joined": found "2026-02-30"; '
            "accepted: a day like 2026-11-24.",
            'students.csv line 4, column "joined": found "0206-01-01"; '
            "accepted: a day like 2026-11-24.",
        ],
    ),
    "time": (
        {"class.csv": "name,digest_at\nRoom 7,25:00\n"},
        [
            'class.csv line 2, column "digest_at": found "25:00"; '
            "accepted: a time like 10:15 or 13:40."
        ],
    ),
    "night": (
        {"rotations.csv": "weekday,starts\nMon,1:10\n"},
        [
            'rotations.csv line 2, column "starts": found "1:10", which is at night; '
            'accepted: 13:10 or "1:10 am".'
        ],
    ),
    "not a number": (
        {"bins.csv": "bin,seats\nRamps,four\nGears,4.5\n"},
        [
            'bins.csv line 2, column "seats": found "four"; accepted: a number.',
            'bins.csv line 3, column "seats": found "4.5"; accepted: a whole number.',
        ],
    ),
    "out of range": (
        {
            "bins.csv": "bin,seats,visits_each\nRamps,0,1\nGears,4,0\nMagnets,999,1\n",
            "supplies.csv": "bin,item,on_hand,lead_days,pack_size\nRamps,cars,-1,-2,0\n",
            "class.csv": "name,absence_rate\nRoom 7,6\n",
        },
        [
            'class.csv line 2, column "absence_rate": found "6"; accepted: 0 to 0.5.',
            'bins.csv line 2, column "seats": found "0"; accepted: 1 to 100.',
            'bins.csv line 3, column "visits_each": found "0"; accepted: 1 to 50.',
            'bins.csv line 4, column "seats": found "999"; accepted: 1 to 100.',
            'supplies.csv line 2, column "on_hand": found "-1"; accepted: 0 to 1000000.',
            'supplies.csv line 2, column "pack_size": found "0"; accepted: 0.001 to 100000.',
            'supplies.csv line 2, column "lead_days": found "-2"; accepted: 0 to 365.',
        ],
    ),
    "choices": (
        {
            "class.csv": "name,keep_groups\nRoom 7,firmer\n",
            "bins.csv": RAMPS,
            "supplies.csv": "bin,item,kind\nRamps,cars,peice\n",
        },
        [
            'class.csv line 2, column "keep_groups": found "firmer"; '
            'accepted: loosely, mostly, firmly. Did you mean "firmly"?',
            'supplies.csv line 2, column "kind": found "peice"; '
            'accepted: consumable, piece. Did you mean "piece"?',
        ],
    ),
    "weekday": (
        {"rotations.csv": "weekday,starts\nWendsday,10:15\nMon-Tue-Wed,10:15\n"},
        [
            f'rotations.csv line 2, column "weekday": found "Wendsday"; accepted: {WEEKDAYS}. '
            'Did you mean "Wednesday"?',
            f'rotations.csv line 3, column "weekday": found "Mon-Tue-Wed"; accepted: {WEEKDAYS}.',
        ],
    ),
    "time zone": (
        {"class.csv": "name,time_zone\nRoom 7,America/Chigaco\n"},
        [
            'class.csv line 2, column "time_zone": found "America/Chigaco"; '
            'accepted: a time zone like America/Chicago. Did you mean "America/Chicago"?'
        ],
    ),
    # the class and the roster
    "quiet hours": (
        {"class.csv": "name,quiet_before,quiet_after\nRoom 7,18:00,6:30\n"},
        ['class.csv line 2, column "quiet_after": found 06:30; accepted: a time after 18:00.'],
    ),
    "name twice": (
        {"students.csv": "name\nZoë M.\nAva R.\nZOE M\n"},
        [
            'students.csv line 4, column "name": found "ZOE M", which is on line 2 too; '
            "accepted: each once."
        ],
    ),
    "code twice": (
        {"students.csv": "name,code\nAva R.,a1\nBen T.,A1\n"},
        [
            'students.csv line 3, column "code": found "A1", which is on line 2 too; '
            "accepted: each once."
        ],
    ),
    "keep apart": (
        {"students.csv": "name,keep_apart\nAva R.,Bne T.\nBen T.,Ben T.;Ava R.\n"},
        [
            'students.csv line 2, column "keep_apart": found "Bne T."; '
            'accepted: a name in students.csv. Did you mean "Ben T."?',
            'students.csv line 3, column "keep_apart": found "Ben T.", the same child; '
            "accepted: other children.",
        ],
    ),
    "left before joined": (
        {"students.csv": "name,joined,left\nAva R.,2026-11-10,2026-11-09\n"},
        ['students.csv line 2, column "left": found 2026-11-09; accepted: 2026-11-10 or later.'],
    ),
    # bins
    "color without a day": (
        {"bins.csv": "bin,color\nRamps,red\n"},
        [
            'bins.csv line 2, column "opens": found nothing, but the color "red"; '
            "accepted: the day it goes out, or no color."
        ],
    ),
    "day without a color": (
        {"bins.csv": "bin,color,opens,closes\nRamps,,2026-11-02,\nGears,,,2026-11-06\n"},
        [
            'bins.csv line 2, column "color": found nothing, but the day 2026-11-02; '
            "accepted: the color it is out in, or no days.",
            'bins.csv line 3, column "color": found nothing, but the day 2026-11-06; '
            "accepted: the color it is out in, or no days.",
        ],
    ),
    "closes before it opens": (
        {"bins.csv": "bin,color,opens,closes\nRamps,red,2026-11-20,2026-11-02\n"},
        ['bins.csv line 2, column "closes": found 2026-11-02; accepted: 2026-11-20 or later.'],
    ),
    "no school day": (
        {"bins.csv": "bin,color,opens,closes\nRamps,red,2026-11-21,2026-11-22\n"},
        [
            'bins.csv line 2, column "closes": found 2026-11-21 to 2026-11-22, '
            "without a school day; accepted: at least one."
        ],
    ),
    "closed all along": (
        {
            "bins.csv": "bin,color,opens,closes\nRamps,red,2026-11-26,2026-11-29\n",
            "calendar.ics": event("DTSTART;VALUE=DATE:20261126", "DTEND;VALUE=DATE:20261128"),
        },
        [
            'bins.csv line 2, column "closes": found 2026-11-26 to 2026-11-29, '
            "without a school day; accepted: at least one."
        ],
    ),
    "on the shelf twice": (
        {"bins.csv": "bin\nGears\ngears\n"},
        [
            'bins.csv line 3, column "bin": found "gears", which is on line 2 too; '
            "accepted: each once."
        ],
    ),
    "facts disagree": (
        {
            "bins.csv": "bin,color,opens,closes,seats,unit\n"
            "Ramps,red,2026-11-02,2026-11-06,4,Forces\n"
            "Ramps,red,2026-11-09,2026-11-13,5,Light\n"
        },
        [
            'bins.csv line 3, column "seats": found "5"; accepted: "4" as on line 2, or blank.',
            'bins.csv line 3, column "unit": found "Light"; '
            'accepted: "Forces" as on line 2, or blank.',
        ],
    ),
    "stints overlap": (
        {"bins.csv": RAMPS + "ramps,pink,2026-11-20,\n"},
        [
            'bins.csv line 3, column "opens": found "ramps", which is out already till '
            "2026-11-20 (line 2); accepted: a day after 2026-11-20, or an earlier closing day "
            "there."
        ],
    ),
    "color taken": (
        {"bins.csv": "bin,color,opens\nRamps,red,2026-11-02\nGears,RED,2027-02-01\n"},
        [
            'bins.csv line 3, column "color": found "RED", but "Ramps" is in it all year '
            "(line 2); accepted: a closing day there."
        ],
    ),
    "unknown unit": (
        {"bins.csv": "bin,unit\nRamps,Froces\n", "units.csv": "unit\nForces\nLight\n"},
        [
            'bins.csv line 2, column "unit": found "Froces"; '
            'accepted: a unit in units.csv (Forces, Light). Did you mean "Forces"?'
        ],
    ),
    # supplies and stations
    "supply of no bin": (
        {"bins.csv": RAMPS, "supplies.csv": "bin,item\nRmaps,cars\n"},
        [
            'supplies.csv line 2, column "bin": found "Rmaps"; '
            'accepted: a bin in bins.csv. Did you mean "Ramps"?'
        ],
    ),
    "supplies without bins": (
        {"supplies.csv": "bin,item\nRamps,cars\nRamps,mats\n"},
        ["supplies.csv: found lines about bins, but no bins.csv; accepted: bins.csv with them."],
    ),
    "supply twice": (
        {"bins.csv": RAMPS, "supplies.csv": "bin,item\nRamps,toy cars\nramps,Toy  Cars\n"},
        [
            'supplies.csv line 3, column "item": found "Toy Cars", which is on line 2 too; '
            "accepted: each once."
        ],
    ),
    "supply without an item": (
        {"bins.csv": RAMPS, "supplies.csv": "bin\nRamps\n"},
        [
            'supplies.csv line 1, column "item": not found in the header; accepted: bin, item, '
            "kind, per_visit, per_tub, on_hand, counted_on, pack_size, lead_days, contains."
        ],
    ),
    "station twice": (
        {"stations.csv": "station\nBook Nook\nbook nook\n"},
        [
            'stations.csv line 3, column "station": found "book nook", which is on line 2 too; '
            "accepted: each once."
        ],
    ),
    "station is a bin": (
        {"bins.csv": RAMPS, "stations.csv": "station\nramps\n"},
        [
            'stations.csv line 2, column "station": found "ramps", a bin in bins.csv; '
            "accepted: what is not a bin."
        ],
    ),
    # rotations, aways, units
    "rotation without school": (
        {"rotations.csv": "weekday,starts\nFri;Sat,10:15\n"},
        [
            'rotations.csv line 2, column "weekday": found Sat, without school; '
            "accepted: Mon, Tue, Wed, Thu, Fri."
        ],
    ),
    "rotation past midnight": (
        {"rotations.csv": "weekday,starts,minutes\nMon,23:50,20\n"},
        [
            'rotations.csv line 2, column "minutes": found 20, which runs past midnight; '
            "accepted: fewer."
        ],
    ),
    "rotations overlap": (
        {"rotations.csv": "weekday,starts\nMon-Fri,10:15\nTue;Wed,10:30\n"},
        [
            'rotations.csv line 3, column "starts": found Tue 10:30, while the one on line 2 '
            "runs; accepted: 10:35 or later."
        ],
    ),
    "rotations overlap where no weekday is given": (
        {"rotations.csv": "weekday,starts\n,10:15\nFri,10:15\n"},
        [
            'rotations.csv line 3, column "starts": found Fri 10:15, while the one on line 2 '
            "runs; accepted: 10:35 or later."
        ],
    ),
    "away of nobody": (
        {"away.csv": "student,from\nAvva R.,2026-11-24\n"},
        [
            'away.csv line 2, column "student": found "Avva R."; '
            'accepted: a name in students.csv. Did you mean "Ava R."?'
        ],
    ),
    "away backwards": (
        {"away.csv": "student,from,to,starts,ends\nAva R.,2026-11-24,2026-11-23,10:40,10:15\n"},
        [
            'away.csv line 2, column "to": found 2026-11-23; accepted: 2026-11-24 or later.',
            'away.csv line 2, column "ends": found 10:15; accepted: a time after 10:40.',
        ],
    ),
    "away at no time": (
        {"away.csv": "student,reason\nAva R.,dentist\n"},
        [
            'away.csv line 2, column "from": found no day; '
            "accepted: a day, a weekday or a time of day."
        ],
    ),
    "unit backwards": (
        {"units.csv": "unit,from,to\nLight,2026-11-24,2026-11-23\n"},
        ['units.csv line 2, column "to": found 2026-11-23; accepted: 2026-11-24 or later.'],
    ),
    # visits
    "visit of nobody": (
        {"bins.csv": RAMPS, "visits.csv": "student,bin,day\nBen Q.,Rampz,2026-11-03\n"},
        [
            'visits.csv line 2, column "student": found "Ben Q."; '
            'accepted: a name in students.csv. Did you mean "Ben T."?',
            'visits.csv line 2, column "bin": found "Rampz"; '
            'accepted: a bin in bins.csv. Did you mean "Ramps"?',
        ],
    ),
    "visit on no day": (
        {"bins.csv": RAMPS, "visits.csv": "student,bin,day\nAva R.,Ramps,\n"},
        ['visits.csv line 2, column "day": found nothing; accepted: a value on every line.'],
    ),
    "visit while not out": (
        {
            "bins.csv": RAMPS + "Gears,,,\nShadows,pink,2026-11-09,\n",
            "visits.csv": "student,bin,day\nAva R.,Ramps,2026-10-30\nAva R.,Gears,2026-11-03\n"
            "Ava R.,Shadows,2026-11-06\n",
        },
        [
            'visits.csv line 2, column "day": found 2026-10-30, but "Ramps" was not out; '
            "accepted: 2026-11-02 to 2026-11-20.",
            'visits.csv line 3, column "day": found 2026-11-03, but "Gears" is on the shelf; '
            "accepted: a bin that was out.",
            'visits.csv line 4, column "day": found 2026-11-06, but "Shadows" was not out; '
            "accepted: 2026-11-09 on.",
        ],
    ),
    "visit while not in the class": (
        {
            "students.csv": "name,joined,left\nAva R.,2026-11-09,\nBen T.,,2026-11-04\n",
            "bins.csv": RAMPS,
            "visits.csv": "student,bin,day\nAva R.,Ramps,2026-11-06\nBen T.,Ramps,2026-11-05\n",
        },
        [
            'visits.csv line 2, column "day": found 2026-11-06, when this child was not in the '
            "class; accepted: from 2026-11-09.",
            'visits.csv line 3, column "day": found 2026-11-05, when this child was not in the '
            "class; accepted: till 2026-11-04.",
        ],
    ),
    "visits without bins": (
        {"visits.csv": "student,bin,day\nAva R.,Ramps,2026-11-06\n"},
        ["visits.csv: found lines about bins, but no bins.csv; accepted: bins.csv with them."],
    ),
    # the calendar
    "no calendar": (
        {"calendar.ics": "day,event\n2026-11-26,Thanksgiving\n"},
        [
            'calendar.ics line 1: found "day,event 2026-11-26,Thanksgiving"; '
            "accepted: an iCalendar file (.ics)."
        ],
    ),
    "broken event": (
        {"calendar.ics": event("DTSTART;VALUE=DATE:20261399")},
        [
            'calendar.ics line 3, column "DTSTART": found "Wrong date format 20261399"; '
            "accepted: an event as RFC 5545 describes it."
        ],
    ),
    "event backwards": (
        {"calendar.ics": event("DTSTART;VALUE=DATE:20261126", "DTEND;VALUE=DATE:20261125")},
        ['calendar.ics line 3, column "DTEND": found 2026-11-25; accepted: 2026-11-26 or later.'],
    ),
    "event without an end in sight": (
        {"calendar.ics": event("DTSTART;VALUE=DATE:20261126", "DTEND;VALUE=DATE:99990101")},
        ['calendar.ics line 3, column "DTEND": found a longer event; accepted: at most 400 days.'],
    ),
    "event every minute": (
        {"calendar.ics": event("DTSTART;VALUE=DATE:20261126", "RRULE:FREQ=MINUTELY")},
        [
            'calendar.ics line 6, column "RRULE": found "FREQ=MINUTELY"; '
            "accepted: daily, weekly, monthly, yearly."
        ],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_problem_is_worded_exactly(said: Said, case: str) -> None:
    """The folder is refused with these lines, and no others."""
    files, expected = CASES[case]
    assert said(files) == expected


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("notes.txt", "students.csv: not found; accepted: a file with one student a line."),
        (
            "studnets.csv",
            'studnets.csv: found "studnets.csv", which is not read; accepted: students.csv.',
        ),
    ],
)
def test_no_roster(tmp_path: Path, name: str, expected: str) -> None:
    """A misspelled roster is named once, not also as missing."""
    (tmp_path / name).write_text("name\nAva R.\n")
    found = read_folder(tmp_path, machine_zone="America/Chicago")
    assert isinstance(found, Problems)
    assert [word_problem(one) for one in found.listed] == [expected]


def test_no_folder(tmp_path: Path) -> None:
    """A path that is no folder."""
    found = read_folder(tmp_path / "Room 9", machine_zone="America/Chicago")
    assert isinstance(found, Problems)
    assert [word_problem(one) for one in found.listed] == [
        "Room 9: found no folder; accepted: a folder with students.csv in it."
    ]


def test_a_file_that_cannot_be_opened(tmp_path: Path) -> None:
    """A folder with the name of a file."""
    (tmp_path / "students.csv").mkdir()
    found = read_folder(tmp_path, machine_zone="America/Chicago")
    assert isinstance(found, Problems)
    assert [word_problem(one) for one in found.listed] == [
        "students.csv: found, but it cannot be opened; accepted: a plain file."
    ]


def test_machine_zone_counts_only_where_the_class_names_none(tmp_path: Path) -> None:
    """A machine without a proper zone name is told so, unless class.csv has one."""
    (tmp_path / "students.csv").write_text("name\nAva R.\n")
    found = read_folder(tmp_path, machine_zone="Local")
    assert isinstance(found, Problems)
    assert [word_problem(one) for one in found.listed] == [
        'class.csv, column "time_zone": found "Local"; accepted: a time zone like America/Chicago.'
    ]
    (tmp_path / "class.csv").write_text("time_zone\nEurope/Oslo\n")
    assert isinstance(read_folder(tmp_path, machine_zone="Local"), ClassFolder)


def test_all_problems_come_at_once_in_order(said: Said) -> None:
    """By file in the order of the design, then by line."""
    lines = said(
        {
            "visits.csv": "student,bin,day\nAva R.,Ramps,yesterday\n",
            "bins.csv": RAMPS + "Gears,red,2026-11-09,soon\n",
            "students.csv": "name,joined\nAva R.,x\nAva R.,y\n",
        }
    )
    assert [line.split(":")[0] for line in lines] == [
        'students.csv line 2, column "joined"',
        'students.csv line 3, column "joined"',
        'students.csv line 3, column "name"',
        'bins.csv line 3, column "closes"',
        'visits.csv line 2, column "day"',
    ]


def test_unreadable_roster_hides_no_names_as_unknown(said: Said) -> None:
    """Aways and visits are not blamed for a roster that could not be read."""
    files: dict[str, str | bytes] = {
        "students.csv": b"name\n\xff\n",
        "away.csv": "student,from\nAva R.,2026-11-24\n",
    }
    assert len(said(files)) == 1


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_has_words(kind: Kind) -> None:
    """One line each, beginning with the file, line and column."""
    line = word_problem(Problem("bins.csv", kind, 7, "seats", "x", ("a", "b")))
    assert line.startswith('bins.csv line 7, column "seats": ')
    assert "\n" not in line
