"""What every outcome says of itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from bot.requests import Frame, Option
from storage.records import Turn

DONE, REFUSED, ANSWERED, ASKED = "done", "refused", "answered", "asked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What every outcome says of itself: its status, what changed, what programs may want to
    know."""

    status: str
    added: tuple[Turn, ...] = ()
    removed: tuple[Turn, ...] = ()
    changes: tuple[Mapping[str, object], ...] = ()
    facts: Mapping[str, object] = field(default_factory=dict)
    choices: tuple[Option, ...] = ()  # ways out of a question
    frames: tuple[Frame, ...] = ()  # where another answer to it goes
    said: str | None = None  # the request in full words
    claims: bool = False  # it vouches for turns that only others had told of
