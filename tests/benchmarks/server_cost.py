"""What the local Bot API server itself costs for each call, over a bare keep-alive socket.

``python -m tests.benchmarks.server_cost [--calls 5000]``: the round trip includes the client's own
share; the server's share is the processor time its process used.
"""

import argparse
import socket
import time
from statistics import median
from urllib.parse import urlsplit

from tests.local_bot_api import Remote, running_apart

BODY = b"chat_id=501&text=g3+balance+except+mia"


def _request(remote: Remote, method: str, body: bytes) -> bytes:
    head = (
        f"POST /bot{remote.token}/{method} HTTP/1.1\r\nHost: localhost\r\n"
        f"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    return head.encode() + body


def round_trips(remote: Remote, method: str, body: bytes, calls: int) -> list[float]:
    """Milliseconds from writing a call to having read its answer."""
    place = urlsplit(remote.base_url)
    request = _request(remote, method, body)
    took = []
    with socket.create_connection((place.hostname, place.port)) as connection:
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        for _ in range(calls):
            start = time.perf_counter()
            connection.sendall(request)
            answer = connection.recv(65536)
            took.append((time.perf_counter() - start) * 1000)
            assert answer.startswith(b"HTTP/1.1 200"), answer
    return took


def main() -> None:
    """Time sendMessage and an empty getUpdates, and print both."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--calls", type=int, default=5000)
    calls = parser.parse_args().calls
    with running_apart() as remote:
        remote("chat", user_id=501, first_name="Robin")
        for method, body in (("sendMessage", BODY), ("getUpdates", b"timeout=0")):
            before = remote("state")["processor_seconds"]
            took = round_trips(remote, method, body, calls)
            used = (remote("state")["processor_seconds"] - before) / calls * 1000
            print(f"{method:<12} round trip {median(took):.3f} ms, server's share {used:.3f} ms")


if __name__ == "__main__":
    main()
