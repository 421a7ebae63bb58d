"""A server in a process of its own, driven over its control endpoints; not async, so that a
script which starts and kills bots can use it."""

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from typing import Any
from urllib.parse import urlsplit

from tests.local_bot_api.server import TOKEN


class ControlError(Exception):
    """The server could not do what it was asked; carries its reason."""


class Remote:
    """The control surface of a server at ``base_url``: ``remote("text", text="hi")``."""

    def __init__(self, base_url: str, *, token: str = TOKEN, seconds: float = 120.0) -> None:
        self.base_url = base_url
        self.token = token
        self._seconds = seconds

    def __call__(self, what: str, **asked: Any) -> Any:
        """Post to /control/<what>; ControlError with the reason when refused."""
        place = urlsplit(self.base_url).netloc
        connection = HTTPConnection(place, timeout=self._seconds)
        try:
            connection.request("POST", f"/control/{what}", json.dumps(asked))
            response = connection.getresponse()
            result = json.loads(response.read())
        finally:
            connection.close()
        if response.status != 200:
            raise ControlError(result["error"])
        return result


@contextmanager
def running_apart(*, token: str = TOKEN) -> Iterator[Remote]:
    """Start a server process, give its control surface, end the process."""
    command = [sys.executable, "-m", "tests.local_bot_api", "--port", "0", "--token", token]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            yield Remote(process.stdout.readline().strip(), token=token)
        finally:
            process.terminate()
