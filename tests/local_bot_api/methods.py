"""What each method of the bot does to the chats, and what it answers."""

import struct
from typing import Any

from tests.local_bot_api.chats import BOT, Chat, Chats, Message
from tests.local_bot_api.limits import DOWNLOAD_BYTES, shown_caption, shown_text
from tests.local_bot_api.markup import Shown
from tests.local_bot_api.refusals import bad_request, violation
from tests.local_bot_api.table import Upload
from tests.local_bot_api.updates import UpdateQueue

Typed = dict[str, Any]
Uploads = dict[str, Upload]
ALBUM_FOLDER = {"photo": "photos", "document": "documents"}


class Methods:
    """The methods that answer at once; getUpdates is the queue's own."""

    def __init__(self, chats: Chats, updates: UpdateQueue) -> None:
        self.chats = chats
        self.updates = updates
        self.commands: dict[str, list[dict[str, str]]] = {}
        self.descriptions: dict[str, str] = {}
        self.actions: list[tuple[int | str, str]] = []
        self._albums = 0

    def call(self, method: str, typed: Typed, uploads: Uploads) -> object:
        """Carry out one checked call; the result is JSON-ready. Raises Refused."""
        act = getattr(self, "_" + method)
        return act(typed, uploads)

    def _getMe(self, _typed: Typed, _uploads: Uploads) -> object:
        abilities = {
            "can_join_groups": True,
            "can_read_all_group_messages": False,
            "supports_inline_queries": False,
        }
        return BOT | abilities

    def _sendMessage(self, typed: Typed, _uploads: Uploads) -> object:
        chat = self.chats.writable(typed["chat_id"])
        shown = shown_text(typed)
        content = {"text": shown.text} | _entities("entities", shown)
        return self._post(chat, typed, content)

    def _editMessageText(self, typed: Typed, _uploads: Uploads) -> object:
        chat, old = self._editable(typed)
        if "text" not in old:
            raise bad_request("there is no text in the message to edit")
        shown = shown_text(typed)
        changes = {"text": shown.text} | _entities("entities", shown) | _markup(typed)
        return self.chats.replace(chat, old, changes)

    def _editMessageCaption(self, typed: Typed, _uploads: Uploads) -> object:
        chat, old = self._editable(typed)
        if "text" in old:
            raise bad_request("there is no caption in the message to edit")
        shown = shown_caption(typed)
        bare = {k: v for k, v in old.items() if k != "caption"}
        changes = {"caption": shown.text} | _entities("caption_entities", shown) | _markup(typed)
        if bare | {k: v for k, v in changes.items() if v} == old:
            return self.chats.replace(chat, old, changes)
        return self.chats.replace(chat, bare, changes)

    def _editMessageReplyMarkup(self, typed: Typed, _uploads: Uploads) -> object:
        chat, old = self._editable(typed)
        kept = {k: v for k, v in old.items() if k in ("entities", "caption_entities")}
        return self.chats.replace(chat, old, kept | _markup(typed))

    def _answerCallbackQuery(self, typed: Typed, _uploads: Uploads) -> object:
        press = self.chats.presses.get(typed["callback_query_id"])
        if press is None or press.is_expired:
            raise bad_request(
                "query is too old and response timeout expired or query ID is invalid"
            )
        press.answers.append(typed)
        return True

    def _sendPhoto(self, typed: Typed, _uploads: Uploads) -> object:
        chat = self.chats.writable(typed["chat_id"])
        return self._post(chat, typed, self._media("photo", typed["photo"], typed))

    def _sendDocument(self, typed: Typed, _uploads: Uploads) -> object:
        chat = self.chats.writable(typed["chat_id"])
        return self._post(chat, typed, self._media("document", typed["document"], typed))

    def _sendMediaGroup(self, typed: Typed, uploads: Uploads) -> object:
        chat = self.chats.writable(typed["chat_id"])
        contents = []
        for item in typed["media"]:
            source = item["media"]
            if source.startswith("attach://"):
                source = uploads.get(source.removeprefix("attach://"))
            if source is None:
                raise violation(f"there is no file for {item['media']!r} in the request")
            contents.append(self._media(item["type"], source, item))
        self._albums += 1
        group = {"media_group_id": f"sent-album-{self._albums}"}
        return [self._post(chat, typed, content | group) for content in contents]

    def _sendChatAction(self, typed: Typed, _uploads: Uploads) -> object:
        self.chats.writable(typed["chat_id"])
        self.actions.append((typed["chat_id"], typed["action"]))
        return True

    def _deleteMessage(self, typed: Typed, _uploads: Uploads) -> object:
        chat = self.chats.writable(typed["chat_id"])
        if chat.messages.pop(typed["message_id"], None) is None:
            raise bad_request("message to delete not found")
        return True

    def _getFile(self, typed: Typed, _uploads: Uploads) -> object:
        stored = self.chats.files.get(typed["file_id"])
        if stored is None:
            raise bad_request("wrong file_id or the file is temporarily unavailable")
        if len(stored.content) > DOWNLOAD_BYTES:
            raise bad_request("file is too big")
        about = {"file_id": stored.file_id, "file_unique_id": f"u-{stored.file_id}"}
        return about | {"file_size": len(stored.content), "file_path": stored.path}

    def _setMyCommands(self, typed: Typed, _uploads: Uploads) -> object:
        self.commands[_audience(typed)] = typed["commands"]
        return True

    def _getMyCommands(self, typed: Typed, _uploads: Uploads) -> object:
        return self.commands.get(_audience(typed), [])

    def _deleteMyCommands(self, typed: Typed, _uploads: Uploads) -> object:
        self.commands.pop(_audience(typed), None)
        return True

    def _setMyDescription(self, typed: Typed, _uploads: Uploads) -> object:
        self.descriptions["description"] = typed.get("description", "")
        return True

    def _setMyShortDescription(self, typed: Typed, _uploads: Uploads) -> object:
        self.descriptions["short_description"] = typed.get("short_description", "")
        return True

    def _deleteWebhook(self, typed: Typed, _uploads: Uploads) -> object:
        if typed.get("drop_pending_updates"):
            self.updates.drop_all()
        return True

    def _getWebhookInfo(self, _typed: Typed, _uploads: Uploads) -> object:
        pending = len(self.updates.pending)
        return {"url": "", "has_custom_certificate": False, "pending_update_count": pending}

    def _editable(self, typed: Typed) -> tuple[Chat, Message]:
        if "inline_message_id" in typed or "rich_message" in typed:
            raise violation("inline and rich messages are not part of this server")
        return self.chats.editable(typed["chat_id"], typed["message_id"])

    def _post(self, chat: Chat, typed: Typed, content: Message) -> Message:
        reply = typed.get("reply_parameters")
        if reply is not None:
            replied = chat.messages.get(reply["message_id"])
            if replied is None and not reply.get("allow_sending_without_reply"):
                raise bad_request("message to be replied not found")
            if replied is not None:
                bare = {k: v for k, v in replied.items() if k != "reply_to_message"}
                content = content | {"reply_to_message": bare}
        return self.chats.post(chat, BOT, content | _markup(typed))

    def _media(self, kind: str, source: Upload | str, typed: Typed) -> Message:
        if kind not in ALBUM_FOLDER:
            raise violation(f"{kind} is not part of this server")
        if isinstance(source, Upload):
            size = _image_size(source.content) if kind == "photo" else None
            stored = self.chats.store(source.content, ALBUM_FOLDER[kind], source.name)
            name, mime = source.name, source.content_type
        elif source in self.chats.files:
            stored, size = self.chats.files[source], None
            name, mime = stored.path.rpartition("/")[2], "application/octet-stream"
        else:
            raise bad_request("wrong file identifier/HTTP URL specified")
        about: Message = {
            "file_id": stored.file_id,
            "file_unique_id": f"u-{stored.file_id}",
            "file_size": len(stored.content),
        }
        shown = shown_caption(typed)
        content: Message = {"caption": shown.text} if shown.text else {}
        content |= _entities("caption_entities", shown)
        if kind == "photo":
            width, height = size or (640, 480)
            return content | {"photo": [about | {"width": width, "height": height}]}
        return content | {"document": about | {"file_name": name, "mime_type": mime}}


def _entities(name: str, shown: Shown) -> Message:
    return {name: list(shown.entities)} if shown.entities else {}


def _markup(typed: Typed) -> Message:
    """Only inline keyboards come back in a message."""
    markup = typed.get("reply_markup", {})
    return {"reply_markup": markup} if markup.get("inline_keyboard") else {}


def _audience(typed: Typed) -> str:
    scope = typed.get("scope", {"type": "default"})
    words = [f"{k}={v}" for k, v in sorted(scope.items())] + [typed.get("language_code", "")]
    return "|".join(words)


def _image_size(content: bytes) -> tuple[int, int] | None:
    """Width and height of a PNG, nothing for other images; what is no image is refused."""
    if content.startswith(b"\x89PNG\r\n\x1a\n") and len(content) >= 24:
        width, height = struct.unpack(">II", content[16:24])
        if width + height > 10_000 or max(width, height) > 20 * min(width, height):
            raise violation("PHOTO_INVALID_DIMENSIONS")
        return width, height
    if content.startswith((b"\xff\xd8\xff", b"GIF8")) or content[8:12] == b"WEBP":
        return None
    raise violation("IMAGE_PROCESS_FAILED")
