"""What the buttons under the morning summary send: something of today changes."""

from __future__ import annotations

from bot.requests import Request, SayHow
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener

_AWAY = ("^ someone|somebody is away|out|absent|missing|sick $",)
_CHANGE = ("^ change the? plan $",)


def _hear_how(what: str, clause: Clause) -> Request | None:
    return None if clause.children or clause.bins else SayHow(what)


TOLD_SOMEONE_AWAY = Listener(_AWAY, lambda clause: _hear_how("away", clause))
TOLD_CHANGE_PLAN = Listener(_CHANGE, lambda clause: _hear_how("plan", clause))
