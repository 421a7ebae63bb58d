"""What is logged: our own lines, and of libraries only what carries neither token nor names."""

from __future__ import annotations

import logging
import sys

_CHATTY = (
    "httpx",
    "httpcore",
    "alembic",
    "apscheduler",
)  # the first two log addresses, the token in them
_CONTENTS = ("telegram", "apscheduler")  # log answers they cannot read, faults with their text


class Redacting(logging.Formatter):
    """A formatter in whose lines, tracebacks included, the token never stands."""

    def __init__(self, token: str) -> None:
        super().__init__("%(asctime)s %(levelname)s %(message)s")
        self._token = token

    def format(self, record: logging.LogRecord) -> str:
        """One record as text, the token blacked out."""
        return super().format(record).replace(self._token, "[token]")


def log_quietly(token: str) -> None:
    """Send our own lines to standard error, and keep the libraries' contents out."""
    for name in _CHATTY:
        logging.getLogger(name).setLevel(logging.WARNING)
    for name in _CONTENTS:
        logging.getLogger(name).setLevel(logging.CRITICAL)
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Redacting(token))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.INFO)


def described(fault: BaseException) -> str:
    """What kind of fault and where in our code; never its text, which may hold names."""
    trace, place = fault.__traceback__, ""
    while trace is not None:
        place = f" in {trace.tb_frame.f_code.co_name}, line {trace.tb_lineno}"
        trace = trace.tb_next
    return (type(fault).__name__ + place)[:200]
