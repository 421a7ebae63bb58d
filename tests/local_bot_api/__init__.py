"""A Bot API server for tests, on loopback: strict about calls, true about offsets.

In a test: ``async with LocalBotApi() as api`` and ``Bot(api.token, f"{api.base_url}/bot",
f"{api.base_url}/file/bot")``; people write with ``api.phone(501, "Robin").text("hi")``.
As a process: ``python -m tests.local_bot_api --port 0``, driven over /control (control.py).
"""

from tests.local_bot_api.chats import BOT
from tests.local_bot_api.phones import Person, Phone, Sent
from tests.local_bot_api.remote import ControlError, Remote, running_apart
from tests.local_bot_api.server import TOKEN, Call, LocalBotApi

__all__ = [
    "BOT",
    "TOKEN",
    "Call",
    "ControlError",
    "LocalBotApi",
    "Person",
    "Phone",
    "Remote",
    "Sent",
    "running_apart",
]
