"""A question back, its ways out, and where any other answer goes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Option:
    """One way out of a question: what it stands for and the text that says it in full."""

    label: str
    send: str


@dataclass(frozen=True, slots=True)
class Frame:
    """A text with a gap ("{} did Ramps on 2026-11-24") and what fills it: who, place, day, amount,
    or events of a calendar."""

    fills: str
    text: str
    everyone: str = ""  # whom "all of them" means here; the names of events, one a line


@dataclass(frozen=True, slots=True)
class Ask:
    """A question back: what is unclear (`about`), in which words, and the ways out."""

    about: str
    words: str
    options: tuple[Option, ...]
    request: str = "log_visits"
    frame: Frame | None = None  # where any other answer goes
