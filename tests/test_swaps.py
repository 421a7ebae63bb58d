"""Swaps at the trip of a message: what becomes of stints, visits, needs and the journal."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.classroom.stints import clashes
from bot.conversation import Answer, Incoming, take
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from storage import tables
from storage.database import open_database
from storage.records import Stint
from tests.classroom_fixture import (
    CLOSES,
    NAMES,
    OPENS,
    Classroom,
    moment,
    needs_told,
    sends,
    students_added,
)

NEXT_WEEK = "swap shadows for gears on 2026-11-30"  # after the closing day: nobody loses a turn
EVERYONE = "everyone did shadows"


def stints(room: Classroom, color: str) -> list[tuple[str, date, date | None]]:
    """The bins in a color: name, first day, last day."""
    roster = room.roster()
    mine = sorted((s for s in roster.stints if s.color == color), key=lambda s: s.opens)
    return [(roster.bin_of(s).name, s.opens, s.closes) for s in mine]


def changes(answer: Answer) -> object:
    return answer.result["changes"]


def swap_facts(answer: Answer) -> list[Mapping[str, object]]:
    facts = answer.result["facts"]
    assert isinstance(facts, Mapping)
    told: list[Mapping[str, object]] = facts["swap"]
    return told


def row(color: str, out: str, in_: str, day: str) -> dict[str, str]:
    return {"what": "swap", "color": color, "out": out, "in": in_, "day": day}


def told(stint: Stint) -> tuple[str, date, date | None]:
    return stint.color, stint.opens, stint.closes


# Doing it


def test_a_swap_ends_one_stint_and_opens_another(classroom: Classroom) -> None:
    answer = classroom.say(NEXT_WEEK)
    assert answer.outcome == "done"
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-30")]
    assert stints(classroom, "pink") == [
        ("Shadows", OPENS, CLOSES),
        ("Gears", date(2026, 11, 30), date(2026, 12, 17)),  # as many school days: 14
    ]


def test_the_new_bin_is_needed_by_everyone_from_its_first_day(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK)
    before = classroom.say("who still needs what", "2026-11-27T10:00")
    after = classroom.say("who still needs what", "2026-11-30T09:00")
    assert "Gears" not in needs_told(before)
    assert sorted(needs_told(after)["Gears"]) == sorted(NAMES)
    assert "Shadows" not in needs_told(after)


def test_undo_takes_a_swap_back_and_redo_does_it_again(classroom: Classroom) -> None:
    before = [told(stint) for stint in classroom.roster().stints]
    classroom.say("swap shadows for gears now anyway")
    undone = classroom.say("undo")
    assert changes(undone) == [row("pink", "Gears", "Shadows", "2026-11-17")]
    assert "Pink: Shadows, not Gears." in undone.reply.text
    assert [told(stint) for stint in classroom.roster().stints] == before
    assert changes(classroom.say("redo")) == [row("pink", "Shadows", "Gears", "2026-11-17")]
    assert stints(classroom, "pink")[-1][0] == "Gears"


def test_a_swap_is_done_once_however_often_it_is_delivered(classroom: Classroom) -> None:
    first = classroom.say(NEXT_WEEK, key="1")
    assert classroom.say(NEXT_WEEK, key="1") == first
    assert len(stints(classroom, "pink")) == 2


def test_a_swap_texted_twice_says_so(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK)
    again = classroom.say(NEXT_WEEK)
    assert (again.outcome, changes(again)) == ("answered", [])
    assert again.reply.text.startswith("Nothing to do: Gears (pink)")


def test_a_swap_done_is_not_turned_round_by_texting_it_again(classroom: Classroom) -> None:
    classroom.say("swap shadows for gears now anyway")
    classroom.say("g1 did gears")
    again = classroom.say("swap shadows for gears now anyway")
    assert (again.outcome, changes(again)) == ("answered", [])
    back = classroom.say("swap gears for shadows on 2026-11-20 anyway")
    assert changes(back) == [row("pink", "Gears", "Shadows", "2026-11-20")]


def test_an_edit_swaps_for_another_bin(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK, message="7")
    edited = NEXT_WEEK.replace("2026-11-30", "2026-12-01")
    answer = classroom.say(edited, "2026-11-17T10:50", message="7", kind="edit")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-12-01")]
    assert [opens for _, opens, _ in stints(classroom, "pink")] == [OPENS, date(2026, 12, 1)]


def test_two_facts_in_one_text_are_both_done(classroom: Classroom) -> None:
    answer = classroom.say("g1 did ramps, keep magnets out a week longer")
    assert answer.requests == ("log_visits", "schedule")
    assert len(students_added(answer)) == 4
    assert changes(answer) == [{"what": "closes", "bin": "Magnets", "day": "2026-12-04"}]


# Days


def test_visits_of_the_day_before_count_for_the_bin_that_was_out_then(
    classroom: Classroom,
) -> None:
    classroom.say("swap shadows for gears on 2026-11-18 anyway")
    classroom.say("yesterday g1 did pink", "2026-11-18T10:41")
    classroom.say("g2 did pink", "2026-11-18T10:42")
    assert classroom.at_bin("Shadows") == {"Ava R.", "Ben T.", "Chidi O.", "Mia K."}
    assert classroom.at_bin("Gears", date(2026, 11, 18)) == {"Sofia R.", "Dara L.", "Ines F."}


def test_a_bin_used_today_goes_on_the_next_school_day(classroom: Classroom) -> None:
    classroom.say("g1 did shadows")
    answer = classroom.say("swap shadows for gears anyway")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-18")]
    assert stints(classroom, "pink")[0] == ("Shadows", OPENS, date(2026, 11, 17))
    assert "Today's turns stay" in answer.reply.text
    now = classroom.say(sends(answer)["Swap now"], kind="button")
    assert changes(now) == [row("pink", "Shadows", "Gears", "2026-11-17")]


def test_now_swaps_at_once_and_keeps_the_turns_of_the_day(classroom: Classroom) -> None:
    classroom.say("g1 did shadows")
    answer = classroom.say("swap shadows for gears now anyway")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-17")]
    assert stints(classroom, "pink")[0] == ("Shadows", OPENS, date(2026, 11, 17))
    classroom.say("g2 did pink")
    assert classroom.at_bin("Gears") == {"Sofia R.", "Dara L.", "Ines F."}
    classroom.say("take ava off shadows")
    assert classroom.at_bin("Shadows") == {"Ben T.", "Chidi O.", "Mia K."}
    needs = needs_told(classroom.say("who still needs what"))
    assert "Shadows" not in needs
    assert "Gears" in needs


def test_a_bin_not_used_today_goes_today(classroom: Classroom) -> None:
    answer = classroom.say("swap shadows for gears anyway")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-17")]
    assert stints(classroom, "pink")[0] == ("Shadows", OPENS, date(2026, 11, 16))


def test_after_the_last_rotation_a_swap_begins_the_next_school_day(classroom: Classroom) -> None:
    answer = classroom.say("swap shadows for gears anyway", "2026-11-20T15:00")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-23")]


def test_a_stint_is_cut_short_by_what_is_set_down_after_it(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK)
    answer = classroom.say("put balance out in pink on 2026-12-01")
    assert answer.outcome == "refused"
    short = classroom.say("put gears out in white on 2026-11-24")
    assert short.outcome != "done"  # white is no color of this class
    assert stints(classroom, "pink")[-1] == ("Gears", date(2026, 11, 30), date(2026, 12, 17))


def test_a_bin_set_down_for_later_begins_earlier(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK)
    answer = classroom.say("swap shadows for gears on 2026-11-24 anyway")
    assert changes(answer) == [row("pink", "Shadows", "Gears", "2026-11-24")]
    assert stints(classroom, "pink") == [
        ("Shadows", OPENS, date(2026, 11, 23)),
        ("Gears", date(2026, 11, 24), date(2026, 12, 17)),
    ]


# What cannot be


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("put gears in pink", "A color holds one bin at a time."),
        ("swap shadows for magnets", "Magnets (green) is out till Fri 27 Nov."),
        ("swap shadows for gears on saturday", "there is no school on Sat 21 Nov."),
        ("swap shadows for gears on 2026-11-16", "Mon 16 Nov is over."),
        ("take gears down", "Gears is not out."),
        ("close shadows on 2026-11-10", "Tue 10 Nov is over."),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    classroom: Classroom, text: str, reason: str
) -> None:
    before = [told(stint) for stint in classroom.roster().stints]
    answer = classroom.say(text)
    assert (answer.outcome, changes(answer)) == ("refused", [])
    assert reason in answer.reply.text
    assert [told(stint) for stint in classroom.roster().stints] == before


def test_a_full_color_offers_the_exchange_while_children_need_what_is_there(
    classroom: Classroom,
) -> None:
    answer = classroom.say("put gears in pink on 2026-11-20")
    assert (answer.outcome, changes(answer)) == ("refused", [])
    offer = sends(answer)["Swap Shadows for Gears"]
    assert offer == "swap Shadows for Gears on 2026-11-20"
    done = classroom.say(f"{offer} anyway")
    assert changes(done) == [row("pink", "Shadows", "Gears", "2026-11-20")]


def test_a_full_color_is_exchanged_where_nobody_needs_what_is_there(classroom: Classroom) -> None:
    classroom.say(EVERYONE, "2026-11-16T10:41")
    done = classroom.say("put gears in pink on 2026-11-20")
    assert changes(done) == [row("pink", "Shadows", "Gears", "2026-11-20")]
    classroom.say(f"undo {done.entry_id}")
    assert [name for name, *_ in stints(classroom, "pink")] == ["Shadows"]


def test_a_bin_goes_out_in_a_box_of_a_new_color(classroom: Classroom) -> None:
    done = classroom.say("put gears in the gray box on 2026-11-20")
    assert changes(done) == [row("gray", "", "Gears", "2026-11-20")]
    again = classroom.say("take gray down on 2026-11-23 anyway")
    assert changes(again) == [row("gray", "Gears", "", "2026-11-23")]


@pytest.mark.parametrize("said", ["put gears in gray", "put gears in the other pink box"])
def test_a_box_that_is_not_plain_is_asked_about(classroom: Classroom, said: str) -> None:
    asked = classroom.say(said)
    assert (asked.outcome, changes(asked)) == ("asked", [])


def test_why_a_bin_goes_is_no_turn_of_them_all(classroom: Classroom) -> None:
    answer = classroom.say("everyone finished shadows. take it down")
    assert answer.outcome == "asked"
    assert classroom.visits() == set()


def test_the_last_swap_is_offered_the_other_way_round(classroom: Classroom) -> None:
    classroom.say("swap shadows for gears now anyway")
    asked = classroom.say("swap it back")
    assert asked.outcome == "asked"
    assert sends(asked)["Yes"].startswith("swap Gears for Shadows")


def test_a_turn_logged_since_must_be_undone_before_the_swap(classroom: Classroom) -> None:
    swap = classroom.say("swap shadows for gears now anyway")
    classroom.say("g1 did gears")
    refused = classroom.say(f"undo {swap.entry_id}")
    assert (refused.outcome, changes(refused)) == ("refused", [])
    assert len(classroom.at_bin("Gears")) == 4
    [later] = refused.reply.choices
    classroom.say(later.send, kind="button")
    assert classroom.say(f"undo {swap.entry_id}").outcome == "done"
    assert classroom.visits() == set()


def test_what_was_put_into_the_color_since_must_be_undone_first(classroom: Classroom) -> None:
    down = classroom.say("take shadows down on 2026-11-18 anyway")
    put = classroom.say("put gears out in pink on 2026-11-20")
    refused = classroom.say(f"undo {down.entry_id}")
    assert (refused.outcome, changes(refused)) == ("refused", [])
    assert [choice.send for choice in refused.reply.choices] == [f"undo {put.entry_id}"]
    classroom.say(f"undo {put.entry_id}")
    assert classroom.say(f"undo {down.entry_id}").outcome == "done"
    assert stints(classroom, "pink") == [("Shadows", OPENS, CLOSES)]


def test_an_edit_may_not_take_the_bin_away_under_turns(classroom: Classroom) -> None:
    classroom.say("swap shadows for gears now anyway", message="7")
    classroom.say("g1 did gears")
    answer = classroom.say(NEXT_WEEK, "2026-11-17T10:55", message="7", kind="edit")
    assert answer.outcome == "refused"
    assert stints(classroom, "pink")[-1][1] == date(2026, 11, 17)
    assert len(classroom.at_bin("Gears")) == 4


# Who would miss out


def test_a_swap_that_leaves_children_out_is_asked_first_with_their_names(
    classroom: Classroom,
) -> None:
    classroom.say("everyone but kai did shadows", "2026-11-16T10:41")
    answer = classroom.say("swap shadows for gears")
    assert (answer.outcome, changes(answer)) == ("asked", [])
    assert "Kai Q. still needs Shadows" in answer.reply.text
    buttons = sends(answer)
    assert buttons == {
        "Swap anyway": "swap Shadows for Gears on 2026-11-17 anyway",
        "Keep it": "no",
    }
    done = classroom.say(buttons["Swap anyway"], kind="button")
    assert changes(done) == [row("pink", "Shadows", "Gears", "2026-11-17")]


def test_keep_it_changes_nothing(classroom: Classroom) -> None:
    classroom.say("swap shadows for gears")
    assert classroom.say("keep it").outcome == "answered"
    assert stints(classroom, "pink") == [("Shadows", OPENS, CLOSES)]


def test_nobody_is_asked_where_all_can_have_been_by_then(classroom: Classroom) -> None:
    classroom.say("everyone but kai did shadows", "2026-11-16T10:41")
    answer = classroom.say("swap shadows for gears on 2026-11-19")
    assert answer.outcome == "done"
    assert "Not been at Shadows yet: Kai Q." in answer.reply.text


def test_nobody_is_asked_where_the_bin_closes_before_the_swap_anyway(
    classroom: Classroom,
) -> None:
    answer = classroom.say(NEXT_WEEK, "2026-11-27T10:20")  # one rotation of four seats is left
    assert answer.outcome == "done"


def test_a_bin_is_ready_when_nobody_who_needs_it_can_still_come(classroom: Classroom) -> None:
    classroom.say("everyone but kai and theo did shadows", "2026-11-16T10:41")
    [fact] = swap_facts(classroom.say("can i swap shadows"))
    assert fact == {
        "bin": "Shadows",
        "ready": False,
        "needs": ["Kai Q.", "Theo N."],
        "earliest": "2026-11-18",  # Theo is away today
    }
    late = classroom.say("can i swap shadows", "2026-11-27T11:30")
    [fact] = swap_facts(late)
    assert fact == {
        "bin": "Shadows",
        "ready": True,
        "needs": ["Kai Q.", "Theo N."],
        "earliest": "2026-11-27",
    }
    assert late.reply.text.startswith("Yes, Shadows can go: nobody who needs it can still come.")


def test_a_bin_that_everyone_has_had_can_go(classroom: Classroom) -> None:
    classroom.say(EVERYONE, "2026-11-16T10:41")
    answer = classroom.say("is shadows done")
    assert swap_facts(answer) == [
        {"bin": "Shadows", "ready": True, "needs": [], "earliest": "2026-11-17"}
    ]
    assert classroom.say("swap shadows for gears").outcome == "done"


def test_a_doubt_is_answered_and_not_done(classroom: Classroom) -> None:
    classroom.say(EVERYONE, "2026-11-16T10:41")
    answer = classroom.say("maybe swap shadows for gears")
    assert (answer.outcome, answer.requests, changes(answer)) == ("answered", ("swap_check",), [])
    send = sends(answer)["Swap for Gears"]
    assert changes(classroom.say(send)) == [row("pink", "Shadows", "Gears", "2026-11-17")]


# Closing days


def test_a_closing_day_moves_and_moves_back(classroom: Classroom) -> None:
    answer = classroom.say("ramps stays out till the 4th")
    assert changes(answer) == [{"what": "closes", "bin": "Ramps", "day": "2026-12-04"}]
    undone = classroom.say("undo")
    assert changes(undone) == [{"what": "closes", "bin": "Ramps", "day": "2026-11-27"}]
    assert stints(classroom, "red")[-1] == ("Ramps", OPENS, CLOSES)


def test_a_bin_closes_on_the_school_day_before_where_there_is_no_school(
    classroom: Classroom,
) -> None:
    answer = classroom.say("keep ramps out till 2026-12-06")
    assert changes(answer) == [{"what": "closes", "bin": "Ramps", "day": "2026-12-04"}]
    assert "There is no school on Sun 6 Dec." in answer.reply.text


def test_closing_sooner_names_who_can_no_longer_come(classroom: Classroom) -> None:
    classroom.say("everyone but theo did shadows", "2026-11-16T10:41")
    answer = classroom.say("close shadows on 2026-11-17")
    assert answer.outcome == "done"
    assert "Not all who need it can come by then: Theo N." in answer.reply.text


def test_a_bin_cannot_stay_where_another_is_set_down(classroom: Classroom) -> None:
    classroom.say(NEXT_WEEK)
    answer = classroom.say("keep shadows two weeks longer")
    assert (answer.outcome, changes(answer)) == ("refused", [])
    assert "Gears (pink) from Mon 30 Nov is in the way" in answer.reply.text


# Cautions


def test_who_is_kept_away_is_named_to_the_owner_only(classroom: Classroom) -> None:
    classroom.say("take dough down now anyway", "2026-11-16T09:00")
    next_ = classroom.say("what goes in purple next", member=classroom.member("Kim"))
    assert "not for 1 child" in next_.reply.text
    assert "Wei" not in next_.reply.text
    assert "not for Wei Z." in classroom.say("what goes in purple next").reply.text
    text = "put dough out in purple on 2026-11-23"
    as_owner = classroom.say(text, place="owner's chat")
    assert "By your class list Dough is not for Wei Z." in as_owner.reply.text
    assert "contains wheat, not for eating" in as_owner.reply.text
    assert "Your school's own plan, the nurse and local rules decide." in as_owner.reply.text
    classroom.say("undo")
    as_aide = classroom.say(text, member=classroom.member("Sam"))
    assert as_aide.outcome == "done"
    assert "Wei" not in as_aide.reply.text
    assert "Dough is not for 1 child" in as_aide.reply.text


def test_in_a_chat_with_others_no_child_is_named(classroom: Classroom) -> None:
    for text in (
        "swap shadows for gears",
        "can i swap shadows",
        NEXT_WEEK,
        "what goes in pink next",
    ):
        answer = classroom.say(text, private=False)
        assert [name for name in NAMES if name in answer.reply.text] == []


# What the class has covered


def test_what_comes_next_is_judged_by_what_is_left_of_its_supplies(classroom: Classroom) -> None:
    with classroom.book() as book:
        at = moment("2026-11-16T16:00")
        entry = book.open_entry(kind="load", text="load", at=at, received_at=at, member_id=None)
        gears = next(bin_.id for bin_ in book.roster().bins if bin_.name == "Gears")
        supply = book.journal(entry).add(
            tables.supplies,
            bin_id=gears,
            item="gear cards",
            kind="consumable",
            per_visit=1.0,
            per_tub=None,
            pack_size=1,
            lead_days=1,
            contains=[],
        )
        book.count_supply(entry, supply, 30, date(2026, 11, 16), None)
    assert short_of_gears(classroom) == []
    assert classroom.say("lost 25 gear cards in gears").outcome == "done"
    assert short_of_gears(classroom) == [{"item": "gear cards", "short": 9}]
    classroom.say("undo")
    assert short_of_gears(classroom) == []


def short_of_gears(room: Classroom) -> object:
    """What Gears is short of where it is told as what could come next."""
    facts = room.say("what goes in pink next").result["facts"]
    assert isinstance(facts, Mapping)
    return next(found["short"] for found in facts["next"] if found["bin"] == "Gears")


def test_what_the_class_has_covered_counts_children(classroom: Classroom) -> None:
    classroom.say("everyone did shadows", "2026-11-16T10:41")
    classroom.say("g1 did ramps")
    answer = classroom.say("what has the class covered")
    facts = answer.result["facts"]
    assert isinstance(facts, Mapping)
    assert facts["covered"] == {
        "Ramps": 4, "Balance": 0, "Magnets": 0, "Shadows": 14, "Dough": 0, "Patterns": 0,
    }  # fmt: skip
    assert answer.reply.text.splitlines()[1:3] == [
        "By everyone: Shadows.",
        "In part: Ramps 4 of 14.",
    ]


# The class folder


def test_a_folder_loaded_again_leaves_what_was_swapped(tmp_path: Path) -> None:
    demo = Path(__file__).resolve().parent.parent / "demo_roster"
    found = read_folder(demo, machine_zone="UTC")
    assert isinstance(found, ClassFolder)
    database = open_database(f"sqlite:///{tmp_path / 'demo.db'}")
    with database.writing() as work:
        load(work, found, moment("2026-11-17T08:00"))
        class_ = work.register.classes()[0]
        [owner] = work.register.members(class_.id)
        at = moment("2026-11-17T10:00")
        take(work.book(class_.id), owner, Incoming("swap shadows for gears on monday", at, at))
        before = [(s.bin_id, *told(s)) for s in work.book(class_.id).roster().stints]
        again = load(work, found, moment("2026-11-17T12:00"))
        assert (again.differences, again.conflicts) == ((), ())
        assert [(s.bin_id, *told(s)) for s in work.book(class_.id).roster().stints] == before
    database.close()


# Whatever is texted, in whatever order


class Rollback(Exception):
    """Ends an example without keeping it."""


TEXTS = (
    *("swap shadows for gears now anyway", "swap pink for gears on 2026-11-20 anyway"),
    *("take shadows down", "take shadows down anyway", "put gears in pink", "put gears in red"),
    *("put gears in pink on 2026-11-30", "take ramps down on 2026-11-18 anyway", "undo", "redo"),
    *("put gears in red on 2026-11-19", "keep shadows a week longer", "keep gears a week longer"),
    *("g1 did gears", "g2 did pink", "close ramps on 2026-11-18", "undo 3", "undo 4", "undo 5"),
    *("swap gears for ramps now anyway", "put ramps in pink on 2026-12-14", "g3 did red"),
    *("swap red for shadows on 2026-11-23 anyway", "take gears down anyway"),
)


@given(texts=st.lists(st.sampled_from(TEXTS), min_size=3, max_size=9))
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_a_color_holds_one_bin_and_a_bin_is_in_one_color(
    classroom: Classroom, texts: list[str]
) -> None:
    with suppress(Rollback), classroom.database.writing() as work:
        book = work.book(classroom.class_id)
        for minute, text in enumerate(texts):
            at = moment(f"2026-11-17T10:{41 + minute}")
            take(book, classroom.owner, Incoming(text, at, at))
            roster = book.roster()
            assert clashes(roster) == frozenset()
            assert [c for c in book.claims() if c.turn.stint_id not in roster.stint] == []
            assert [s for s in roster.stints if s.closes and s.closes < s.opens] == []
        raise Rollback
