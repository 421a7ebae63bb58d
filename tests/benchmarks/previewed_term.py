"""How often the bot speaks up in a term; python -m tests.benchmarks.previewed_term [--weeks 12].

The demo class through twelve weeks of school: bins change every two weeks, 6% of the children are
away on a day, groups go round as on a wheel, and a day in ten is not logged. Every day is previewed
at midnight and then run through, a look an hour. Prints nudges a day (median, most), by kind, the
longest text, and what a preview costs.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
import time as clock
from collections import Counter
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from bot.classroom.days import school_days
from bot.classroom.stints import out_on
from bot.commands import may_be_written_to
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from bot.nudges.previewing import preview
from bot.nudges.speaking import Spoken, speak_up
from bot.settings import sqlite_url
from storage import tables
from storage.classbook import ClassBook
from storage.database import Database, open_database
from storage.records import Roster, Turn

DEMO = Path(__file__).parent.parent.parent / "demo_roster"
FIRST = date(2027, 1, 4)
_WEEKS_OUT = 2
_AWAY, _UNLOGGED = 0.06, 0.1


def prepared(database: Database, weeks: int) -> int:
    """The demo class with bins that change every two weeks."""
    folder = read_folder(DEMO, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    with database.writing() as work:
        load(work, folder, datetime(2026, 12, 20, 12, tzinfo=UTC))
        [class_] = work.register.classes()
        book = work.book(class_.id)
        _put_out(book, weeks)
    return class_.id


def _put_out(book: ClassBook, weeks: int) -> None:
    """Six bins at a time, each for two weeks."""
    roster = book.roster()
    journal = book.journal(1)
    journal.void(tables.stints, [stint.id for stint in roster.stints])
    for start in range(0, weeks, _WEEKS_OUT):
        for n in range(6):
            bin_ = roster.bins[(start // _WEEKS_OUT * 6 + n) % len(roster.bins)]
            opens = FIRST + timedelta(weeks=start)
            journal.add(
                tables.stints,
                bin_id=bin_.id,
                color=f"color {n}",
                opens=opens,
                closes=opens + timedelta(days=7 * _WEEKS_OUT - 3),
                seats=bin_.seats,
                visits_each=1,
            )


def run_day(book: ClassBook, day: date, lot: random.Random, number: int) -> None:
    """Some children are away, each group goes to the next bins of the wheel; mostly logged."""
    roster = book.roster()
    entry_id = _entry(book, roster, day)
    here = []
    for student in roster.present_roster(day):
        if lot.random() < _AWAY:
            journal = book.journal(entry_id)
            journal.add(tables.aways, student_id=student.id, first=day, last=day)
        else:
            here.append(student.id)
    if lot.random() < _UNLOGGED:
        return
    outs = out_on(roster, day)
    groups = sorted({group for s in here if (group := roster.group_on(s, day)) is not None})
    turns = {
        Turn(student, outs[(groups.index(group) + 2 * number + rotation) % len(outs)].id, day)
        for rotation in range(2)
        for student in here
        if (group := roster.group_on(student, day)) is not None
    }
    book.claim(entry_id, sorted(turns, key=lambda turn: turn.key))


def _entry(book: ClassBook, roster: Roster, day: date) -> int:
    at = datetime.combine(day, time(11), tzinfo=roster.class_.zone)
    return book.open_entry(kind="text", text="", at=at, received_at=at, member_id=None)


def term(
    database: Database, class_id: int, weeks: int, seed: int
) -> tuple[list[list[Spoken]], float]:
    """What was said on each school day, and the seconds of a day's preview (median)."""
    lot, said, seconds = random.Random(seed), [], []
    with database.reading() as work:
        roster = work.book(class_id).roster()
    zone = roster.class_.zone
    for number, day in enumerate(school_days(roster, FIRST, FIRST + timedelta(days=7 * weeks - 1))):
        start = datetime.combine(day, time(), tzinfo=zone)
        began = clock.perf_counter()
        with database.reading() as work:
            preview(work, class_id, start, start + timedelta(days=1), may_be_written_to)
        seconds.append(clock.perf_counter() - began)
        today: list[Spoken] = []
        for hour in range(6, 18):
            with database.writing() as work:
                if hour == 11:
                    run_day(work.book(class_id), day, lot, number)
                moment = start.replace(hour=hour, minute=30)
                today += speak_up(work, class_id, moment, may_be_written_to).spoken
        said.append(today)
    return said, statistics.median(seconds)


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weeks", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--show", action="store_true", help="print every text")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        database = open_database(sqlite_url(Path(folder) / "term.db"))
        class_id = prepared(database, options.weeks)
        said, seconds = term(database, class_id, options.weeks, options.seed)
        database.close()
    counts = [len(day) for day in said]
    kinds = Counter(spoken.kind for day in said for spoken in day)
    texts = [spoken.reply.text for day in said for spoken in day]
    if options.show:
        print("\n\n".join(texts))
    print(f"{len(said)} school days, {sum(counts)} nudges: {dict(kinds)}")
    print(f"a day: median {statistics.median(counts)}, most {max(counts)}, least {min(counts)}")
    lines = max(text.count("\n") + 1 for text in texts)
    print(f"longest text: {max(map(len, texts))} characters; most lines: {lines}")
    print(f"preview of a day: median {1000 * seconds:.1f} ms")


if __name__ == "__main__":
    main()
