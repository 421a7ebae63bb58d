"""Chats as both sides see them: people, messages sent and edited, buttons, files."""

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.local_bot_api.refusals import Refused, bad_request

Message = dict[str, Any]
BOT: dict[str, Any] = {
    "id": 123456,
    "is_bot": True,
    "first_name": "Local Bot",
    "username": "local_test_bot",
}
UNCHANGED = (
    "message is not modified: specified new message content and reply markup are exactly "
    "the same as a current content and reply markup of the message"
)


@dataclass(slots=True)
class Chat:
    """One chat: its description, its messages by id, and whether the bot may write."""

    about: dict[str, Any]
    messages: dict[int, Message] = field(default_factory=dict)
    last_message_id: int = 0
    is_blocked: bool = False


@dataclass(slots=True)
class Press:
    """A button press: whether the bot may still answer it, and what it answered."""

    query: dict[str, Any]
    is_expired: bool = False
    answers: list[dict[str, Any]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class StoredFile:
    """A file on the server: by id, at a path, with its bytes."""

    file_id: str
    path: str
    content: bytes


class Chats:
    """All chats, presses and files of one bot. ``clock`` gives seconds since 1970."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self.clock = clock
        self.chats: dict[int, Chat] = {}
        self.presses: dict[str, Press] = {}
        self.files: dict[str, StoredFile] = {}
        self.paths: dict[str, StoredFile] = {}

    def open(self, about: dict[str, Any]) -> Chat:
        """The chat of that id, opened if new: from now on the bot can write there."""
        chat = self.chats.setdefault(about["id"], Chat(about))
        chat.about = about
        return chat

    def writable(self, chat_id: int | str) -> Chat:
        """The chat the bot writes to; refused when unknown or when the bot is blocked there."""
        chat = self.chats.get(chat_id) if isinstance(chat_id, int) else None
        if chat is None:
            raise bad_request("chat not found")
        if chat.is_blocked:
            raise Refused(403, "Forbidden: bot was blocked by the user")
        return chat

    def post(self, chat: Chat, sender: dict[str, Any], content: Message) -> Message:
        """Put a new message into a chat; ids count up in each chat by itself."""
        message_id = content.get("message_id", chat.last_message_id + 1)
        chat.last_message_id = max(chat.last_message_id, message_id)
        message = {
            "message_id": message_id,
            "from": sender,
            "chat": chat.about,
            "date": int(self.clock()),
        } | content
        chat.messages[message_id] = message
        return message

    def editable(self, chat_id: int | str, message_id: int) -> tuple[Chat, Message]:
        """A message of the bot that it may edit."""
        chat = self.writable(chat_id)
        message = chat.messages.get(message_id)
        if message is None:
            raise bad_request("message to edit not found")
        if message["from"] != BOT:
            raise bad_request("message can't be edited")
        return chat, message

    def replace(self, chat: Chat, old: Message, changes: Message) -> Message:
        """Edit a message; refused when nothing changes. A missing keyboard takes it away."""
        entities = {"entities", "caption_entities", "reply_markup"}
        kept = {k: v for k, v in old.items() if k not in entities and k != "edit_date"}
        new = kept | {k: v for k, v in changes.items() if v}
        if new == {k: v for k, v in old.items() if k != "edit_date"}:
            raise bad_request(UNCHANGED)
        new["edit_date"] = int(self.clock())
        chat.messages[new["message_id"]] = new
        return new

    def store(self, content: bytes, folder: str, name: str) -> StoredFile:
        """Keep the bytes of a file under a new id and path."""
        number = len(self.files)
        stored = StoredFile(f"file-{number:04d}", f"{folder}/file_{number}_{name}", content)
        self.files[stored.file_id] = self.paths[stored.path] = stored
        return stored


def keyboard(message: Message) -> list[dict[str, Any]]:
    """The inline buttons of a message, in reading order."""
    rows = message.get("reply_markup", {}).get("inline_keyboard", [])
    return [button for row in rows for button in row]


def encoded(result: object) -> bytes:
    """A result as the bytes of its JSON."""
    return json.dumps(result).encode()
