"""What comes of requests: help, a friendly word, and what was not understood."""

from __future__ import annotations

from dataclasses import dataclass

from bot.outcomes.outcome import Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Helped(Outcome):
    """What the bot can do: theme, title and examples of each skill; of one theme, or all."""

    skills: tuple[tuple[str, str, tuple[str, ...]], ...]
    theme: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Smiled(Outcome):
    """A friendly word back."""

    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear(Outcome):
    """Not understood; the nearest things the bot can do are offered."""

    kind: str = "text"
    offers: tuple[str, ...] = ()
