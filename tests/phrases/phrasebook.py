"""Phrase files as test cases: a class, what is said, and what must come of it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from bot.conversation import Answer, Incoming, take
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from storage.database import Database, Work, open_database

HERE = Path(__file__).parent
LOADED_AT = datetime(2026, 11, 20, 12, 0, tzinfo=UTC)


_NO_LOGS = ("not_logs", "not_for_the_bot", "must not log")
"""Kinds whose cases must change nothing; how the reply says so is judged by its own tests."""


@dataclass(frozen=True, slots=True)
class Case:
    """One case of a phrase file; see the head of each file for what its keys mean."""

    kind: str
    number: int
    class_name: str
    said: tuple[str, ...]
    at: str
    outcome: tuple[str, ...]
    requests: tuple[str, ...] | None
    added: Mapping[str, Sequence[str]]
    removed: Mapping[str, Sequence[str]]
    day: str
    needs: Mapping[str, Sequence[str]] | None
    choices: tuple[str, ...] | None
    changes: tuple[Mapping[str, object], ...] | None = None  # each a part of a row of `changes`
    later: bool = False
    says_nothing: bool = False  # a case that must change nothing

    @property
    def name(self) -> str:
        """What a failing test is called."""
        return f"{self.kind}-{self.number}: {self.said[-1][:60]!r}"


def read_cases(file: Path, default_at: str) -> Iterator[Case]:
    """The cases of one phrase file."""
    told = tomllib.loads(file.read_text("utf-8"))
    default_at = told.get("default_at", default_at)
    for number, raw in enumerate(told["case"], start=1):
        said = raw["say"] if isinstance(raw["say"], list) else [raw["say"]]
        at = raw.get("at", default_at)
        requests = raw.get("requests")
        choices = raw.get("choices")
        yield Case(
            kind=file.stem,
            says_nothing=raw.get("kind", file.stem) in _NO_LOGS,
            number=number,
            class_name=raw["class"],
            said=tuple(said),
            at=at,
            outcome=tuple(raw.get("accept", [raw["outcome"]])),
            requests=None if requests is None else tuple(dict.fromkeys(requests)),
            added=raw.get("added", {}),
            removed=raw.get("removed", {}),
            day=raw.get("day", at[:10]),
            needs=raw.get("needs"),
            choices=None if choices is None else tuple(choices),
            changes=tuple(raw["changes"]) if "changes" in raw else None,
            later=raw.get("later", False),
        )


class _NotKept(Exception):
    """Rolls a case back, so that the next one starts from the class as it was loaded."""


class Classes:
    """The classes of the phrase files, loaded once; each case runs in a unit of work rolled
    back."""

    def __init__(self, folder: Path, database_folder: Path) -> None:
        self._databases: dict[str, Database] = {}
        self._ids: dict[str, int] = {}
        self._zones: dict[str, ZoneInfo] = {}
        for path in sorted(folder.iterdir()):
            found = read_folder(path, machine_zone="UTC")
            assert isinstance(found, ClassFolder), (path, found)
            database = open_database(f"sqlite:///{database_folder / path.name}.db")
            with database.writing() as work:
                load(work, found, LOADED_AT)
                class_ = work.register.classes()[0]
            self._databases[path.name] = database
            self._ids[path.name] = class_.id
            self._zones[path.name] = class_.zone

    def answer(self, case: Case) -> Answer:
        """What comes of the last text of a case."""
        answers = []
        with self._rolled_back(case.class_name) as work:
            class_id = self._ids[case.class_name]
            at = datetime.fromisoformat(case.at)
            at = at if at.tzinfo else at.replace(tzinfo=self._zones[case.class_name])
            [owner, *_] = work.register.members(class_id)
            for text in case.said:
                incoming = Incoming(text, at, at.astimezone(UTC))
                answers.append(take(work.book(class_id), owner, incoming))
        return answers[-1]

    @contextmanager
    def _rolled_back(self, name: str) -> Iterator[Work]:
        try:
            with self._databases[name].writing() as work:
                yield work
                raise _NotKept
        except _NotKept:
            pass


def verdict(case: Case, answer: Answer) -> str:
    """right, asked (needlessly), unclear (needlessly), or wrong (something changed that must not,
    or something else was done than was meant)."""
    changed = _changes_as_meant(case, answer.result)
    if not changed:
        asked_first = answer.outcome == "asked" and _is_part(case, answer.result)
        nothing = not any(
            answer.result[kind] for kind in ("visits_added", "visits_removed", "changes")
        )
        if asked_first:
            return "right" if "asked" in case.outcome else "asked"
        if nothing and answer.outcome in ("unclear", "refused", "answered"):
            return "unclear"
        return "wrong"
    quiet = {"answered", "refused", "unclear"}
    if case.says_nothing and answer.outcome in quiet and quiet & set(case.outcome):
        return "right"
    if answer.outcome not in case.outcome:
        return {"asked": "asked", "unclear": "unclear"}.get(answer.outcome, "off")
    if case.needs is not None and not _same_needs(case.needs, answer.result):
        return "off"
    if case.requests is not None and set(answer.requests) != set(case.requests):
        return "off"
    if case.changes is not None and not _same_changes(case.changes, answer.result):
        return "wrong"
    labels = [choice.label for choice in answer.reply.choices]
    if (
        case.choices is not None
        and "asked" in case.outcome
        and not set(case.choices) <= set(labels)
    ):
        return "off"
    return "right"


def _turns(visits: Any) -> set[tuple[str, str, str]]:
    return {(visit["student"], visit["bin"], visit["day"]) for visit in visits}


def _meant(bins: Mapping[str, Sequence[str]], day: str) -> set[tuple[str, str, str]]:
    return {(name, bin_, day) for bin_, names in bins.items() for name in names}


def _changes_as_meant(case: Case, result: Mapping[str, object]) -> bool:
    must_not = case.says_nothing and "done" not in case.outcome
    if (must_not or case.changes == ()) and result["changes"]:
        return False
    added, removed = _turns(result["visits_added"]), _turns(result["visits_removed"])
    removed_on = {(name, bin_) for name, bin_, _ in removed}
    meant_removed = {(name, bin_) for name, bin_, _ in _meant(case.removed, "")}
    return added == _meant(case.added, case.day) and removed_on == meant_removed


def _is_part(case: Case, result: Mapping[str, object]) -> bool:
    removed = {(name, bin_) for name, bin_, _ in _turns(result["visits_removed"])}
    meant_removed = {(name, bin_) for name, bin_, _ in _meant(case.removed, "")}
    return _turns(result["visits_added"]) <= _meant(case.added, case.day) and (
        removed <= meant_removed
    )


def _same_changes(meant: Sequence[Mapping[str, object]], result: Mapping[str, object]) -> bool:
    told = result["changes"]
    assert isinstance(told, list)
    left = list(told)
    for part in meant:
        row = next((row for row in left if part.items() <= row.items()), None)
        if row is None:
            return False
        left.remove(row)
    return not left


def _same_needs(meant: Mapping[str, Sequence[str]], result: Mapping[str, object]) -> bool:
    facts = result["facts"]
    told = facts.get("needs", {}) if isinstance(facts, dict) else {}
    return {b: set(names) for b, names in told.items() if names} == {
        b: set(names) for b, names in meant.items() if names
    }
