"""No bytes make the reader raise, and every problem can be worded."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.folder import ClassFolder, Problems, read_folder
from bot.folder.columns import FILES
from bot.wording.folder import word_problem

NAMES = [name for name in FILES if name != "calendar.ics"]
CELLS = st.sampled_from(
    (
        *("", "Ava R.", "Ramps", "red", "2026-11-02", "2026-11-31", "10:15", "Mon-Fri", "x;y"),
        *("4", "-1", "piece", "6%", '"', "\u00eb", "\0", "9" * 400, "Ben T.", "Forces"),
    )
)
CALENDAR_LINES = st.sampled_from(
    (
        *("BEGIN:VEVENT", "END:VEVENT", "UID:1", "UID:2", "SUMMARY:a", "junk", "", "TZID:x"),
        *("DTSTART;VALUE=DATE:20261111", "DTSTART:20261111T101500Z", "DTSTART:0001"),
        *("DTSTART;VALUE=DATE:00010101", "DTSTART;VALUE=DATE:99991231"),
        *("DTSTART;TZID=x:20261111T101500", "DTSTART:16040101T000000"),
        *("DTEND;VALUE=DATE:20261113", "DTEND:20261111T111500", "DURATION:P1D", "DURATION:x"),
        *("RRULE:FREQ=WEEKLY", "RRULE:x", "RRULE:FREQ=DAILY;INTERVAL=0", "EXDATE:x"),
        *("RDATE;VALUE=DATE:20261120", "RECURRENCE-ID;VALUE=DATE:20261118", "STATUS:CANCELLED"),
        *("BEGIN:VTIMEZONE", "END:VTIMEZONE", "END:VCALENDAR", "BEGIN:VCALENDAR"),
    )
)


def read(files: dict[str, bytes]) -> None:
    """Read a folder of these files; it loads or every problem has its line of words."""
    with TemporaryDirectory() as place:
        for name, content in files.items():
            (Path(place) / name).write_bytes(content)
        found = read_folder(Path(place), machine_zone="America/Chicago")
    if isinstance(found, Problems):
        assert found.listed
        assert all(word_problem(one).startswith(one.file) for one in found.listed)
    else:
        assert isinstance(found, ClassFolder)


@settings(max_examples=150)
@given(st.dictionaries(st.sampled_from(list(FILES)), st.binary(max_size=200)))
def test_any_bytes(files: dict[str, bytes]) -> None:
    """Noise in every file."""
    read(files)


@st.composite
def sheets(draw: st.DrawFn) -> dict[str, bytes]:
    """Files with proper headers and cells drawn from the likely and the unlikely."""
    files = {"students.csv": b"name\nAva R.\nBen T.\n"}
    for name in draw(st.lists(st.sampled_from(NAMES), unique=True)):
        columns = [column.name for column in FILES[name]]
        rows = draw(st.lists(st.lists(CELLS, max_size=len(columns) + 1), max_size=6))
        text = "\n".join(",".join(row) for row in [columns, *rows])
        files[name] = text.encode()
    return files


@settings(max_examples=300)
@given(sheets())
def test_any_cells(files: dict[str, bytes]) -> None:
    """Right headers, any cells."""
    read(files)


RULES = st.lists(
    st.sampled_from(
        (
            *("FREQ=DAILY", "FREQ=WEEKLY", "FREQ=MONTHLY", "FREQ=YEARLY", "FREQ=HOURLY", "FREQ="),
            *("INTERVAL=0", "INTERVAL=2", "INTERVAL=-3", "COUNT=0", "COUNT=3", "UNTIL=20261201"),
            *("BYDAY=MO,WE", "BYDAY=-1FR", "BYDAY=9TH", "BYMONTH=2,11", "BYMONTHDAY=30,-1"),
            *("BYSETPOS=1", "BYSETPOS=-1", "BYWEEKNO=53", "BYYEARDAY=366", "WKST=SU", "BYHOUR=3"),
        )
    ),
    max_size=4,
)
STARTS = st.sampled_from(
    (";VALUE=DATE:20261111", ":20261111T101500", ":20261111T101500Z", ";VALUE=DATE:16040229")
)


@settings(max_examples=100)
@given(STARTS, RULES, st.booleans())
def test_any_rule(starts: str, rule: list[str], in_zone: bool) -> None:
    """The parts of repeat rules in any number, in an event or in a time zone."""
    rrule = f"RRULE:{';'.join(rule)}"
    event = ["BEGIN:VEVENT", f"DTSTART{starts}", *([] if in_zone else [rrule]), "END:VEVENT"]
    zone = ["BEGIN:VTIMEZONE", "TZID:x", "BEGIN:STANDARD", "DTSTART:19701101T020000", rrule]
    zone += ["TZOFFSETFROM:-0400", "TZOFFSETTO:-0500", "END:STANDARD", "END:VTIMEZONE"]
    zone += ["BEGIN:VEVENT", "DTSTART;TZID=x:20261111T101500", "DURATION:PT1H", "END:VEVENT"]
    lines = ["BEGIN:VCALENDAR", *(zone if in_zone else []), *event, "END:VCALENDAR"]
    read({"students.csv": b"name\nAva R.\n", "calendar.ics": "\r\n".join(lines).encode()})


@settings(max_examples=300)
@given(st.lists(CALENDAR_LINES, max_size=14), st.text(max_size=40))
def test_any_calendar(lines: list[str], noise: str) -> None:
    """The lines of calendars in any order, and noise after them."""
    text = "\r\n".join(["BEGIN:VCALENDAR", "BEGIN:VEVENT", *lines, "END:VEVENT", noise])
    read({"students.csv": b"name\nAva R.\n", "calendar.ics": text.encode()})
