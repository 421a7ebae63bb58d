"""A raw update as what a person said or pressed.

Read off the platform's own JSON, so that an update a library cannot make an object of is no more
lost than any other. https://core.telegram.org/bots/api#update names the fields.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from bot.folder.sent_calendar import is_calendar

KINDS = ("message", "edited_message", "callback_query")
_COMMANDS = frozenset(("start", "help", "undo", "redo", "why"))
_COMMAND = re.compile(r"/([A-Za-z0-9_]{1,32})(?:@(\w+))?(?:\s+(.*))?", re.DOTALL)
_MEDIA = """animation audio checklist contact dice document game invoice live_photo location
paid_media photo poll story venue video video_note voice"""
_NOT_TEXT = frozenset(_MEDIA.split())

Raw = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Attached:
    """A calendar file that came with a message, as the platform names it; `size` in bytes, 0 where
    it does not say; `at` as stamped on the message."""

    file_id: str
    name: str
    size: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Said:
    """A message or an edit of one; `at` is the time stamped on the (original) message. The text of
    one with a file is its caption."""

    chat: int
    account: int
    kind: str  # text, edit, file, sticker, other
    text: str
    message_id: int
    at: datetime
    private: bool
    file: Attached | None = None


@dataclass(frozen=True, slots=True)
class Pressed:
    """A button press; `button` is what its data names, if it may be one of ours."""

    chat: int
    account: int
    query: str
    button: str
    private: bool


def heard(update: Raw, username: str) -> Said | Pressed | None:
    """What an update says; None for what is not said to this bot by a person.

    `username` is the bot's own, without the @. Raises KeyError, TypeError or ValueError for an
    update that is not shaped as published.
    """
    kind = next((kind for kind in KINDS if kind in update), None)
    if kind is None:
        return None
    part = update[kind]
    if not isinstance(part, dict):
        raise TypeError(kind)
    if kind == "callback_query":
        return _pressed(part)
    if kind == "edited_message":
        # Without a text it is a caption, or a place that moves: nothing that was read before.
        return _said(part, "edit", username) if "text" in part else None
    content = _kind(part)
    return _said(part, content, username) if content is not None else None


def payload(text: str) -> str | None:
    """The payload of a start link: "/start CODE"."""
    match = _COMMAND.fullmatch(text.strip())
    return match[3] if match is not None and match[1] == "start" else None


def _kind(message: Raw) -> str | None:
    if "text" in message:
        return "text"
    if "sticker" in message:
        return "sticker"
    if _attached(message) is not None:
        return "file"
    return None if _NOT_TEXT.isdisjoint(message) else "other"


def _said(message: Raw, kind: str, username: str) -> Said | None:
    sender = message.get("from")
    if sender is None or sender["is_bot"]:
        return None
    text = _as_words(message["text"], username) if "text" in message else ""
    if text is None:
        return None
    file = _attached(message) if kind == "file" else None
    if file is not None:
        text = str(message.get("caption", ""))
    chat = message["chat"]
    return Said(
        chat=int(chat["id"]),
        account=int(sender["id"]),
        kind=kind,
        text=text,
        message_id=int(message["message_id"]),
        at=datetime.fromtimestamp(message["date"], UTC),
        private=chat["type"] == "private",
        file=file,
    )


def _attached(message: Raw) -> Attached | None:
    """The calendar file of a message; other files are none that can be read."""
    document = message.get("document")
    if document is None:
        return None
    name = str(document.get("file_name", ""))
    if not is_calendar(name) and document.get("mime_type") != "text/calendar":
        return None
    named = name if is_calendar(name) else f"{name or 'calendar'}.ics"
    at = datetime.fromtimestamp(message["date"], UTC)
    return Attached(str(document["file_id"]), named, int(document.get("file_size") or 0), at)


def _as_words(text: str, username: str) -> str | None:
    """A command as the text that means the same; None where it is meant for another bot."""
    match = _COMMAND.fullmatch(text.strip()) if text.lstrip().startswith("/") else None
    if match is None:
        return text
    command, bot, rest = match[1].lower(), match[2], match[3]
    if bot is not None and bot.lower() != username.lower():
        return None
    if command == "start":
        return f"/start {rest}" if rest else "help"
    return " ".join(filter(None, (command, rest))) if command in _COMMANDS else text


def _pressed(query: Raw) -> Pressed | None:
    message = query.get("message")
    if message is None:
        return None
    return Pressed(
        chat=int(message["chat"]["id"]),
        account=int(query["from"]["id"]),
        query=str(query["id"]),
        button=str(query.get("data", "")).removeprefix("b:"),
        private=message["chat"]["type"] == "private",
    )
