"""The journal: what entries do, and that stepping back leaves what the standing entries say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from storage import tables
from storage.classbook import ClassBook
from storage.records import Turn
from tests.classroom_fixture import TODAY, Classroom, moment

AT = moment("2026-11-17T10:41")


def entry(book: ClassBook, text: str = "a text", at: datetime = AT) -> int:
    return book.open_entry(kind="text", text=text, at=at, received_at=at, member_id=None)


def test_an_added_row_names_its_entry_and_its_class(classbook: ClassBook) -> None:
    made_by = entry(classbook)
    row_id = classbook.journal(made_by).add(tables.stations, name="Book Nook", seats=8)
    query = select(tables.stations).where(tables.stations.c.id == row_id)
    row = classbook.connection.execute(query).one()
    assert (row.name, row.seats, row.class_id) == ("Book Nook", 8, classbook.class_id)
    assert (row.made_by, row.voided_by) == (made_by, None)


def test_a_voided_row_stays_and_points_to_the_entry_that_took_it_back(
    classbook: ClassBook,
) -> None:
    row_id = classbook.journal(entry(classbook)).add(tables.stations, name="Book Nook", seats=8)
    taken_by = entry(classbook)
    classbook.journal(taken_by).void(tables.stations, [row_id])
    query = select(tables.stations.c.name, tables.stations.c.voided_by)
    assert classbook.connection.execute(query).all() == [("Book Nook", taken_by)]
    assert classbook.roster().stations == ()


def test_a_change_keeps_the_values_before_and_after(classbook: ClassBook) -> None:
    stint = classbook.roster().stints[0]
    changed_by = entry(classbook)
    journal = classbook.journal(changed_by)
    assert journal.change(tables.stints, stint.id, closes=date(2026, 12, 4), seats=5)
    query = select(tables.changes).where(tables.changes.c.entry_id == changed_by)
    [line] = classbook.connection.execute(query).all()
    assert (line.subject, line.row_id) == ("stints", stint.id)
    assert line.before == {"closes": "2026-11-27", "seats": 4}
    assert line.after == {"closes": "2026-12-04", "seats": 5}


def test_a_change_to_the_same_values_is_none(classbook: ClassBook) -> None:
    stint = classbook.roster().stints[0]
    changed_by = entry(classbook)
    journal = classbook.journal(changed_by)
    assert not journal.change(tables.stints, stint.id, closes=stint.closes, seats=4)
    query = select(tables.changes).where(tables.changes.c.entry_id == changed_by)
    assert classbook.connection.execute(query).all() == []


def test_stepping_back_voids_what_was_added_and_puts_back_what_was_changed(
    classbook: ClassBook,
) -> None:
    roster = classbook.roster()
    [rotation, *_] = roster.rotations
    done_by = entry(classbook)
    journal = classbook.journal(done_by)
    journal.add(tables.stations, name="Book Nook", seats=8)
    journal.change(tables.rotations, rotation.id, starts=time(9, 5), minutes=25)
    journal.void(tables.aways, [away.id for away in roster.aways])
    classbook.journal(entry(classbook)).step_back(done_by)
    now = classbook.roster()
    assert now.stations == ()
    assert now.rotations == roster.rotations
    assert now.aways == roster.aways


def test_stepping_back_the_stepping_back_brings_it_all_again(classbook: ClassBook) -> None:
    roster = classbook.roster()
    done_by = entry(classbook)
    journal = classbook.journal(done_by)
    journal.add(tables.stations, name="Book Nook", seats=8)
    journal.change(tables.students, roster.students[0].id, goes_by=["Avie"], left=TODAY)
    journal.void(tables.aways, [away.id for away in roster.aways])
    done = classbook.roster()
    undone_by = _step(classbook, done_by)
    assert classbook.roster().students == roster.students
    _step(classbook, undone_by)
    now = classbook.roster()
    assert (now.stations, now.students, now.aways) == (done.stations, done.students, ())


def test_every_change_of_the_class_makes_its_copies_stale(classbook: ClassBook) -> None:
    before = classbook.roster()
    assert classbook.roster() is before
    classbook.journal(entry(classbook)).add(tables.stations, name="Book Nook", seats=8)
    after = classbook.roster()
    assert after is not before
    assert after.class_.version == before.class_.version + 1


def test_a_visit_leaves_the_copies_of_the_class_fresh(classbook: ClassBook) -> None:
    before = classbook.roster()
    classbook.claim(entry(classbook), [_turn(classbook)])
    assert classbook.roster() is before


def test_a_visit_stands_as_long_as_one_standing_entry_claims_it(classbook: ClassBook) -> None:
    turn = _turn(classbook)
    first, second = entry(classbook), entry(classbook)
    classbook.claim(first, [turn])
    classbook.claim(second, [turn])
    assert classbook.tally([turn.stint_id]) == {turn.stint_id: {turn.student_id: 1}}
    _step(classbook, first)
    assert classbook.tally([turn.stint_id]) == {turn.stint_id: {turn.student_id: 1}}
    _step(classbook, second)
    assert classbook.tally([turn.stint_id]) == {}


def test_a_claim_taken_back_does_not_return_once_its_own_text_is_undone(
    classbook: ClassBook,
) -> None:
    """Log, take back, undo the log by its button, undo the taking back."""
    turn = _turn(classbook)
    log, taking = entry(classbook), entry(classbook)
    classbook.claim(log, [turn])
    classbook.take_back(taking, classbook.claims(entry_id=log))
    _step(classbook, log)
    _step(classbook, taking)
    assert classbook.visits() == ()


def test_a_value_changed_twice_returns_to_the_first_whichever_is_undone_first(
    classbook: ClassBook,
) -> None:
    stint = classbook.roster().stints[0]
    first, second = entry(classbook), entry(classbook)
    classbook.journal(first).change(tables.stints, stint.id, seats=5)
    classbook.journal(second).change(tables.stints, stint.id, seats=6)
    _step(classbook, first)
    assert classbook.roster().stint[stint.id].seats == 6
    _step(classbook, second)
    assert classbook.roster().stint[stint.id].seats == 4


def _turn(book: ClassBook) -> Turn:
    roster = book.roster()
    return Turn(roster.students[0].id, roster.stints[0].id, TODAY, time(10, 40))


def _step(book: ClassBook, entry_id: int) -> int:
    """What an undo (or, of an undo, a redo) does."""
    by = entry(book, "undo")
    book.journal(by).step_back(entry_id)
    book.journal(by).mark_undone(entry_id)
    return by


# Any sequence, beside a model in memory: the state is what the standing entries say, in order.


@dataclass
class Model:
    """Entries in order; `steps` pairs each entry that steps back with the one it steps back."""

    claimed: dict[int, int] = field(default_factory=dict)  # claim -> entry
    taken: dict[int, set[int]] = field(default_factory=dict)  # entry -> claims taken back
    seats: list[tuple[int, int]] = field(default_factory=list)  # entry, new value
    steps: list[tuple[int, int]] = field(default_factory=list)

    def undone_by(self, entry_id: int) -> int | None:
        by = [step for step, back in self.steps if back == entry_id and self.stands(step)]
        return by[-1] if by else None

    def stands(self, entry_id: int) -> bool:
        return self.undone_by(entry_id) is None

    def standing_claims(self) -> set[int]:
        gone = {c for e, claims in self.taken.items() if self.stands(e) for c in claims}
        return {c for c, e in self.claimed.items() if self.stands(e)} - gone

    def seats_now(self) -> int:
        return ([4] + [value for e, value in self.seats if self.stands(e)])[-1]


ACTS = st.lists(
    st.tuples(
        st.sampled_from(("claim", "take_back", "change", "step", "step", "edit")),
        st.integers(0, 7),
    ),
    min_size=1,
    max_size=14,
)


@given(acts=ACTS)
@settings(
    max_examples=120,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_sequence_leaves_what_the_standing_entries_say(
    classroom: Classroom, acts: Sequence[tuple[str, int]]
) -> None:
    class Enough(Exception):
        """Ends the unit of work without keeping it, so that every example starts anew."""

    try:
        with classroom.book() as book:
            _compare(book, acts)
            raise Enough
    except Enough:
        pass


def _compare(book: ClassBook, acts: Sequence[tuple[str, int]]) -> None:
    model, stint = Model(), book.roster().stints[0]
    made: list[int] = []
    for act, number in acts:
        by = entry(book, act)
        open_to = [e for e in made if model.stands(e)]
        if act == "claim":
            _claim(book, model, by, number)
        elif act == "take_back":
            wanted = {c for c in model.standing_claims() if c % 2 == number % 2}
            book.take_back(by, [c for c in book.claims() if c.id in wanted])
            model.taken[by] = wanted
        elif act == "change":
            if book.journal(by).change(tables.stints, stint.id, seats=number + 1):
                model.seats.append((by, number + 1))
        elif open_to:
            stepped = open_to[number % len(open_to)]
            book.journal(by).step_back(stepped)
            book.journal(by).mark_undone(stepped)
            model.steps.append((by, stepped))
            if act == "edit":  # steps back an entry and acts itself
                _claim(book, model, by, number)
        made.append(by)
        assert {claim.id for claim in book.claims()} == model.standing_claims()
        assert book.roster().stint[stint.id].seats == model.seats_now()
        marks = {e: told.undone_by for e, told in book.entries(made).items()}
        assert marks == {e: model.undone_by(e) for e in made}


def _claim(book: ClassBook, model: Model, by: int, number: int) -> None:
    roster = book.roster()
    student = roster.students[number % 4].id
    book.claim(by, [Turn(student, roster.stints[0].id, TODAY)])
    [claim] = book.claims(entry_id=by)
    model.claimed[claim.id] = by
