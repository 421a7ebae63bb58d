"""What may be asked for: undo, redo, corrections, and why."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from bot.requests.meant import Place, Who
from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class Undo(Request):
    """Step back the sender's last change, or the one named by its number."""

    name: ClassVar[str] = "undo"
    entry_id: int | None = None


@dataclass(frozen=True, slots=True)
class Redo(Request):
    """Step forward again."""

    name: ClassVar[str] = "redo"


@dataclass(frozen=True, slots=True)
class Why(Request):
    """Why a child needs a bin (or does not); why the last text was read as it was."""

    name: ClassVar[str] = "why"
    who: Who = field(default_factory=Who)
    place: Place | None = None
