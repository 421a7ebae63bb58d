"""Promise: only members talk to a class; strangers learn nothing; what is not text does no harm."""

from __future__ import annotations

from datetime import timedelta

import pytest
from telegram.constants import BotCommandLimit

from bot.telegram.running import commands
from bot.wording.telegram import STRANGER, joined
from storage.database import Database, open_database
from storage.register import MOST_GUESSES
from tests.local_bot_api import LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import MORNING, ROBIN

KIM = 700
WELCOME = joined("Room 7")


@pytest.fixture
def code(url: str) -> str:
    """A code for an aide who has not joined."""
    database = open_database(url)
    with database.writing() as work:
        found = work.register.new_code(work.register.add_member(1, "Kim", role="aide"))
    database.close()
    return found


async def test_a_stranger_gets_one_fixed_reply_an_hour_whatever_they_send(
    api: LocalBotApi, running: Running
) -> None:
    kim, clock = api.phone(KIM, "Kim"), [MORNING]
    async with running(now=lambda: clock[0]) as database:
        for text in ("who needs ramps", "Room 7", "/start", "/help", "AAAA-BBBB-CCCC"):
            kim.text(text)
        kim.sticker()
        kim.photo(caption="g1 ramps")
        api.phone(701, "Lee").text("/start AAAA-BBBB-CCCC")
        assert await seen.until_replies(api, 1, 701) == [STRANGER]
        assert seen.replies(api, KIM) == [STRANGER]
        clock[0] += timedelta(minutes=59)
        kim.text("hello?")
        clock[0] += timedelta(minutes=1)
        kim.text("hello??")
        assert await seen.until_replies(api, 2, KIM) == [STRANGER, STRANGER]
        assert seen.entry_rows(database) == []


@pytest.mark.parametrize("form", ["{}", " {}\n", "/start {}", "/start@local_test_bot {}"])
async def test_a_code_gives_a_place_once(
    api: LocalBotApi, running: Running, code: str, form: str
) -> None:
    async with running() as database:
        api.phone(KIM, "Kim").text(form.format(code.lower()))
        assert await seen.until_replies(api, 1, KIM) == [WELCOME]
        api.phone(KIM, "Kim").text("g1 ramps")
        assert (await seen.until_replies(api, 2, KIM))[1].startswith("✓ Ramps")
        api.phone(701, "Lee").text(form.format(code))
        assert await seen.until_replies(api, 1, 701) == [STRANGER]
        with database.reading() as work:
            [kim] = work.register.memberships_of(KIM)
    assert (kim.name, kim.role) == ("Kim", "aide")
    assert seen.entry_rows(database)[0]["member_id"] == kim.id


async def test_guessing_at_codes_is_limited(api: LocalBotApi, running: Running, code: str) -> None:
    kim, clock = api.phone(KIM, "Kim"), [MORNING]
    async with running(now=lambda: clock[0]) as database:
        for _ in range(MOST_GUESSES):
            kim.text("AAAA-BBBB-CCCC")
        kim.text(code)
        api.phone(701, "Lee").text("hello")
        await seen.until_replies(api, 1, 701)
        with database.reading() as work:
            assert work.register.memberships_of(KIM) == ()
        assert await seen.until_replies(api, 1, KIM) == [STRANGER]
        clock[0] += timedelta(hours=1)
        kim.text(code)
        assert (await seen.until_replies(api, 2, KIM))[1] == WELCOME


async def test_a_member_keeps_the_place_held_and_the_code_stays_good(
    api: LocalBotApi, running: Running, code: str
) -> None:
    async with running() as database:
        api.phone(ROBIN).text(code)
        assert await seen.until_replies(api, 1) == [WELCOME]
        api.phone(KIM, "Kim").text(code)
        assert await seen.until_replies(api, 1, KIM) == [WELCOME]
        with database.reading() as work:
            assert [m.name for m in work.register.memberships_of(ROBIN)] == ["owner"]
            assert [m.name for m in work.register.memberships_of(KIM)] == ["Kim"]


async def test_bots_and_channels_are_not_listened_to(api: LocalBotApi, running: Running) -> None:
    message = {
        "message_id": 5,
        "date": 1,
        "text": "g1 ramps",
        "chat": {"id": ROBIN, "type": "private"},
    }
    api.raw({"message": {**message, "from": {"id": ROBIN, "is_bot": True}}})
    api.raw({"message": {**message, "chat": {"id": -5, "type": "channel"}}})
    api.raw({"channel_post": message})
    api.raw({"message": {**message, "from": {"id": ROBIN, "is_bot": False}, "text": "/help@x_bot"}})
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 1) == ["Any time."]
        states = [row["state"] for row in seen.update_rows(database)]
    assert states == ["handled"] * 5


@pytest.mark.parametrize(
    ("command", "text", "begins"),
    [
        ("/start", "help", "Text me"),
        ("/help", "help", "Text me"),
        ("/HELP@Local_Test_Bot", "help", "Text me"),
        ("/undo", "undo", "Undo: nothing"),
        ("/redo", "redo", "Redo: nothing"),
        ("/undo 7", "undo 7", "Undo: nothing"),
        ("/zebra", "/zebra", "I did not get that"),
    ],
)
async def test_commands_mean_the_text_of_the_same_name(
    api: LocalBotApi, running: Running, command: str, text: str, begins: str
) -> None:
    api.phone(ROBIN).text(command)
    async with running() as database:
        assert (await seen.until_replies(api, 1))[0].startswith(begins)
        assert [row["text"] for row in seen.entry_rows(database)] == [text]


async def test_the_menu_holds_the_skills_that_are_one_word(
    api: LocalBotApi, running: Running
) -> None:
    async with running():
        await api.until_called("setMyCommands")
    assert [command.command for command in commands()] == ["undo", "redo", "why", "help"]
    assert all(len(c.description) <= BotCommandLimit.MAX_DESCRIPTION for c in commands())
    [menu] = api.methods.commands.values()
    assert [entry["command"] for entry in menu] == ["undo", "redo", "why", "help"]


async def test_what_is_not_text_gets_an_answer_and_changes_nothing(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    robin.sticker()
    robin.photo(caption="g1 ramps")
    robin.voice()
    robin.document(b"x", "list.csv", caption="g1 ramps")
    async with running() as database:
        said = await seen.until_replies(api, 4)
        kinds = [row["kind"] for row in seen.entry_rows(database)]
        assert seen.visits(database) == set()
    assert kinds == ["sticker", "other", "other", "other"]
    assert all("Nothing changed" in text for text in said)


async def test_in_a_chat_with_others_no_name_is_said_that_the_text_did_not(
    api: LocalBotApi, running: Running
) -> None:
    group = api.phone(ROBIN, chat_id=-77, chat_type="supergroup")
    group.text("g1 ramps")
    api.raw(_service(-77))
    group.text("amara shadows")
    async with running() as database:
        first, second = await seen.until_replies(api, 2, -77)
        assert ("Amara O.", "Ramps", "2026-11-18") in seen.visits(database)
        assert [row["place"] for row in seen.entry_rows(database)] == ["telegram:-77"] * 2
        assert _named(database, first) == set()
        assert _named(database, second) == {"Amara O."}


def _named(database: Database, text: str) -> set[str]:
    with database.reading() as work:
        return {s.name for s in work.book(1).roster().students if s.name in text}


def _service(chat: int) -> dict[str, object]:
    robin = {"id": ROBIN, "is_bot": False}
    about = {"message_id": 90, "date": 1, "from": robin, "chat": {"id": chat, "type": "supergroup"}}
    return {"message": {**about, "new_chat_members": [robin]}}
