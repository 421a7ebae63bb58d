"""What comes of requests: questions back."""

from __future__ import annotations

from dataclasses import dataclass

from bot.outcomes.outcome import Outcome
from bot.requests import Ask


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Outcome):
    """Something is unclear, and the ways out are offered."""

    ask: Ask
