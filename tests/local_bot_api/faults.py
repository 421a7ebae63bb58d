"""Trouble on request: what shall go wrong with which of the next calls."""

from dataclasses import dataclass
from typing import Literal, get_args

from tests.local_bot_api.refusals import Refused

Kind = Literal[
    "retry_after",  # 429 with retry_after, not carried out
    "error",  # an error with a status and description of your choice, not carried out
    "drop",  # the connection is closed, not carried out
    "drop_after",  # carried out, then the connection is closed: the caller cannot know
    "slow",  # carried out at once, answered after some seconds
    "malformed",  # carried out, answered with a body that is not JSON
]


@dataclass(slots=True)
class Fault:
    """One kind of trouble for the next ``times`` calls of a method, after ``skip`` good ones."""

    kind: Kind
    method: str | None = None
    times: int = 1
    skip: int = 0
    seconds: float = 1.0
    status: int = 500
    description: str = "Internal Server Error"

    def __post_init__(self) -> None:
        if self.kind not in get_args(Kind):
            raise ValueError(f"fault kind {self.kind!r}: one of {', '.join(get_args(Kind))}")

    def refusal(self) -> Refused | None:
        """The error that a call meets instead of being carried out, if this is such a fault."""
        if self.kind == "retry_after":
            wait = max(1, round(self.seconds))
            return Refused(429, f"Too Many Requests: retry after {wait}", retry_after=wait)
        if self.kind == "error":
            return Refused(self.status, self.description)
        return None


class Faults:
    """The faults still to happen, oldest first."""

    def __init__(self) -> None:
        self._planned: list[Fault] = []

    def plan(self, fault: Fault) -> None:
        """Let a fault happen to the next call it fits."""
        self._planned.append(fault)

    def clear(self) -> None:
        """Let nothing more go wrong."""
        self._planned.clear()

    def next_for(self, method: str) -> Fault | None:
        """The fault that happens to this call, used up by it."""
        for fault in self._planned:
            if fault.method not in (None, method):
                continue
            if fault.skip > 0:
                fault.skip -= 1
                return None
            fault.times -= 1
            if fault.times <= 0:
                self._planned.remove(fault)
            return fault
        return None
