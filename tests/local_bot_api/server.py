"""The server itself: takes a call apart, checks it, carries it out, records it, answers."""

import asyncio
import json
import re
import time
import traceback
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from functools import partial
from types import TracebackType
from typing import Any, Self
from urllib.parse import unquote

from tests.local_bot_api.chats import Chats, Message, encoded
from tests.local_bot_api.control import Control
from tests.local_bot_api.faults import Fault, Faults, Kind
from tests.local_bot_api.forms import Parameters, parameters
from tests.local_bot_api.limits import checked_limits
from tests.local_bot_api.methods import Methods
from tests.local_bot_api.phones import Person, Phone, Sent, add_raw
from tests.local_bot_api.refusals import Refused, violation
from tests.local_bot_api.table import BY_LOWER_NAME, Upload, checked
from tests.local_bot_api.updates import MOST_SECONDS, UpdateQueue
from tests.local_bot_api.wire import Exchange, Listener

TOKEN = "123456:local-test-token"
CALL = re.compile(r"/bot([^/]*)/([^/]+)")
FILE = re.compile(r"/file/bot([^/]*)/(.+)")
LOOKS_LIKE_TOKEN = re.compile(r"\d+:[A-Za-z0-9_-]+")


@dataclass(slots=True)
class Call:
    """One recorded call: what was asked, when it arrived (monotonic seconds), how it went."""

    number: int
    method: str
    arrived: float
    given: Parameters = field(default_factory=dict)
    status: int = 0
    description: str = ""
    is_violation: bool = False

    def as_json(self) -> dict[str, Any]:
        """For the control endpoint; files are named, not sent."""
        given = {k: f"file {v.name}" if isinstance(v, Upload) else v for k, v in self.given.items()}
        return asdict(self) | {"given": given}


class LocalBotApi:
    """A Bot API server on loopback for one bot. ``async with LocalBotApi() as api: ...``

    ``token`` is the only one accepted; ``clock`` stamps messages (seconds since 1970);
    update ids start at ``first_update_id``; ``port`` 0 takes any free one.
    """

    def __init__(
        self,
        *,
        token: str = TOKEN,
        port: int = 0,
        first_update_id: int = 1000,
        clock: Callable[[], float] = time.time,
    ) -> None:
        self.token = token
        self.base_url = ""
        self.calls: list[Call] = []
        self.chats = Chats(clock)
        self.updates = UpdateQueue(first_update_id)
        self.updates.on_confirmed = self._something_happened
        self.methods = Methods(self.chats, self.updates)
        self.faults = Faults()
        self.on_call: Callable[[Call], None] | None = None
        self._port = port
        self._changed = asyncio.Event()
        self._control = Control(self)
        self._listener = Listener(self._handle)

    async def __aenter__(self) -> Self:
        port = await self._listener.start(self._port)
        self.base_url = f"http://127.0.0.1:{port}"
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        await self._listener.stop()

    def phone(self, user_id: int = 501, first_name: str = "Robin", **person: Any) -> Phone:
        """The phone of a person (see Person for the other parameters)."""
        who = Person(user_id=user_id, first_name=first_name, **person)
        return Phone(who, self.chats, self.updates)

    def raw(self, update: str | dict[str, Any]) -> int:
        """Queue any update, also one that cannot be parsed; its id is returned."""
        return add_raw(self.updates, update)

    def repeat(self, sent: Sent) -> int | None:
        """Queue an act once more under a new update id, as the platform may do with a press."""
        assert sent.update_id is not None
        return self.updates.repeat(sent.update_id)

    def fail(self, kind: Kind, method: str | None = None, **fault: Any) -> None:
        """Plan trouble for the next calls (see Fault for the other parameters)."""
        self.faults.plan(Fault(kind, method, **fault))

    def expire_presses(self) -> None:
        """Let every press so far become too old to answer."""
        for press in self.chats.presses.values():
            press.is_expired = True

    @property
    def violations(self) -> list[Call]:
        """The calls that no valid bot would have made; a test asserts that there are none."""
        return [call for call in self.calls if call.is_violation]

    @property
    def unanswered_presses(self) -> list[str]:
        """The data of presses that the bot has not answered."""
        return [p.query["data"] for p in self.chats.presses.values() if not p.answers]

    def called(self, method: str) -> list[Call]:
        """The calls of one method, in order of arrival."""
        return [call for call in self.calls if call.method == method]

    def visible(self, chat_id: int) -> list[Message]:
        """The messages that can be seen in a chat now, oldest first, edits applied."""
        chat = self.chats.chats.get(chat_id)
        return [message for _, message in sorted(chat.messages.items())] if chat else []

    async def until(self, condition: Callable[[], object], *, seconds: float = 5.0) -> None:
        """Wait until a condition holds, looking after every call; TimeoutError if it never does."""
        async with asyncio.timeout(seconds):
            while not condition():
                self._changed.clear()
                await self._changed.wait()

    async def until_called(
        self, method: str, count: int = 1, *, seconds: float = 5.0
    ) -> list[Call]:
        """Wait until a method has been called that often; its calls are returned."""
        await self.until(lambda: len(self.called(method)) >= count, seconds=seconds)
        return self.called(method)

    async def until_confirmed(self, *, seconds: float = 5.0) -> None:
        """Wait until the poller has confirmed every update there is."""
        await self.until(lambda: not self.updates.pending, seconds=seconds)

    def _something_happened(self) -> None:
        self._changed.set()

    def _handle(self, exchange: Exchange) -> None:
        target = unquote(exchange.request.target)
        if match := CALL.fullmatch(target):
            self._take_call(exchange, match[1], match[2])
        elif match := FILE.fullmatch(target):
            self._send_file(exchange, match[1], match[2])
        elif target.startswith("/control/"):
            self._control.handle(exchange)
        else:
            exchange.answer(404, _refusal(Refused(404, "Not Found")))

    def _take_call(self, exchange: Exchange, token: str, name: str) -> None:
        method = BY_LOWER_NAME.get(name.lower(), name)
        call = Call(len(self.calls), method, time.monotonic())
        self.calls.append(call)
        self._something_happened()
        fault = self.faults.next_for(method)
        answer = partial(self._answer, exchange, call, fault)
        if fault is not None and fault.kind == "drop":
            call.description = "dropped"
            exchange.drop()
            return
        try:
            self._check_token(token)
            if fault is not None and (refusal := fault.refusal()):
                raise refusal
            self._carry_out(exchange, call, answer)
        except Refused as refused:
            answer(refused)
        except Exception as unexpected:  # a mistake in this server: seen by tests, never a hang
            traceback.print_exc()
            answer(violation(f"Internal Server Error: {unexpected!r}", status=500))

    def _check_token(self, token: str) -> None:
        if token != self.token:
            known_shape = LOOKS_LIKE_TOKEN.fullmatch(token)
            raise Refused(401, "Unauthorized") if known_shape else Refused(404, "Not Found")

    def _carry_out(
        self, exchange: Exchange, call: Call, answer: Callable[[bytes | Refused], None]
    ) -> None:
        request = exchange.request
        if call.method.lower() not in BY_LOWER_NAME:
            raise violation("Not Found: method not found", status=404)
        call.given = parameters(request.query, request.content_type, request.body)
        typed = checked(call.method, call.given)
        uploads = {k: v for k, v in call.given.items() if isinstance(v, Upload)}
        checked_limits(call.method, typed, uploads)
        if call.method == "getUpdates":
            self._poll(exchange, typed, answer)
        else:
            answer(encoded(self.methods.call(call.method, typed, uploads)))

    def _poll(
        self,
        exchange: Exchange,
        typed: dict[str, Any],
        answer: Callable[[bytes | Refused], None],
    ) -> None:
        waiting = self.updates.poll(typed, answer)
        if waiting is not None:
            seconds = min(typed["timeout"], MOST_SECONDS)
            loop = asyncio.get_running_loop()
            give_up = partial(self.updates.give_up, waiting)
            waiting.timer = loop.call_later(seconds, partial(give_up, answered=True))
            exchange.on_gone = partial(give_up, answered=False)

    def _answer(
        self, exchange: Exchange, call: Call, fault: Fault | None, result: bytes | Refused
    ) -> None:
        if isinstance(result, Refused):
            call.status, call.description = result.status, result.description
            call.is_violation = result.is_violation
            body = _refusal(result)
        else:
            call.status = 200
            body = b'{"ok":true,"result":' + result + b"}"
        if self.on_call is not None:
            self.on_call(call)
        self._something_happened()
        if fault is None or isinstance(result, Refused):
            exchange.answer(call.status, body)
        elif fault.kind == "slow":
            asyncio.get_running_loop().call_later(
                fault.seconds, partial(exchange.answer, call.status, body)
            )
        elif fault.kind == "malformed":
            exchange.answer(call.status, body[:-2])
        else:
            exchange.drop()

    def _send_file(self, exchange: Exchange, token: str, path: str) -> None:
        """Give a file's bytes; recorded, and troubled by faults, as a call of "file"."""
        call = Call(len(self.calls), "file", time.monotonic(), {"path": path})
        self.calls.append(call)
        self._something_happened()
        fault = self.faults.next_for("file")
        if fault is not None:
            refusal = fault.refusal()
            call.status, call.description = (refusal.status if refusal else 0), fault.kind
            if refusal is None:
                exchange.drop()
            else:
                exchange.answer(refusal.status, _refusal(refusal))
            return
        stored = self.chats.paths.get(path)
        if token != self.token or stored is None:
            exchange.answer(404, _refusal(Refused(404, "Not Found")))
        else:
            call.status = 200
            exchange.answer(200, stored.content, "application/octet-stream")


def _refusal(refused: Refused) -> bytes:
    body: dict[str, Any] = {
        "ok": False,
        "error_code": refused.status,
        "description": refused.description,
    }
    if refused.retry_after is not None:
        body["parameters"] = {"retry_after": refused.retry_after}
    return json.dumps(body).encode()
