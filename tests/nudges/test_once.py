"""A nudge goes out once: whatever crashes in between, and however many processes look."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import func, select

from bot.nudges.speaking import speak_up
from storage import tables
from tests.classroom_fixture import Classroom, moment, opened
from tests.nudges.days import anyone, kinds, look, on_record
from tests.storage.test_two_processes import in_processes

AT = "2026-11-17T07:00"


class _Killed(BaseException):
    """The process ends here."""


def _claim_and_die(room: Classroom) -> None:
    with room.database.writing() as work:
        assert kinds(speak_up(work, room.class_id, moment(AT), anyone).spoken) == ["digest"]
        raise _Killed


def count(room: Classroom, name: str) -> int:
    """The rows of a table."""
    with room.database.reading() as work:
        query = select(func.count()).select_from(tables.metadata.tables[name])
        return work.connection.execute(query).scalar_one()


def test_killed_before_the_letter_is_written_nothing_was_claimed(classroom: Classroom) -> None:
    entries = count(classroom, "entries")
    with pytest.raises(_Killed):
        _claim_and_die(classroom)
    assert on_record(classroom) == ()
    assert count(classroom, "entries") == entries
    assert kinds(look(classroom, AT)) == ["digest"]


def test_killed_after_the_letter_is_written_it_waits_to_be_sent(classroom: Classroom) -> None:
    with classroom.database.writing() as work:
        [said] = speak_up(work, classroom.class_id, moment(AT), anyone).spoken
        work.post.send(501, said.reply.text, class_id=classroom.class_id)
    with opened(classroom.path) as again:
        assert look(again, AT) == ()
        with again.database.reading() as work:
            assert [letter.text for letter in work.post.unsent()] == [said.reply.text]


def test_two_connections_claim_one_nudge_once(classroom: Classroom) -> None:
    """The second has looked before the first was done: the row decides, not the look."""
    with classroom.book() as book:
        values = {
            "about": "", "levels": {}, "due": moment(AT), "expires": moment(AT), "state": "sent",
            "at": moment(AT), "times": 1,
        }  # fmt: skip
        day = moment(AT).date()
        first = book.claim_nudge(classroom.owner.id, "digest", day, **values)
        assert isinstance(first, int)
        assert book.claim_nudge(classroom.owner.id, "digest", day, **values) is None
        assert book.claim_nudge(classroom.owner.id, "friday", day, **values) == first + 1


def test_four_processes_send_a_day_of_nudges_once(classroom: Classroom) -> None:
    assert in_processes([(_a_day, (classroom.path,))] * 4) == ["fine"] * 4
    with classroom.database.reading() as work:
        texts = [letter.text for letter in work.post.unsent()]
    assert len(texts) == 2
    assert len(set(texts)) == 2
    assert count(classroom, "nudges") == len({(n.kind, n.day) for n in on_record(classroom)})


def _a_day(path: Path) -> None:
    with opened(path) as room:
        for hour in range(24):
            now = moment(f"2026-11-17T{hour:02d}:20")
            with room.database.writing() as work:
                for said in speak_up(work, room.class_id, now, anyone).spoken:
                    work.post.send(501, said.reply.text, class_id=room.class_id)
