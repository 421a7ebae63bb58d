"""What may be asked for: help, a friendly word, and what was not understood."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from bot.requests.request import Request


@dataclass(frozen=True, slots=True)
class Help(Request):
    """What the bot can do, all of it or about one theme."""

    name: ClassVar[str] = "help"
    words: tuple[str, ...] = ()  # that may name the theme


@dataclass(frozen=True, slots=True)
class Smalltalk(Request):
    """A thank-you, a greeting, a joke: nothing to do."""

    name: ClassVar[str] = "smalltalk"
    kind: str = "thanks"
