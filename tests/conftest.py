"""Fixtures every test may use."""

from tests.classroom_fixture import classbook, classroom, classroom_file
from tests.local_bot_api.fixtures import api, bot, remote

__all__ = ["api", "bot", "classbook", "classroom", "classroom_file", "remote"]
