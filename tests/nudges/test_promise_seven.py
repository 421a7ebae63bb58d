"""Promise 7: nudges come once, at the local time set, never on a no-school day, within the hours
allowed, few enough to stay welcome."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from bot.nudges import schedule
from bot.nudges.kinds import KINDS, Levels, NudgeKind, Saying
from bot.nudges.times import digest_due
from bot.outcomes import ANSWERED, NothingLogged
from bot.skills.skill import Situation
from storage import tables
from tests.classroom_fixture import Classroom, moment
from tests.nudges.days import change_class, coming, kinds, look, look_at, on_record, states


def test_the_digest_comes_once_at_the_time_set(classroom: Classroom) -> None:
    assert look(classroom, "2026-11-17T06:59:59") == ()
    [said] = look(classroom, "2026-11-17T07:00")
    assert said.kind == "digest"
    assert said.reply.text.startswith(
        "Tue 17 Nov. Away: Theo N. Priya N. misses 10:40.\n10:15  1 Shadows, 2 Balance"
    )
    assert [c.label for c in said.reply.choices] == [
        "Ran as planned",
        "Someone is away",
        "Change the plan",
    ]
    assert look(classroom, "2026-11-17T07:00") == ()
    assert look(classroom, "2026-11-17T07:30") == ()


@pytest.mark.parametrize("day", ["2026-11-11", "2026-11-14", "2026-11-15"])
def test_nothing_comes_without_school(classroom: Classroom, day: str) -> None:
    """A closed Wednesday, a Saturday, a Sunday."""
    start = moment(f"{day}T00:00")
    said = [look_at(classroom, start + timedelta(minutes=30 * n)) for n in range(48)]
    assert said == [()] * 48
    assert coming(classroom, f"{day}T00:00", f"{day}T23:59") == ()


def test_a_digest_before_the_hours_allowed_is_held_till_they_begin(classroom: Classroom) -> None:
    change_class(classroom, digest_at=time(5, 45))
    assert look(classroom, "2026-11-17T06:29") == ()
    assert kinds(look(classroom, "2026-11-17T06:30")) == ["digest"]
    [digest, *_] = coming(classroom, "2026-11-18T00:00", "2026-11-18T12:00")
    assert digest.at == moment("2026-11-18T06:30")


def test_a_digest_after_the_hours_allowed_is_dropped(classroom: Classroom) -> None:
    change_class(classroom, digest_at=time(18, 30))
    assert "digest" not in kinds(look(classroom, "2026-11-17T18:30"))
    assert "digest" not in kinds(look(classroom, "2026-11-18T06:30"))
    assert states(classroom)["digest"] == "late"


def test_a_late_digest_is_sent_until_it_is_stale_then_dropped_and_noted(
    classroom: Classroom,
) -> None:
    assert kinds(look(classroom, "2026-11-17T10:59")) == ["digest"]
    assert look(classroom, "2026-11-18T11:00") == ()
    assert states(classroom, "2026-11-18")["digest"] == "late"


def test_what_is_late_is_not_sent_in_the_quiet_hours(classroom: Classroom) -> None:
    change_class(classroom, quiet_after=time(12))
    assert look(classroom, "2026-11-17T12:00") == ()
    assert kinds(look(classroom, "2026-11-18T07:00")) == ["digest"]
    assert states(classroom) == {kind.name: "late" for kind in KINDS if kind.name != "friday"}


def test_a_whole_day_missed_is_noted_and_not_sent(classroom: Classroom) -> None:
    assert kinds(look(classroom, "2026-11-18T07:00")) == ["digest"]
    assert states(classroom)["digest"] == "late"


def test_no_more_than_four_a_day(classroom: Classroom, monkeypatch: pytest.MonkeyPatch) -> None:
    def says(now: Situation, told: Levels) -> Saying:
        return Saying(NothingLogged(status=ANSWERED, day=now.today))

    many = tuple(NudgeKind(f"kind {n}", digest_due, says) for n in range(6))
    monkeypatch.setattr(schedule, "KINDS", many)
    assert len(coming(classroom, "2026-11-17T00:00", "2026-11-17T23:59")) == 4
    assert len(look(classroom, "2026-11-17T07:00")) == 4
    assert list(states(classroom).values()) == ["sent"] * 4 + ["enough"] * 2
    assert len(look(classroom, "2026-11-18T07:00")) == 4


def test_whether_it_ran_is_asked_after_the_last_rotation_where_nothing_is_logged(
    classroom: Classroom,
) -> None:
    look(classroom, "2026-11-17T07:00")
    assert look(classroom, "2026-11-17T11:14") == ()
    [said] = look(classroom, "2026-11-17T11:15")
    assert said.reply.text == "Nothing is logged for today. Did it run as planned?"
    assert said.reply.choices[0].send == "everyone where the plan says today"


def test_a_day_that_was_logged_is_not_asked_about(classroom: Classroom) -> None:
    look(classroom, "2026-11-17T07:00")
    classroom.say("g1 balance")
    assert look(classroom, "2026-11-17T11:15") == ()
    assert states(classroom)["not_logged"] == "nothing"


def test_after_a_week_without_an_answer_it_is_asked_no_more(classroom: Classroom) -> None:
    asked = [n.at.date() for n in coming(classroom, "2026-11-16T00:00", "2026-11-27T23:59")
             if n.kind == "not_logged"]  # fmt: skip
    assert asked == [date(2026, 11, 16 + n) for n in range(5)]
    for day in asked:
        assert "not_logged" in kinds(look(classroom, f"{day}T11:20"))
    assert "not_logged" not in kinds(look(classroom, "2026-11-23T11:20"))
    classroom.say("g1 balance", "2026-11-24T10:45")
    assert "not_logged" in kinds(look(classroom, "2026-11-25T11:20"))


def test_what_is_at_risk_is_told_once_and_again_only_when_it_got_worse(
    classroom: Classroom,
) -> None:
    short = "2026-11-23"  # a Monday: five days with two rotations each are left for five bins
    assert "at_risk" not in kinds(look(classroom, f"{short}T15:00"))
    away(classroom, "Mia K.", "2026-11-25", "2026-11-27")
    [first] = [s for s in look(classroom, "2026-11-24T15:00") if s.kind == "at_risk"]
    assert first.reply.text.splitlines()[:2] == [
        "Not everyone will get to Ramps, Balance, Magnets, Shadows and Dough in time.",
        "Ramps, Balance, Magnets, Shadows and Dough (till Fri 27 Nov): "
        "no turn left in the plan for Mia K.",
    ]
    with_nothing_new = look(classroom, "2026-11-25T15:00")
    told = next(n for n in on_record(classroom) if n.kind == "at_risk" and n.state == "sent")
    assert told.about == "Ramps; Balance; Magnets; Shadows; Dough"
    worse = [s for s in with_nothing_new if s.kind == "at_risk"]
    [again] = worse  # a day without turns: more children cannot finish
    assert again.reply.text.startswith("Not everyone will get to ")
    assert levels(classroom, "2026-11-25") > levels(classroom, "2026-11-24")


def test_what_is_at_risk_and_stays_so_is_not_told_again(classroom: Classroom) -> None:
    away(classroom, "Mia K.", "2026-11-18", "2026-11-27")
    assert "at_risk" in kinds(look(classroom, "2026-11-17T15:00"))
    assert "at_risk" not in kinds(look(classroom, "2026-11-18T15:00"))


def test_what_is_at_risk_leaves_two_school_days(classroom: Classroom) -> None:
    told = [n for n in coming(classroom, "2026-11-16T00:00", "2026-11-27T23:59")
            if n.kind == "at_risk"]  # fmt: skip
    assert told[-1].at.date() == date(2026, 11, 25)  # Thursday and Friday are left


def test_a_shortage_is_told_again_only_when_it_presses_more_and_anew_after_a_restock(
    classroom: Classroom,
) -> None:
    with classroom.book() as book:
        journal = book.journal(1)
        bins = {bin_.name: bin_.id for bin_ in book.roster().bins}
        sheets = journal.add(
            tables.supplies,
            bin_id=bins["Ramps"],
            item="record sheets",
            kind="consumable",
            per_visit=1.0,
            pack_size=1,
            lead_days=1,
            contains=[],
        )
        book.count_supply(1, sheets, 3, date(2026, 11, 16), None)

    def told(day: int) -> list[str]:
        look(classroom, f"2026-11-{day}T07:00")
        return [
            said.reply.text
            for said in look(classroom, f"2026-11-{day}T15:00")
            if said.kind == "restock"
        ]

    assert told(16) == ["Copy by Tue 17 Nov: 11 Ramps record sheets."]
    assert [told(day) for day in (17, 18)] == [[], []]
    classroom.say("ramps is out of record sheets", "2026-11-19T10:41")
    assert told(19) == ["Copy today: 14 Ramps record sheets."]
    assert told(20) == []
    classroom.say("put 2 record sheets in ramps", "2026-11-23T10:41")
    assert told(23) == ["Copy today: 12 Ramps record sheets."]
    assert told(24) == []


def test_the_next_week_is_looked_at_on_the_last_school_day(classroom: Classroom) -> None:
    found = coming(classroom, "2026-11-16T00:00", "2026-11-20T23:59")
    [friday] = [n for n in found if n.kind == "friday"]
    assert friday.at == moment("2026-11-20T15:00")
    assert friday.text.splitlines()[:2] == [
        "Next week: 5 school days, Mon 23 Nov to Fri 27 Nov.",
        "Ramps (red) closes Fri 27 Nov: 14 children to come.",
    ]


def test_on_a_day_with_nothing_to_say_the_digest_is_one_line(classroom: Classroom) -> None:
    with classroom.book() as book:
        for stint in book.roster().stints:
            book.journal(1).change(tables.stints, stint.id, closes=date(2026, 11, 17))
    [digest] = coming(classroom, "2026-11-18T07:00", "2026-11-18T07:00")
    assert digest.text == "Wed 18 Nov: no rotation."


def test_every_kind_has_a_name_of_its_own() -> None:
    assert [kind.name for kind in KINDS] == ["digest", "not_logged", "restock", "at_risk", "friday"]


def test_a_preview_is_what_is_sent(classroom: Classroom) -> None:
    found = coming(classroom, "2026-11-17T00:00", "2026-11-20T23:59")
    sent = []
    now = moment("2026-11-17T00:00")
    while now <= moment("2026-11-20T23:59"):
        sent += [(now, said.kind, said.reply.text) for said in look_at(classroom, now)]
        now += timedelta(minutes=5)
    assert [(n.at, n.kind, n.text) for n in found] == sent
    assert len(sent) == 9


def away(room: Classroom, name: str, first: str, last: str) -> None:
    """A child away for some days."""
    with room.book() as book:
        child = next(s for s in book.roster().students if s.name == name)
        book.journal(1).add(
            tables.aways,
            student_id=child.id,
            first=date.fromisoformat(first),
            last=date.fromisoformat(last),
        )


def levels(room: Classroom, day: str) -> float:
    """How bad all of what was told on a day was."""
    return sum(
        level
        for nudge in on_record(room)
        if nudge.kind == "at_risk" and nudge.day.isoformat() == day
        for level in nudge.levels.values()
    )
