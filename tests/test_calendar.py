"""A calendar file in the chat: read, shown, and taken only where that is confirmed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from bot.conversation import Answer
from bot.folder.sent_calendar import LARGEST
from bot.requests import SentFile
from tests.calendars import YEAR, ics
from tests.classroom_fixture import TODAY, Classroom, opened, sends

ONE = "DTSTART;VALUE=DATE:20261201|SUMMARY:Staff day"
BREAKS = (date(2026, 11, 26), date(2026, 11, 27))
FAIR = tuple(date(2026, 12, 7) + timedelta(n) for n in range(5))
WINTER = tuple(date(2026, 12, 21) + timedelta(n) for n in (*range(5), *range(7, 12)))


def send(room: Classroom, *events: str, text: str = "", **more: str) -> Answer:
    """Send a calendar of these events."""
    return room.say(text, file=SentFile("district.ics", ics(*events)), **more)  # type: ignore[arg-type]


def days_changed(answer: Answer) -> list[str]:
    changes = answer.result["changes"]
    assert isinstance(changes, list)
    return [change["day"] for change in changes]


def closed(room: Classroom) -> set[tuple[date, str]]:
    return {(c.day, c.reason) for c in room.roster().closures if c.day > TODAY}


def iso(*days: Sequence[date]) -> list[str]:
    return [day.isoformat() for some in days for day in some]


# What is shown


def test_it_says_what_would_close_school_and_changes_nothing(classroom: Classroom) -> None:
    answer = send(classroom, *YEAR, text="our calendar")
    assert answer.reply.text.split("\n") == [
        "3 events would close school (17 days) and 1 more would take rotations away. "
        "Nothing has changed yet.",
        "1. Thanksgiving break, Thu 26 to Fri 27 Nov",
        "2. Book fair, Mon 7 to Fri 11 Dec",
        "3. Winter break, Mon 21 Dec to Fri 1 Jan",
        "4. Assembly, Thu 3 Dec, 10:15 to 10:30: no rotation at 10:15",
        "Which of them shall count? “all but 2” or a name will do as well.",
    ]
    assert (answer.outcome, answer.requests) == ("asked", ("schedule",))
    assert list(sends(answer)) == ["All of them", "Choose", "None"]
    assert answer.text == "our calendar [district.ics]"
    assert days_changed(answer) == []
    assert closed(classroom) == set()


def test_what_it_holds_is_told_to_programs(classroom: Classroom) -> None:
    facts = send(classroom, YEAR[0], YEAR[3]).result["facts"]
    assert facts == {
        "calendar": {
            "file": "district.ics",
            "events": [
                {"event": "Thanksgiving break", "days": ["2026-11-26", "2026-11-27"],
                 "starts": None, "ends": None, "rotations": []},
                {"event": "Assembly", "days": ["2026-12-03"],
                 "starts": "10:15", "ends": "10:30", "rotations": ["10:15"]},
            ],
        }
    }  # fmt: skip


def test_days_of_one_name_in_a_row_are_one_event(classroom: Classroom) -> None:
    days = [f"DTSTART;VALUE=DATE:202612{day}|SUMMARY:Winter break" for day in (21, 22, 23, 24, 25)]
    lines = send(classroom, *days, "DTSTART;VALUE=DATE:20261228|SUMMARY:Winter break").reply.text
    assert "1. Winter break, Mon 21 to Mon 28 Dec" in lines


def test_a_repeating_event_is_one_with_all_its_days(classroom: Classroom) -> None:
    answer = send(
        classroom,
        "DTSTART;TZID=America/New_York:20260909T103000|DTEND;TZID=America/New_York:20260909T150000"
        "|RRULE:FREQ=WEEKLY;BYDAY=WE;UNTIL=20270526T235959Z|SUMMARY:Early release",
    )
    assert (
        "1. Early release, 28 days from Wed 18 Nov to Wed 26 May, 10:30 to 15:00: "
        "no rotation at 10:15 and 10:40" in answer.reply.text
    )
    taken = classroom.say("all")
    assert len(days_changed(taken)) == 28


def test_times_are_those_of_the_class(classroom: Classroom) -> None:
    """Chicago and UTC become New York; a day from midnight to midnight there is a day."""
    answer = send(
        classroom,
        "DTSTART;TZID=America/Chicago:20261201T094500|DURATION:PT20M|SUMMARY:One",
        "DTSTART:20261202T151000Z|DTEND:20261202T153000Z|SUMMARY:Two",
        "DTSTART:20261203T050000Z|DTEND:20261204T050000Z|SUMMARY:Three",
    )
    told = answer.reply.text
    assert "1. Three, Thu 3 Dec\n" in told
    assert "2. One, Tue 1 Dec, 10:45 to 11:05: no rotation at 10:40" in told
    assert "3. Two, Wed 2 Dec, 10:10 to 10:30: no rotation at 10:15" in told


def test_what_makes_no_difference_is_counted(classroom: Classroom) -> None:
    answer = send(
        classroom,
        ONE,
        "DTSTART;VALUE=DATE:20261128|SUMMARY:Fair on a Saturday",
        "DTSTART:20261201T140000|DTEND:20261201T150000|SUMMARY:After the rotations",
        "DTSTART;VALUE=DATE:20261102|SUMMARY:Gone by",
        "DTSTART;VALUE=DATE:20291102|SUMMARY:Far off",
        "DTSTART;VALUE=DATE:20261202|STATUS:CANCELLED|SUMMARY:Called off",
    )
    assert (
        "Not listed: 1 event over, 2 outside of school days and rotations and 1 more than a year "
        "ahead." in answer.reply.text
    )
    assert days_changed(classroom.say("all")) == ["2026-12-01"]


def test_what_is_on_record_is_said_to_be_and_nothing_new_asks_nothing(
    classroom: Classroom,
) -> None:
    send(classroom, *YEAR)
    classroom.say("only thanksgiving and the assembly")
    answer = send(classroom, *YEAR)
    assert "On record before: Thanksgiving break and Assembly." in answer.reply.text
    assert "1. Book fair" in answer.reply.text
    again = send(classroom, YEAR[0], YEAR[3])
    assert again.reply.text.split("\n") == [
        "Nothing new in that calendar: what it says is on record.",
        "On record before: Thanksgiving break and Assembly.",
    ]
    assert (again.outcome, sends(again)) == ("answered", {})
    assert classroom.say("all").outcome == "unclear"


def test_today_counts_and_a_rotation_that_is_over_does_not(classroom: Classroom) -> None:
    early = "DTSTART:20261117T101500|DTEND:20261117T103000|SUMMARY:Over"
    late = "DTSTART:20261117T104500|DTEND:20261117T105000|SUMMARY:Running"
    told = send(classroom, early, late, "DTSTART;VALUE=DATE:20261117|SUMMARY:Snow").reply.text
    assert "1. Snow, Tue 17 Nov" in told
    assert "2. Running, Tue 17 Nov" in told
    assert "Over" not in told


# What is chosen


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("all", iso(BREAKS, FAIR, WINTER, [date(2026, 12, 3)])),
        ("yes", iso(BREAKS, FAIR, WINTER, [date(2026, 12, 3)])),
        ("all but book fair", iso(BREAKS, WINTER, [date(2026, 12, 3)])),
        ("1 and 4", iso(BREAKS, [date(2026, 12, 3)])),
        ("1", iso(BREAKS)),
        ("only winter break", iso(WINTER)),
        ("none", []),
        ("no", []),
    ],
)
def test_a_text_chooses(classroom: Classroom, text: str, days: list[str]) -> None:
    send(classroom, *YEAR)
    answer = classroom.say(text)
    assert days_changed(answer) == days
    assert answer.outcome == ("done" if days else "answered")
    assert answer.requests == ("schedule",)


def test_the_rows_are_those_a_text_makes_and_undo_takes_all_back(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    answer = classroom.say("all but the book fair")
    assert answer.reply.text.split("\n") == [
        "Noted: no school on 12 days and rotations lost on 1 day.",
        "• Thanksgiving break, Thu 26 to Fri 27 Nov",
        "• Winter break, Mon 21 Dec to Fri 1 Jan",
        "• Assembly, Thu 3 Dec, 10:15 to 10:30: no rotation at 10:15",
        "Left out: Book fair.",
    ]
    changes = answer.result["changes"]
    assert isinstance(changes, list)
    assert changes[0] == {"what": "no_school", "day": "2026-11-26"}
    assert changes[-1] == {
        "what": "block", "day": "2026-12-03", "starts": "10:15", "ends": "10:30",
    }  # fmt: skip
    assert closed(classroom) == {
        *((day, "Thanksgiving break") for day in BREAKS),
        *((day, "Winter break") for day in WINTER),
        (date(2026, 12, 3), "Assembly"),
    }
    undone = classroom.say("undo")
    assert undone.reply.text == "Undone: “district.ics: Thanksgiving break, Winter break, Assembly”"
    assert closed(classroom) == set()
    classroom.say("redo")
    assert len(closed(classroom)) == 13


def test_a_day_of_two_events_is_closed_once_and_its_times_are_not_blocked(
    classroom: Classroom,
) -> None:
    send(
        classroom,
        ONE,
        "DTSTART;VALUE=DATE:20261201|SUMMARY:Election day",
        "DTSTART:20261201T101500|DTEND:20261201T103000|SUMMARY:Assembly",
    )
    assert days_changed(classroom.say("all")) == ["2026-12-01"]
    rows = [c for c in classroom.roster().closures if c.day == date(2026, 12, 1)]
    assert [(c.reason, c.starts) for c in rows] == [("Election day", None)]


def test_a_rotation_is_taken_away_once(classroom: Classroom) -> None:
    send(
        classroom,
        "DTSTART:20261201T101500|DTEND:20261201T103000|SUMMARY:Assembly",
        "DTSTART:20261201T101500|DTEND:20261201T110000|SUMMARY:Concert",
        "DTSTART:20261201T101500|DTEND:20261201T103500|SUMMARY:Photos",
    )
    assert len(days_changed(classroom.say("all"))) == 2
    assert closed(classroom) == {(date(2026, 12, 1), name) for name in ("Assembly", "Concert")}


def test_what_closing_today_means_for_the_plan_is_told_as_for_a_text(
    classroom: Classroom,
) -> None:
    classroom.say("plan", at="2026-11-17T08:00")
    at = "2026-11-17T08:05"
    by_text = classroom.say("no school today till nov 27", at=at).reply.text.split("\n")[1:]
    classroom.say("undo", at=at)
    event = "DTSTART;VALUE=DATE:20261117|DTEND;VALUE=DATE:20261128|SUMMARY:Snow"
    send(classroom, event, at=at)
    by_file = classroom.say("all", at=at).reply.text.split("\n")[2:]
    assert by_text == by_file
    assert by_file


def test_turns_of_a_day_that_is_closed_stay_and_are_told_of(classroom: Classroom) -> None:
    classroom.say("g3 ramps")
    send(classroom, "DTSTART;VALUE=DATE:20261117|SUMMARY:Snow")
    assert "on record today stay" in classroom.say("all").reply.text


def test_a_choice_means_the_same_whenever_it_is_sent(classroom: Classroom) -> None:
    pressed = sends(send(classroom, *YEAR))["All of them"]
    classroom.say("thanks")
    send(classroom, ONE)
    assert len(days_changed(classroom.say(pressed, kind="button"))) == 18
    assert classroom.say(pressed, kind="button").reply.text == (
        "Nothing new: that is on record already."
    )
    assert "no such calendar" in classroom.say("close all of calendar 999").reply.text


def test_days_gone_by_meanwhile_are_not_closed(classroom: Classroom) -> None:
    pressed = sends(send(classroom, *YEAR))["All of them"]
    answer = classroom.say(pressed, at="2026-12-22T09:00", kind="button")
    assert days_changed(answer) == iso(WINTER[1:])


# The question


def test_the_question_is_dropped_by_a_text_that_is_no_answer(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    assert classroom.say("g3 ramps").outcome == "done"
    assert classroom.say("all").outcome != "done"
    assert closed(classroom) == set()


def test_a_log_with_numbers_is_no_answer(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    assert classroom.say("1 ramps 2 balance 3 magnets").requests == ("log_visits",)
    send(classroom, *YEAR)
    assert classroom.say("all of group 3 did shadows").requests == ("log_visits",)
    send(classroom, *YEAR)
    assert days_changed(classroom.say("no school friday")) == ["2026-11-20"]


def test_the_question_is_a_row_of_one_sender_in_one_chat(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    kim = classroom.member("Kim")
    assert classroom.say("all", member=kim).outcome == "unclear"
    assert classroom.say("all", place="another chat").outcome == "unclear"
    with opened(classroom.path) as later:
        assert later.say("all").outcome == "done"


def test_another_member_may_send_one_as_any_may_tell_of_a_day_without_school(
    classroom: Classroom,
) -> None:
    kim = classroom.member("Kim")
    classroom.say("", member=kim, file=SentFile("x.ics", ics(ONE)))
    assert days_changed(classroom.say("all", member=kim)) == ["2026-12-01"]


def test_the_same_delivery_again_changes_nothing(classroom: Classroom) -> None:
    first = send(classroom, *YEAR, key="update:1")
    classroom.say("all")
    again = send(classroom, *YEAR, key="update:1")
    assert again.reply == first.reply
    assert len(closed(classroom)) == 18


def test_why_tells_of_the_file_and_of_what_was_chosen(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    classroom.say("1 and 3")
    assert classroom.say("why").reply.text.split("\n") == [
        "Your last text: “1 and 3”",
        "Taken as: district.ics: Thanksgiving break, Winter break",
    ]


# Choosing from a list


def test_events_are_chosen_one_by_one_with_buttons(classroom: Classroom) -> None:
    choose = sends(send(classroom, *YEAR))["Choose"]
    offered = classroom.say(choose, kind="button")
    assert offered.reply.text.split("\n")[:3] == [
        "4 of 4 chosen. Tap to change, or text the numbers.",
        "☑ 1. Thanksgiving break, Thu 26 to Fri 27 Nov",
        "☑ 2. Book fair, Mon 7 to Fri 11 Dec",
    ]
    without = classroom.say(sends(offered)["☑ 2. Book fair"], kind="button")
    assert "☐ 2. Book fair, Mon 7 to Fri 11 Dec" in without.reply.text
    assert closed(classroom) == set()
    taken = classroom.say(sends(without)["Take these 3"], kind="button")
    assert days_changed(taken) == iso(BREAKS, WINTER, [date(2026, 12, 3)])


@pytest.mark.parametrize(("text", "count"), [("yes", 13), ("2", 5), ("all", 18), ("none", 0)])
def test_the_list_takes_texts_too(classroom: Classroom, text: str, count: int) -> None:
    choose = sends(send(classroom, *YEAR))["Choose"]
    offered = classroom.say(choose, kind="button")
    classroom.say(sends(offered)["☑ 2. Book fair"], kind="button")
    assert len(days_changed(classroom.say(text))) == count


def test_a_name_that_is_not_clear_is_asked_about(classroom: Classroom) -> None:
    send(classroom, *YEAR)
    answer = classroom.say("all but the bake sale")
    assert answer.reply.text.startswith("I am not sure which event is meant by “bake sale”.\n")
    assert answer.outcome == "asked"
    assert len(days_changed(classroom.say("all but 2"))) == 13


def test_hundreds_of_events_fit_one_screen_and_all_can_be_chosen(classroom: Classroom) -> None:
    days = [TODAY + timedelta(n) for n in range(1, 397)]
    events = [f"DTSTART;VALUE=DATE:{day:%Y%m%d}|SUMMARY:Event {day:%j}" for day in days]
    answer = send(classroom, *events)
    school = [day for day in days if day.weekday() < 5]
    assert answer.reply.text.startswith(f"{len(school)} events would close school")
    assert f"… and {len(school) - 12} more: “choose” shows them all." in answer.reply.text
    assert len(answer.reply.text) < 1500
    offered = classroom.say("choose")
    pages, label = 1, f"☑ {len(school)}. Event {school[-1]:%j}"
    while label not in sends(offered):
        assert pages < 20
        offered = classroom.say(sends(offered)["More"], kind="button")
        pages += 1
        assert len(offered.reply.text) < 1500
        assert len(offered.reply.choices) <= 23
    assert pages == 15
    offered = classroom.say(sends(offered)[label], kind="button")
    assert f"Shown: 281 to {len(school)} of {len(school)}." in offered.reply.text
    taken = classroom.say("yes")
    assert days_changed(taken) == iso(school[:-1])
    assert len(taken.reply.text) < 1500


def test_more_events_than_a_class_can_need(classroom: Classroom) -> None:
    days = [TODAY + timedelta(n) for n in range(1, 397)]
    events = [
        f"DTSTART;VALUE=DATE:{day:%Y%m%d}|SUMMARY:{part} {day:%j}" for day in days for part in "ab"
    ]
    assert "more in that calendar than one class can need" in send(classroom, *events).reply.text


# What is no calendar to choose from


@pytest.mark.parametrize(
    ("file", "outcome", "words"),
    [
        (SentFile("a.ics", b"hello"), "refused", "no calendar I can read"),
        (SentFile("a.ics", b""), "refused", "no calendar I can read"),
        (SentFile("a.ics", ics()), "refused", "no event in that calendar"),
        (SentFile("a.ics", b"B" * (LARGEST + 1)), "refused", "too big"),
        (SentFile("a.ics", trouble="too_big"), "refused", "too big"),
        (SentFile("a.ics", trouble="lost"), "refused", "send it again"),
        (SentFile("a.ics", ics("SUMMARY:when")), "answered", "could not be read (line 3"),
        (SentFile("a.ics", ics("DTSTART;VALUE=DATE:20261101")), "answered", "are over"),
        (SentFile("a.ics", ics("DTSTART;VALUE=DATE:20261116")), "answered", "are over"),
        (SentFile("a.ics", ics("DTSTART;VALUE=DATE:20261128")), "answered", "No event to come"),
        (SentFile("list.csv", b"name,group"), "unclear", "can't read that kind"),
        (SentFile("scan.pdf", b"%PDF"), "unclear", "can't read that kind"),
    ],
)
def test_bad_input_is_answered_and_changes_nothing(
    classroom: Classroom, file: SentFile, outcome: str, words: str
) -> None:
    before = classroom.roster().closures
    answer = classroom.say("our calendar", file=file)
    assert (answer.outcome, sends(answer)) == (outcome, {})
    assert words in answer.reply.text
    assert classroom.roster().closures == before


def test_events_that_cannot_be_read_are_told_by_line_and_the_rest_is_offered(
    classroom: Classroom,
) -> None:
    answer = send(classroom, "DTSTART:soon|SUMMARY:x", ONE)
    assert "1 event could not be read (line 3 of the file)." in answer.reply.text
    assert days_changed(classroom.say("yes")) == ["2026-12-01"]


def test_an_event_without_a_name(classroom: Classroom) -> None:
    told = send(classroom, "DTSTART;VALUE=DATE:20261201", ONE.replace("01|", "02|")).reply.text
    assert "1. an event, Tue 1 Dec" in told
    classroom.say("1")
    assert closed(classroom) == {(date(2026, 12, 1), "no school")}


def test_a_caption_is_not_read(classroom: Classroom) -> None:
    send(classroom, ONE, text="no school friday")
    assert closed(classroom) == set()


def test_in_a_chat_with_others_no_child_is_named_by_a_calendar(classroom: Classroom) -> None:
    event = "DTSTART;VALUE=DATE:20261201|SUMMARY:Birthday of Mia K."
    answer = classroom.say("", file=SentFile("x.ics", ics(event, ONE)), private=False)
    assert "1. an event, Tue 1 Dec" in answer.reply.text
    offered = classroom.say("choose", private=False)
    taken = classroom.say("all", private=False)
    for told in (answer, offered, taken):
        assert "Mia" not in told.reply.text
        assert not any("Mia" in choice.label for choice in told.reply.choices)


def test_how_a_calendar_is_sent(classroom: Classroom) -> None:
    for text in ("our calendar file", "school calendar", "can i send you the calendar?"):
        answer = classroom.say(text)
        assert answer.reply.text.startswith("Send me the calendar file"), text
        assert answer.outcome == "answered"
