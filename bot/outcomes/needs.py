"""What comes of requests: who still needs what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bot.classroom.needs import Needs
from bot.outcomes.outcome import Outcome
from storage.records import Bin, Stint, Student


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoIsLeft(Outcome):
    """Who still needs each of these bins."""

    needs: tuple[Needs, ...]
    rotations_left: tuple[int | None, ...]
    away: Mapping[int, tuple[Student, ...]]
    today: date
    not_out: tuple[tuple[Bin, Stint | None], ...] = ()
    no_such_color: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ChildrenNeed(Outcome):
    """What each of these children still needs."""

    children: tuple[tuple[Student, tuple[tuple[Stint, int], ...]], ...]
    only: tuple[Stint, ...]
    kept_from: tuple[tuple[Student, Bin], ...]
    today: date
    label: str | None = None
