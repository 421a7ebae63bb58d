"""Fixtures every test may use."""

from tests.local_bot_api.fixtures import api, bot, remote

__all__ = ["api", "bot", "remote"]
