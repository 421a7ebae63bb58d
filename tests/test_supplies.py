"""Promises of supplies, through the whole bot: undo, twice, edits, groups, what must not change."""

from __future__ import annotations

import io
from datetime import date
from typing import Any

import pytest

from bot.classroom.restocking import due_next_week
from bot.conversation import Answer
from bot.exports import supplies_table, write_csv
from bot.skills.stocktaking import take_stock
from bot.wording.supplies import copy_lines, due_lines
from storage import tables
from storage.records import Count, Move
from tests.classroom_fixture import Classroom, moment, sends

EARLIER, LATER = "2026-11-17T10:41", "2026-11-17T11:05"


@pytest.fixture
def room(classroom: Classroom) -> Classroom:
    """Room 3 with a kit for Ramps and Balance."""
    with classroom.book() as book:
        at = moment("2026-11-16T16:00")
        entry = book.open_entry(kind="load", text="load", at=at, received_at=at, member_id=None)
        journal = book.journal(entry)
        bins = {bin_.name: bin_.id for bin_ in book.roster().bins}
        for name, item, kind, per_tub, on_hand, pack in (
            ("Ramps", "record sheets", "consumable", None, 20, 10),
            ("Balance", "counters", "piece", 5, 20, 1),
        ):
            supply = journal.add(
                tables.supplies,
                bin_id=bins[name],
                item=item,
                kind=kind,
                per_visit=1.0,
                per_tub=per_tub,
                pack_size=pack,
                lead_days=1,
                contains=[],
            )
            book.count_supply(entry, supply, on_hand, date(2026, 11, 16), None)
    return classroom


def on_hand(room: Classroom, item: str = "record sheets", at: str = LATER) -> float | None:
    """What the book says there is."""
    with room.book() as book:
        roster = book.roster()
        stocks = take_stock(book, roster, moment(at)).stocks
    return next(s.on_hand for s in stocks.values() if s.supply.item == item)


def facts(answer: Answer) -> Any:
    """The facts of an answer."""
    return answer.result["facts"]


def test_a_conversation_about_sheets(room: Classroom) -> None:
    told = room.say("ramps is down to 4 record sheets")
    assert told.reply.text == (
        "Ramps: 4 record sheets. 14 children still come; copy 10 or more by Wed 18 Nov."
    )
    asked = room.say("what should i copy")
    assert asked.reply.text == (
        "Copy 10 Ramps record sheets by Wed 18 Nov (4 left, 14 needed; 1 pack of 10)"
    )
    assert facts(asked)["restock"] == [
        {"bin": "Ramps", "item": "record sheets", "on_hand": 4, "needed": 14, "short": 10,
         "order": 10, "by": "2026-11-18"}
    ]  # fmt: skip
    why = room.say("why 10 sheets")
    assert why.reply.text == (
        "Ramps, record sheets: 10 short.\n"
        "Counted 4 on Tue 17 Nov, +0 came or went, 0 turns since at 1 each: 4 now.\n"
        "14 children still come: 14 needed.\n"
        "14 − 4 = 10; in packs of 10: 10 by Wed 18 Nov."
    )
    copied = room.say("copied 10")
    assert copied.outcome == "unclear"
    copied = room.say("copied 10 for ramps")
    assert copied.outcome == "asked"
    room.say("yes")
    assert on_hand(room) == 14


def test_a_log_uses_sheets_up_and_writes_none_down(room: Classroom) -> None:
    answer = room.say("g1 did ramps")
    assert answer.result["changes"] == []
    assert on_hand(room) == 16


def test_an_undo_takes_a_count_back_and_a_redo_brings_it_again(room: Classroom) -> None:
    room.say("ramps is down to 4 sheets")
    undone = room.say("undo")
    assert undone.result["changes"] == [
        {"what": "supply", "bin": "Ramps", "item": "record sheets", "on_hand": 20}
    ]
    assert on_hand(room) == 20
    redone = room.say("redo")
    assert redone.result["changes"] == [
        {"what": "supply", "bin": "Ramps", "item": "record sheets", "on_hand": 4}
    ]
    assert on_hand(room) == 4


def test_undo_takes_back_a_restock_a_loss_and_a_throwing_out(room: Classroom) -> None:
    for text in ("copied 10 sheets for ramps", "lost 3 sheets in ramps", "threw out the sheets"):
        room.say(text)
        assert on_hand(room) != 20
        room.say("undo")
        assert on_hand(room) == 20


def test_a_visit_taken_back_gives_its_sheet_back(room: Classroom) -> None:
    room.say("g1 did ramps")
    room.say("undo")
    assert on_hand(room) == 20


def test_the_same_visit_told_by_two_uses_one_sheet(room: Classroom) -> None:
    room.say("ava did ramps")
    room.say("ava did ramps", member=room.member("Mr. Ok"))
    assert on_hand(room) == 19


def test_the_same_count_again_changes_nothing(room: Classroom) -> None:
    room.say("ramps is down to 4 sheets")
    again = room.say("ramps is down to 4 sheets")
    assert (again.outcome, again.result["changes"]) == ("answered", [])
    with room.book() as book:
        assert [count.on_hand for count in book.supply_counts()] == [20, 20, 4]


def test_the_same_restock_again_is_asked_about(room: Classroom) -> None:
    room.say("copied 10 sheets for ramps")
    again = room.say("copied 10 sheets for ramps")
    assert again.outcome == "asked"
    assert on_hand(room) == 30
    room.say(sends(again)["Yes"])
    assert on_hand(room) == 40


def test_the_same_delivery_again_changes_nothing(room: Classroom) -> None:
    first = room.say("copied 10 sheets for ramps", key="u1")
    again = room.say("copied 10 sheets for ramps", key="u1")
    assert again.reply.text == first.reply.text
    assert on_hand(room) == 30


def test_an_edit_stands_in_for_what_was_said(room: Classroom) -> None:
    room.say("ramps is down to 4 sheets", message="7")
    edited = room.say("ramps is down to 14 sheets", message="7", kind="edit")
    assert edited.result["changes"] == [
        {"what": "supply", "bin": "Ramps", "item": "record sheets", "on_hand": 14}
    ]
    assert edited.reply.text.startswith("Ramps: 14 record sheets.")
    room.say("undo")  # of the edit: the old wording stands again, as with visits
    assert on_hand(room) == 4


def test_a_visit_logged_before_a_count_of_the_day_is_in_it(room: Classroom) -> None:
    room.say("g1 did ramps", "2026-11-17T10:36")
    room.say("16 sheets left in ramps", EARLIER)
    assert on_hand(room) == 16


def test_a_visit_of_a_running_rotation_logged_after_a_count_is_taken_off(room: Classroom) -> None:
    room.say("16 sheets left in ramps", EARLIER)
    room.say("g1 did ramps", EARLIER)
    assert on_hand(room) == 12


def test_a_count_tells_what_a_turn_uses(room: Classroom) -> None:
    room.say("g1 did ramps", EARLIER)
    told = room.say("14 sheets left in ramps", LATER)
    assert told.reply.text == (
        "Ramps: 14 record sheets. 10 children still come; that is enough.\n"
        "You use 1.5 a turn, not 1 (6 in 4 turns). I now reckon with 1.15."
    )


def test_below_zero_says_that_something_is_missing(room: Classroom) -> None:
    room.say("2 sheets left in ramps", EARLIER)
    room.say("g1 did ramps", LATER)
    told = room.say("how many sheets are in ramps?", LATER)
    assert told.reply.text == (
        "Ramps: −2 record sheets by the texts; a count or a restock is missing."
    )


def test_a_short_tub_is_told_as_a_lost_seat(room: Classroom) -> None:
    told = room.say("tub 3 of balance is short by 1")
    assert told.reply.text == (
        "Balance: 19 counters. 14 children still come; get 1 or more today.\n"
        "That fills 3 tubs of 5: 3 seats of 4 till they are back."
    )


def test_a_number_alone_answers_how_many(room: Classroom) -> None:
    asked = room.say("restocked the sheets in ramps")
    assert (asked.outcome, asked.reply.text) == (
        "asked", "Ramps: record sheets: how many are there now? Text the number.",
    )  # fmt: skip
    room.say("there are 33")
    assert on_hand(room) == 33


@pytest.mark.parametrize("label", ["10 left", "10 put in"])
def test_a_choice_means_what_it_says(room: Classroom, label: str) -> None:
    asked = room.say("10 sheets for ramps")
    room.say(sends(asked)[label])
    assert on_hand(room) == {"10 left": 10, "10 put in": 30}[label]


def test_a_choice_tapped_on_a_later_day_means_the_day_it_was_offered(room: Classroom) -> None:
    asked = room.say("10 sheets for ramps")
    room.say("g1 did ramps", "2026-11-18T10:20")
    room.say(sends(asked)["10 left"], "2026-11-18T12:00")
    assert on_hand(room, at="2026-11-18T12:00") == 6


def test_a_report_names_no_child_where_others_read_along(room: Classroom) -> None:
    told = room.say("ramps is down to 4 sheets", private=False)
    names = [student.name for student in room.roster().students]
    assert not [name for name in names if name in told.reply.text]


def test_a_future_day_is_not_written_down(room: Classroom) -> None:
    told = room.say("copied 10 sheets for ramps on 2026-11-19")
    assert (told.outcome, on_hand(room)) == ("refused", 20)


def test_the_digests_lines(room: Classroom) -> None:
    room.say("ramps is out of sheets")
    with room.book() as book:
        roster = book.roster()
        lines = take_stock(book, roster, moment(LATER)).lines.values()
    today = date(2026, 11, 17)
    assert copy_lines(lines, roster, today) == [
        "Copy today: 20 Ramps record sheets (2 packs of 10)"
    ]
    week = due_next_week(lines, today)
    assert due_lines(week, roster, today) == copy_lines(lines, roster, today)


def test_supplies_are_exported_with_what_they_need(room: Classroom) -> None:
    room.say("ramps is down to 4 sheets")
    with room.database.reading() as work:
        table = supplies_table(work.book(room.class_id), work.register, moment(LATER))
    out = io.StringIO()
    write_csv(table, out)
    assert out.getvalue() == (
        "bin,item,kind,on_hand,needed,short,order,by\n"
        "Ramps,record sheets,consumable,4,14,10,10,2026-11-19\n"
        "Balance,counters,piece,20,20,0,0,\n"
    )


def test_counts_and_moves_come_back_the_same(room: Classroom) -> None:
    with room.book() as book:
        [sheets, *_] = book.roster().supplies
        day, at = date(2026, 11, 17), moment(EARLIER).time()
        entry = book.open_entry(
            kind="text", text="x", at=moment(EARLIER), received_at=moment(EARLIER), member_id=None
        )
        book.count_supply(entry, sheets.id, 2.5, day, at, learns=False)
        book.move_supply(entry, sheets.id, -1.5, "lost", day, at, tub=3)
        counted, moved = book.supply_counts()[-1], book.supply_moves()[-1]
        touched = book.supplies_touched(entry)
    assert counted == Count(counted.id, sheets.id, 2.5, day, at, False, entry)
    assert moved == Move(moved.id, sheets.id, -1.5, "lost", day, at, 3, entry)
    assert touched == (sheets.id,)
