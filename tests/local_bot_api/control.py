"""The test's side over HTTP, for a server in its own process: POST /control/<what> with JSON.

=================  =================================================================================
text, edit, press  what a person does; Person's fields (``user_id``, ``first_name``, ``chat_id``,
sticker, photo,    ...) and the parameters of the Phone method of that name; bytes as base64
document, voice,   -> {"update_id", "message_id"} (album: a list)
album, forward
raw                {"update": object or text} -> {"update_id"}
repeat             {"update_id"}: its content once more -> {"update_id"}
bulk               {"count", "texts", "people": [{...}]}: texts sent in turn by the people in turn
chat               a chat the bot may write to though nobody wrote there yet
block              {"chat_id", "is_blocked"}
fault              Fault's fields; {"clear": true} ends all faults
expire_presses     every press so far becomes too old to answer
calls              {"method", "since"} -> recorded calls, numbered from ``since``, in order
violations         -> the calls no valid bot would make
visible            {"chat_id"} -> messages that can be seen there now
presses            -> {"data", "answers"} of every press
state              -> confirmed offset, pending update ids, next id, counts
wait               {"method", "count", "seconds"} or {"confirmed": true} -> answered when it holds
converse           {"count", "texts", "reply_method", "seconds", Person's fields}: the next text is
                   sent as soon as the bot's call of ``reply_method`` arrives -> {"seconds": [...]}
=================  =================================================================================
"""

from __future__ import annotations

import asyncio
import base64
import json
import time
from dataclasses import asdict, fields
from typing import TYPE_CHECKING, Any

from tests.local_bot_api.conversation import Conversation
from tests.local_bot_api.faults import Fault
from tests.local_bot_api.phones import Person, Phone, Sent
from tests.local_bot_api.wire import Exchange

if TYPE_CHECKING:
    from tests.local_bot_api.server import LocalBotApi

PERSON = {f.name for f in fields(Person)}
ACTS = frozenset(
    ["text", "edit", "press", "sticker", "photo", "document", "voice", "album", "forward"]
)
Asked = dict[str, Any]


class Control:
    """Answers the control endpoints of one server."""

    def __init__(self, api: LocalBotApi) -> None:
        self._api = api
        self._waits: set[asyncio.Task[None]] = set()

    def handle(self, exchange: Exchange) -> None:
        """Do what is asked; 400 with the reason when it cannot be done."""
        what = exchange.request.target.removeprefix("/control/")
        try:
            asked: Asked = json.loads(exchange.request.body or b"{}")
            if what in ("wait", "converse"):
                self._later(exchange, what, asked)
                return
            result = self._act(asked, what) if what in ACTS else self._now(what, asked)
        except (ValueError, TypeError, LookupError) as wrong:
            _answer(exchange, 400, {"error": f"{type(wrong).__name__}: {wrong}"})
        else:
            _answer(exchange, 200, result)

    def _phone(self, asked: Asked) -> Phone:
        person = {k: asked.pop(k) for k in list(asked) if k in PERSON}
        return self._api.phone(**person)

    def _act(self, asked: Asked, what: str) -> object:
        phone = self._phone(asked)
        if "content" in asked:
            asked["content"] = base64.b64decode(asked["content"])
        if "contents" in asked:
            asked["contents"] = [base64.b64decode(content) for content in asked["contents"]]
        sent = getattr(phone, what)(**asked)
        return asdict(sent) if isinstance(sent, Sent) else [asdict(one) for one in sent]

    def _now(self, what: str, asked: Asked) -> object:
        act = getattr(self, "_do_" + what, None)
        if act is None:
            raise LookupError(f"no control endpoint {what!r}")
        result: object = act(asked)
        return result

    def _do_raw(self, asked: Asked) -> object:
        return {"update_id": self._api.raw(asked["update"])}

    def _do_repeat(self, asked: Asked) -> object:
        return {"update_id": self._api.updates.repeat(asked["update_id"])}

    def _do_bulk(self, asked: Asked) -> object:
        phones = [self._phone(dict(person)) for person in asked.get("people", [{}])]
        texts = asked["texts"]
        sent = [phones[n % len(phones)].text(texts[n % len(texts)]) for n in range(asked["count"])]
        return {"update_ids": [one.update_id for one in sent]}

    def _do_chat(self, asked: Asked) -> object:
        return self._phone(asked).chat.about

    def _do_block(self, asked: Asked) -> object:
        self._api.chats.chats[asked["chat_id"]].is_blocked = asked.get("is_blocked", True)
        return {}

    def _do_fault(self, asked: Asked) -> object:
        if asked.pop("clear", False):
            self._api.faults.clear()
        else:
            self._api.faults.plan(Fault(**asked))
        return {}

    def _do_expire_presses(self, _asked: Asked) -> object:
        self._api.expire_presses()
        return {}

    def _do_calls(self, asked: Asked) -> object:
        calls = self._api.calls[asked.get("since", 0) :]
        method = asked.get("method")
        return [call.as_json() for call in calls if method in (None, call.method)]

    def _do_violations(self, _asked: Asked) -> object:
        return [call.as_json() for call in self._api.violations]

    def _do_visible(self, asked: Asked) -> object:
        return self._api.visible(asked["chat_id"])

    def _do_presses(self, _asked: Asked) -> object:
        presses = self._api.chats.presses.values()
        return [{"data": press.query["data"], "answers": press.answers} for press in presses]

    def _do_state(self, _asked: Asked) -> object:
        updates = self._api.updates
        return {
            "confirmed": updates.confirmed,
            "pending": [queued.update_id for queued in updates.pending],
            "next_update_id": updates.next_id,
            "calls": len(self._api.calls),
            "violations": len(self._api.violations),
            "conflicts": updates.conflicts,
            "processor_seconds": time.process_time(),
        }

    def _later(self, exchange: Exchange, what: str, asked: Asked) -> None:
        work = self._wait(exchange, asked) if what == "wait" else self._converse(exchange, asked)
        task = asyncio.get_running_loop().create_task(work)
        self._waits.add(task)
        task.add_done_callback(self._waits.discard)

    async def _wait(self, exchange: Exchange, asked: Asked) -> None:
        seconds = asked.get("seconds", 5.0)
        try:
            if asked.get("confirmed"):
                await self._api.until_confirmed(seconds=seconds)
            else:
                count = asked.get("count", 1)
                await self._api.until_called(asked["method"], count, seconds=seconds)
        except (TimeoutError, KeyError) as wrong:
            _answer(exchange, 400, {"error": f"{type(wrong).__name__} {wrong}".strip()})
        else:
            _answer(exchange, 200, self._do_state({}))

    async def _converse(self, exchange: Exchange, asked: Asked) -> None:
        try:
            phone = self._phone(asked)
            talk = Conversation(self._api, phone, **asked)
            took = await talk.take_place()
        except (TimeoutError, TypeError, ValueError) as wrong:
            _answer(exchange, 400, {"error": f"{type(wrong).__name__} {wrong}".strip()})
        else:
            _answer(exchange, 200, {"seconds": took})


def _answer(exchange: Exchange, status: int, result: object) -> None:
    exchange.answer(status, json.dumps(result).encode())
