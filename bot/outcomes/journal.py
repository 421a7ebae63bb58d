"""What comes of requests: undo, redo, corrections, and why."""

from __future__ import annotations

from dataclasses import dataclass

from bot.outcomes.outcome import Outcome
from storage.records import Bin, Claim, Entry, Stint, Student, Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class SteppedBack(Outcome):
    """A change was undone (or redone); `staying` are visits another entry still claims."""

    entry: Entry | None
    forward: bool
    reason: str = ""
    built_on: tuple[Entry, ...] = ()  # what must be undone first
    staying: tuple[Turn, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LogCorrected(Outcome):
    """An earlier text now means something else."""

    entry: Entry
    kept: bool = False  # the new wording could not be read, so the old meaning stays
    built_on: bool = False  # turns were logged since at a bin that it put out


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained(Outcome):
    """Why a child needs a bin, or does not."""

    student: Student
    bin_: Bin
    stint: Stint | None
    standing: tuple[tuple[Claim, Entry], ...]
    voided: tuple[tuple[Claim, Entry], ...]
    missing: int
    caution: str | None
    passed_by: tuple[
        tuple[Entry, str], ...
    ] = ()  # logs of the child's group that left the child out


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingExplained(Outcome):
    """How the last text was taken."""

    entry: Entry | None
    taken: tuple[tuple[str, str], ...] = ()
