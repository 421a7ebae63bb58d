"""Who gets nudges: by role, as each has asked, and in the journal like anything else."""

from __future__ import annotations

from bot.nudges.kinds import KINDS
from storage.records import Member
from tests.classroom_fixture import Classroom, moment, sends
from tests.nudges.days import coming, kinds, look, on_record, states


def test_an_aide_gets_none_until_asking(classroom: Classroom) -> None:
    aide, partner = classroom.member("aide"), classroom.member("Kim", "co-teacher")
    to = [said.member.name for said in look(classroom, "2026-11-17T07:00")]
    assert to == ["owner", "Kim"]
    classroom.say("unmute", "2026-11-17T12:00", member=aide)
    to = [said.member.name for said in look(classroom, "2026-11-18T07:00")]
    assert to == ["owner", "aide", "Kim"]
    assert partner.name == "Kim"


def test_the_same_words_to_several_are_one_in_the_preview(classroom: Classroom) -> None:
    classroom.member("Kim", "co-teacher")
    [digest] = coming(classroom, "2026-11-17T07:00", "2026-11-17T07:00")
    assert digest.to == ("owner", "Kim")


def test_who_cannot_be_reached_gets_none(classroom: Classroom) -> None:
    def nobody(member: Member) -> bool:
        return False

    assert look(classroom, "2026-11-17T07:00", nobody) == ()
    assert on_record(classroom) == ()


def test_mute_is_for_the_one_who_says_it_and_undo_takes_it_back(classroom: Classroom) -> None:
    kim = classroom.member("Kim", "co-teacher")
    muted = classroom.say("mute", "2026-11-16T20:00", member=kim)
    assert muted.result["changes"] == [
        {"what": "nudges", "member": "Kim", "on": False, "until": None}
    ]
    assert [s.member.name for s in look(classroom, "2026-11-17T07:00")] == ["owner"]
    assert [n.state for n in on_record(classroom) if n.member_id == kim.id and n.kind == "digest"][
        -1
    ] == "off"
    classroom.say("undo", "2026-11-17T20:00", member=kim)
    assert [s.member.name for s in look(classroom, "2026-11-18T07:00")] == ["owner", "Kim"]


def test_quiet_till_a_day_holds_what_is_due_before(classroom: Classroom) -> None:
    classroom.say("quiet till thursday", "2026-11-16T20:00")
    assert coming(classroom, "2026-11-17T00:00", "2026-11-18T23:59") == ()
    assert look(classroom, "2026-11-17T07:00") == ()
    assert kinds(look(classroom, "2026-11-19T07:00")) == ["digest"]
    assert states(classroom, "2026-11-18")["digest"] == "late"


def test_a_nudge_that_is_put_off_comes_once_more(classroom: Classroom) -> None:
    [first] = look(classroom, "2026-11-17T07:00")
    answer = classroom.say("snooze an hour", "2026-11-17T07:05")
    assert answer.reply.text == "I will say it again at 8:05, and nothing till then."
    [again] = coming(classroom, "2026-11-17T07:06", "2026-11-17T10:00")
    assert (again.at, again.kind) == (moment("2026-11-17T08:05"), "digest")
    assert look(classroom, "2026-11-17T08:04") == ()
    [second] = look(classroom, "2026-11-17T08:05")
    assert second.reply.text.splitlines()[0] == first.reply.text.splitlines()[0]
    assert look(classroom, "2026-11-17T08:06") == ()
    assert [n.times for n in on_record(classroom) if n.state == "sent"] == [2]


def test_a_nudge_put_off_past_its_use_does_not_come(classroom: Classroom) -> None:
    look(classroom, "2026-11-17T07:00")
    classroom.say("snooze till 2pm", "2026-11-17T07:05")
    assert kinds(look(classroom, "2026-11-17T14:00")) == ["not_logged"]


def test_later_means_the_nudge_just_sent(classroom: Classroom) -> None:
    assert classroom.say("later", "2026-11-17T07:05").outcome == "answered"
    look(classroom, "2026-11-17T07:06")
    assert classroom.say("later", "2026-11-17T07:10").outcome == "done"


def test_the_digest_moves_for_the_class_and_undo_moves_it_back(classroom: Classroom) -> None:
    answer = classroom.say("morning message at 7:15", "2026-11-16T20:00")
    assert answer.result["changes"] == [{"what": "digest", "from": "07:00", "to": "07:15"}]
    [digest] = coming(classroom, "2026-11-17T00:00", "2026-11-17T10:00")
    assert digest.at == moment("2026-11-17T07:15")
    classroom.say("undo", "2026-11-16T20:01")
    [digest] = coming(classroom, "2026-11-17T00:00", "2026-11-17T10:00")
    assert digest.at == moment("2026-11-17T07:00")


def test_a_nudge_is_in_the_journal_and_why_explains_it(classroom: Classroom) -> None:
    [said] = look(classroom, "2026-11-17T07:00")
    with classroom.book() as book:
        entry = book.entry(said.entry_id)
    assert entry is not None
    assert (entry.kind, entry.requests, entry.reply) == ("nudge", ("digest",), said.reply.text)
    why = classroom.say("why", "2026-11-17T07:10")
    assert why.reply.text.splitlines()[0] == (
        "I wrote at 7:00 because the morning summary comes on school days at the time set for "
        "the class."
    )


def test_every_kind_can_be_explained(classroom: Classroom) -> None:
    for kind in KINDS:
        with classroom.book() as book:
            at = moment("2026-11-17T07:00")
            entry_id = book.open_entry(
                kind="nudge", text="", at=at, received_at=at, member_id=classroom.owner.id
            )
            book.close_entry(entry_id, requests=[kind.name], reply="Said.", outcome="answered")
        why = classroom.say("why", "2026-11-17T07:10").reply.text
        assert why.startswith("I wrote at 7:00 because ")


def test_the_buttons_of_the_digest_are_read(classroom: Classroom) -> None:
    [said] = look(classroom, "2026-11-17T07:00")
    texts = {choice.label: choice.send for choice in said.reply.choices}
    assert classroom.say(texts["Someone is away"], kind="button").outcome == "answered"
    assert classroom.say(texts["Change the plan"], kind="button").outcome == "answered"
    muted = classroom.say("mute")
    assert classroom.say(sends(muted)["Unmute"], kind="button").outcome == "done"
