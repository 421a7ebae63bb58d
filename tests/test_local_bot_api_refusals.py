"""The local Bot API server refuses what the published table refuses."""

import asyncio
from collections.abc import AsyncIterator
from typing import Any

import httpx
import pytest
from telegram.error import (
    BadRequest,
)

from tests.local_bot_api import LocalBotApi
from tests.local_bot_api.fixtures import Bot, raw_call
from tests.local_bot_api.markup import shown
from tests.local_bot_api.methods import Methods
from tests.local_bot_api.refusals import Refused
from tests.local_bot_api.table import METHODS

VIOLATIONS: list[tuple[str, dict[str, Any], int, str]] = [
    ("sendNothing", {}, 404, "Not Found: method not found"),
    ("sendMessage", {"chat_id": 501}, 400, "sendMessage: parameter 'text' is required"),
    ("sendMessage", {"chat_id": 501, "text": ""}, 400, "message text is empty"),
    ("sendMessage", {"chat_id": 501, "text": " \n"}, 400, "text must be non-empty"),
    ("sendMessage", {"chat_id": 501, "text": "x" * 4097}, 400, "message is too long"),
    ("sendMessage", {"chat_id": 501, "text": 7}, 400, "sendMessage.text must be String, not 7"),
    (
        "sendMessage",
        {"chat_id": 1.5, "text": "x"},
        400,
        "sendMessage.chat_id must be Integer or String, not 1.5",
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "x", "txet": "y"},
        400,
        "sendMessage has no parameter 'txet'",
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "x", "protect_content": "maybe"},
        400,
        "sendMessage.protect_content must be Boolean, not 'maybe'",
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "<b>x", "parse_mode": "HTML"},
        400,
        'can\'t parse entities: Can\'t find end tag corresponding to start tag "b"',
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "x", "reply_markup": {"inline_keyboard": [[{"text": "a"}]]}},
        400,
        "text buttons are unallowed in the inline keyboard",
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "x", "reply_markup": {"inline_keyboard": [{"text": "a"}]}},
        400,
        "sendMessage.reply_markup.inline_keyboard[0] must be Array of InlineKeyboardButton, "
        "not {'text': 'a'}",
    ),
    (
        "sendMessage",
        {"chat_id": 501, "text": "x", "reply_markup": {"inline_keyboard": [[{"label": "a"}]]}},
        400,
        "sendMessage.reply_markup.inline_keyboard[0][0]: InlineKeyboardButton has no field 'label'",
    ),
    ("sendMessage", {"chat_id": 501, "text": "x", "reply_markup": "{"}, 400,
     "can't parse sendMessage.reply_markup as JSON"),
    ("sendMessage", {"chat_id": 501, "text": "x", "parse_mode": "Markdown"}, 400,
     "unsupported parse_mode 'Markdown'"),
    ("sendPhoto", {"chat_id": 501, "photo": "x", "caption": "x" * 1025}, 400,
     "message caption is too long"),
    ("editMessageText", {"chat_id": 501, "text": "x"}, 400, "message identifier is not specified"),
    ("answerCallbackQuery", {"callback_query_id": "1", "text": "x" * 201}, 400, "MESSAGE_TOO_LONG"),
    ("getUpdates", {"limit": 101}, 400, "limit must be 1-100"),
    ("getUpdates", {"allowed_updates": ["massage"]}, 400, "unknown update type 'massage'"),
    ("sendChatAction", {"chat_id": 501, "action": "dance"}, 400,
     "wrong parameter action in request"),
    ("setMyCommands", {"commands": [{"command": "Help", "description": "x"}]}, 400,
     "BOT_COMMAND_INVALID"),
    ("setMyCommands", {"commands": [{"command": "x" * 33, "description": "x"}]}, 400,
     "BOT_COMMAND_INVALID"),
    ("setMyCommands", {"commands": [{"command": "help"}]}, 400,
     "setMyCommands.commands[0]: BotCommand needs 'description'"),
    ("setMyCommands", {"commands": [], "scope": {"type": "everyone"}}, 400,
     "setMyCommands.scope has an unknown type 'everyone'"),
    ("setMyDescription", {"description": "x" * 513}, 400, "description is too long"),
    ("setMyShortDescription", {"short_description": "x" * 121}, 400,
     "short description is too long"),
]  # fmt: skip


@pytest.mark.parametrize(("method", "parameters", "status", "reason"), VIOLATIONS)
async def test_a_call_that_breaks_the_published_table_is_refused_and_recorded(
    api: LocalBotApi, method: str, parameters: dict[str, Any], status: int, reason: str
) -> None:
    api.phone().text("hi")
    answer = await raw_call(api, method, **parameters)
    description = reason if status == 404 else f"Bad Request: {reason}"
    assert answer == {"ok": False, "error_code": status, "description": description}
    assert [call.description for call in api.violations] == [description]


@pytest.mark.parametrize(
    ("data", "is_valid"),
    [("x" * 64, True), ("é" * 32, True), ("x" * 65, False), ("é" * 33, False), ("", False)],
)
async def test_callback_data_is_measured_in_bytes(
    api: LocalBotApi, data: str, is_valid: bool
) -> None:
    api.phone().text("hi")
    markup = {"inline_keyboard": [[{"text": "a", "callback_data": data}]]}
    await raw_call(api, "sendMessage", chat_id=501, text="x", reply_markup=markup)
    reasons = [call.description for call in api.violations]
    assert reasons == ([] if is_valid else ["Bad Request: BUTTON_DATA_INVALID"])


async def test_the_longest_valid_text_is_counted_after_entities(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    sent = await bot.send_message(501, "<b>" + "&lt;" * 4096 + "</b>", parse_mode="HTML")
    assert sent.text == "<" * 4096


async def test_a_picture_must_be_a_picture(api: LocalBotApi, bot: Bot) -> None:
    api.phone().text("hi")
    with pytest.raises(BadRequest, match="Image_process_failed"):
        await bot.send_photo(501, b"not a picture")
    with pytest.raises(BadRequest, match="File must be non-empty"):
        await bot.send_document(501, b"")
    assert len(api.violations) == 2


async def test_forms_queries_and_json_are_the_same_call(api: LocalBotApi) -> None:
    api.phone().text("hi")
    url = f"{api.base_url}/bot{api.token}/sendmessage"
    parameters = {"chat_id": "501", "text": "x & y"}
    async with httpx.AsyncClient() as http:
        answers = [
            await http.post(url, data=parameters),
            await http.get(url, params=parameters),
            await http.post(url, json=parameters),
            await http.post(url, data=parameters, files={"a": b"attach"}),
        ]
    assert [answer.status_code for answer in answers] == [200, 200, 200, 400]
    assert [m["text"] for m in api.visible(501)] == ["hi"] + ["x & y"] * 3


async def test_a_body_that_is_not_utf8_or_no_form_is_refused(api: LocalBotApi) -> None:
    url = f"{api.base_url}/bot{api.token}/sendMessage"
    form = "application/x-www-form-urlencoded"
    async with httpx.AsyncClient() as http:
        for content, kind in (
            (b"text=\xff", form),
            (b"text=%ff", form),
            (b"[1]", "application/json"),
            (b"x", "text/plain"),
        ):
            await http.post(url, content=content, headers={"content-type": kind})
    assert [call.description for call in api.violations] == [
        "Bad Request: strings must be encoded in UTF-8",
        "Bad Request: strings must be encoded in UTF-8",
        "Bad Request: the request body must be a JSON object",
        "Bad Request: unsupported content type 'text/plain'",
    ]


async def test_a_chunked_body_is_read(api: LocalBotApi) -> None:
    async def pieces() -> AsyncIterator[bytes]:
        yield b'{"chat_id": 501, '
        yield b'"text": "in two pieces"}'

    api.phone().text("hi")
    async with httpx.AsyncClient() as http:
        url = f"{api.base_url}/bot{api.token}/sendMessage"
        head = {"content-type": "application/json"}
        answer = await http.post(url, content=pieces(), headers=head)
    assert answer.json()["result"]["text"] == "in two pieces"


async def test_one_connection_carries_many_calls(api: LocalBotApi) -> None:
    reader, writer = await asyncio.open_connection(*_place(api))
    request = f"POST /bot{api.token}/getMe HTTP/1.1\r\nContent-Length: 0\r\n\r\n".encode()
    writer.write(request * 3)
    heads = [await reader.readuntil(b"}}") for _ in range(3)]
    assert [head[:15] for head in heads] == [b"HTTP/1.1 200 OK"] * 3
    writer.close()
    await writer.wait_closed()


def _place(api: LocalBotApi) -> tuple[str, int]:
    url = httpx.URL(api.base_url)
    assert url.port is not None
    return url.host, url.port


@pytest.mark.parametrize(
    ("raw", "text", "entities"),
    [
        ("plain < text", None, "Unsupported start tag"),
        ("<b>a</i>", None, "Unmatched end tag"),
        ("<script>a</script>", None, 'Unsupported start tag "script" at byte offset 0'),
        ("&#0;&#x41;&#x110000;&nope;", "&#0;A&#x110000;&nope;", []),
        ("a &lt; b &amp; c &#33;", "a < b & c !", []),
        ("👍 <i>yes</i>", "👍 yes", [("italic", 3, 3)]),
        ("  <b>a <i>b</i></b>  ", "a b", [("bold", 0, 3), ("italic", 2, 1)]),
        ('<a href="https://example.org/">x</a>', "x", [("text_link", 0, 1)]),
    ],
)
def test_html_is_read_as_the_platform_reads_it(
    raw: str, text: str | None, entities: list[tuple[str, int, int]] | str
) -> None:
    if isinstance(entities, str):
        with pytest.raises(Refused, match=entities):
            shown(raw, "HTML", None)
        return
    read = shown(raw, "HTML", None)
    assert read.text == text
    assert [(e["type"], e["offset"], e["length"]) for e in read.entities] == entities


def test_every_method_of_the_table_is_carried_out() -> None:
    missing = [m for m in METHODS if m != "getUpdates" and not hasattr(Methods, f"_{m}")]
    assert missing == []
