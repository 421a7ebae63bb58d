"""What a message costs: taken, read, applied, answered, beside a bare echo with one commit.

``python -m tests.benchmarks.message_cost [--messages 500] [--blocks 4] [--profile FILE]``: both run
over loopback against servers of their own, in blocks A B A B, with no pace kept. Every text logs a
group's turn that was not on record: "g3 balance except omar on 2026-11-17".
"""

import argparse
import asyncio
import cProfile
import logging
import tempfile
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from functools import partial
from itertools import count
from pathlib import Path

from bot.telegram.running import Pace, serve
from storage.classbook import ClassBook
from storage.database import open_database
from tests.benchmarks.echo_floor import bare_echo
from tests.benchmarks.interleaved import Course, report, timed
from tests.telegram.rooms import ROBIN, room, settings_for

NUMBERS = count(1)


@asynccontextmanager
async def tubtally(base_url: str, token: str, *, folder: Path) -> AsyncIterator[None]:
    """The whole bot in this event loop, with a class database of its own."""
    url = room(folder / f"class{next(NUMBERS)}.db", ROBIN, now=datetime.now(UTC), shift=True)
    database, stop = open_database(url), asyncio.Event()
    settings = settings_for(url, base_url, token)
    task = asyncio.create_task(serve(settings, database, stop, pace=Pace(limited=False)))
    try:
        yield
    finally:
        stop.set()
        await task
        database.close()


def texts(folder: Path) -> tuple[str, ...]:
    """Logs of groups, each of turns that the demo class has not got yet."""
    database = open_database(room(folder / "texts.db", now=datetime.now(UTC), shift=True))
    with database.reading() as work:
        book = work.book(work.register.classes()[0].id)
        found = tuple(_texts(book))
    database.close()
    return found


def _texts(book: ClassBook) -> list[str]:
    roster, held = book.roster(), {visit.turn.key for visit in book.visits()}
    today = datetime.now(UTC).date()
    first = max(stint.opens for stint in roster.stints if stint.is_out(today))
    days = [first.fromordinal(n) for n in range(first.toordinal(), today.toordinal())]
    found = []
    for day in (day for day in days if day.weekday() < 5):
        for stint in (stint for stint in roster.stints if stint.is_out(day)):
            for group in roster.groups:
                members = roster.members_of(group.id, day)
                if members and not any((m.id, stint.id, day) in held for m in members):
                    name = members[0].goes_by[0] if members[0].goes_by else members[0].name
                    bin_ = roster.bin_of(stint).name.lower()
                    found.append(f"g{group.name} {bin_} except {name} on {day}")
    return found


def main() -> None:
    """Run both and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--messages", type=int, default=500, help="for each system")
    parser.add_argument("--blocks", type=int, default=4, help="the systems take turns this often")
    parser.add_argument("--profile", help="write a profile of everything to this file")
    asked = parser.parse_args()
    logging.disable(logging.INFO)
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        systems = {
            "bare echo": partial(bare_echo, folder=folder),
            "message": partial(tubtally, folder=folder),
        }
        course = Course(messages=asked.messages, blocks=asked.blocks, texts=texts(folder))
        profile = cProfile.Profile() if asked.profile else None
        if profile is not None:
            profile.enable()
        timings = asyncio.run(timed(systems, course))
        if profile is not None:
            profile.disable()
            profile.dump_stats(asked.profile)
        print(f"{len(course.texts)} texts, such as: {course.texts[0]}")
        print(report(timings))


if __name__ == "__main__":
    main()
