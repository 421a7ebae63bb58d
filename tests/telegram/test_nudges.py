"""Promise 7 on the platform: what is due goes to members' private chats, once, and its buttons
work."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from bot.telegram.running import Pace
from tests.local_bot_api import LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import HASTY, Running
from tests.telegram.rooms import ROBIN

DIGEST_TIME = datetime(2026, 11, 18, 13, 15, tzinfo=UTC)  # 7:15 in the class
OFTEN = Pace(limited=False, patience=HASTY.patience, poll_seconds=20, look_seconds=0.01)
FIRST_LINE = "Wed 18 Nov. Everyone is here."


async def test_the_digest_is_sent_when_its_time_comes_and_once(
    api: LocalBotApi, running: Running
) -> None:
    clock = Clock(DIGEST_TIME - timedelta(seconds=1))
    async with running(pace=OFTEN, now=clock):
        api.phone(ROBIN).text("thanks")
        assert await seen.until_replies(api, 1) == ["Any time."]
        clock.now = DIGEST_TIME
        replies = await seen.until_replies(api, 2)
        assert replies[1].splitlines()[0] == FIRST_LINE
        api.phone(ROBIN).text("thanks")
        assert (await seen.until_replies(api, 3))[2] == "Any time."
    async with running(pace=OFTEN, now=clock):
        api.phone(ROBIN).text("mute")
        replies = await seen.until_replies(api, 4)
    assert sum(FIRST_LINE in reply for reply in replies) == 1


async def test_a_group_that_a_member_writes_in_gets_none(
    api: LocalBotApi, running: Running
) -> None:
    clock, group = Clock(DIGEST_TIME - timedelta(seconds=1)), -77
    async with running(pace=OFTEN, now=clock):
        api.phone(ROBIN).text("thanks")
        api.phone(ROBIN, chat_id=group, chat_type="supergroup").text("thanks")
        assert await seen.until_replies(api, 1, group) == ["Any time."]
        clock.now = DIGEST_TIME
        replies = await seen.until_replies(api, 2)
        assert replies[1].splitlines()[0] == FIRST_LINE
    assert seen.replies(api, group) == ["Any time."]


async def test_the_buttons_of_the_digest_are_answered(api: LocalBotApi, running: Running) -> None:
    clock = Clock(DIGEST_TIME - timedelta(seconds=1))
    async with running(pace=OFTEN, now=clock):
        api.phone(ROBIN).text("thanks")
        await seen.until_replies(api, 1)
        clock.now = DIGEST_TIME
        await seen.until_replies(api, 2)
        assert seen.labels(api) == ["Ran as planned", "Someone is away", "Change the plan"]
        api.phone(ROBIN).press("Someone is away")
        replies = await seen.until_replies(api, 3)
    assert replies[2].startswith("Text me who, as in ")


class Clock:
    """A clock that stands where it is put."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        """The moment it shows."""
        return self.now
