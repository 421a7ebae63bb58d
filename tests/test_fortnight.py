"""A fortnight of one class, all by text: supplies, a short tub, the plan, swaps and their undo."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from bot.conversation import Answer
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from bot.settings import sqlite_url
from storage.database import open_database
from tests.classroom_fixture import Classroom, moment, needs_told, opened, sends

FOLDER = {
    "class.csv": "name,time_zone,digest_at,quiet_before,quiet_after,school_days,absence_rate,"
    "keep_groups\nAlder room,America/New_York,07:00,06:30,18:00,Mon-Fri,0.06,mostly\n",
    "students.csv": "name,group\nAva R.,1\nBen T.,1\nChidi O.,1\nMia K.,1\n"
    "Dara L.,2\nInes F.,2\nKai Q.,2\nLuca B.,2\n",
    "bins.csv": "bin,color,opens,closes,seats,visits_each\n"
    "Ramps,red,2026-11-16,2026-11-20,4,1\n"
    "Balance,yellow,2026-11-16,2026-11-24,4,1\n"
    "Shadows,pink,2026-11-16,2026-11-24,4,1\n"
    "Gears,,,,4,1\n",
    "rotations.csv": "weekday,starts,minutes\nMon-Fri,10:15,20\n",
    "supplies.csv": "bin,item,kind,per_visit,per_tub,on_hand,counted_on,pack_size,lead_days\n"
    "Ramps,record sheets,consumable,1,,30,2026-11-13,10,1\n"
    "Balance,counters,piece,1,5,20,2026-11-13,1,2\n"
    "Gears,gear wheels,piece,1,6,24,2026-11-13,1,2\n",
}
GROUP_1 = ["Ava R.", "Ben T.", "Chidi O.", "Mia K."]
GROUP_2 = ["Dara L.", "Ines F.", "Kai Q.", "Luca B."]


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Classroom]:
    """The class loaded from its folder."""
    folder, path = tmp_path / "alder", tmp_path / "alder.db"
    folder.mkdir()
    for name, text in FOLDER.items():
        (folder / name).write_text(text, encoding="utf-8")
    found = read_folder(folder, machine_zone="UTC")
    assert isinstance(found, ClassFolder)
    database = open_database(sqlite_url(path))
    with database.writing() as work:
        load(work, found, moment("2026-11-15T18:00"))
    database.close()
    with opened(path) as room:
        yield room


def facts(answer: Answer) -> Any:
    """The facts of an answer."""
    return answer.result["facts"]


def planned(answer: Answer) -> dict[str, list[str]]:
    """The one rotation of a plan: bin -> children."""
    return {sitting["bin"]: sitting["students"] for sitting in facts(answer)["plan"]}


def row(out: str, in_: str) -> dict[str, str]:
    """The change a swap in red from Thursday tells."""
    return {"what": "swap", "color": "red", "out": out, "in": in_, "day": "2026-11-19"}


def added(answer: Answer) -> list[tuple[str, str, str]]:
    """Every visit an answer says it wrote: student, bin, day."""
    visits = answer.result["visits_added"]
    assert isinstance(visits, list)
    return [(visit["student"], visit["bin"], visit["day"]) for visit in visits]


def test_a_fortnight_by_text(room: Classroom) -> None:
    monday_counts_and_copies(room)
    tuesday_loses_counters(room)
    late = wednesday_swaps(room)
    thursday_looks_back(room, late)
    the_second_week_has_no_needs_left(room)


def monday_counts_and_copies(room: Classroom) -> None:
    """Sheets for Monday only: the group of Wednesday is seen two school days ahead."""
    plan = room.say("plan for today", "2026-11-16T08:00")
    assert planned(plan) == {"Ramps": GROUP_1, "Shadows": GROUP_2}
    counted = room.say("ramps has 4 record sheets", "2026-11-16T08:01")
    assert counted.reply.text == (
        "Ramps: 4 record sheets. 8 children still come; copy 4 or more by Tue 17 Nov."
    )
    asked = room.say("what do I need to copy", "2026-11-16T08:02")
    short = {"bin": "Ramps", "item": "record sheets", "needed": 8, "short": 4, "order": 10}
    assert facts(asked)["restock"] == [{**short, "on_hand": 4, "by": "2026-11-17"}]
    ran = room.say("everyone where the plan says", "2026-11-16T10:37")
    assert added(ran) == [
        *((name, "Ramps", "2026-11-16") for name in GROUP_1),
        *((name, "Shadows", "2026-11-16") for name in GROUP_2),
    ]
    used = room.say("what do I need to copy", "2026-11-16T15:00")
    [sheets] = facts(used)["restock"]
    assert (sheets["on_hand"], sheets["needed"], sheets["short"]) == (0, 4, 4)
    copied = room.say("copied 10 sheets for ramps", "2026-11-16T15:05")
    assert copied.reply.text == ("Ramps: 10 record sheets. 4 children still come; that is enough.")
    assert facts(room.say("what do I need to copy", "2026-11-16T15:06"))["restock"] == []


def tuesday_loses_counters(room: Classroom) -> None:
    """Two tubs of four: two seats at Balance, and two children go elsewhere."""
    before = room.say("plan", "2026-11-17T08:00")
    assert planned(before) == {"Balance": GROUP_2, "Shadows": GROUP_1}
    lost = room.say("lost 6 counters in balance", "2026-11-17T08:05")
    assert lost.reply.text == (
        "Balance: 14 counters. 8 children still come; get 6 or more today.\n"
        "That fills 2 tubs of 5: 2 seats of 4 till they are back."
    )
    after = room.say("plan", "2026-11-17T08:06")
    assert planned(after) == {
        "Ramps": ["Kai Q.", "Luca B."],
        "Balance": ["Dara L.", "Ines F."],
        "Shadows": GROUP_1,
    }
    assert len(added(room.say("ran as planned", "2026-11-17T10:36"))) == 8
    assert room.at_bin("Balance", moment("2026-11-17T00:00").date()) == {"Dara L.", "Ines F."}
    found = room.say("found 6 counters for balance", "2026-11-17T15:02")
    assert found.reply.text == "Balance: 20 counters. 6 children still come; that is enough."


def wednesday_swaps(room: Classroom) -> Answer:
    """A swap that leaves two children out is asked; what is accepted begins on Thursday."""
    plan = room.say("plan", "2026-11-18T08:00")
    assert planned(plan) == {"Ramps": GROUP_2, "Balance": GROUP_1}
    room.say("g1 did balance", "2026-11-18T10:36")  # group 2's turn at Ramps is texted late
    asked = room.say("swap ramps for gears", "2026-11-18T15:01")
    assert (asked.outcome, asked.result["changes"]) == ("asked", [])
    assert facts(asked)["swap"] == [
        {"bin": "Ramps", "ready": False, "needs": ["Dara L.", "Ines F."], "earliest": "2026-11-19"}
    ]
    assert sends(asked) == {
        "Swap anyway": "swap Ramps for Gears on 2026-11-19 anyway",
        "Keep it": "no",
    }
    swapped = room.say(sends(asked)["Swap anyway"], "2026-11-18T15:02")
    assert (swapped.outcome, swapped.result["changes"]) == ("done", [row("Ramps", "Gears")])
    assert swapped.reply.text == (
        "✓ Thu 19 Nov: Gears for Ramps in red, out till Wed 25 Nov.\n"
        "Not been at Ramps yet: Dara L., Ines F."
    )
    return swapped


def thursday_looks_back(room: Classroom, swapped: Answer) -> None:
    """Gears is in the plan; yesterday's red was Ramps; the swap is taken back and done again."""
    needs = room.say("who still needs gears", "2026-11-19T08:00")
    assert sorted(needs_told(needs)["Gears"]) == sorted(GROUP_1 + GROUP_2)
    with_gears = {"Gears": GROUP_1, "Balance": GROUP_2}
    assert planned(room.say("plan", "2026-11-19T08:01")) == with_gears
    late = room.say("yesterday g2 did red", "2026-11-19T08:05")
    assert added(late) == [(name, "Ramps", "2026-11-18") for name in GROUP_2]

    undone = room.say(sends(swapped)["Undo"], "2026-11-19T08:10")
    assert undone.result["changes"] == [row("Gears", "Ramps")]
    assert room.at_bin("Ramps", moment("2026-11-18T00:00").date()) == set(GROUP_2)
    needs = room.say("who still needs what", "2026-11-19T08:11")
    assert needs_told(needs) == {"Ramps": [], "Balance": ["Kai Q.", "Luca B."], "Shadows": []}
    assert planned(room.say("plan", "2026-11-19T08:12"))["Balance"] == GROUP_2

    again = room.say("swap ramps for gears now", "2026-11-19T08:15")  # nobody loses a turn now
    assert (again.outcome, again.result["changes"]) == ("done", [row("Ramps", "Gears")])
    assert planned(room.say("plan", "2026-11-19T08:16")) == with_gears
    assert len(added(room.say("ran as planned", "2026-11-19T10:36"))) == 8


def the_second_week_has_no_needs_left(room: Classroom) -> None:
    """Friday's group is the last at Gears, and the boxes may go."""
    assert planned(room.say("plan", "2026-11-20T08:00"))["Gears"] == GROUP_2
    room.say("ran as planned", "2026-11-20T10:36")
    needs = room.say("who still needs what", "2026-11-23T08:00")
    assert needs_told(needs) == {"Balance": [], "Shadows": [], "Gears": []}
    check = room.say("can i swap balance", "2026-11-24T10:36")
    assert facts(check)["swap"] == [
        {"bin": "Balance", "ready": True, "needs": [], "earliest": "2026-11-24"}
    ]


@pytest.mark.parametrize(
    "text",
    [
        "the 10:15 on thursday is cancelled",
        "thursday's 10:15 is cancelled",
        "thursday 10:15 is off",
        "first rotation on thursday is off",
    ],
)
def test_a_rotation_called_off_is_not_the_whole_day(room: Classroom, text: str) -> None:
    told = room.say(text, "2026-11-17T08:00")
    assert told.result["changes"] == [
        {"what": "rotation_lost", "day": "2026-11-19", "starts": "10:15"}
    ]


def test_something_else_called_off_closes_no_day(room: Classroom) -> None:
    told = room.say("recess is cancelled thursday", "2026-11-17T08:00")
    assert (told.outcome, told.result["changes"]) == ("unclear", [])


def test_an_unknown_name_left_out_of_a_planned_rotation_is_asked_about(room: Classroom) -> None:
    room.say("plan", "2026-11-16T08:00")
    told = room.say("ran as planned but teddy was with me", "2026-11-16T10:37")
    assert (told.outcome, added(told), room.visits()) == ("asked", [], set())
    assert told.reply.text == (
        "Who was not where the plan says? Text for example “as planned except ruby”."
    )
