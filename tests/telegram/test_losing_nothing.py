"""Promise: no message is lost and none counts twice, whatever fails around it."""

from __future__ import annotations

import json
import sqlite3
from datetime import timedelta
from typing import Any

import pytest
from sqlalchemy.exc import OperationalError

from bot import conversation
from bot.telegram import handling
from bot.telegram.running import Pace
from bot.wording.telegram import SORRY
from storage.database import open_database
from storage.post import Post
from tests.local_bot_api import LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import MORNING, ROBIN

G1 = "✓ Ramps: Amara O., Mateo V., Will F., Yuki S."


def _text(update_id: int, text: str, message_id: int) -> dict[str, Any]:
    robin = {"id": ROBIN, "is_bot": False, "first_name": "Robin"}
    message = {
        "message_id": message_id,
        "from": robin,
        "chat": {"id": ROBIN, "type": "private"},
        "date": int(MORNING.timestamp()),
        "text": text,
    }
    return {"update_id": update_id, "message": message}


@pytest.mark.parametrize("count", [1, 3])
async def test_the_offset_moves_only_after_the_update_is_committed(
    api: LocalBotApi, running: Running, url: str, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    moved: list[tuple[int, int]] = []
    path = url.removeprefix("sqlite:///")

    def look(self: Post, *arguments: Any) -> Any:
        if len(moved) < 3:
            with sqlite3.connect(path) as reader:
                [kept] = reader.execute("SELECT count(*) FROM updates").fetchone()
            reader.close()
            moved.append((api.updates.confirmed, kept))
            raise OperationalError("INSERT", {}, sqlite3.OperationalError("disk is full"))
        return kept_well(self, *arguments)

    name = "mark_handled" if count == 1 else "keep"
    kept_well = getattr(Post, name)
    monkeypatch.setattr(Post, name, look)
    for text in ["g1 ramps", "g2 ramps", "g3 ramps"][:count]:
        api.phone(ROBIN).text(text)
    async with running() as database:
        await seen.until_replies(api, count)
        await api.until_confirmed()
        assert [row["text"] for row in seen.entry_rows(database)] == [
            "g1 ramps",
            "g2 ramps",
            "g3 ramps",
        ][:count]
    assert moved == [(1000, 0)] * 3


async def test_what_was_kept_and_not_handled_is_handled_at_the_start_in_order(
    api: LocalBotApi, running: Running, url: str
) -> None:
    database = open_database(url)
    with database.writing() as work:
        texts = ["g1 ramps", "undo", "redo"]
        raw = {n: json.dumps(_text(n, text, n)) for n, text in enumerate(texts, start=40)}
        work.post.keep(raw, MORNING)
    database.close()
    api.phone(ROBIN).text("who was at ramps")
    async with running() as database:
        first, second, third, _ = await seen.until_replies(api, 4)
        keys = [row["key"] for row in seen.entry_rows(database)]
    assert first.startswith(G1)
    assert second.startswith("Undone")
    assert third.startswith("Back again")
    assert keys[:3] == ["update:40:501:40", "update:41:501:41", "update:42:501:42"]
    assert [row["received_at"] for row in seen.update_rows(database)][:3] == [MORNING] * 3


async def test_a_reply_that_was_not_sent_is_sent_at_the_start_before_newer_ones(
    api: LocalBotApi, running: Running, url: str
) -> None:
    database = open_database(url)
    with database.writing() as work:
        work.post.send(ROBIN, "from before")
    database.close()
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 2) == ["from before", "Any time."]
    assert [row["state"] for row in seen.letter_rows(database)] == ["sent", "sent"]
    assert [row["message"] for row in seen.letter_rows(database)] == [2, 3]


async def test_the_same_update_again_changes_nothing_and_gets_no_second_reply(
    api: LocalBotApi, running: Running
) -> None:
    api.phone(ROBIN).text("hello")
    async with running() as database:
        await seen.until_replies(api, 1)
        api.raw(_text(2000, "g1 ramps", 7))
        await seen.until_replies(api, 2)
        api.raw(_text(2000, "g1 ramps", 7))
        api.raw(_text(2001, "thanks", 8))
        assert (await seen.until_replies(api, 3))[-1] == "Any time."
        assert len(seen.replies(api)) == 3
        assert len(seen.entry_rows(database)) == 3


async def test_an_update_handled_before_a_crash_is_not_handled_when_it_is_given_again(
    api: LocalBotApi, running: Running
) -> None:
    sent = api.phone(ROBIN).text("g1 ramps")
    assert sent.update_id is not None
    async with running():
        await seen.until_replies(api, 1)
        await api.until_confirmed()
    api.updates.confirmed = sent.update_id  # as if the offset had not arrived
    api.updates.add_raw(json.dumps(_text(sent.update_id, "g1 ramps", 1)), sent.update_id)
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        await api.until(lambda: seen.replies(api)[-1] == "Any time.")
        assert len(seen.replies(api)) == 2
        assert [row["text"] for row in seen.entry_rows(database)] == ["g1 ramps", "thanks"]


async def test_ids_may_begin_anew_lower(api: LocalBotApi, running: Running) -> None:
    robin = api.phone(ROBIN)
    robin.text("hello")
    async with running(pace=Pace(limited=False, poll_seconds=1)) as database:
        await seen.until_replies(api, 1)
        polls = len(api.called("getUpdates"))
        await api.until_called("getUpdates", polls + 2)
        asked = [call.given.get("offset") for call in api.called("getUpdates")]
        api.updates.next_id = api.updates.confirmed = 5
        robin.text("thanks")
        assert (await seen.until_replies(api, 2))[-1] == "Any time."
        assert sorted(row["id"] for row in seen.update_rows(database)) == [5, 1000]
    assert asked[0] is None
    assert "1001" in asked
    assert asked[-1] is None


async def test_an_id_used_again_after_days_is_a_new_update(
    api: LocalBotApi, running: Running, url: str
) -> None:
    api.phone(ROBIN).text("hello")
    async with running():
        await seen.until_replies(api, 1)
    api.updates.next_id = api.updates.confirmed = 1000
    api.phone(ROBIN).text("thanks")
    async with running(now=lambda: MORNING + timedelta(days=8)) as database:
        assert (await seen.until_replies(api, 2))[-1] == "Any time."
        keys = [row["key"] for row in seen.entry_rows(database)]
    assert keys == ["update:1000:501:1", "update:1000:501:3"]


BROKEN: list[dict[str, Any]] = [
    {"message": {"text": "Mia R. did ramps", "from": {"id": 1, "is_bot": False}}},
    {"message": {"text": "Mia R.", "from": {"is_bot": False}, "chat": {}, "message_id": 1}},
    {"message": "Mia R."},
    {"callback_query": {"message": {"chat": {"id": 5}}}},
    {"edited_message": {"text": "Mia R.", "from": {"id": 1, "is_bot": False}, "chat": []}},
]


@pytest.mark.parametrize("update", BROKEN)
async def test_an_update_that_nothing_can_be_made_of_is_kept_and_told_and_blocks_nothing(
    api: LocalBotApi,
    running: Running,
    update: dict[str, Any],
    caplog: pytest.LogCaptureFixture,
) -> None:
    update_id = api.raw(update)
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 1) == ["Any time."]
        await api.until_confirmed()
        dead, handled = seen.update_rows(database)
    assert (dead["id"], dead["state"], handled["state"]) == (update_id, "dead", "handled")
    assert json.loads(dead["raw"]) == {"update_id": update_id, **update}
    told = [r.getMessage() for r in caplog.records if r.levelname == "ERROR"]
    assert len(told) == 1
    assert told[0].startswith(f"Update {update_id} could not be handled (")
    assert "Mia" not in caplog.text


@pytest.mark.parametrize("text", ['{"update_id": 1001, "message": Mia}', "Mia }{ no JSON"])
async def test_an_update_that_is_not_json_is_kept_and_blocks_nothing(
    api: LocalBotApi, running: Running, text: str, caplog: pytest.LogCaptureFixture
) -> None:
    robin = api.phone(ROBIN)
    robin.text("hello")
    async with running() as database:
        await seen.until_replies(api, 1)
        await api.until_confirmed()
        api.raw(text)
        robin.text("thanks")
        assert (await seen.until_replies(api, 2))[-1] == "Any time."
        _, dead, _ = seen.update_rows(database)
    assert (dead["id"], dead["raw"], dead["state"]) == (1001, text, "dead")
    assert "Mia" not in caplog.text


async def test_a_cut_off_answer_is_asked_for_again(api: LocalBotApi, running: Running) -> None:
    api.fail("malformed", "getUpdates", times=3)
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 1) == ["Any time."]
        assert [row["state"] for row in seen.update_rows(database)] == ["handled"]


async def test_a_mistake_of_ours_loses_no_update_and_is_owned_up_to(
    api: LocalBotApi,
    running: Running,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    sound = conversation.take

    def take(book: Any, member: Any, incoming: Any, plans: Any) -> Any:
        answer = sound(book, member, incoming, plans)
        if incoming.text == "g1 ramps":
            raise RuntimeError("Amara O.")
        return answer

    monkeypatch.setattr(handling, "take", take)
    robin = api.phone(ROBIN)
    for text in ("g2 ramps", "g1 ramps", "thanks"):
        robin.text(text)
    async with running() as database:
        assert (await seen.until_replies(api, 3))[1:] == [SORRY, "Any time."]
        assert [row["text"] for row in seen.entry_rows(database)] == ["g2 ramps", "thanks"]
        assert {name for name, _, _ in seen.visits(database)}.isdisjoint({"Amara O."})
        [dead] = [row for row in seen.update_rows(database) if row["state"] == "dead"]
    assert dead["fault"].startswith("RuntimeError in take, line ")
    assert json.loads(dead["raw"])["message"]["text"] == "g1 ramps"
    assert "Amara" not in caplog.text


async def test_a_handled_update_leaves_no_second_copy_of_what_was_said(
    api: LocalBotApi, running: Running
) -> None:
    for text in ("mei ramps", "omar shadows"):
        api.phone(ROBIN).text(text)
    async with running() as database:
        await seen.until_replies(api, 2)
        assert [(row["state"], row["raw"]) for row in seen.update_rows(database)] == [
            ("handled", ""),
            ("handled", ""),
        ]


async def test_the_kinds_asked_for_are_named_in_every_call_and_nothing_is_dropped(
    api: LocalBotApi, running: Running
) -> None:
    api.phone(ROBIN).text("thanks")
    async with running():
        await seen.until_replies(api, 1)
        await api.until_called("getUpdates", 2)
    kinds = '["message", "edited_message", "callback_query"]'
    assert {call.given["allowed_updates"] for call in api.called("getUpdates")} == {kinds}
    assert [call.given for call in api.called("deleteWebhook")] == [{}]
