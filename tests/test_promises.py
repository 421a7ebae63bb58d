"""The promises, one by one, at the trip of a message: real database, fixed clock, real texts."""

from __future__ import annotations

import logging
import re
from datetime import UTC, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError

from bot.conversation import Answer, Incoming, take
from storage import tables
from tests.classroom_fixture import (
    CLOSES,
    GROUPS,
    NAMES,
    Classroom,
    moment,
    needs_told,
    sends,
    students_added,
    students_removed,
)

WORDS = (
    *("g1", "g2", "3", "group", "mia", "sofia", "kai", "everyone", "ramps", "balance", "dough"),
    *("pink", "yesterday", "10:15", "not", "except", "and", ",", ".", "?", "did", "who", "needs"),
    *("undo", "redo", "why", "oops", "was", "with", "me", "the", "rest", "half", "of", "99", "if"),
    *("tomorrow", "only", "started", "2026-11-16", "\n", "theo", "jo", "take", "off", "actually"),
)
ONE, TWO, THREE = (set(GROUPS[number]) for number in "123")


# 2. Nothing counts twice.


def test_the_same_update_again_changes_nothing_and_is_answered_as_before(
    classroom: Classroom,
) -> None:
    first = classroom.say("g1 balance", key="update 1")
    visits, entries = classroom.visits(), count(classroom, "entries")
    classroom.say("g2 ramps", key="update 2")
    again = classroom.say("g1 balance", key="update 1", received_at="2026-11-17T12:00")
    assert again == first
    assert count(classroom, "entries") == entries + 1
    assert visits < classroom.visits()
    assert count(classroom, "claims") == len(ONE) + len(TWO)


def test_an_undo_delivered_twice_steps_back_once(classroom: Classroom) -> None:
    classroom.say("g1 ramps", key="1")
    classroom.say("g1 balance", key="2")
    first = classroom.say("undo", key="3")
    assert classroom.say("undo", key="3") == first
    assert classroom.at_bin("Ramps") == ONE
    assert classroom.at_bin("Balance") == set()


def test_a_question_delivered_twice_is_asked_as_before(classroom: Classroom) -> None:
    first = classroom.say("sofia ramps", key="1")
    assert first.outcome == "asked"
    assert classroom.say("sofia ramps", key="1") == first


def test_the_same_visit_texted_twice_on_one_day_changes_nothing_and_says_so(
    classroom: Classroom,
) -> None:
    classroom.say("g1 balance")
    again = classroom.say("g1 balance", "2026-11-17T10:55")
    assert (again.outcome, students_added(again)) == ("answered", [])
    assert again.reply.text.startswith("Nothing new: ")
    assert "10:41" in again.reply.text
    assert count(classroom, "claims") == len(ONE)
    classroom.say("undo")
    assert classroom.at_bin("Balance") == set()


def test_a_text_that_is_partly_known_adds_only_the_rest(classroom: Classroom) -> None:
    classroom.say("ava balance")
    answer = classroom.say("g1 balance")
    assert students_added(answer) == ["Ben T.", "Chidi O.", "Mia K."]
    assert classroom.at_bin("Balance") == ONE


def test_the_same_turn_in_both_rotations_is_one_visit_of_that_day(classroom: Classroom) -> None:
    classroom.say("10:15 ava balance")
    assert students_added(classroom.say("10:40 ava balance")) == []
    assert needs_told(classroom.say("what does ava need"))  # she still needs the others
    assert "Balance" not in needs_told(classroom.say("what does ava need"))


# 3. No child is credited by guess.


def test_a_name_that_two_children_bear_is_asked_with_one_tap_for_each(
    classroom: Classroom,
) -> None:
    answer = classroom.say("sofia did ramps")
    assert (answer.outcome, students_added(answer)) == ("asked", [])
    assert classroom.visits() == set()
    buttons = sends(answer)
    assert list(buttons) == ["Sofia R.", "Sofia T.", "Both"]
    assert students_added(classroom.say(buttons["Sofia T."], kind="button")) == ["Sofia T."]


def test_an_answer_in_words_picks_the_child(classroom: Classroom) -> None:
    classroom.say("sofia did ramps")
    assert students_added(classroom.say("sofia r")) == ["Sofia R."]


def test_a_choice_means_the_same_whatever_was_texted_since(classroom: Classroom) -> None:
    buttons = sends(classroom.say("sofia did ramps"))
    classroom.say("g3 balance")
    classroom.say("who needs shadows", "2026-11-18T09:00")
    answer = classroom.say(buttons["Sofia R."], "2026-11-18T14:00", kind="button")
    assert answer.result["visits_added"] == [
        {"student": "Sofia R.", "bin": "Ramps", "day": "2026-11-17"}
    ]


def test_a_child_of_the_group_who_is_away_is_left_out_and_named(classroom: Classroom) -> None:
    answer = classroom.say("g4 ramps")
    assert students_added(answer) == ["Jo B.", "Wei Z."]
    assert "Theo N." in answer.reply.text


def test_a_child_away_for_half_of_the_rotation_is_left_out(classroom: Classroom) -> None:
    second = classroom.say("g3 ramps", "2026-11-17T10:50")
    assert students_added(second) == ["Sofia T.", "Kai Q.", "Luca B."]
    assert "Priya N." in second.reply.text


def test_a_child_who_left_after_the_rotation_was_in_it(classroom: Classroom) -> None:
    first = classroom.say("10:15 g3 balance", "2026-11-17T10:50")
    assert set(students_added(first)) == THREE


def test_a_child_whom_a_caution_keeps_away_is_left_out_and_named(classroom: Classroom) -> None:
    answer = classroom.say("g4 dough")
    assert students_added(answer) == ["Jo B."]
    assert "Wei Z." in answer.reply.text
    assert "Theo N." in answer.reply.text


def test_everyone_means_neither_the_away_nor_the_kept_away(classroom: Classroom) -> None:
    answer = classroom.say("everyone did dough")
    assert set(students_added(answer)) == set(NAMES) - {"Theo N.", "Priya N.", "Wei Z."}


def test_a_child_who_was_not_there_yet_is_not_credited_through_the_group(
    classroom: Classroom,
) -> None:
    with classroom.book() as book:
        kai = next(s for s in book.roster().students if s.name == "Kai Q.")
        book.journal(1).change(tables.students, kai.id, joined=moment("2026-11-17T08:00").date())
    answer = classroom.say("yesterday g3 did balance")
    assert set(students_added(answer)) == THREE - {"Kai Q."}
    assert students_added(classroom.say("kai did balance yesterday")) == []
    everyone = classroom.say("everyone did ramps yesterday")
    assert set(students_added(everyone)) == set(NAMES) - {"Kai Q."}


@pytest.mark.parametrize(
    "text",
    [
        "who still needs ramps?",
        "did g1 do ramps",
        "g1 didn't do ramps",
        "g1 did not get to ramps",
        "nobody did ramps",
        "g1 will do ramps tomorrow",
        "g1 should go to ramps next",
        "can g1 do ramps?",
        "g1 only started ramps",
        "if there is time g1 does ramps",
        "zelda did ramps",
        "g9 ramps",
        "sofia ramps",
        "half of g1 did ramps",
        "some of g1 did ramps",
        "g1 and ramps and g2 balance?",
        "maybe g1 did ramps",
        "ramps is a mess",
        "g1 is loud today",
    ],
)
def test_a_text_in_doubt_credits_nobody(classroom: Classroom, text: str) -> None:
    answer = classroom.say(text)
    assert students_added(answer) == []
    assert classroom.visits() == set()


def test_a_group_nobody_knows_is_asked_with_the_groups_there_are(classroom: Classroom) -> None:
    answer = classroom.say("g9 ramps")
    assert answer.outcome == "asked"
    assert {f"Group {n}" for n in "1234"} <= set(sends(answer))


# 4. Nothing vanishes.


def test_undo_voids_and_points_to_what_undid_it(classroom: Classroom) -> None:
    log = classroom.say("g1 balance")
    undo = classroom.say("undo")
    assert set(students_removed(undo)) == ONE
    with classroom.book() as book:
        kept = book.claims(entry_id=log.entry_id, voided=True)
        assert len(kept) == len(ONE)
        query = select(tables.claims.c.voided_by)
        assert set(book.connection.scalars(query)) == {undo.entry_id}
        told = book.entry(log.entry_id)
    assert told is not None
    assert (told.text, told.undone_by) == ("g1 balance", undo.entry_id)


def test_undo_goes_back_step_by_step_and_redo_forward_again(classroom: Classroom) -> None:
    classroom.say("g1 balance")
    classroom.say("g2 balance")
    assert set(students_removed(classroom.say("undo"))) == TWO
    assert set(students_removed(classroom.say("undo"))) == ONE
    assert classroom.say("undo").outcome == "answered"
    assert set(students_added(classroom.say("redo"))) == ONE
    assert set(students_added(classroom.say("redo"))) == TWO
    assert classroom.say("redo").outcome == "answered"
    assert classroom.at_bin("Balance") == ONE | TWO


def test_undo_is_the_senders_own(classroom: Classroom) -> None:
    aide = classroom.member("aide")
    classroom.say("g1 balance")
    classroom.say("g2 ramps", member=aide)
    assert set(students_removed(classroom.say("undo"))) == ONE
    assert classroom.at_bin("Ramps") == TWO


def test_a_visit_stands_as_long_as_one_text_that_claims_it_stands(classroom: Classroom) -> None:
    aide = classroom.member("aide")
    classroom.say("g1 balance")
    classroom.say("g1 balance", member=aide)
    undo = classroom.say("undo")
    assert students_removed(undo) == []
    assert classroom.at_bin("Balance") == ONE
    classroom.say("undo", member=aide)
    assert classroom.at_bin("Balance") == set()


def test_a_turn_taken_back_comes_back_by_undo(classroom: Classroom) -> None:
    classroom.say("g1 balance")
    assert students_removed(classroom.say("take mia off balance")) == ["Mia K."]
    assert classroom.at_bin("Balance") == ONE - {"Mia K."}
    assert students_added(classroom.say("undo")) == ["Mia K."]
    assert classroom.at_bin("Balance") == ONE


def test_an_undone_log_stays_undone_when_the_taking_back_is_undone_too(
    classroom: Classroom,
) -> None:
    log = classroom.say("g1 balance")
    taking = classroom.say("take mia off balance")
    classroom.say(f"undo {log.entry_id}", kind="button")
    undo = classroom.say(f"undo {taking.entry_id}", kind="button")
    assert students_added(undo) == []
    assert classroom.at_bin("Balance") == set()


def test_an_edit_voids_what_it_replaces_and_points_to_it(classroom: Classroom) -> None:
    first = classroom.say("g1 balance", message="7")
    edit = classroom.say("g2 balance", message="7", kind="edit")
    assert set(students_removed(edit)) == ONE
    assert set(students_added(edit)) == TWO
    with classroom.book() as book:
        old, new = book.entry(first.entry_id), book.entry(edit.entry_id)
    assert old is not None
    assert new is not None
    assert (old.undone_by, new.replaces) == (edit.entry_id, first.entry_id)


def test_undoing_an_edit_brings_back_what_it_replaced(classroom: Classroom) -> None:
    classroom.say("g1 balance", message="7")
    classroom.say("g2 balance", message="7", kind="edit")
    classroom.say("undo")
    assert classroom.at_bin("Balance") == ONE


def test_an_edit_that_cannot_be_read_leaves_the_first_wording_standing(
    classroom: Classroom,
) -> None:
    classroom.say("g1 balance", message="7")
    edit = classroom.say("xyzzy plugh", message="7", kind="edit")
    assert edit.outcome == "unclear"
    assert classroom.at_bin("Balance") == ONE


def test_the_newest_of_several_edits_counts(classroom: Classroom) -> None:
    classroom.say("g1 balance", message="7")
    classroom.say("g2 balance", message="7", kind="edit")
    classroom.say("g3 ramps", "2026-11-17T10:30", message="7", kind="edit")
    assert classroom.at_bin("Balance") == set()
    assert classroom.at_bin("Ramps") == THREE


def test_an_edit_of_an_edit_that_was_undone_replaces_what_stands(classroom: Classroom) -> None:
    classroom.say("g1 balance", message="7")
    classroom.say("g2 balance", message="7", kind="edit")
    classroom.say("undo")
    classroom.say("g2 ramps", message="7", kind="edit")
    assert classroom.at_bin("Ramps") == TWO
    assert classroom.at_bin("Balance") == set()


# 5. The message's time counts.


def test_a_backlog_keeps_its_times(classroom: Classroom) -> None:
    late = "2026-11-18T21:00"
    classroom.say("g1 balance", "2026-11-17T10:20", received_at=late)
    classroom.say("g2 balance", "2026-11-16T10:45", received_at=late)
    with classroom.book() as book:
        turns = {(f"{c.turn.day}", f"{c.turn.rotation}") for c in book.claims()}
    assert turns == {("2026-11-17", "10:15:00"), ("2026-11-16", "10:40:00")}


def test_days_and_rotations_are_those_of_the_classs_zone(classroom: Classroom) -> None:
    utc = moment("2026-11-17T10:41").astimezone(UTC)
    with classroom.book() as book:
        answer = take(book, classroom.owner, Incoming("g1 balance", utc, utc))
        [turn, *_] = [claim.turn for claim in book.claims()]
    assert answer.at.isoformat() == "2026-11-17T10:41:00-05:00"
    assert (f"{turn.day}", f"{turn.rotation}") == ("2026-11-17", "10:40:00")


def test_an_evening_in_the_class_is_not_yet_the_next_day(classroom: Classroom) -> None:
    answer = classroom.say("g1 balance", "2026-11-17T23:30")
    assert answer.result["visits_added"] == [
        {"student": name, "bin": "Balance", "day": "2026-11-17"} for name in GROUPS["1"]
    ]


def test_a_time_in_the_text_wins(classroom: Classroom) -> None:
    classroom.say("10:15 g1 ramps", "2026-11-17T11:30")
    with classroom.book() as book:
        assert {f"{claim.turn.rotation}" for claim in book.claims()} == {"10:15:00"}


def test_an_edit_is_read_at_the_time_of_the_original(classroom: Classroom) -> None:
    classroom.say("g1 balance", "2026-11-16T10:20", message="7")
    classroom.say(
        "g2 balance", "2026-11-16T10:20", message="7", kind="edit", received_at="2026-11-17T15:00"
    )
    assert classroom.at_bin("Balance", moment("2026-11-16T00:00").date()) == TWO
    with classroom.book() as book:
        assert {f"{claim.turn.rotation}" for claim in book.claims()} == {"10:15:00"}


def test_a_log_for_an_earlier_day_counts_for_the_bin_that_was_out_then(
    classroom: Classroom,
) -> None:
    now = classroom.say("g1 did blue")
    then = classroom.say("g1 did blue on 2026-10-14")
    assert {v["bin"] for v in added(now)} == {"Patterns"}
    assert {(v["bin"], v["day"]) for v in added(then)} == {("Ramps", "2026-10-14")}


def test_a_message_from_before_the_last_one_is_taken_at_its_own_time(
    classroom: Classroom,
) -> None:
    classroom.say("g1 balance", "2026-11-17T10:45")
    classroom.say("g1 ramps", "2026-11-12T10:45", received_at="2026-11-17T10:46")
    assert classroom.at_bin("Ramps", moment("2026-11-12T00:00").date()) == ONE


def test_at_a_clock_change_every_moment_keeps_its_day(classroom: Classroom) -> None:
    """2026-11-01 01:30 comes twice in New York, five hours and four hours behind."""
    early = classroom.say("hello", "2026-11-01T01:30")
    assert early.at.isoformat() == "2026-11-01T01:30:00-04:00"


# 6. In a chat with others in it, replies carry no name that the text did not.


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("g1 balance", set()),
        ("g4 dough", set()),
        ("g3 ramps except kai", {"Kai Q."}),
        ("sofia did ramps", {"Sofia R.", "Sofia T."}),
        ("who still needs ramps", set()),
        ("who needs everything", set()),
        ("what does mia need", {"Mia K."}),
        ("who was at balance today", set()),
        ("did g1 do balance", set()),
        ("take mia off balance", {"Mia K."}),
        ("why does mia need balance", {"Mia K."}),
        ("undo", set()),
        ("half of g1 did ramps", set()),
        ("why", set()),
        ("zelda did ramps", set()),
        ("mya did ramps", {"Mia K."}),
        ("g3 ramps on 2026-11-17", set()),
        ("g3 did ramps today", set()),
        ("g9 ramps", set()),
        ("everyone did ramps", set()),
        ("was everyone at balance?", set()),
        ("what does g2 need", set()),
        ("g1 and the rest did ramps", set()),
    ],
)
def test_in_a_group_chat_a_reply_names_nobody_whom_the_text_did_not(
    classroom: Classroom, text: str, named: set[str]
) -> None:
    classroom.say("g1 shadows except chidi")
    classroom.say("g2 and g3 balance except luca")
    answer = classroom.say(text, "2026-11-17T10:50", private=False)
    said = " ".join([answer.reply.text, *sends(answer), *sends(answer).values()])
    assert {n for n in NAMES if re.search(rf"\b{n.split()[0]}\b", said, re.IGNORECASE)} <= named


# 8. Every number can be explained.


def test_why_tells_which_text_gave_the_turn(classroom: Classroom) -> None:
    classroom.say("g1 balance")
    reply = classroom.say("why doesn't mia need balance", "2026-11-18T09:00").reply.text
    assert "“g1 balance”" in reply
    assert "10:41" in reply


def test_why_tells_which_text_passed_the_child_by(classroom: Classroom) -> None:
    classroom.say("g1 balance except mia")
    reply = classroom.say("why does mia need balance").reply.text
    assert reply.splitlines()[0] == "Mia K. needs Balance: 0 of 1 turns on record."
    assert "g1 balance except mia" in reply


def test_why_tells_of_turns_taken_back(classroom: Classroom) -> None:
    classroom.say("g1 balance")
    classroom.say("undo")
    reply = classroom.say("why does mia need balance").reply.text
    assert "“g1 balance”" in reply
    assert "taken back" in reply


def test_why_tells_of_a_caution(classroom: Classroom) -> None:
    reply = classroom.say("why doesn't wei need dough").reply.text
    assert "wheat" in reply


def test_the_counts_of_who_needs_are_those_of_the_visits(classroom: Classroom) -> None:
    classroom.say("g1 dough")
    answer = classroom.say("who needs dough")
    left = set(NAMES) - ONE - {"Wei Z."}
    assert set(needs_told(answer)["Dough"]) == left
    assert f"{len(left)} of {len(NAMES) - 1}" in answer.reply.text


# 9. Names and secrets stay out of logs and of error messages.


def test_no_log_line_names_a_child(classroom: Classroom, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    for text in ("g1 balance except mia", "sofia ramps", "who needs dough", "undo", "why", "x" * 9):
        classroom.say(text)
    names = {name.split()[0].casefold() for name in NAMES}
    logged = " ".join(record.getMessage() for record in caplog.records).casefold()
    assert {name for name in names if name in logged} == set()


def test_yes_answers_only_what_was_asked_as_yes_or_no(classroom: Classroom) -> None:
    classroom.say("g1 balance")
    assert classroom.say("did g1 do balance?").reply.text.startswith("Yes at Balance")
    told = classroom.say("what did g1 do?").reply.text
    assert "Yes" not in told
    assert "Balance" in told


def test_nobody_is_sent_to_a_bin_that_has_closed(classroom: Classroom) -> None:
    question = "who still needs balance?"
    assert "Send first" in classroom.say(question).reply.text
    after = f"{CLOSES + timedelta(days=3)}T10:41"
    told = classroom.say(question, at=after).reply.text
    assert "missed it" in told
    assert "Send first" not in told


def test_no_error_of_the_database_names_a_child(classroom: Classroom) -> None:
    with classroom.book() as book, pytest.raises(IntegrityError) as trouble:
        book.journal(999).add(tables.students, name="Mia K.", goes_by=[], avoids=[], position=0)
    assert "Mia" not in str(trouble.value)


@given(text=st.text(max_size=60))
@settings(
    max_examples=150,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_text_at_all_is_answered_and_credits_nobody_by_chance(
    classroom: Classroom, text: str
) -> None:
    answer = classroom.say(text, key=None)
    assert answer.outcome in ("asked", "done", "refused", "answered", "unclear")
    assert answer.reply.text


@given(
    words=st.lists(
        st.sampled_from(WORDS),
        max_size=12,
    )
)
@settings(
    max_examples=200,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_words_of_the_trade_in_any_order_are_answered(
    classroom: Classroom, words: list[str]
) -> None:
    answer = classroom.say(" ".join(words))
    assert answer.outcome in ("asked", "done", "refused", "answered", "unclear")
    assert answer.reply.text
    changed = any(answer.result[k] for k in ("visits_added", "visits_removed", "changes"))
    assert not changed or answer.outcome in ("done", "asked")


def added(answer: Answer) -> list[dict[str, str]]:
    result = answer.result["visits_added"]
    assert isinstance(result, list)
    return result


def count(classroom: Classroom, table: str) -> int:
    with classroom.database.reading() as work:
        query = select(tables.metadata.tables[table].c.id)
        return len(work.connection.execute(query).all())
