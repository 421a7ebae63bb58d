"""Fixtures and short forms for tests that talk to the local Bot API server."""

from collections.abc import AsyncIterator, Iterator
from typing import Any

import httpx
import pytest
from telegram import (
    InlineKeyboardButton,
    InlineKeyboardMarkup,
)
from telegram.ext import ExtBot

from tests.local_bot_api import LocalBotApi, Remote, running_apart

NOW = 1_795_000_000
Bot = ExtBot[None]


@pytest.fixture
async def api() -> AsyncIterator[LocalBotApi]:
    """A server whose clock stands still."""
    async with LocalBotApi(clock=lambda: NOW) as running:
        yield running


@pytest.fixture
async def bot(api: LocalBotApi) -> AsyncIterator[Bot]:
    """The real client, pointed at the server."""
    async with client(api) as running:
        yield running


def client(api: LocalBotApi | Remote, token: str | None = None) -> Bot:
    """A client of python-telegram-bot for a server, not started yet."""
    return ExtBot(token or api.token, f"{api.base_url}/bot", f"{api.base_url}/file/bot")


async def raw_call(api: LocalBotApi, method: str, **parameters: Any) -> dict[str, Any]:
    """Make a call past the client, which could not be made to send such a thing."""
    async with httpx.AsyncClient() as http:
        answer = await http.post(f"{api.base_url}/bot{api.token}/{method}", json=parameters)
    result: dict[str, Any] = answer.json()
    return result


def keyboard(*labels: str) -> InlineKeyboardMarkup:
    """One button a row; its data is the label in lower case."""
    return InlineKeyboardMarkup(
        [[InlineKeyboardButton(n, callback_data=n.lower())] for n in labels]
    )


@pytest.fixture(scope="module")
def remote() -> Iterator[Remote]:
    """A server in a process of its own."""
    with running_apart() as running:
        yield running
