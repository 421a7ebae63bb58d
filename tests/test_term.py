"""Nine school days of one class, texted to the bot day by day: every child gets everywhere.

An invented class folder is loaded; each school morning the digest tells the plan; absences, lost
rotations, children with the teacher, a swap and a new child are texted; the plan is logged.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

import pytest

from bot.classroom.needs import is_for, missing_visits, needs_of
from bot.classroom.presence import Presence, presence
from bot.classroom.rotation.memo import Plans
from bot.classroom.stints import out_on
from bot.conversation import Answer, Incoming, take
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from bot.nudges.speaking import speak_up
from bot.settings import sqlite_url
from storage.database import open_database
from storage.records import Claim, Roster
from tests.classroom_fixture import ZONE, Classroom, moment, opened
from tests.nudges.days import anyone

FIRST, LAST = date(2026, 11, 9), date(2026, 11, 20)
NO_SCHOOL, LOST_ON, EARLY_ON, NEW_ON = (date(2026, 11, n) for n in (11, 13, 12, 16))
STARTS = (time(10, 15), time(10, 40), time(11, 5))
CHILDREN = (
    "Adaeze", "Bruno", "Celia", "Dmitri", "Esme", "Farid", "Greta", "Hugo", "Imani", "Jonas",
    "Keiko", "Lars", "Malia", "Nico", "Oona", "Pavel", "Quincy", "Rosa", "Stellan", "Tamsin",
    "Umar", "Violet", "Wendell", "Yara",
)  # fmt: skip
WHEAT, APART, PULLED_OUT, EARLY, NEW = "Esme", ("Bruno", "Celia"), "Hugo", "Oona", "Zuzana"
FOLDER = {
    "class.csv": [
        "name,time_zone,digest_at,quiet_before,quiet_after,school_days,absence_rate,keep_groups",
        f"Elm room,{ZONE.key},07:15,06:30,18:00,Mon-Fri,0.06,mostly",
    ],
    "students.csv": [
        "name,group,goes_by,code,avoids,keep_apart,joined,left",
        *(
            f"{name},{n // 4 + 1},,,{'wheat' if name == WHEAT else ''},"
            f"{APART[1] if name == APART[0] else ''},,"
            for n, name in enumerate(CHILDREN)
        ),
    ],
    "bins.csv": [
        "bin,also_called,color,opens,closes,seats,visits_each,unit,standards,cautions",
        "Ramps,,red,2026-11-02,2026-11-20,4,1,,,",
        "Balance,,yellow,2026-11-06,2026-11-18,4,2,,,",
        "Magnets,,green,2026-11-09,2026-11-20,4,2,,,",
        "Shadows,,pink,2026-11-09,2026-11-20,4,2,,,",
        "Dough,,purple,2026-11-09,2026-11-20,4,1,,,contains wheat",
        "Patterns,,blue,2026-11-02,2026-11-20,4,1,,,",
        "Gears,,,,,4,1,,,",
    ],
    "stations.csv": ["station,seats", "Book Nook,24"],
    "rotations.csv": ["weekday,starts,minutes", *(f"Mon-Fri,{s:%H:%M},20" for s in STARTS)],
    "away.csv": [
        "student,from,to,weekday,starts,ends,reason",
        f"{PULLED_OUT},,,Tue,10:10,10:40,speech",
    ],
}


@dataclass
class Term:
    """A class, the plans it made, and what was said in it."""

    room: Classroom
    plans: Plans = field(default_factory=Plans)
    digests: Counter[date] = field(default_factory=Counter)
    told: dict[tuple[date, time], list[str]] = field(default_factory=dict)
    here: dict[tuple[date, time], list[str]] = field(default_factory=dict)
    with_me: dict[tuple[date, time], str] = field(default_factory=dict)
    out: set[tuple[date, str]] = field(default_factory=set)
    swapped: date | None = None
    last_log: Answer | None = None
    before_last_log: set[tuple[str, str, str]] = field(default_factory=set)

    def say(self, text: str, day: date, at: time) -> Answer:
        """Text the bot."""
        now = datetime.combine(day, at, tzinfo=ZONE)
        with self.room.book() as book:
            return take(book, self.room.owner, Incoming(text, now, now), self.plans)

    def done(self, text: str, day: date, at: time) -> Answer:
        """Text something that must be done at once."""
        answer = self.say(text, day, at)
        assert answer.outcome == "done", (day, text, answer.reply.text)
        return answer

    def listen(self, day: date, at: time) -> None:
        """Let the bot speak up."""
        now = datetime.combine(day, at, tzinfo=ZONE)
        with self.room.database.writing() as work:
            spoken = speak_up(work, self.room.class_id, now, anyone, self.plans).spoken
            self.digests[day] += sum(said.kind == "digest" for said in spoken)
            book = work.book(self.room.class_id)
            roster, told = book.roster(), book.announcements(day, day)
        for one in told:
            placed = [i for seat in one.places for i in seat.students]
            here = [
                s.id
                for s in roster.present_roster(day)
                if presence(roster, s.id, day, one.starts) is Presence.HERE
            ]
            for kept, ids in ((self.told, placed), (self.here, here)):
                kept.setdefault((day, one.starts), sorted(roster.student[i].name for i in ids))

    def claims(self) -> tuple[Claim, ...]:
        """Every turn on record."""
        with self.room.database.reading() as work:
            return tuple(work.book(self.room.class_id).claims())


def run(term: Term) -> None:
    """Every day of the term, with everything that is texted on it."""
    lot = random.Random(6)
    for n in range((LAST - FIRST).days + 1):
        day = FIRST + timedelta(days=n)
        term.listen(day, time(7, 15))
        if day.weekday() < 5 and day != NO_SCHOOL:
            _morning(term, day, lot)
            _rotations(term, day, lot)
        term.listen(day, time(14, 0))
        _swap_if_done(term, day)


def _morning(term: Term, day: date, lot: random.Random) -> None:
    for name in CHILDREN:
        if lot.random() < 0.06 and name != EARLY:
            term.done(f"{name.lower()} is out today", day, time(8, 5))
            term.out.add((day, name))
    if day == FIRST:
        term.done("no school wednesday", day, time(8, 10))
    if day == LOST_ON:
        term.done("we lost the 10:40 rotation", day, time(8, 15))
    if day == EARLY_ON:
        term.done(f"{EARLY.lower()} leaves at 11:02", day, time(8, 20))
    if day == NEW_ON:
        term.done(f"new student {NEW} in group 2", day, time(8, 25))


def _rotations(term: Term, day: date, lot: random.Random) -> None:
    for starts in STARTS:
        if (day, starts) == (LOST_ON, STARTS[1]):
            continue
        text = "everyone where the plan says"
        if lot.random() < 0.2:
            name = lot.choice(CHILDREN)
            term.with_me[day, starts] = name
            text = f"ran as planned but {name.lower()} was with me"
        at = time(starts.hour, starts.minute + 12)
        term.before_last_log = term.room.visits()
        term.last_log = term.say(text, day, at)
        assert term.last_log.outcome in ("done", "answered"), term.last_log.reply.text


def _swap_if_done(term: Term, day: date) -> None:
    """Gears come out, once, for the first bin that nobody needs any more."""
    if term.swapped is not None or day < NEW_ON:
        return
    with term.room.book() as book:
        roster = book.roster()
        stints = out_on(roster, day)
        tally = book.tally([stint.id for stint in stints])
        now = datetime.combine(day, time(15), tzinfo=ZONE)
        done = [s for s in stints if not needs_of(roster, tally, s, now).students]
    if done:
        name = roster.bin_of(done[0]).name
        term.done(f"swap {name.lower()} for gears tomorrow", day, time(15, 0))
        term.swapped = day


@pytest.fixture(scope="module")
def term(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Term]:
    """The term, lived through."""
    here = tmp_path_factory.mktemp("term")
    for name, lines in FOLDER.items():
        (here / name).write_text("\n".join(lines) + "\n")
    folder = read_folder(here, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    path = tmp_path_factory.mktemp("database") / "elm.db"
    database = open_database(sqlite_url(path))
    with database.writing() as work:
        load(work, folder, moment("2026-11-08T12:00"))
    database.close()
    with opened(path) as room:
        lived = Term(room)
        run(lived)
        yield lived


def school_days() -> set[date]:
    """The days of the term with school."""
    days = {FIRST + timedelta(days=n) for n in range((LAST - FIRST).days + 1)}
    return {day for day in days if day.weekday() < 5 and day != NO_SCHOOL}


def test_every_child_gets_everywhere(term: Term) -> None:
    with term.room.book() as book:
        roster = book.roster()
        tally = book.tally([stint.id for stint in roster.stints])
    lacking = {
        (student.name, roster.bin_of(stint).name)
        for stint in roster.stints
        for student in roster.present_roster(LAST)
        if is_for(roster, stint, student) and missing_visits(tally, stint, student)
    }
    assert lacking == set()
    assert len(roster.present_roster(LAST)) == len(CHILDREN) + 1


def test_the_turns_on_record_are_those_the_tally_counts(term: Term) -> None:
    with term.room.book() as book:
        tally = book.tally([stint.id for stint in book.roster().stints])
    counted = Counter(
        (stint, student) for student, stint, _ in {claim.turn.key for claim in term.claims()}
    )
    assert counted == Counter({(i, s): n for i, held in tally.items() for s, n in held.items()})


def test_seats_are_never_exceeded(term: Term) -> None:
    taken = Counter(_slot(claim) for claim in term.claims())
    assert max(taken.values()) == 4


def test_two_kept_apart_are_never_together(term: Term) -> None:
    ids = {s.id for s in term.room.roster().students if s.name in APART}
    taken = Counter(_slot(claim) for claim in term.claims() if claim.turn.student_id in ids)
    assert len(ids) == 2
    assert set(taken.values()) == {1}


def test_nobody_is_in_two_places_at_once(term: Term) -> None:
    where: dict[tuple[int, date, time | None], set[int]] = {}
    for claim in term.claims():
        turn = claim.turn
        where.setdefault((turn.student_id, turn.day, turn.rotation), set()).add(turn.stint_id)
    assert {len(places) for places in where.values()} == {1}


def test_nobody_away_or_kept_away_or_elsewhere_is_credited(term: Term) -> None:
    roster = term.room.roster()
    assert [
        _named(roster, claim) for claim in term.claims() if _is_wrong(term, roster, claim)
    ] == []
    assert min(len(term.with_me), len(term.out)) > 2


def _is_wrong(term: Term, roster: Roster, claim: Claim) -> bool:
    name, bin_name, _ = _named(roster, claim)
    day, starts = claim.turn.day, claim.turn.rotation
    return (
        starts is None
        or (day, name) in term.out
        or (name == EARLY and day == EARLY_ON and starts > STARTS[1])
        or (name == PULLED_OUT and day.weekday() == 1 and starts == STARTS[0])
        or (name == NEW and day < NEW_ON)
        or (name, bin_name) == (WHEAT, "Dough")
        or term.with_me.get((day, starts)) == name
    )


def test_nothing_was_logged_when_nothing_ran(term: Term) -> None:
    ran = {(claim.turn.day, claim.turn.rotation) for claim in term.claims()}
    assert (LOST_ON, STARTS[1]) not in ran
    assert {day for day, _ in ran} <= school_days()


def test_one_digest_a_school_day_that_tells_the_plan(term: Term) -> None:
    assert {day: n for day, n in term.digests.items() if n} == dict.fromkeys(school_days(), 1)
    assert set(term.told) == {(day, starts) for day in school_days() for starts in STARTS}


def test_everyone_here_has_a_place_in_each_rotation_told(term: Term) -> None:
    assert term.told == term.here


def test_a_bin_was_swapped_when_everyone_was_done(term: Term) -> None:
    assert term.swapped is not None
    roster = term.room.roster()
    [gears] = [s for s in roster.stints if roster.bin_of(s).name == "Gears"]
    assert gears.opens > term.swapped


def test_undo_of_the_last_log_restores(term: Term) -> None:
    assert term.last_log is not None
    visits = term.room.visits()
    assert visits > term.before_last_log
    term.say(f"undo {term.last_log.entry_id}", LAST, time(15, 0))
    assert term.room.visits() == term.before_last_log
    term.say("redo", LAST, time(15, 1))
    assert term.room.visits() == visits


def _slot(claim: Claim) -> tuple[date, time | None, int]:
    return claim.turn.day, claim.turn.rotation, claim.turn.stint_id


def _named(roster: Roster, claim: Claim) -> tuple[str, str, str]:
    bin_ = roster.bin_of(roster.stint[claim.turn.stint_id])
    return roster.student[claim.turn.student_id].name, bin_.name, f"{claim.turn.day}"
