"""A local Bot API at a fixed time, and the whole bot running against it."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from datetime import datetime
from pathlib import Path

import pytest

from bot.telegram.delivery import Patience
from bot.telegram.running import Pace, serve
from storage.database import Database, open_database
from tests.local_bot_api import LocalBotApi
from tests.telegram.rooms import MORNING, ROBIN, room, settings_for

HASTY = Pace(limited=False, patience=Patience(first=0.001, most=0.01), poll_seconds=20)
Running = Callable[..., AbstractAsyncContextManager[Database]]


@pytest.fixture
async def api() -> AsyncIterator[LocalBotApi]:
    """A server whose clock stands still in the morning of a school day; no call is invalid."""
    async with LocalBotApi(clock=MORNING.timestamp) as running:
        yield running
        assert running.violations == []


@pytest.fixture
def url(tmp_path: Path) -> str:
    """A database with the demo class, whose owner is Robin."""
    return room(tmp_path / "class.db", ROBIN)


@pytest.fixture
def running(api: LocalBotApi, url: str) -> Running:
    """`async with running() as database`: the bot, stopped cleanly at the end."""

    @asynccontextmanager
    async def start(
        *,
        pace: Pace = HASTY,
        token: str | None = None,
        now: Callable[[], datetime] = lambda: MORNING,
    ) -> AsyncIterator[Database]:
        database, stop = open_database(url), asyncio.Event()
        settings = settings_for(url, api.base_url, token or api.token)
        task = asyncio.create_task(serve(settings, database, stop, pace=pace, now=now))
        try:
            yield database
        finally:
            stop.set()
            code = await task
            database.close()
        assert code == 0

    return start
