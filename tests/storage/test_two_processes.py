"""Several processes on one SQLite file: no error, nothing lost."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from bot.conversation import Incoming, take
from bot.settings import sqlite_url
from storage.database import open_database
from storage.migrating import HEAD
from tests.classroom_fixture import GROUPS, Classroom, moment, opened
from tests.storage.test_database import revision

MESSAGES = 200
LONGEST = 100.0  # seconds until a process that hangs is given up


def test_two_processes_may_text_at_once(classroom: Classroom) -> None:
    texts = {1: "g1 ramps", 2: "g2 balance"}
    results = in_processes([(_text_many, (classroom.path, n, text)) for n, text in texts.items()])
    assert results == ["fine", "fine"]
    with classroom.database.reading() as work:
        book = work.book(classroom.class_id)
        found = [book.entry_by_key(f"{n} {i}") for n in texts for i in range(MESSAGES)]
    assert None not in found
    assert classroom.at_bin("Ramps") == set(GROUPS["1"])
    assert classroom.at_bin("Balance") == set(GROUPS["2"])


def test_four_processes_may_make_the_same_file_at_once(tmp_path: Path) -> None:
    path = tmp_path / "fresh.db"
    assert in_processes([(_open, (path,))] * 4) == ["fine"] * 4
    assert revision(path) == HEAD


def _text_many(path: Path, number: int, text: str) -> None:
    at = moment("2026-11-17T10:41")
    with opened(path) as room:
        for i in range(MESSAGES):
            sent = at + timedelta(seconds=i)
            incoming = Incoming(text, sent, sent, place=f"{number}", key=f"{number} {i}")
            with room.book() as book:
                take(book, room.owner, incoming)


def _open(path: Path) -> None:
    database = open_database(sqlite_url(path))
    with database.reading() as work:
        work.register.classes()
    database.close()


def in_processes(jobs: list[tuple[Callable[..., None], tuple[object, ...]]]) -> list[str]:
    """Run each job in a process of its own, all starting together; "fine" or the error of each."""
    spawn = multiprocessing.get_context("spawn")
    barrier = spawn.Barrier(len(jobs))
    results = spawn.Queue()
    processes = [
        spawn.Process(target=_run, args=(barrier, results, job, arguments))
        for job, arguments in jobs
    ]
    for process in processes:
        process.start()
    told = [str(results.get(timeout=LONGEST)) for _ in processes]
    for process in processes:
        process.join(LONGEST)
    results.close()
    return told


def _run(barrier, results, job, arguments) -> None:  # type: ignore[no-untyped-def]  # of a context
    try:
        barrier.wait(LONGEST)
        job(*arguments)
    except BaseException as trouble:
        results.put(repr(trouble))
    else:
        results.put("fine")
