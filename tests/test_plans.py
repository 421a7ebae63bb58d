"""What is told of the plan stays, and follows what is texted: away, back, lost, moved, as planned.

The class of the fixture, on Wednesday 2026-11-18 with everybody there, unless a test says else.
"""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest

from bot.classroom.rotation.memo import PlanFirst, Plans
from bot.conversation import Answer, Incoming, take, with_plans
from tests.classroom_fixture import (
    GROUPS,
    NAMES,
    TODAY,
    Classroom,
    moment,
    needs_told,
    sends,
    students_added,
    students_removed,
)

DAY = "2026-11-18"
WEDNESDAY = date(2026, 11, 18)
EIGHT, NINE = f"{DAY}T08:00", f"{DAY}T09:00"
FIRST, SECOND, OVER = f"{DAY}T10:20", f"{DAY}T10:45", f"{DAY}T11:20"
ONE, TWO = GROUPS["1"], GROUPS["2"]
AS_PLANNED = "everyone where the plan says"

Told = dict[str, str]


def told(answer: Answer) -> dict[tuple[str, str], Told]:
    """(day, starts) -> child -> bin, of an answer that tells a plan."""
    facts = answer.result["facts"]
    assert isinstance(facts, dict)
    found: dict[tuple[str, str], Told] = {}
    for sitting in facts["plan"]:
        slot = found.setdefault((sitting["day"], sitting["starts"]), {})
        for student in sitting["students"]:
            assert student not in slot
            slot[student] = sitting["bin"]
    return found


def without(plan: dict[tuple[str, str], Told], *names: str) -> dict[tuple[str, str], Told]:
    """The same plan but for some children."""
    return {
        slot: {child: bin_ for child, bin_ in places.items() if child not in names}
        for slot, places in plan.items()
    }


# Who is away, and back


def test_what_was_told_stays_but_for_the_child_who_is_away(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    assert set(before) == {(DAY, "10:15"), (DAY, "10:40")}
    assert [set(places) for places in before.values()] == [set(NAMES), set(NAMES)]
    away = classroom.say("mia is out today", NINE)
    assert away.outcome == "done"
    assert away.reply.text == "Noted: Mia K. is away today."
    assert told(classroom.say("plan", NINE)) == without(before, "Mia K.")


def test_an_away_is_undone_and_the_plan_is_as_it_was_told(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    classroom.say("mia is out today", NINE)
    assert classroom.say("undo", NINE).reply.text == "Undone: “mia is out today”"
    assert told(classroom.say("plan", NINE)) == before
    assert students_added(classroom.say("g1 ramps", FIRST)) == list(ONE)


def test_an_away_twice_is_on_record_already(classroom: Classroom) -> None:
    classroom.say("mia is out today", EIGHT)
    again = classroom.say("mia is out today", NINE)
    assert (again.outcome, again.result["changes"]) == ("answered", [])
    assert again.reply.text == "On record before: Mia K. away then."


def test_actually_absent_takes_the_turn_back(classroom: Classroom) -> None:
    classroom.say("g4 ramps", FIRST)
    answer = classroom.say("actually theo was absent", SECOND)
    assert (answer.outcome, students_removed(answer)) == ("done", ["Theo N."])
    assert answer.reply.text == "Noted: Theo N. is away today.\nTaken back: Theo N., Ramps."
    assert classroom.at_bin("Ramps", WEDNESDAY) == {"Jo B.", "Wei Z."}
    classroom.say("undo", SECOND)
    assert classroom.at_bin("Ramps", WEDNESDAY) == set(GROUPS["4"])


def test_an_away_after_a_log_asks_and_its_choice_does_it(classroom: Classroom) -> None:
    classroom.say("g1 ramps", FIRST)
    answer = classroom.say("mia is out today", SECOND)
    assert (answer.outcome, students_removed(answer)) == ("asked", [])
    buttons = sends(answer)
    assert buttons == {
        "Take Mia K. off Ramps": f"take Mia K. off Ramps on {DAY}",
        "Keep it": "no",
    }
    assert classroom.at_bin("Ramps", WEDNESDAY) == set(ONE)
    taken = classroom.say(buttons["Take Mia K. off Ramps"], SECOND, kind="button")
    assert students_removed(taken) == ["Mia K."]
    assert classroom.at_bin("Ramps", WEDNESDAY) == set(ONE) - {"Mia K."}


@pytest.mark.parametrize("text", ["yes", "take it back", "yes take it back"])
def test_an_away_after_a_log_is_answered_in_its_own_words(classroom: Classroom, text: str) -> None:
    classroom.say("g1 ramps", FIRST)
    classroom.say("mia is out today", SECOND)
    assert students_removed(classroom.say(text, SECOND)) == ["Mia K."]


def test_who_leaves_at_half_past_ten_is_in_the_first_rotation_only(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    answer = classroom.say("mia leaves at 10:30", NINE)
    after = told(classroom.say("plan", NINE))
    assert answer.reply.text.splitlines() == [
        "Noted: Mia K. is away today from 10:30.",
        f"10:15: Mia K. to {after[DAY, '10:15']['Mia K.']}.",
        "Everything else stays.",
    ]
    assert without(after, "Mia K.") == without(before, "Mia K.")
    assert "Mia K." not in after[DAY, "10:40"]
    assert students_added(classroom.say("g1 ramps", FIRST)) == list(ONE)
    assert students_added(classroom.say("g1 balance", SECOND)) == ["Ava R.", "Ben T.", "Chidi O."]


def test_who_is_back_is_planned_and_credited_from_then_on(classroom: Classroom) -> None:
    classroom.say("mia is out today", EIGHT)
    before = told(classroom.say("plan", EIGHT))
    back = classroom.say("mia is back", f"{DAY}T10:37")
    first, *rest = back.reply.text.splitlines()
    assert first == "Good: Mia K. is here from 10:37 on."
    after = told(classroom.say("plan", f"{DAY}T10:38"))
    assert rest == [f"10:40: Mia K. to {after[DAY, '10:40']['Mia K.']}.", "Everything else stays."]
    assert without(after, "Mia K.") == {(DAY, "10:40"): before[DAY, "10:40"]}
    late = classroom.say("10:15 g1 ramps", SECOND)
    assert students_added(late) == ["Ava R.", "Ben T.", "Chidi O."]
    assert students_added(classroom.say("10:40 g1 magnets", SECOND)) == list(ONE)


def test_who_was_never_away_is_not_back(classroom: Classroom) -> None:
    answer = classroom.say("mia is back", NINE)
    assert (answer.outcome, answer.result["changes"]) == ("answered", [])
    assert answer.reply.text == "Mia K. was not noted as away."


# School days and rotations


def test_without_school_nothing_is_logged_or_planned(classroom: Classroom) -> None:
    classroom.say("plan", EIGHT)
    assert classroom.say("no school today", NINE).reply.text == "Noted: no school today."
    log = classroom.say("g1 ramps", FIRST)
    assert (log.outcome, students_added(log)) == ("asked", [])
    assert log.reply.text == "Which day was that? There is no school today."
    planned = classroom.say(AS_PLANNED, FIRST)
    assert (planned.outcome, students_added(planned)) == ("refused", [])
    assert planned.reply.text == "Not logged: no school today."
    assert {day for day, _ in told(classroom.say("plan", FIRST))} == {"2026-11-19"}
    assert classroom.visits() == set()


def test_school_after_all_opens_the_day(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    classroom.say("no school today", NINE)
    assert classroom.say("school today after all", NINE).outcome == "done"
    assert set(told(classroom.say("plan", NINE))) == set(before)
    assert students_added(classroom.say("g1 ramps", FIRST)) == list(ONE)


def test_a_lost_rotation_leaves_the_plan(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    answer = classroom.say("we lost the 10:40 rotation", NINE)
    assert answer.reply.text == "Noted: no rotation at 10:40 today."
    assert told(classroom.say("plan", NINE)) == {(DAY, "10:15"): before[DAY, "10:15"]}
    classroom.say(AS_PLANNED, OVER)
    assert {bin_ for _, bin_, _ in classroom.visits()} == set(before[DAY, "10:15"].values())


def test_an_extra_rotation_is_planned_and_the_others_stay(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    answer = classroom.say("extra rotation at 11:10", NINE)
    assert answer.reply.text == "Noted: one more rotation at 11:10 today."
    after = told(classroom.say("plan", NINE))
    assert set(after.pop((DAY, "11:10"))) == set(NAMES)
    assert after == before


def test_an_extra_rotation_over_another_is_refused(classroom: Classroom) -> None:
    answer = classroom.say("extra rotation at 10:20", NINE)
    assert (answer.outcome, answer.result["changes"]) == ("refused", [])
    assert answer.reply.text == "Not added: at 10:20 another rotation runs today."


# Logged as planned


def test_as_planned_credits_just_what_was_told(classroom: Classroom) -> None:
    plan = told(classroom.say("plan", EIGHT))
    answer = classroom.say(AS_PLANNED, FIRST)
    assert answer.outcome == "done"
    assert classroom.visits() == {(c, b, DAY) for c, b in plan[DAY, "10:15"].items()}
    classroom.say("undo", FIRST)
    assert classroom.visits() == set()


def test_as_planned_without_a_plan_is_refused(classroom: Classroom) -> None:
    answer = classroom.say(AS_PLANNED, FIRST)
    assert (answer.outcome, students_added(answer)) == ("refused", [])
    assert answer.reply.text == ("Not logged: I had told no plan for that. Text who was where.")


def test_as_planned_before_it_began_is_refused(classroom: Classroom) -> None:
    classroom.say("plan", EIGHT)
    answer = classroom.say(AS_PLANNED, NINE)
    assert (answer.outcome, students_added(answer)) == ("refused", [])
    assert answer.reply.text == "Not logged: that rotation has not begun."


def test_as_planned_twice_adds_nothing(classroom: Classroom) -> None:
    classroom.say("plan", EIGHT)
    classroom.say(AS_PLANNED, FIRST)
    visits = classroom.visits()
    again = classroom.say("ran as planned", FIRST)
    assert (again.outcome, students_added(again)) == ("answered", [])
    assert again.reply.text == "Nothing new: what was planned is on record."
    assert classroom.visits() == visits


def test_as_planned_leaves_out_who_was_with_the_teacher(classroom: Classroom) -> None:
    plan = told(classroom.say("plan", EIGHT))
    answer = classroom.say("ran as planned but mia was with me", FIRST)
    assert answer.reply.text.endswith("Left out: not Mia K.")
    assert classroom.visits() == {
        (c, b, DAY) for c, b in without(plan, "Mia K.")[DAY, "10:15"].items()
    }


def test_as_planned_after_the_last_rotation_is_the_whole_day(classroom: Classroom) -> None:
    plan = told(classroom.say("plan", EIGHT))
    classroom.say(AS_PLANNED, OVER)
    assert classroom.visits() == {(c, b, DAY) for slot in plan.values() for c, b in slot.items()}


def test_as_planned_leaves_out_who_is_away_or_logged_elsewhere(classroom: Classroom) -> None:
    plan = told(classroom.say("plan", EIGHT))[DAY, "10:15"]
    other = next(b for b in ("Ramps", "Balance") if b != plan["Ava R."])
    classroom.say(f"10:15 ava {other}", FIRST)
    classroom.say("mia leaves at 10:16", FIRST)
    answer = classroom.say(AS_PLANNED, FIRST)
    assert answer.reply.text.splitlines()[-1] == (
        "Left out: away: Mia K.; logged elsewhere already: Ava R."
    )
    credited = {(c, b, DAY) for c, b in plan.items() if c not in ("Ava R.", "Mia K.")}
    assert classroom.visits() == credited | {("Ava R.", other, DAY)}


# Groups that change


def test_a_child_moved_is_credited_with_the_new_group_from_that_day(classroom: Classroom) -> None:
    classroom.say("g1 balance", "2026-11-12T10:45")
    move = classroom.say("move mia to group 2", EIGHT)
    assert move.reply.text == (
        "Noted: Mia K. is with group 2 from now on.\nGroup 2 has 4 children."
    )
    assert set(students_added(classroom.say("g2 ramps", FIRST))) == {*TWO, "Mia K."}
    assert students_added(classroom.say("g1 shadows", SECOND)) == ["Ava R.", "Ben T.", "Chidi O."]
    assert set(students_added(classroom.say("g1 magnets on 2026-11-13", SECOND))) == set(ONE)
    assert classroom.at_bin("Balance", date(2026, 11, 12)) == set(ONE)
    classroom.say("undo", SECOND)
    assert classroom.at_bin("Magnets", date(2026, 11, 13)) == set()


def test_a_child_who_visits_a_group_is_back_in_its_own_the_next_day(classroom: Classroom) -> None:
    classroom.say("move mia to group 2 today", EIGHT)
    assert set(students_added(classroom.say("g2 ramps", FIRST))) == {*TWO, "Mia K."}
    assert set(students_added(classroom.say("g1 ramps", "2026-11-19T10:20"))) == set(ONE)


def test_a_new_child_needs_the_bins_and_is_planned(classroom: Classroom) -> None:
    before = told(classroom.say("plan", EIGHT))
    answer = classroom.say("new student Zed in group 2", NINE)
    assert answer.reply.text.splitlines()[:2] == [
        "Welcome: Zed is on the roster, group 2.",
        "Group 2 has 4 children.",
    ]
    needs = needs_told(classroom.say("what does zed need", NINE))
    assert set(needs) == {"Ramps", "Balance", "Magnets", "Shadows", "Dough", "Patterns"}
    after = told(classroom.say("plan", NINE))
    assert [set(places) for places in after.values()] == [{*NAMES, "Zed"}] * 2
    changed = {
        child
        for slot, places in before.items()
        for child, bin_ in places.items()
        if after[slot][child] != bin_
    }
    assert {name for name in NAMES if name in answer.reply.text} == changed
    classroom.say(f"undo {answer.entry_id}", NINE)
    assert told(classroom.say("plan", NINE)) == before


def test_a_child_who_left_is_not_planned_and_keeps_its_record(classroom: Classroom) -> None:
    classroom.say("g1 balance", "2026-11-12T10:45")
    answer = classroom.say("mia left the school", "2026-11-17T15:00")
    assert answer.reply.text == ("Noted: last day of Mia K. is today. What is on record stays.")
    plan = told(classroom.say("plan", EIGHT))
    assert [set(places) for places in plan.values()] == [set(NAMES) - {"Mia K."}] * 2
    assert students_added(classroom.say("g1 ramps", FIRST)) == ["Ava R.", "Ben T.", "Chidi O."]
    assert classroom.at_bin("Balance", date(2026, 11, 12)) == set(ONE)


@pytest.mark.parametrize(
    "text",
    ["kai and luca must not be together", "separate kai and luca", "keep kai and luca apart"],
)
def test_two_kept_apart_are_never_placed_together(classroom: Classroom, text: str) -> None:
    together = told(classroom.say("plan", EIGHT))
    assert any(places["Kai Q."] == places["Luca B."] for places in together.values())
    answer = classroom.say(text, NINE)
    assert answer.reply.text.startswith("Noted: Kai Q., Luca B. are kept apart from now on.")
    plan = told(classroom.say("plan for this week", NINE))
    assert len(plan) == 6
    assert [slot for slot, places in plan.items() if places["Kai Q."] == places["Luca B."]] == []


# Days ahead, and whether there is time


@pytest.mark.parametrize(
    ("text", "outcome", "reply"),
    [
        ("plan for saturday", "answered", "No school on Sat 21 Nov, so no rotations."),
        (
            "plan for 2026-11-16",
            "refused",
            "That day is over. Ask who was where instead: “who did what on Mon 16 Nov”.",
        ),
        ("plan for 2027-01-11", "refused", "I plan four weeks ahead; that day is further off."),
    ],
)
def test_days_that_have_no_plan(classroom: Classroom, text: str, outcome: str, reply: str) -> None:
    answer = classroom.say(text, EIGHT)
    assert (answer.outcome, answer.reply.text, told(answer)) == (outcome, reply, {})


def test_the_plan_of_tomorrow_is_of_tomorrow(classroom: Classroom) -> None:
    answer = classroom.say("plan for tomorrow", EIGHT)
    assert answer.reply.text.splitlines()[0] == "Thu 19 Nov:"
    plan = told(answer)
    assert set(plan) == {("2026-11-19", "10:15"), ("2026-11-19", "10:40")}
    assert told(classroom.say("plan", "2026-11-19T08:00")) == plan


def test_nobody_is_planned_where_a_caution_keeps_them_away(classroom: Classroom) -> None:
    plan = told(classroom.say("plan for this week", EIGHT))
    assert "Dough" in {bin_ for places in plan.values() for bin_ in places.values()}
    assert "Dough" not in {places["Wei Z."] for places in plan.values()}


def test_no_bin_has_more_children_than_seats_in_the_plan(classroom: Classroom) -> None:
    plan = told(classroom.say("plan for this week", EIGHT))
    assert [max(Counter(places.values()).values()) for places in plan.values()] == [4] * 6


def test_when_there_is_no_time_it_names_who_cannot_and_what_would_help(
    classroom: Classroom,
) -> None:
    """Two rotations of four seats for fourteen children."""
    for name in ("balance", "magnets", "shadows", "dough", "patterns"):
        classroom.say(f"everyone did {name} on 2026-11-16", EIGHT)
    answer = classroom.say("can everyone finish ramps by today", "2026-11-27T08:00")
    assert answer.outcome == "answered"
    first, mend = answer.reply.text.splitlines()
    assert first.startswith("No: ")
    assert len([name for name in NAMES if name in first]) == 6
    assert mend == "Ramps out till Mon 30 Nov would do it."


def test_when_there_is_time_it_says_by_when(classroom: Classroom) -> None:
    answer = classroom.say("can everyone finish ramps by next monday", EIGHT)
    assert answer.reply.text == "Yes: everyone can finish Ramps by Mon 23 Nov."


def test_what_the_plan_has_later_can_go_first(classroom: Classroom) -> None:
    """Everyone's turn at one bin can be had before the day on which the plan has the last."""
    answer = classroom.say("can everyone finish ramps by friday", EIGHT)
    assert answer.reply.text == (
        "Yes, if Ramps goes first. The plan has the last of them on Mon 23 Nov; "
        "close Ramps Fri 20 Nov and it plans for that."
    )
    [button] = answer.reply.choices
    assert button.send == "close Ramps on 2026-11-20"
    classroom.say(button.send, EIGHT, kind="button")
    sooner = classroom.say("can everyone finish ramps by friday", EIGHT)
    assert sooner.reply.text == "Yes: everyone can finish Ramps by Fri 20 Nov."


def test_who_cannot_is_named_and_the_day_on_which_it_can_be(classroom: Classroom) -> None:
    answer = classroom.say("can everyone finish ramps by today", EIGHT)
    first, mend = answer.reply.text.splitlines()
    assert first.startswith("No: ")
    assert first.endswith(" cannot finish Ramps by Wed 18 Nov (no seat is left before it closes).")
    assert len([name for name in NAMES if name in first]) == 6
    assert mend.startswith(("By Thu 19 Nov it can be done", "1 rotation more", "3 seats more"))


# Planned outside of the unit of work


def test_a_plan_is_made_anew_when_the_class_changed_meanwhile(classroom: Classroom) -> None:
    plans = Plans(at_once=False)
    with pytest.raises(PlanFirst) as before:
        ask_plan(classroom, plans)
    before.value.make()
    classroom.say("mia is out today", NINE)
    with pytest.raises(PlanFirst) as after:
        ask_plan(classroom, plans)
    assert after.value.problem != before.value.problem
    after.value.make()
    assert [set(p) for p in told(ask_plan(classroom, plans)).values()] == [
        set(NAMES) - {"Mia K."}
    ] * 2


def test_what_waits_for_its_plan_has_written_nothing(classroom: Classroom) -> None:
    with pytest.raises(PlanFirst):
        ask_plan(classroom, Plans(at_once=False))
    with classroom.book() as book:
        assert book.recent_entries(classroom.owner.id, 5) == ()
        assert book.announcements(TODAY) == ()


def test_the_unit_is_begun_anew_until_its_plan_is_there(classroom: Classroom) -> None:
    rounds: list[int] = []

    def act(plans: Plans) -> Answer:
        rounds.append(len(rounds))
        if len(rounds) == 2:
            classroom.say("mia is out today", NINE)
        return ask_plan(classroom, plans)

    answer = with_plans(act)
    assert len(rounds) == 3
    assert [set(p) for p in told(answer).values()] == [set(NAMES) - {"Mia K."}] * 2


def ask_plan(room: Classroom, plans: Plans) -> Answer:
    """ "plan", with these plans."""
    at = moment(NINE)
    with room.book() as book:
        return take(book, room.owner, Incoming("plan", at, at), plans)
