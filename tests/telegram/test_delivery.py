"""Promise: replies go out in order in a chat, chats do not wait for each other, none is lost."""

from __future__ import annotations

from typing import Any

import pytest
from telegram.constants import InlineKeyboardButtonLimit, MessageLimit

from bot.telegram.delivery import Patience
from bot.telegram.letters import fitted, keyboard
from bot.telegram.running import Pace
from storage.database import open_database
from tests.local_bot_api import Call, LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import ROBIN, new_member

SAM = 502


@pytest.fixture
def two(url: str) -> None:
    """Sam is a member too."""
    database = open_database(url)
    with database.writing() as work:
        new_member(work, 1, SAM, "Sam")
    database.close()


@pytest.mark.usefixtures("two")
async def test_a_chat_whose_reply_is_stuck_holds_up_its_own_replies_only(
    api: LocalBotApi, running: Running
) -> None:
    api.fail("error", "sendMessage")
    api.phone(ROBIN).text("hello")
    api.phone(ROBIN).text("thanks")
    api.phone(SAM, "Sam").text("hello")
    slow = Pace(limited=False, patience=Patience(first=600, most=600))
    async with running(pace=slow) as database:
        assert len(await seen.until_replies(api, 1, SAM)) == 1
        assert seen.replies(api) == []
        await api.until_confirmed()
    assert [row["state"] for row in seen.letter_rows(database)] == ["waiting", "waiting", "sent"]
    async with running():
        said = await seen.until_replies(api, 2)
    assert [text[:5] for text in said] == ["Hello", "Any t"]


TROUBLES: list[dict[str, Any]] = [
    {"kind": "drop", "times": 3},
    {"kind": "error", "status": 502, "description": "Bad Gateway", "times": 3},
    {"kind": "error", "status": 500, "times": 3},
    {"kind": "retry_after", "times": 2},
]


@pytest.mark.parametrize("trouble", TROUBLES, ids=lambda t: f"{t['kind']}{t.get('status', '')}")
async def test_a_reply_is_sent_again_until_the_server_takes_it(
    api: LocalBotApi, running: Running, trouble: dict[str, Any]
) -> None:
    api.fail(method="sendMessage", **trouble)
    for text in ("hello", "thanks", "bye"):
        api.phone(ROBIN).text(text)
    async with running():
        said = await seen.until_replies(api, 3)
    assert [text[:4] for text in said] == ["Hell", "Any ", "Till"]
    assert len(api.called("sendMessage")) == 3 + trouble["times"]


@pytest.mark.parametrize("kind", ["drop_after", "malformed"])
async def test_a_reply_of_unknown_fate_is_sent_again_rather_than_lost(
    api: LocalBotApi, running: Running, kind: Any
) -> None:
    api.fail(kind, "sendMessage")
    for text in ("hello", "thanks"):
        api.phone(ROBIN).text(text)
    async with running():
        said = await seen.until_replies(api, 3)
    assert [text[:4] for text in said] == ["Hell", "Hell", "Any "]


async def test_a_limit_is_waited_for_by_the_rate_limiter(
    api: LocalBotApi, running: Running
) -> None:
    api.fail("retry_after", "sendMessage")
    api.phone(ROBIN).text("hello")
    async with running(pace=Pace(patience=Patience(first=600, most=600))):
        assert len(await seen.until_replies(api, 1)) == 1
    asked, again = api.called("sendMessage")
    assert (asked.status, again.status) == (429, 200)
    assert again.arrived - asked.arrived >= 1.0


async def test_a_reply_goes_out_only_after_the_one_before_it_is_marked(
    api: LocalBotApi, running: Running, url: str
) -> None:
    database = open_database(url)
    with database.writing() as work:
        for text in ("one", "two", "three"):
            work.post.send(ROBIN, text)
    states: list[list[str]] = []

    def look(call: Call) -> None:
        if call.method == "sendMessage":
            states.append([row["state"] for row in seen.letter_rows(database)])

    api.on_call = look
    assert api.phone(ROBIN).chat.messages == {}  # open, so that the bot may write there
    async with running():
        await seen.until_replies(api, 3)
    database.close()
    assert states == [
        ["waiting", "waiting", "waiting"],
        ["sent", "waiting", "waiting"],
        ["sent", "sent", "waiting"],
    ]


@pytest.mark.usefixtures("two")
async def test_a_refused_reply_is_given_up_and_nothing_else_with_it(
    api: LocalBotApi, running: Running
) -> None:
    api.phone(ROBIN).text("g1 ramps")
    api.phone(ROBIN).chat.is_blocked = True
    api.phone(SAM, "Sam").text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 1, SAM) == ["Any time."]
        await api.until(lambda: 403 in [call.status for call in api.called("sendMessage")])
        api.phone(ROBIN).chat.is_blocked = False
        api.phone(ROBIN).text("thanks")
        assert await seen.until_replies(api, 1) == ["Any time."]
        assert ("Amara O.", "Ramps", "2026-11-18") in seen.visits(database)
    assert [row["state"] for row in seen.letter_rows(database)] == ["failed", "sent", "sent"]


async def test_the_longest_text_and_the_longest_reply_get_through(
    api: LocalBotApi, running: Running, url: str
) -> None:
    database = open_database(url)
    with database.writing() as work:
        work.post.send(ROBIN, "A line.\n" * 1000, choices=[("L" * 300, "help"), ("", "help")])
    database.close()
    api.phone(ROBIN).text("x" * 4096)
    async with running():
        long, reply = await seen.until_replies(api, 2)
    assert long == "A line.\n" * 511 + "…"
    assert "nothing changed" in reply


def test_a_text_is_cut_at_the_end_of_a_line() -> None:
    assert fitted("one\ntwo\nthree", 12) == "one\ntwo\n…"
    assert fitted("one\ntwo\nthree", 13) == "one\ntwo\nthree"
    assert fitted("one two three", 10) == "one two …"
    assert fitted("👍👍👍👍", 7) == "👍👍…"
    assert fitted(" \n") == "…"
    for text in ("a" * 5000, "é\n" * 5000, "👍" * 5000, "\n" * 5000, "👍\n" * 2000):
        cut = fitted(text)
        assert len(cut.encode("utf-16-le")) // 2 <= MessageLimit.MAX_TEXT_LENGTH
        assert cut.strip()


def test_buttons_stand_in_rows_of_one_to_three_and_name_their_letter() -> None:
    labels = ["Undo", "Who's left", "Plan", "A long label for one button", "x" * 200, " ", "No"]
    markup = keyboard(987654321012, labels)
    assert markup is not None
    rows = [[button.text for button in row] for row in markup.inline_keyboard]
    assert rows == [
        ["Undo", "Who's left", "Plan"],
        ["A long label for one button"],
        ["x" * 39 + "…"],
        ["…", "No"],
    ]
    data = [str(button.callback_data) for row in markup.inline_keyboard for button in row]
    assert data == [f"b:987654321012:{n}" for n in range(7)]
    assert max(map(len, data)) <= InlineKeyboardButtonLimit.MAX_CALLBACK_DATA
    many = keyboard(1, [str(n) for n in range(300)])
    assert many is not None
    assert sum(len(row) for row in many.inline_keyboard) == 30
    assert keyboard(1, []) is None
