"""The local Bot API server in a process of its own."""

import asyncio
import subprocess
import sys
from typing import Any

import httpx
import pytest

from tests.local_bot_api import ControlError, Remote
from tests.local_bot_api.fixtures import NOW, Bot, client, keyboard


async def test_a_server_apart_is_driven_over_its_control_endpoints(remote: Remote) -> None:
    sent = remote("text", user_id=501, first_name="Robin", text="hi", date=NOW)
    photo = remote("photo", user_id=501, first_name="Robin", content="/9j/", caption="board")
    album = remote("album", user_id=501, first_name="Robin", contents=["/9j/", "/9j/"])
    assert sent == {"update_id": 1000, "message_id": 1}
    assert photo == {"update_id": 1001, "message_id": 2}
    assert [one["update_id"] for one in album] == [1002, 1003]
    async with client(remote) as bot:
        await bot.send_message(501, "ok", reply_markup=keyboard("Undo"))
        remote("press", user_id=501, first_name="Robin", label="Undo")
        updates = await bot.get_updates()
        assert updates[-1].callback_query is not None
        await updates[-1].callback_query.answer()
        await bot.get_updates(updates[-1].update_id + 1)
    assert remote("visible", chat_id=501)[-1]["text"] == "ok"
    methods = ["getMe", "sendMessage", "getUpdates", "answerCallbackQuery", "getUpdates"]
    assert [call["method"] for call in remote("calls")] == methods
    assert [press["data"] for press in remote("presses")] == ["undo"]
    state = remote("wait", confirmed=True)
    assert (state["confirmed"], state["pending"], state["violations"]) == (1005, [], 0)


def test_a_poller_killed_in_the_middle_of_a_poll_confirms_nothing(remote: Remote) -> None:
    seen = remote("state")
    url = f"{remote.base_url}/bot{remote.token}/getUpdates?timeout=50"
    code = f"import urllib.request; urllib.request.urlopen({url!r}).read()"
    with subprocess.Popen([sys.executable, "-c", code]) as poller:
        polls = len(remote("calls", method="getUpdates"))
        remote("wait", method="getUpdates", count=polls + 1)
        poller.kill()
    assert httpx.get(url.replace("timeout=50", "timeout=0")).json()["result"] == []
    update_id = remote("text", user_id=501, first_name="Robin", text="hi")["update_id"]
    polled = httpx.get(url).json()["result"]
    assert [update["update_id"] for update in polled] == [update_id]
    assert remote("state")["pending"] == [*seen["pending"], update_id]
    assert remote("state")["conflicts"] == 0
    httpx.get(url.replace("timeout=50", f"offset={update_id + 1}"))


async def test_many_updates_are_queued_at_once(remote: Remote) -> None:
    people = [{"user_id": 601, "first_name": "Sam"}, {"user_id": 602, "first_name": "Kim"}]
    first = remote("state")["next_update_id"]
    queued = remote("bulk", count=250, texts=["one", "two", "three"], people=people)
    assert queued["update_ids"] == list(range(first, first + 250))
    async with client(remote) as bot:
        batch = await bot.get_updates()
        await bot.get_updates(first + 250)
    assert len(batch) == 100
    texts = [update.message.text for update in batch[:4] if update.message]
    assert texts == ["one", "two", "three", "one"]


async def test_a_timed_talk_sends_the_next_text_when_the_reply_arrives(remote: Remote) -> None:
    async def echo(bot: Bot) -> None:
        offset = 0
        while True:
            for update in await bot.get_updates(offset, timeout=20):
                offset = update.update_id + 1
                assert update.message is not None
                await bot.send_message(update.message.chat_id, update.message.text or "")

    async with client(remote) as bot:
        task = asyncio.create_task(echo(bot))
        asked = {"count": 5, "texts": ["a", "b"], "user_id": 700, "first_name": "Lee"}
        result = await asyncio.to_thread(remote, "converse", **asked)
        task.cancel()
        await asyncio.gather(task, return_exceptions=True)
    assert len(result["seconds"]) == 5
    texts = [message["text"] for message in remote("visible", chat_id=700)]
    assert texts == ["a", "a", "b", "b", "a", "a", "b", "b", "a", "a"]


@pytest.mark.parametrize(
    ("what", "asked", "reason"),
    [
        ("dance", {}, "LookupError: no control endpoint 'dance'"),
        ("press", {"user_id": 800, "label": "x"}, "LookupError: no message with buttons"),
        ("fault", {"kind": "rain"}, "ValueError: fault kind 'rain': one of retry_after, error"),
        ("text", {"user_id": 501, "first_name": "R", "chat_id": -1, "text": "x"}, "ValueError"),
        ("wait", {"method": "getFile", "seconds": 0.01}, "TimeoutError"),
    ],
)
def test_control_says_what_is_wrong(
    remote: Remote, what: str, asked: dict[str, Any], reason: str
) -> None:
    with pytest.raises(ControlError) as refused:
        remote(what, **asked)
    assert str(refused.value).startswith(reason)
