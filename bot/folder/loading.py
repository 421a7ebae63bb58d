"""Loading: a folder's facts against the class as it stands and the folder loaded before.

A cell applies when it differs from the last load. Where the same thing was changed in the chat as
well, both are listed and nothing is loaded, unless the folder is told to win.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from bot.folder.facts import (
    SUBJECTS,
    Facts,
    Fields,
    class_facts,
    copy_of,
    folder_facts,
    key_of,
    parts_of,
)
from bot.folder.values import ClassFolder
from bot.folder.writing import Writer
from storage.classbook import ClassBook
from storage.database import Work
from storage.records import Roster
from storage.register import OWNER


@dataclass(frozen=True, slots=True)
class Difference:
    """One field (or a whole row, where `field` is empty) that a load adds, changes or removes."""

    action: str  # added, changed, moved, removed, left, kept
    subject: str
    key: str
    field: str = ""
    before: object = None
    after: object = None


@dataclass(frozen=True, slots=True)
class Loaded:
    """What a load did; with conflicts nothing was done."""

    class_name: str
    code: str
    differences: tuple[Difference, ...]
    conflicts: tuple[Difference, ...] = ()
    is_new: bool = False


@dataclass(slots=True)
class _Merge:
    """Three sides laid together; `used` are stints that were ever logged at."""

    wanted: Facts
    base: Facts
    current: Facts
    used: frozenset[str]
    folder_wins: bool
    differences: list[Difference] = field(default_factory=list)
    conflicts: list[Difference] = field(default_factory=list)

    def compare(self) -> None:
        moved = self._moved_stints()
        for subject in SUBJECTS:
            for key in self.wanted[subject]:
                self._row(subject, key, moved.get(key, key) if subject == "stint" else key)
        for subject in reversed(SUBJECTS):  # what belongs to a bin goes before it
            for key in self.base[subject]:
                is_moved = subject == "stint" and key in moved.values()
                if key not in self.wanted[subject] and not is_moved:
                    self._gone(subject, key)

    def _moved_stints(self) -> dict[str, str]:
        """New stints that are known ones with another first day: new key -> key until now."""
        known, wanted = self.base["stint"], self.wanted["stint"]
        gone = [key for key in known if key not in wanted and key in self.current["stint"]]
        moved: dict[str, str] = {}
        for new in wanted:
            if new in known or new in self.current["stint"]:
                continue
            span = _span(new, wanted[new])
            old = next((key for key in gone if _overlap(span, _span(key, known[key]))), None)
            if old is not None:
                gone.remove(old)
                moved[new] = old
        return moved

    def _row(self, subject: str, key: str, before: str) -> None:
        """Compare a row of the folder with what was called `before` until now."""
        wanted, current = self.wanted[subject][key], self.current[subject].get(before)
        base = self.base[subject].get(before)
        if key != before:
            days = parts_of(before)[1], parts_of(key)[1]
            self.differences.append(Difference("moved", subject, key, "opens", *days))
        if current is None:
            if base is None:
                self.differences.append(Difference("added", subject, key))
            elif wanted != base or not wanted:
                self._changed_elsewhere(subject, key, wanted != base)
            return
        is_back = subject == "student" and base is None
        for name, value in wanted.items():
            held, told = current.get(name), base.get(name) if base else None
            if value == held or (base is not None and value == told):
                continue
            difference = Difference("changed", subject, key, name, held, value)
            clash = held != told if base is not None else not is_back
            if clash and not self.folder_wins and name != "position":
                self.conflicts.append(difference)
            else:
                self.differences.append(difference)

    def _changed_elsewhere(self, subject: str, key: str, folder_changed: bool) -> None:
        """A row of the last load that the chat took away and the folder still names."""
        if not folder_changed:
            return
        difference = Difference("added", subject, key)
        (self.differences if self.folder_wins else self.conflicts).append(difference)

    def _gone(self, subject: str, key: str) -> None:
        if key not in self.current[subject] or subject == "class":
            return
        action = "left" if subject == "student" else "removed"
        if action == "left" and self.current[subject][key]["left"] is not None:
            return
        kept = self.used if subject == "stint" else {parts_of(stint)[0] for stint in self.used}
        if subject in ("stint", "bin") and key in kept:
            action = "kept"
        self.differences.append(Difference(action, subject, key))


_Span = tuple[str, str, str]


def _span(key: str, row: Fields) -> _Span:
    """The bin of a stint, its first and its last day; "9" lies behind every day."""
    name, opens = parts_of(key)
    return name, opens, str(row["closes"] or "9")


def _overlap(one: _Span, other: _Span) -> bool:
    return one[0] == other[0] and one[1] <= other[2] and other[1] <= one[2]


def load(work: Work, folder: ClassFolder, now: datetime, *, folder_wins: bool = False) -> Loaded:
    """Create or update the class that a folder describes, in the unit of work given.

    `now` is an aware moment; in the class's zone it is the day on which changes take hold.
    """
    known = next((c for c in work.register.classes() if c.name == folder.settings.name), None)
    class_id = known.id if known else _new_class(work, folder)
    book = work.book(class_id)
    roster = book.roster()
    facts = folder_facts(folder)
    current = class_facts(roster, book.supply_counts(), book.visits_loaded())
    merge = _Merge(facts, copy_of(_last_load(book)), current, _used(book, roster), folder_wins)
    merge.compare()
    if merge.conflicts:
        return Loaded(folder.settings.name, "", (), tuple(merge.conflicts))
    if merge.differences:
        _write(book, facts, merge.differences, now)
    code, differences = _code(work, class_id), tuple(merge.differences)
    return Loaded(folder.settings.name, code, differences, is_new=known is None)


def _new_class(work: Work, folder: ClassFolder) -> int:
    s = folder.settings
    return work.register.add_class(
        s.name,
        time_zone=s.time_zone,
        digest_at=s.digest_at,
        quiet_before=s.quiet_before,
        quiet_after=s.quiet_after,
        school_days=list(s.school_days),
        absence_rate=s.absence_rate,
        keep_groups=str(s.keep_groups),
    )


def _used(book: ClassBook, roster: Roster) -> frozenset[str]:
    """Stints that a text spoke of, though it may be undone: what was said keeps its place."""
    ever = book.stints_spoken_of()
    return frozenset(
        key_of(roster.bin_of(stint).name, stint.opens)
        for stint in roster.stints
        if stint.id in ever
    )


def _last_load(book: ClassBook) -> Facts:
    return copy_of(book.loaded() or {})


def _write(
    book: ClassBook,
    facts: Facts,
    differences: list[Difference],
    now: datetime,
) -> None:
    entry_id = book.open_entry(kind="load", text="load", at=now, received_at=now, member_id=None)
    today = now.astimezone(book.roster().class_.zone).date()
    writer = Writer(book, book.journal(entry_id), facts, today)
    for difference in differences:
        if difference.action == "moved":
            writer.move_stint(difference.key, str(difference.before))
            continue
        writer.write(difference.action, difference.subject, difference.key, difference.field)
    writer.finish()
    book.keep_loaded(facts)
    book.close_entry(entry_id, outcome="done", effect=True)


def _code(work: Work, class_id: int) -> str:
    """A one-time code for the owner, where the class has no owner on the platform yet."""
    owner = work.register.member(class_id, OWNER)
    if owner is None or owner.account is not None:
        return ""
    return work.register.new_code(owner)
