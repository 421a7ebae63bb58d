"""What is written comes back the same: every record and every table."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import Any

import pytest
from sqlalchemy.exc import StatementError

from storage import tables
from storage.classbook import ClassBook
from storage.post import Letter, Mark, Waiting
from storage.records import (
    Announcement,
    Apart,
    Away,
    Bin,
    Class,
    Closure,
    Count,
    Entry,
    Extra,
    Group,
    Member,
    Membership,
    Nudge,
    Nudging,
    Question,
    Roster,
    Rotation,
    Seated,
    Station,
    Stint,
    Student,
    Supply,
    Turn,
    Unit,
)
from storage.rosters import LISTS
from tests.classroom_fixture import Classroom, moment

DAY, LATER = date(2026, 11, 17), date(2026, 12, 4)
EARLY, LATE = time(10, 15), time(13, 40)
# Each with every field set, none to its default, and signs of several scripts.
RECORDS: list[tuple[str, Callable[[Roster], tuple[object, ...]], object]] = [
    ("groups", lambda r: r.groups, Group(50, "Otters 🦦")),
    (
        "students",
        lambda r: r.students,
        Student(50, "Zoë M.", ("Zo", "Zozo"), "R701", ("wheat", "egg"), DAY, LATER, 40),
    ),
    ("memberships", lambda r: r.memberships, Membership(50, 1, 2, DAY, LATER)),
    ("apart", lambda r: r.apart, Apart(50, 1, 2)),
    (
        "bins",
        lambda r: r.bins,
        Bin(50, "Sink or Float", ("sink",), "Materials", ("2-PS1-1",), ("wet floor",), 5, 2),
    ),
    ("stints", lambda r: r.stints, Stint(50, 1, "purple", DAY, LATER, 6, 3)),
    (
        "supplies",
        lambda r: r.supplies,
        Supply(50, 1, "dough balls", "piece", 0.5, 2.5, 6, 3, ("wheat",)),
    ),
    ("stations", lambda r: r.stations, Station(50, "Book Nook", 8)),
    ("rotations", lambda r: r.rotations, Rotation(50, 4, LATE, 25)),
    ("aways", lambda r: r.aways, Away(50, 1, DAY, LATER, 1, EARLY, LATE, "speech")),
    ("closures", lambda r: r.closures, Closure(50, DAY, "Assembly", EARLY, LATE)),
    ("extras", lambda r: r.extras, Extra(52, DAY, EARLY, 15)),
    ("units", lambda r: r.units, Unit(50, "Light", DAY, LATER, ("1-PS4-2", "1-PS4-3"))),
]
BARE: list[tuple[str, Callable[[Roster], tuple[object, ...]], object]] = [
    ("students", lambda r: r.students, Student(50, "Li")),
    ("memberships", lambda r: r.memberships, Membership(50, 1, 2)),
    ("stints", lambda r: r.stints, Stint(50, 1, "purple", DAY, None, 4, 1)),
    ("supplies", lambda r: r.supplies, Supply(50, 1, "sheets", "consumable")),
    ("stations", lambda r: r.stations, Station(50, "Rug", None)),
    ("aways", lambda r: r.aways, Away(50, 1)),
    ("closures", lambda r: r.closures, Closure(50, DAY, "Snow")),
    ("units", lambda r: r.units, Unit(50, "All year", None, None)),
    ("bins", lambda r: r.bins, Bin(50, "Gears")),
]


def as_row(record: object) -> dict[str, object]:
    """A record as the columns of its table."""
    names: tuple[str, ...] = record.__slots__  # type: ignore[attr-defined]  # our own dataclasses
    row = {name: getattr(record, name) for name in names}
    return {n: list(v) if n in LISTS else v for n, v in row.items()}


@pytest.mark.parametrize(("table", "read", "record"), [*RECORDS, *BARE])
def test_a_record_of_the_class_comes_back_the_same(
    classroom: Classroom,
    table: str,
    read: Callable[[Roster], tuple[object, ...]],
    record: object,
) -> None:
    with classroom.book() as book:
        made_by = load_entry(book)
        book.journal(made_by).add(tables.OF_CLASS[table], **as_row(record))
    assert record in read(classroom.roster())


def test_every_table_of_the_class_is_tried() -> None:
    tried = {table for table, _, _ in RECORDS}
    assert tried | {"counts", "moves", "claims", "announcements", "nudging"} == set(tables.OF_CLASS)


def test_what_a_member_wants_comes_back_the_same(classroom: Classroom) -> None:
    until = datetime(2026, 11, 30, 6, 0, tzinfo=UTC)
    with classroom.book() as book:
        owner, entry_id = classroom.owner.id, load_entry(book)
        book.set_nudging(entry_id, owner, is_on=True, until=None, again=None)
        book.set_nudging(entry_id, owner, is_on=False, until=until, again=7)
        assert book.nudging() == {owner: Nudging(2, owner, False, until, 7)}


def test_a_nudge_comes_back_the_same(classroom: Classroom) -> None:
    due, expires, at = (
        moment(f"2026-11-17T{hour}").astimezone(UTC) for hour in ("07:00", "11:00", "07:01")
    )
    values: dict[str, Any] = {
        "about": "Ramps", "levels": {"stint:1": 2.5}, "due": due, "expires": expires,
        "state": "sent", "at": at, "times": 2, "entry_id": 1,
    }  # fmt: skip
    with classroom.book() as book:
        owner = classroom.owner.id
        assert book.claim_nudge(owner, "at_risk", DAY, **values) == 1
        [nudge] = book.nudges(DAY)
    assert nudge == Nudge(id=1, member_id=owner, kind="at_risk", day=DAY, **values)


def test_a_count_comes_back_the_same(classbook: ClassBook) -> None:
    made_by = load_entry(classbook)
    journal = classbook.journal(made_by)
    supply_id = journal.add(tables.supplies, **as_row(Supply(9, 1, "sheets", "consumable")))
    journal.add(tables.counts, supply_id=supply_id, on_hand=12.5, counted_on=DAY)
    [count] = classbook.supply_counts()
    assert count == Count(count.id, 9, 12.5, DAY, None, True, made_by)


def test_what_was_told_comes_back_the_same(classbook: ClassBook) -> None:
    entry = load_entry(classbook)
    places = (Seated("stint", 3, (1, 2)), Seated("station", 1, (4,)))
    classbook.announce(entry, {(DAY, EARLY): places})
    [told] = classbook.announcements(DAY, DAY)
    assert told == Announcement(told.id, DAY, EARLY, places)


def test_what_is_told_anew_stands_in_place_of_the_old(classbook: ClassBook) -> None:
    entry = load_entry(classbook)
    classbook.announce(entry, {(DAY, EARLY): (Seated("stint", 3, (1, 2)),)})
    classbook.announce(entry, {(DAY, EARLY): (Seated("stint", 4, (1, 2)),)})
    assert [told.places[0].id for told in classbook.announcements(DAY)] == [4]


def test_a_class_comes_back_the_same(classroom: Classroom) -> None:
    with classroom.database.writing() as work:
        class_id = work.register.add_class(
            "Salle Élan",
            time_zone="Europe/Paris",
            digest_at=time(7, 15),
            quiet_before=time(6, 0),
            quiet_after=time(19, 30),
            school_days=[0, 1, 3],
            absence_rate=0.08,
            keep_groups="firmly",
        )
    with classroom.database.reading() as work:
        found = work.register.classes()[-1]
        settings = (time(7, 15), time(6, 0), time(19, 30), (0, 1, 3), 0.08, "firmly", 0)
        assert found == Class(class_id, "Salle Élan", "Europe/Paris", *settings)
        assert [m.role for m in work.register.members(class_id)] == ["owner"]
        assert work.book(class_id).loaded() is None


def test_the_facts_of_a_load_come_back_the_same(classbook: ClassBook) -> None:
    facts = {"student": {"Zoë M.": {"goes_by": ["Zo"], "code": None, "position": 3}}}
    classbook.keep_loaded(facts)
    assert classbook.loaded() == facts


def test_a_member_and_a_code_come_back_the_same(classroom: Classroom) -> None:
    account = 2**52 - 1  # the platform's users have up to 52 bits
    with classroom.database.writing() as work:
        aide = work.register.add_member(classroom.class_id, "Mr. Ok", role="aide")
        code = work.register.new_code(aide)
    with classroom.database.writing() as work:
        joined = work.register.redeem(f" {code.lower()}\n", account, moment("2026-11-17T08:00"))
        assert joined == Member(aide.id, classroom.class_id, "Mr. Ok", "aide", account)
        assert work.register.memberships_of(account) == (joined,)
        assert work.register.member(classroom.class_id, "mr. ok") == joined
        again = work.register.redeem(code, account + 1, moment("2026-11-17T08:01"))
        assert again is None


def test_a_newer_code_replaces_the_one_before(classroom: Classroom) -> None:
    with classroom.database.writing() as work:
        older = work.register.new_code(classroom.owner)
        newer = work.register.new_code(classroom.owner)
        assert older != newer
        assert work.register.redeem(older, 7, moment("2026-11-17T08:00")) is None
        assert work.register.redeem(newer, 7, moment("2026-11-17T08:00")) is not None


def test_an_entry_comes_back_the_same(classroom: Classroom) -> None:
    sent, received = moment("2026-11-17T10:41"), moment("2026-11-17T10:55")
    came_of_it: dict[str, object] = {
        "outcome": "done",
        "requests": ["log_visits"],
        "reply": "✓ Balance: Ava R.",
        "said": "group 1 did Balance on 2026-11-17 at 10:40",
        "result": {"visits_added": [{"student": "Ava R."}]},
        "effect": True,
    }
    with classroom.book() as book:
        first = load_entry(book)
        entry_id = book.open_entry(
            kind="text",
            text="g1 balance 🎉",
            at=sent,
            received_at=received,
            member_id=classroom.owner.id,
            key="update 77",
            place="chat 5",
            message="12",
            replaces=first,
        )
        book.close_entry(entry_id, **came_of_it)
    with classroom.book() as book:
        found = book.entry(entry_id)
        assert found == Entry(
            id=entry_id,
            class_id=classroom.class_id,
            member_id=classroom.owner.id,
            kind="text",
            at=sent,
            text="g1 balance 🎉",
            said="group 1 did Balance on 2026-11-17 at 10:40",
            outcome="done",
            requests=("log_visits",),
            reply="✓ Balance: Ava R.",
            result={"visits_added": [{"student": "Ava R."}]},
            effect=True,
            undone_by=None,
            replaces=first,
            place="chat 5",
        )
        assert book.entry_by_key("update 77") == found
        assert book.entry_of_message("chat 5", "12") == found
        assert book.entry_of_message("chat 6", "12") is None


def test_a_moment_keeps_its_instant_whatever_its_zone(classbook: ClassBook) -> None:
    tokyo = datetime(2026, 11, 18, 0, 41, tzinfo=timezone(timedelta(hours=9)))
    entry_id = classbook.open_entry(
        kind="text", text="", at=tokyo, received_at=tokyo, member_id=None
    )
    found = classbook.entry(entry_id)
    assert found is not None
    assert found.at == tokyo
    assert found.at.tzinfo is UTC


def test_a_moment_without_a_zone_is_refused(classbook: ClassBook) -> None:
    naive = datetime(2026, 11, 17, 10, 41)
    with pytest.raises(StatementError, match="a moment without a zone cannot be stored"):
        classbook.open_entry(kind="text", text="", at=naive, received_at=naive, member_id=None)


def test_a_claim_comes_back_the_same(classbook: ClassBook) -> None:
    roster = classbook.roster()
    timed = Turn(roster.students[0].id, roster.stints[0].id, DAY, time(10, 40))
    untimed = Turn(roster.students[1].id, roster.stints[0].id, DAY)
    made_by = load_entry(classbook)
    classbook.claim(made_by, [timed, untimed])
    claims = classbook.claims(entry_id=made_by)
    assert [claim.turn for claim in claims] == [timed, untimed]
    assert [claim.entry_id for claim in claims] == [made_by, made_by]
    classbook.take_back(load_entry(classbook), claims[:1])
    assert classbook.claims(entry_id=made_by) == claims[1:]
    assert classbook.claims(entry_id=made_by, voided=True) == claims
    assert classbook.touched(made_by) == (timed, untimed)


def test_a_question_comes_back_until_it_is_closed(classroom: Classroom) -> None:
    choices = (("Sofia R.", "Sofia R. did Ramps"), ("Both", "Sofia R. and Sofia T. did Ramps"))
    with classroom.book() as book:
        entry_id = load_entry(book)
        book.ask(entry_id, classroom.owner.id, "chat", choices)
    with classroom.book() as book:
        question = book.pending_question(classroom.owner.id, "chat")
        assert question == Question(1, entry_id, choices)
        assert book.pending_question(classroom.owner.id, "another chat") is None
        assert book.pending_question(classroom.owner.id + 1, "chat") is None
        book.close_questions(classroom.owner.id, "chat")
        assert book.pending_question(classroom.owner.id, "chat") is None


def test_an_update_comes_back_as_it_came_until_it_is_handled(classroom: Classroom) -> None:
    now = moment("2026-11-17T10:41")
    big = 2**40
    with classroom.database.writing() as work:
        work.post.keep({big + 1: '{"b": "é"}', big: '{"a": 1}'}, now)
        work.post.keep({big: '{"a": "changed"}', big + 2: "{}"}, now + timedelta(minutes=1))
        work.post.keep({4: "{}"}, now + timedelta(days=8))
    with classroom.database.writing() as work:
        assert work.post.waiting() == (
            Waiting(big, '{"a": 1}', now),
            Waiting(big + 1, '{"b": "é"}', now),
            Waiting(big + 2, "{}", now + timedelta(minutes=1)),
            Waiting(4, "{}", now + timedelta(days=8)),  # ids begin anew after a quiet week
        )
        assert work.post.mark_handled(big, now)
        assert not work.post.mark_handled(big, now)
        assert work.post.mark_dead(big + 1, "", "KeyError", now)
        assert not work.post.mark_dead(big + 1, "", "ValueError", now)
        assert not work.post.mark_handled(big + 1, now)
        assert work.post.mark_handled(big + 3, now)  # not kept before: handling it keeps its id
        assert work.post.mark_dead(big + 4, "nonsense", "ValueError", now)
        assert work.post.dead() == ((big + 1, "KeyError"), (big + 4, "ValueError"))
        assert [update.id for update in work.post.waiting()] == [big + 2, 4]


def test_an_update_that_is_handled_is_forgotten_after_a_while(classroom: Classroom) -> None:
    now = moment("2026-11-17T10:41")
    with classroom.database.writing() as work:
        work.post.keep({1: "{}", 2: "{}", 3: "{}"}, now)
        work.post.mark_handled(1, now)
        work.post.mark_dead(2, "{}", "KeyError", now)
        work.post.forget_handled(now)
        assert not work.post.mark_handled(1, now)
        work.post.forget_handled(now + timedelta(days=3))
        assert work.post.mark_handled(1, now)
        assert work.post.dead() == ((2, "KeyError"),)
        assert [update.id for update in work.post.waiting()] == [3]


def test_a_letter_comes_back_until_it_is_sent_or_failed(classroom: Classroom) -> None:
    chat = -(2**40)
    with classroom.database.writing() as work:
        letter = work.post.send(
            chat,
            "✓ Balance",
            choices=[("Undo", "undo 4"), ("Who's left", "who needs Balance")],
            class_id=classroom.owner.class_id,
        )
        bare = work.post.send(chat, "hello")
        last = work.post.send(chat, "bye")
    assert letter == Letter(letter.id, chat, "✓ Balance", ("Undo", "Who's left"))
    with classroom.database.writing() as work:
        assert work.post.unsent() == (letter, bare, last)
        undo, left = f"{letter.id}:0", f"{letter.id}:1"
        assert work.post.pressed(undo, chat) == ("undo 4", classroom.owner.class_id)
        assert work.post.pressed(left, chat) == ("who needs Balance", classroom.owner.class_id)
        for button, place in ((undo, chat + 1), (f"{letter.id}:2", chat), (f"{bare.id}:0", chat)):
            assert work.post.pressed(button, place) is None
        for button in ("", "1", "x:0", "1:0:0", "-1:0", "9" * 30 + ":0"):
            assert work.post.pressed(button, chat) is None
        work.post.mark([Mark(letter.id, "sent", 2**33), Mark(bare.id, "failed")])
        assert work.post.unsent() == (last,)


def load_entry(book: ClassBook) -> int:
    at = moment("2026-11-17T07:00")
    return book.open_entry(kind="load", text="load", at=at, received_at=at, member_id=None)
