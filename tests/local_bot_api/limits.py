"""Published limits that the table of types does not carry.

Each is on the public Bot API page, version 10.1, in the description of the parameter named.
"""

import re
from collections.abc import Iterator
from typing import Any

from tests.local_bot_api.markup import Shown, shown
from tests.local_bot_api.refusals import violation
from tests.local_bot_api.table import UPDATE_KINDS, Upload

TEXT = 4096
CAPTION = 1024
CALLBACK_DATA_BYTES = 64
PRESS_ANSWER = 200
COMMAND = re.compile(r"[a-z0-9_]{1,32}")
COMMANDS = 100
COMMAND_DESCRIPTION = 256
DESCRIPTION = 512
SHORT_DESCRIPTION = 120
PHOTO_BYTES = 10 * 1024 * 1024
DOCUMENT_BYTES = 50 * 1024 * 1024
DOWNLOAD_BYTES = 20 * 1024 * 1024
ALBUM = range(2, 11)
BUTTONS = 100  # from memory: not on the page
ACTIONS = frozenset(
    [
        "typing",
        "upload_photo",
        "record_video",
        "upload_video",
        "record_voice",
        "upload_voice",
        "upload_document",
        "choose_sticker",
        "find_location",
        "record_video_note",
        "upload_video_note",
    ]
)
INLINE_ACTIONS = frozenset(
    [
        "url",
        "callback_data",
        "web_app",
        "login_url",
        "switch_inline_query",
        "switch_inline_query_current_chat",
        "switch_inline_query_chosen_chat",
        "copy_text",
        "callback_game",
        "pay",
    ]
)
Typed = dict[str, Any]


def checked_limits(method: str, typed: Typed, uploads: dict[str, Upload]) -> None:
    """Refuse a call whose parameters have the right types and break a limit."""
    if rule := RULES.get(method):
        rule(typed)
    if isinstance(markup := typed.get("reply_markup"), dict):
        for button in _inline_buttons(markup):
            _check_button(button)
    for upload in uploads.values():
        if not upload.content:
            raise violation("file must be non-empty")
    _check_size(typed.get("photo"), PHOTO_BYTES)
    _check_size(typed.get("document"), DOCUMENT_BYTES)


def shown_text(typed: Typed) -> Shown:
    """The text of a call after its entities; 1-4096 characters."""
    raw = typed.get("text", "")
    if not raw:
        raise violation("message text is empty")
    read = shown(raw, typed.get("parse_mode"), typed.get("entities"))
    if not read.text:
        raise violation("text must be non-empty")
    if len(read.text) > TEXT:
        raise violation("message is too long")
    return read


def shown_caption(typed: Typed) -> Shown:
    """The caption of a call or of one item of an album after its entities; 0-1024 characters."""
    raw = typed.get("caption", "")
    read = shown(raw, typed.get("parse_mode"), typed.get("caption_entities"))
    if len(read.text) > CAPTION:
        raise violation("message caption is too long")
    return read


def _check_size(file: object, limit: int) -> None:
    if isinstance(file, Upload) and len(file.content) > limit:
        raise violation("file is too big", status=400)


def _inline_buttons(markup: Typed) -> Iterator[Typed]:
    buttons = [button for row in markup.get("inline_keyboard", []) for button in row]
    if len(buttons) > BUTTONS:
        raise violation("reply markup is too long")
    return iter(buttons)


def _check_button(button: Typed) -> None:
    actions = INLINE_ACTIONS & button.keys()
    if not actions:
        raise violation("text buttons are unallowed in the inline keyboard")
    if len(actions) > 1:
        raise violation(f"inline keyboard button has more than one action: {sorted(actions)}")
    if not button["text"].strip():
        raise violation("inline keyboard button text must be non-empty")
    data = button.get("callback_data")
    if data is not None and not 1 <= len(data.encode()) <= CALLBACK_DATA_BYTES:
        raise violation("BUTTON_DATA_INVALID")


def _get_updates(typed: Typed) -> None:
    if not 1 <= typed.get("limit", 100) <= 100:
        raise violation("limit must be 1-100")
    if typed.get("timeout", 0) < 0:
        raise violation("timeout must not be negative")
    for kind in typed.get("allowed_updates", []):
        if kind not in UPDATE_KINDS:
            raise violation(f"unknown update type {kind!r}")


def _answer_press(typed: Typed) -> None:
    if len(typed.get("text", "")) > PRESS_ANSWER:
        raise violation("MESSAGE_TOO_LONG")


def _edit_text(typed: Typed) -> None:
    _edit(typed)
    if "rich_message" not in typed:
        shown_text(typed)


def _edit(typed: Typed) -> None:
    if "inline_message_id" in typed:
        return
    if "chat_id" not in typed:
        raise violation("chat_id is empty")
    if "message_id" not in typed:
        raise violation("message identifier is not specified")


def _caption(typed: Typed) -> None:
    shown_caption(typed)


def _edit_caption(typed: Typed) -> None:
    _edit(typed)
    shown_caption(typed)


def _album(typed: Typed) -> None:
    if len(typed["media"]) not in ALBUM:
        raise violation("an album must include 2-10 items")
    for item in typed["media"]:
        shown_caption(item)
    kinds = {item["type"] for item in typed["media"]}
    if len(kinds) > 1 and kinds & {"document", "audio"}:
        raise violation("documents and audio cannot be mixed with other media in an album")


def _action(typed: Typed) -> None:
    if typed["action"] not in ACTIONS:
        raise violation("wrong parameter action in request")


def _commands(typed: Typed) -> None:
    if len(typed["commands"]) > COMMANDS:
        raise violation(f"at most {COMMANDS} commands")
    for command in typed["commands"]:
        if not COMMAND.fullmatch(command["command"]):
            raise violation("BOT_COMMAND_INVALID")
        if not 1 <= len(command["description"]) <= COMMAND_DESCRIPTION:
            raise violation("BOT_COMMAND_DESCRIPTION_INVALID")


def _description(typed: Typed) -> None:
    if len(typed.get("description", "")) > DESCRIPTION:
        raise violation("description is too long")


def _short_description(typed: Typed) -> None:
    if len(typed.get("short_description", "")) > SHORT_DESCRIPTION:
        raise violation("short description is too long")


def _send_text(typed: Typed) -> None:
    shown_text(typed)


RULES = {
    "getUpdates": _get_updates,
    "sendMessage": _send_text,
    "editMessageText": _edit_text,
    "editMessageCaption": _edit_caption,
    "editMessageReplyMarkup": _edit,
    "answerCallbackQuery": _answer_press,
    "sendPhoto": _caption,
    "sendDocument": _caption,
    "sendMediaGroup": _album,
    "sendChatAction": _action,
    "setMyCommands": _commands,
    "setMyDescription": _description,
    "setMyShortDescription": _short_description,
}
