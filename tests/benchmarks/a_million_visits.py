"""The same messages with 100 visits and with 1,000,000 visits in the database.

``python -m tests.benchmarks.a_million_visits [--visits 1000000] [--rounds 60] [--folder DIR]``
prints, for each message, the median milliseconds (read, applied, committed) with few and with many
visits, and the ratio. Both databases hold the same class with the same 120 past stints; the many
visits lie in these and in other classes, four to an entry. The two are asked in turns, message by
message, so that a busy machine slows both alike.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from datetime import date, datetime, timedelta
from itertools import islice
from pathlib import Path
from statistics import median
from time import perf_counter

from sqlalchemy import text

from bot.settings import sqlite_url
from storage import tables
from storage.database import Work, open_database
from tests.classroom_fixture import Classroom, build, moment, opened

FEW = 100
PAST_STINTS, DAYS_OUT = 120, 30
OTHER_CLASSES = 40
CLAIMS_OF_AN_ENTRY = 4
FIRST_DAY = date(2000, 1, 3)
MESSAGES = (
    "g1 balance",
    "who still needs balance",
    "what does mia need",
    "was mia at balance?",
    "why does dara need ramps",
    "take ben off balance",
    "undo",
    "redo",
    "undo",
    "undo",
    "g1 balance except mia and g2 ramps",
    "undo",
)


def fill(path: Path, visits: int) -> None:
    """Make a database with the class, other classes, and about this many visits of the past."""
    database = open_database(sqlite_url(path))
    ids = [build(database)]
    with database.writing() as work:
        _past_stints(work, ids[0])
    ids += [build(database, f"Room {n + 100}") for n in range(OTHER_CLASSES)]
    with database.writing() as work:
        for class_id in ids[1:]:
            _past_stints(work, class_id)
        work.connection.exec_driver_sql("PRAGMA cache_size = -200000")
        wanted = visits
        for index, class_id in enumerate(ids):
            share = -(-wanted // (len(ids) - index))
            wanted -= _past_visits(work, class_id, share)
    database.close()
    print(f"{path.name}: {visits - wanted:,} visits", flush=True)


def _past_stints(work: Work, class_id: int) -> None:
    """Many periods of the same bin, one after the other."""
    book = work.book(class_id)
    roster = book.roster()
    gears = next(bin_.id for bin_ in roster.bins if bin_.name == "Gears")
    rows = [
        {
            "bin_id": gears,
            "color": "white",
            "opens": FIRST_DAY + timedelta(days=n * DAYS_OUT),
            "closes": FIRST_DAY + timedelta(days=(n + 1) * DAYS_OUT - 1),
            "seats": 4,
            "visits_each": 1,
        }
        for n in range(PAST_STINTS)
    ]
    first_entry = min(_ids(work, "entries", class_id))
    book.journal(first_entry).add_all(tables.stints, rows)


def _ids(work: Work, table: str, class_id: int) -> list[int]:
    query = text(f"SELECT id FROM {table} WHERE class_id = :id")
    return list(work.connection.scalars(query, {"id": class_id}))


def _past_visits(work: Work, class_id: int, wanted: int) -> int:
    """Write visits past the journal, as fast as rows go in; how many there was room for."""
    turns = list(islice(_turns(work, class_id), wanted))
    highest = work.connection.execute(text("SELECT max(id) FROM entries")).scalar_one()
    member = _ids(work, "members", class_id)[0]
    at = "2026-11-10 15:00:00.000000"
    count = -(-len(turns) // CLAIMS_OF_AN_ENTRY)
    entries = [
        (highest + 1 + n, class_id, member, "text", at, at, "g1 gears", 1) for n in range(count)
    ]
    work.connection.exec_driver_sql(
        "INSERT INTO entries (id, class_id, member_id, kind, at, received_at, text, effect)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        entries,
    )
    work.connection.exec_driver_sql(
        "INSERT INTO claims (class_id, student_id, stint_id, day, made_by) VALUES (?, ?, ?, ?, ?)",
        [(class_id, *turn, highest + 1 + n // CLAIMS_OF_AN_ENTRY) for n, turn in enumerate(turns)],
    )
    return len(turns)


def _turns(work: Work, class_id: int) -> Iterator[tuple[int, int, str]]:
    """Every child at every past stint on every day of it."""
    roster = work.book(class_id).roster()
    past = [stint for stint in roster.stints if stint.color == "white"]
    for step in range(DAYS_OUT):
        for stint in past:
            for student in roster.students:
                yield student.id, stint.id, (stint.opens + timedelta(days=step)).isoformat()


def converse(rooms: Mapping[str, Classroom], rounds: int) -> dict[str, dict[int, list[float]]]:
    """Seconds for each message by its place in MESSAGES, for each database, in turns."""
    seconds: dict[str, dict[int, list[float]]] = {name: {} for name in rooms}
    start = moment("2026-11-17T10:41")
    for number in range(rounds + 2):
        for place, message in enumerate(MESSAGES):
            names = list(rooms) if (number + place) % 2 else list(rooms)[::-1]
            for name in names:
                took = _take(rooms[name], message, start + timedelta(seconds=number))
                if number >= 2:  # the first two warm up
                    seconds[name].setdefault(place, []).append(took)
    return seconds


def _take(room: Classroom, message: str, at: datetime) -> float:
    began = perf_counter()
    room.say(message, at.replace(tzinfo=None).isoformat())
    return perf_counter() - began


def report(few: Mapping[int, list[float]], many: Mapping[int, list[float]]) -> str:
    """One line a message, and the middle of the ratios."""
    lines = [f"{'message':<36} {'few ms':>8} {'many ms':>8} {'ratio':>6}"]
    ratios = []
    for place, message in enumerate(MESSAGES):
        one, other = median(few[place]) * 1000, median(many[place]) * 1000
        ratios.append(other / one)
        lines.append(f"{message:<36} {one:>8.3f} {other:>8.3f} {other / one:>6.2f}")
    whole = sum(median(t) for t in many.values()) / sum(median(t) for t in few.values())
    return "\n".join([*lines, f"median of the ratios {median(ratios):.2f}, all of it {whole:.2f}"])


def main() -> None:
    """Fill both databases, ask in turns, print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=1_000_000)
    parser.add_argument("--rounds", type=int, default=60)
    parser.add_argument("--folder", type=Path, help="where the databases are; default: temporary")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary, ExitStack() as stack:
        folder = asked.folder or Path(temporary)
        rooms = {}
        for name, visits in (("few", FEW), ("many", asked.visits)):
            path = folder / f"{name}-{visits}.db"
            if not path.exists():
                fill(path, visits)
            rooms[name] = stack.enter_context(opened(path))
        seconds = converse(rooms, asked.rounds)
        print(report(seconds["few"], seconds["many"]))


if __name__ == "__main__":
    main()
