"""What every request is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Request:
    """Anything a text may ask for; `name` is what programs know it by."""

    name: ClassVar[str] = ""
