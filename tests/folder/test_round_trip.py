"""Values written out as files again read back as the same values."""

import csv
import io
from collections.abc import Iterable
from datetime import date, time, timedelta
from pathlib import Path

from bot.folder import ClassFolder, read_folder, shift_weeks
from bot.folder.cell_types import WEEKDAYS
from bot.folder.columns import FILES

DEMO = Path(__file__).parents[2] / "demo_roster"


def cell(value: object) -> str:
    """One cell as a file holds it."""
    if value is None:
        return ""
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, tuple):
        return ";".join(WEEKDAYS[entry] if isinstance(entry, int) else entry for entry in value)
    return str(value)


# Fields named otherwise than their columns.
FIELDS = {"from": "from_day", "to": "to_day", "weekday": "weekdays"}


def sheet(file: str, values: Iterable[object]) -> str:
    """The file that says `values`."""
    text = io.StringIO()
    writer = csv.writer(text)
    columns = [column.name for column in FILES[file]]
    writer.writerow(columns)
    for value in values:
        fields = [
            FIELDS.get(name, name) if name != "weekday" else _weekday(value) for name in columns
        ]
        writer.writerow([cell(getattr(value, name)) for name in fields])
    return text.getvalue()


def _weekday(value: object) -> str:
    return "weekdays" if hasattr(value, "weekdays") else "weekday"


def calendar(folder: ClassFolder) -> str:
    """Every closure and block as an event of its own."""
    lines = ["BEGIN:VCALENDAR"]
    for closure in folder.closures:
        ends = closure.day + timedelta(1)
        lines += ["BEGIN:VEVENT", f"DTSTART;VALUE=DATE:{closure.day:%Y%m%d}"]
        lines += [f"DTEND;VALUE=DATE:{ends:%Y%m%d}", f"SUMMARY:{closure.summary}", "END:VEVENT"]
    for block in folder.blocks:
        lines += ["BEGIN:VEVENT", f"DTSTART:{block.day:%Y%m%d}T{block.starts:%H%M%S}"]
        lines += [f"DTEND:{block.day:%Y%m%d}T{block.ends:%H%M%S}", f"SUMMARY:{block.summary}"]
        lines += ["END:VEVENT"]
    return "\r\n".join((*lines, "END:VCALENDAR", ""))


def write(folder: ClassFolder, place: Path) -> None:
    """All ten files."""
    contents = {
        "class.csv": (folder.settings,),
        "students.csv": folder.students,
        "bins.csv": folder.bins,
        "supplies.csv": folder.supplies,
        "stations.csv": folder.stations,
        "rotations.csv": folder.rotations,
        "away.csv": folder.aways,
        "units.csv": folder.units,
        "visits.csv": folder.visits,
    }
    for file, values in contents.items():
        (place / file).write_text(sheet(file, values), encoding="utf-8", newline="")
    (place / "calendar.ics").write_text(calendar(folder), encoding="utf-8", newline="")


def load(place: Path) -> ClassFolder:
    """The folder at `place`, which must be sound."""
    folder = read_folder(place, machine_zone="UTC", today=date(2026, 11, 16))
    assert isinstance(folder, ClassFolder), folder
    return folder


def test_demo_written_and_read_again_is_the_same(tmp_path: Path) -> None:
    """Also twice."""
    demo = load(DEMO)
    write(demo, tmp_path)
    again = load(tmp_path)
    assert again == demo
    write(again, tmp_path)
    assert load(tmp_path) == demo


def test_demo_moved_by_weeks_still_loads(tmp_path: Path) -> None:
    """Nothing contradicts itself after a move over the turn of the year, and none is lost."""
    demo = load(DEMO)
    for weeks in (1, 9, -40):
        moved = shift_weeks(demo, weeks)
        write(moved, tmp_path)
        assert load(tmp_path) == moved
