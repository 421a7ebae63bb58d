"""Promise: a button acts once however often it is pressed, and only where it was sent."""

from __future__ import annotations

import gc
from datetime import timedelta

import pytest

from bot.wording.telegram import OLD_BUTTON
from storage.database import open_database
from storage.register import Register
from tests.local_bot_api import LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import MORNING, ROBIN, new_member

SAM = 502
LOG, AMARA = "g1 ramps", ("Amara O.", "Ramps", "2026-11-18")


async def test_a_second_press_is_answered_as_before_and_changes_nothing(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    async with running() as database:
        robin.text(LOG)
        await seen.until_replies(api, 1)
        press = robin.press("Undo", message_id=2)
        await seen.until_replies(api, 2)
        robin.press("Undo", message_id=2)
        api.repeat(press)
        said = await seen.until_replies(api, 4)
        assert AMARA not in seen.visits(database)
        assert [(row["kind"], row["key"]) for row in seen.entry_rows(database)] == [
            ("text", "update:1000:501:1"),
            ("undo", "press:501:1:0"),
        ]
    assert said[1].startswith("Undone")
    assert said[1] == said[2] == said[3]
    assert api.unanswered_presses == []


async def test_a_press_that_only_asks_is_answered_afresh(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    async with running():
        robin.text("mei ramps")
        await seen.until_replies(api, 1)
        for _ in range(2):
            robin.press("Who's left", message_id=2)
        robin.text("kofi ramps")
        robin.press("Who's left", message_id=2)
        said = await seen.until_replies(api, 5)
    assert said[1] == said[2]
    assert "Kofi B." in said[2]
    assert "Kofi B." not in said[4]


async def test_a_press_acts_again_once_what_it_did_was_taken_back(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    async with running() as database:
        robin.text(LOG)
        await seen.until_replies(api, 1)
        for count, label, message_id in ((2, "Undo", 2), (3, "Redo", 3), (4, "Undo", 2)):
            robin.press(label, message_id=message_id)
            await seen.until_replies(api, count)
        assert AMARA not in seen.visits(database)
        robin.press("Undo", message_id=2)
        said = await seen.until_replies(api, 5)
        assert AMARA not in seen.visits(database)
    assert [text.split(":")[0] for text in said[1:]] == [
        "Undone",
        "Back again",
        "Undone",
        "Undone",
    ]


async def test_a_choice_pressed_twice_logs_once(api: LocalBotApi, running: Running) -> None:
    robin = api.phone(ROBIN)
    async with running() as database:
        robin.text("sofia did shadows")
        await seen.until_replies(api, 1)
        robin.press("Sofia R.", message_id=2)
        robin.press("Sofia R.", message_id=2)
        said = await seen.until_replies(api, 3)
        assert seen.visits(database) == {("Sofia R.", "Shadows", "2026-11-18")}
    assert said[1].startswith("✓ Shadows: Sofia R.")
    assert said[1] == said[2]


async def test_a_button_works_only_in_the_chat_it_was_sent_to(
    api: LocalBotApi, running: Running, url: str
) -> None:
    database = open_database(url)
    with database.writing() as work:
        new_member(work, 1, SAM, "Sam")
    database.close()
    robin, sam = api.phone(ROBIN), api.phone(SAM, "Sam")
    async with running() as database:
        robin.text(LOG)
        await seen.until_replies(api, 1)
        sam.text("hello")
        await seen.until_replies(api, 1, SAM)
        for data in ("b:1:0", "b:1:7", "b:99:0", "b:x", "undo", "b:1:0:0"):
            sam.press(data=data, stale=True)
        await api.until_called("answerCallbackQuery", 6)
        assert AMARA in seen.visits(database)
        assert len(seen.replies(api, SAM)) == 1
    answers = [call.given["text"] for call in api.called("answerCallbackQuery")]
    assert answers == [OLD_BUTTON] * 6


async def test_a_button_is_read_against_the_class_it_was_sent_for(
    api: LocalBotApi, running: Running, url: str
) -> None:
    robin = api.phone(ROBIN)
    async with running() as database:
        robin.text("sofia did shadows")
        await seen.until_replies(api, 1)
        with database.writing() as work:
            other = _another_class(work.register)
            new_member(work, other, ROBIN, "owner")
        robin.text("hello")
        await seen.until_replies(api, 2)
        robin.press("Sofia R.", message_id=2)
        said = await seen.until_replies(api, 3)
        assert seen.visits(database) == {("Sofia R.", "Shadows", "2026-11-18")}
    assert said[2].startswith("✓ Shadows: Sofia R.")


def _another_class(register: Register) -> int:
    known = register.classes()[0]
    return register.add_class(
        "Room 8",
        time_zone=known.time_zone,
        digest_at=known.digest_at,
        quiet_before=known.quiet_before,
        quiet_after=known.quiet_after,
        school_days=list(known.school_days),
        absence_rate=known.absence_rate,
        keep_groups=known.keep_groups,
    )


async def test_a_press_too_old_to_be_answered_still_acts(
    api: LocalBotApi, running: Running, caplog: pytest.LogCaptureFixture
) -> None:
    robin = api.phone(ROBIN)
    robin.text(LOG)
    async with running():
        await seen.until_replies(api, 1)
    robin.press("Undo", message_id=2)
    api.expire_presses()
    async with running() as database:
        assert (await seen.until_replies(api, 2))[1].startswith("Undone")
        assert AMARA not in seen.visits(database)
        await api.until_called("answerCallbackQuery")
    gc.collect()
    assert [r.getMessage() for r in caplog.records if r.levelname == "ERROR"] == []


async def test_a_press_counts_at_the_time_it_is_received(
    api: LocalBotApi, running: Running
) -> None:
    robin, later = api.phone(ROBIN), MORNING + timedelta(minutes=20)
    robin.text("sofia did shadows")
    async with running(now=lambda: later) as database:
        await seen.until_replies(api, 1)
        robin.press("Sofia R.")
        await seen.until_replies(api, 2)
        asked, pressed = seen.entry_rows(database)
    assert (asked["at"], pressed["at"]) == (MORNING, later)
    assert (pressed["kind"], pressed["place"]) == ("button", "telegram:501")
