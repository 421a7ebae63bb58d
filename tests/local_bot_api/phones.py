"""What people do on their phones: every act becomes a message in a chat and an update."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tests.local_bot_api.chats import BOT, Chat, Chats, Message, Press, keyboard
from tests.local_bot_api.markup import in_plain_text
from tests.local_bot_api.updates import UpdateQueue


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A user in one chat; a private chat has the id of its user."""

    user_id: int
    first_name: str
    last_name: str | None = None
    username: str | None = None
    language_code: str = "en"
    chat_id: int | None = None
    chat_type: str = "private"
    chat_title: str | None = None

    def __post_init__(self) -> None:
        if (self.chat_type == "private") != (self.chat_id in (None, self.user_id)):
            raise ValueError("a private chat has the id of its user, any other chat its own")

    @property
    def user(self) -> dict[str, Any]:
        """The platform's User object."""
        about = {
            "id": self.user_id,
            "is_bot": False,
            "first_name": self.first_name,
            "last_name": self.last_name,
            "username": self.username,
            "language_code": self.language_code,
        }
        return {k: v for k, v in about.items() if v is not None}

    @property
    def chat(self) -> dict[str, Any]:
        """The platform's Chat object."""
        if self.chat_type == "private":
            names = {k: v for k, v in self.user.items() if k.endswith("name")}
            return {"id": self.user_id, "type": "private"} | names
        return {"id": self.chat_id, "type": self.chat_type, "title": self.chat_title or "A group"}


@dataclass(frozen=True, slots=True)
class Sent:
    """Where an act went: its update (None: a kind the bot did not ask for) and its message."""

    update_id: int | None
    message_id: int


class Phone:
    """One person's phone in one chat. ``date`` is in seconds since 1970 (default: the clock)."""

    def __init__(self, person: Person, chats: Chats, updates: UpdateQueue) -> None:
        self.person = person
        self._chats = chats
        self._updates = updates

    @property
    def chat(self) -> Chat:
        """The chat this phone writes to, opened by the first use."""
        return self._chats.open(self.person.chat)

    def text(
        self,
        text: str,
        *,
        date: int | None = None,
        message_id: int | None = None,
        reply_to: int | None = None,
    ) -> Sent:
        """Send a text; commands and mentions in it are marked as the platform marks them."""
        content: Message = {"text": text}
        if entities := in_plain_text(text):
            content["entities"] = entities
        if reply_to is not None:
            content["reply_to_message"] = self.chat.messages[reply_to]
        return self._send(content, date, message_id)

    def edit(self, message_id: int, text: str, *, date: int | None = None) -> Sent:
        """Edit an own text: the message keeps its date, ``date`` is the time of the edit."""
        old = self.chat.messages[message_id]
        edited = old | {"text": text, "edit_date": self._time(date)}
        edited.pop("entities", None)
        if entities := in_plain_text(text):
            edited["entities"] = entities
        self.chat.messages[message_id] = edited
        return Sent(self._updates.add("edited_message", edited), message_id)

    def press(
        self,
        label: str | None = None,
        *,
        data: str | None = None,
        message_id: int | None = None,
        stale: bool = False,
    ) -> Sent:
        """Press a button of the bot, by label or data; by default on the newest keyboard.

        ``stale``: the button may be gone by now (the phone had not seen the edit); needs ``data``.
        Raises LookupError, with the labels there are, when there is no such button.
        """
        message = self._with_button(message_id, label, data, stale=stale)
        if data is None or not stale:
            data = _button(message, label, data)["callback_data"]
        return self._press(message, data)

    def _press(self, message: Message, data: str) -> Sent:
        number = len(self._chats.presses) + 1
        query: Message = {
            "id": f"press-{number}",
            "from": self.person.user,
            "message": message,
            "chat_instance": f"instance-{self.chat.about['id']}",
            "data": data,
        }
        self._chats.presses[query["id"]] = Press(query)
        return Sent(self._updates.add("callback_query", query), message["message_id"])

    def sticker(self, emoji: str = "👍", *, date: int | None = None) -> Sent:
        """Send a sticker."""
        kind = {"type": "regular", "width": 512, "height": 512, "emoji": emoji}
        flags = {"is_animated": False, "is_video": False}
        about = self._file(b"sticker", "stickers", "sticker.webp")
        return self._send({"sticker": about | kind | flags}, date)

    def photo(
        self,
        content: bytes = b"\xff\xd8\xff photo",
        *,
        caption: str | None = None,
        date: int | None = None,
        media_group_id: str | None = None,
    ) -> Sent:
        """Send a photo (two sizes of it, as the platform makes)."""
        small = self._file(content[:64], "photos", "small.jpg") | {"width": 90, "height": 67}
        large = self._file(content, "photos", "photo.jpg") | {"width": 1280, "height": 960}
        extra = {"caption": caption, "media_group_id": media_group_id}
        return self._send({"photo": [small, large]} | _given(extra), date)

    def album(
        self, contents: list[bytes], *, caption: str | None = None, date: int | None = None
    ) -> list[Sent]:
        """Send several photos as one album: one update each, the caption on the first."""
        group = f"album-{self.chat.about['id']}-{self.chat.last_message_id + 1}"
        captions = [caption, *[None] * (len(contents) - 1)]
        return [
            self.photo(content, caption=words, date=date, media_group_id=group)
            for content, words in zip(contents, captions, strict=True)
        ]

    def document(
        self,
        content: bytes,
        name: str,
        *,
        mime_type: str = "application/octet-stream",
        caption: str | None = None,
        date: int | None = None,
    ) -> Sent:
        """Send a file."""
        about = self._file(content, "documents", name) | {"file_name": name}
        about["mime_type"] = mime_type
        return self._send({"document": about} | _given({"caption": caption}), date)

    def voice(self, content: bytes = b"OggS", *, seconds: int = 3, date: int | None = None) -> Sent:
        """Send a voice message."""
        about = self._file(content, "voice", "voice.oga")
        return self._send({"voice": about | {"duration": seconds, "mime_type": "audio/ogg"}}, date)

    def forward(
        self, text: str, *, from_name: str, original_date: int, date: int | None = None
    ) -> Sent:
        """Forward a text somebody else wrote, whose account is hidden."""
        origin = {"type": "hidden_user", "date": original_date, "sender_user_name": from_name}
        return self._send({"text": text, "forward_origin": origin}, date)

    def _send(self, content: Message, date: int | None, message_id: int | None = None) -> Sent:
        extra = {"date": self._time(date)} | _given({"message_id": message_id})
        message = self._chats.post(self.chat, self.person.user, content | extra)
        return Sent(self._updates.add("message", message), message["message_id"])

    def _time(self, date: int | None) -> int:
        return int(self._chats.clock()) if date is None else date

    def _file(self, content: bytes, folder: str, name: str) -> Message:
        stored = self._chats.store(content, folder, name)
        about = {"file_id": stored.file_id, "file_unique_id": f"u-{stored.file_id}"}
        return about | {"file_size": len(content)}

    def _with_button(
        self, message_id: int | None, label: str | None, data: str | None, *, stale: bool
    ) -> Message:
        messages = self.chat.messages
        if message_id is not None:
            return messages[message_id]
        own = [m for _, m in sorted(messages.items()) if m["from"] == BOT]
        found = own if stale else [m for m in own if keyboard(m)]
        if not found:
            raise LookupError(f"no message with buttons in chat {self.chat.about['id']}")
        return found[-1]


def _button(message: Message, label: str | None, data: str | None) -> Message:
    if label is None and data is None:
        raise LookupError("name the button by label or data")
    for button in keyboard(message):
        if label in (None, button["text"]) and data in (None, button.get("callback_data")):
            return button
    labels = [button["text"] for button in keyboard(message)]
    raise LookupError(f"no button {label or data!r} among {labels}")


def _given(optional: Mapping[str, Any]) -> Message:
    return {k: v for k, v in optional.items() if v is not None}


def add_raw(updates: UpdateQueue, update: str | dict[str, Any]) -> int:
    """Queue any update: a dict (``update_id`` is filled in) or text that need not be JSON."""
    if isinstance(update, str):
        return updates.add_raw(update)
    update = {"update_id": updates.next_id} | update
    return updates.add_raw(json.dumps(update), update["update_id"])
