"""The local Bot API server keeps the promises other tests rest on."""

import asyncio
from datetime import timedelta

import pytest
from telegram import (
    BotCommand,
    Update,
)
from telegram.error import (
    Conflict,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
    TimedOut,
)

from tests.local_bot_api import Call, LocalBotApi
from tests.local_bot_api.fixtures import NOW, Bot, client, raw_call


async def _ids(bot: Bot, offset: int = 0, limit: int = 100) -> list[int]:
    return [u.update_id for u in await bot.get_updates(offset, limit=limit)]


async def test_an_update_is_given_until_a_higher_offset_is_asked_for(
    api: LocalBotApi, bot: Bot
) -> None:
    for text in ("one", "two", "three"):
        api.phone().text(text)
    assert await _ids(bot) == [1000, 1001, 1002]
    assert await _ids(bot) == [1000, 1001, 1002]
    assert await _ids(bot, limit=2) == [1000, 1001]
    assert await _ids(bot, 1001) == [1001, 1002]
    assert await _ids(bot) == [1001, 1002]
    assert api.updates.confirmed == 1001
    assert await _ids(bot, 1003) == []
    assert api.updates.pending == []


async def test_a_negative_offset_reads_from_the_end_and_forgets_the_rest(
    api: LocalBotApi, bot: Bot
) -> None:
    for text in ("one", "two", "three"):
        api.phone().text(text)
    assert await _ids(bot, -1) == [1002]
    assert await _ids(bot) == [1002]


async def test_an_offset_far_in_the_future_confirms_nothing(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("one")
    assert await _ids(bot, 5_000) == [1000]
    assert api.updates.confirmed == 1000


async def test_a_long_poll_is_answered_when_something_is_said(api: LocalBotApi, bot: Bot) -> None:
    poll = asyncio.create_task(bot.get_updates(timeout=20))
    await api.until_called("getUpdates")
    sent = api.phone().text("hi")
    (update,) = await poll
    assert update.update_id == sent.update_id
    assert update.message is not None
    assert update.message.text == "hi"
    assert update.message.date.timestamp() == NOW


async def test_a_long_poll_ends_empty_when_its_time_is_over(api: LocalBotApi, bot: Bot) -> None:
    assert await bot.get_updates(timeout=1) == ()
    assert [call.status for call in api.called("getUpdates")] == [200]


async def test_the_second_poller_ends_the_first_with_a_conflict(api: LocalBotApi, bot: Bot) -> None:
    async with client(api) as second:
        first_poll = asyncio.create_task(bot.get_updates(timeout=20))
        await api.until_called("getUpdates")
        second_poll = asyncio.create_task(second.get_updates(timeout=20))
        with pytest.raises(Conflict, match="terminated by other getUpdates request"):
            await first_poll
        api.phone().text("hi")
        assert [u.update_id for u in await second_poll] == [1000]
    assert api.updates.conflicts == 1


async def test_a_poller_that_is_gone_is_no_conflict_and_confirms_nothing(
    api: LocalBotApi, bot: Bot
) -> None:
    async with client(api) as killed:
        poll = asyncio.create_task(killed.get_updates(timeout=20))
        await api.until_called("getUpdates")
        poll.cancel()
        await asyncio.gather(poll, return_exceptions=True)
    assert await _ids(bot) == []
    api.phone().text("hi")
    assert await _ids(bot) == [1000]
    assert api.updates.conflicts == 0


async def test_only_the_kinds_asked_for_are_queued(api: LocalBotApi, bot: Bot) -> None:
    await bot.get_updates(allowed_updates=["callback_query"])
    assert api.phone().text("hi").update_id is None
    await bot.get_updates()
    assert api.phone().text("still not").update_id is None
    await bot.get_updates(allowed_updates=[])
    assert api.phone().text("now").update_id == 1000
    assert [list(update) for update in api.updates.filtered] == [["message"], ["message"]]


@pytest.mark.parametrize(
    ("token", "status", "description"),
    [("123456:wrong", 401, "Unauthorized"), ("no-token-at-all", 404, "Not Found")],
)
async def test_a_wrong_token_is_rejected(
    api: LocalBotApi, token: str, status: int, description: str
) -> None:
    with pytest.raises(InvalidToken):
        async with client(api, token):
            pass
    assert [(call.status, call.description) for call in api.calls] == [(status, description)]
    assert api.violations == []


async def test_get_me_names_the_bot(bot: Bot) -> None:
    assert (await bot.get_me()).username == "local_test_bot"


async def test_commands_and_descriptions_are_kept(api: LocalBotApi, bot: Bot) -> None:
    await bot.set_my_commands([BotCommand("help", "What may be said")])
    await bot.set_my_description("Rotations")
    await bot.set_my_short_description("Bins")
    assert await bot.get_my_commands() == (BotCommand("help", "What may be said"),)
    assert api.methods.descriptions == {"description": "Rotations", "short_description": "Bins"}


async def test_pending_updates_can_be_counted_and_dropped(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    assert (await bot.get_webhook_info()).pending_update_count == 1
    await bot.delete_webhook()
    assert (await bot.get_webhook_info()).pending_update_count == 1
    await bot.delete_webhook(drop_pending_updates=True)
    assert (await bot.get_webhook_info()).pending_update_count == 0


async def test_trouble_before_the_call_leaves_nothing_behind(
    api: LocalBotApi, bot: Bot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PTB_TIMEDELTA", "true")  # RetryAfter warns without
    api.phone().text("hi")
    api.fail("retry_after", "sendMessage", seconds=7)
    api.fail("error", "sendMessage", status=502, description="Bad Gateway")
    api.fail("drop", "sendMessage")
    with pytest.raises(RetryAfter) as flood:
        await bot.send_message(501, "x")
    with pytest.raises(NetworkError, match="Bad Gateway"):
        await bot.send_message(501, "x")
    with pytest.raises(NetworkError, match=r"RemoteProtocolError|ReadError"):
        await bot.send_message(501, "x")
    assert flood.value.retry_after == timedelta(seconds=7)
    assert [m["text"] for m in api.visible(501)] == ["hi"]
    await bot.send_message(501, "y")
    assert [m["text"] for m in api.visible(501)] == ["hi", "y"]
    assert api.violations == []


async def test_trouble_after_the_call_leaves_the_message_in_the_chat(
    api: LocalBotApi, bot: Bot
) -> None:
    api.phone().text("hi")
    api.fail("drop_after", "sendMessage")
    api.fail("malformed", "sendMessage")
    api.fail("slow", "sendMessage", seconds=30)
    with pytest.raises(NetworkError, match=r"RemoteProtocolError|ReadError"):
        await bot.send_message(501, "dropped")
    with pytest.raises(TelegramError, match="Invalid server response"):
        await bot.send_message(501, "malformed")
    with pytest.raises(TimedOut):
        await bot.send_message(501, "late", read_timeout=0.05)
    assert [m["text"] for m in api.visible(501)] == ["hi", "dropped", "malformed", "late"]


async def test_a_fault_waits_for_its_call_and_ends(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    api.fail("error", "sendMessage", skip=1, times=2)
    outcomes = []
    for _ in range(4):
        outcome = (await raw_call(api, "sendMessage", chat_id=501, text="x"))["ok"]
        outcomes.append(outcome)
    assert outcomes == [True, False, False, True]


async def test_a_bot_that_is_blocked_may_not_write(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    api.chats.chats[501].is_blocked = True
    with pytest.raises(Forbidden, match="bot was blocked by the user"):
        await bot.send_message(501, "x")


async def test_any_update_can_be_queued(api: LocalBotApi, bot: Bot) -> None:
    assert api.raw({"poll_answer": {}}) == 1000
    assert api.raw({"update_id": 1005, "message": {"text": "no chat"}}) == 1005
    api.phone().text("hi")
    answer = await raw_call(api, "getUpdates")
    assert answer["result"][:2] == [
        {"update_id": 1000, "poll_answer": {}},
        {"update_id": 1005, "message": {"text": "no chat"}},
    ]
    with pytest.raises(KeyError):
        Update.de_json(answer["result"][1], bot)
    api.raw("this is not JSON")
    with pytest.raises(TelegramError, match="Invalid server response"):
        await bot.get_updates()
    assert await _ids(bot, 1008) == []


async def test_calls_are_recorded_in_order_with_their_times(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    await bot.send_message(501, "one")
    await bot.send_message(501, "two")
    calls = api.called("sendMessage")
    assert [call.given["text"] for call in calls] == ["one", "two"]
    assert calls[0].arrived < calls[1].arrived
    assert [type(call) for call in calls] == [Call, Call]
