"""HTTP/1.1 with keep-alive on asyncio protocols: one request at a time for each connection."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from http import HTTPStatus
from typing import cast

MOST_BODY = 60 * 1024 * 1024
REASONS = {status.value: status.phrase for status in HTTPStatus}


@dataclass(frozen=True, slots=True)
class Request:
    """One request: ``target`` is the path without the query string."""

    verb: str
    target: str
    query: str
    content_type: str
    body: bytes


class Exchange:
    """One request and the way to answer it, now or later, once."""

    __slots__ = ("_connection", "on_gone", "request")

    def __init__(self, request: Request, connection: "Connection") -> None:
        self.request = request
        self.on_gone: Callable[[], None] | None = None
        self._connection = connection

    def answer(self, status: int, body: bytes, content_type: str = "application/json") -> None:
        """Send the response; nothing happens when the caller has gone."""
        head = (
            f"HTTP/1.1 {status} {REASONS.get(status, 'Unknown')}\r\n"
            f"Content-Type: {content_type}\r\nContent-Length: {len(body)}\r\n\r\n"
        )
        self._connection.finish(self, head.encode() + body)

    def drop(self) -> None:
        """Close the connection without an answer."""
        self._connection.finish(self, None)


Handler = Callable[[Exchange], None]


class Connection(asyncio.Protocol):
    """Reads requests off one socket and hands each to the handler."""

    def __init__(self, handler: Handler, open_ones: set["Connection"]) -> None:
        self._handler = handler
        self._open_ones = open_ones
        self._buffer = bytearray()
        self._exchange: Exchange | None = None
        self._transport: asyncio.Transport | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """A caller has connected."""
        self._transport = cast(asyncio.Transport, transport)
        self._open_ones.add(self)

    def connection_lost(self, exc: Exception | None) -> None:
        """The caller has gone; a long poll of theirs must not count as a second poller."""
        self._open_ones.discard(self)
        self._transport = None
        if self._exchange is not None and self._exchange.on_gone is not None:
            self._exchange.on_gone()

    def data_received(self, data: bytes) -> None:
        """Collect bytes until a request is whole."""
        self._buffer += data
        self._next_request()

    def finish(self, exchange: Exchange, response: bytes | None) -> None:
        """Write the response of the exchange under way (None closes), then read on."""
        if self._exchange is not exchange or self._transport is None:
            return
        self._exchange = None
        if response is None:
            self._transport.abort()
            return
        self._transport.write(response)
        if self._buffer:
            self._next_request()

    def close(self) -> None:
        """Cut the connection."""
        if self._transport is not None:
            self._transport.abort()

    def _next_request(self) -> None:
        if self._exchange is not None or self._transport is None:
            return
        try:
            request = _take_request(self._buffer)
        except ValueError:
            self._transport.abort()
            return
        if request is not None:
            self._exchange = Exchange(request, self)
            self._handler(self._exchange)


def _take_request(buffer: bytearray) -> Request | None:
    """Cut one whole request off the front of the buffer; None while bytes are missing."""
    end = buffer.find(b"\r\n\r\n")
    if end < 0:
        return None
    lines = buffer[:end].decode("latin-1").split("\r\n")
    headers = {}
    for line in lines[1:]:
        name, _, value = line.partition(":")
        headers[name.lower()] = value.strip()
    if headers.get("transfer-encoding", "").lower() == "chunked":
        taken = _chunked(buffer, end + 4)
    else:
        taken = _sized(buffer, end + 4, int(headers.get("content-length", "0")))
    if taken is None:
        return None
    body, after = taken
    del buffer[:after]
    verb, url, _ = lines[0].split(" ")
    target, _, query = url.partition("?")
    return Request(verb, target, query, headers.get("content-type", ""), body)


def _sized(buffer: bytearray, start: int, size: int) -> tuple[bytes, int] | None:
    if size > MOST_BODY:
        raise ValueError("body too large")
    if len(buffer) < start + size:
        return None
    return bytes(buffer[start : start + size]), start + size


def _chunked(buffer: bytearray, start: int) -> tuple[bytes, int] | None:
    body = b""
    while (line_end := buffer.find(b"\r\n", start)) >= 0:
        size = int(buffer[start:line_end].split(b";")[0], 16)
        chunk_end = line_end + 2 + size
        if len(buffer) < chunk_end + 2:
            return None
        if size == 0:
            return body, chunk_end + 2
        body += buffer[line_end + 2 : chunk_end]
        start = chunk_end + 2
    return None


class Listener:
    """A listening socket on loopback, and every connection made to it."""

    def __init__(self, handler: Handler) -> None:
        self._handler = handler
        self._open_ones: set[Connection] = set()
        self._server: asyncio.Server | None = None

    async def start(self, port: int) -> int:
        """Listen (0: any free port); the port is returned."""
        loop = asyncio.get_running_loop()
        self._server = await loop.create_server(
            lambda: Connection(self._handler, self._open_ones), "127.0.0.1", port
        )
        return int(self._server.sockets[0].getsockname()[1])

    async def stop(self) -> None:
        """Close the socket and cut every connection."""
        assert self._server is not None
        self._server.close()
        for connection in list(self._open_ones):
            connection.close()
        await self._server.wait_closed()
