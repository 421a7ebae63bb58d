"""People without a place: one fixed reply, and the one-time code that gives them a place."""

from __future__ import annotations

import re
from datetime import datetime

from bot.telegram.updates import Said, payload
from bot.wording.telegram import STRANGER, joined
from storage.database import Work
from storage.post import Letter

_CODE = re.compile(r"[A-Z0-9]{4}(?:-[A-Z0-9]{4}){2}", re.IGNORECASE)


def code_in(said: Said) -> str | None:
    """The one-time code that a text consists of (or a start link carries), if any."""
    if said.kind != "text":
        return None
    text = (payload(said.text) or said.text).strip()
    return text if _CODE.fullmatch(text) else None


def join(work: Work, said: Said, code: str, now: datetime, update_id: int) -> Letter | None:
    """Give the sender the place behind a code; None for a wrong one, or one try too many."""
    if not work.register.may_guess(said.chat, now):
        return None
    member = work.register.redeem(code, said.account, now)
    if member is None:
        return None
    name = work.book(member.class_id).roster().class_.name
    return work.post.send(said.chat, joined(name), update_id=update_id)


def greet(work: Work, chat: int, now: datetime, update_id: int) -> Letter | None:
    """The fixed reply, at most once an hour in a chat."""
    if not work.register.may_greet(chat, now):
        return None
    return work.post.send(chat, STRANGER, update_id=update_id)
