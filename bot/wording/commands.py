"""Words for the command line: what a load did, what is wrong with the database."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from bot.folder.facts import parts_of
from bot.folder.loading import Difference, Loaded
from bot.wording.voice import Reply
from storage.backups import BackupFault
from storage.database import DatabaseFault

_ONE_BY_ONE = 12  # more rows of one kind are counted instead
_MANY = {
    "class": "settings", "student": "children", "apart": "pairs kept apart", "bin": "bins",
    "stint": "times a bin is out", "supply": "supplies", "station": "stations",
    "rotation": "rotations", "away": "aways", "unit": "units", "closure": "calendar entries",
    "visit": "visits",
}  # fmt: skip
_ONE = {
    "class": "setting", "student": "child", "apart": "kept apart", "bin": "bin", "stint": "out",
    "supply": "supply", "station": "station", "rotation": "rotation", "away": "away",
    "unit": "unit", "closure": "calendar", "visit": "visit",
}  # fmt: skip

_SINGLE = {"stint": "time a bin is out", "apart": "pair kept apart", "closure": "calendar entry"}


def loaded_lines(loaded: Loaded) -> list[str]:
    """What a load changed, a line each; many rows of one kind are counted."""
    if loaded.conflicts:
        lines = [f"{_row(d)}: {_field(d)}" for d in loaded.conflicts]
        return [
            "Changed both in the chat and in the folder:",
            *lines,
            "Nothing was loaded. Mend the folder, or load it with --folder-wins.",
        ]
    counts = Counter((d.action, d.subject) for d in loaded.differences if not d.field)
    lines = []
    for (action, subject), number in counts.items():
        if number > _ONE_BY_ONE or loaded.is_new:
            what = _MANY[subject] if number > 1 else _SINGLE.get(subject, _ONE[subject])
            lines.append(f"{number} {what} {action}")
    for difference in loaded.differences:
        if difference.field and difference.field != "position":
            lines.append(f"{_row(difference)}: {_field(difference)}")
        elif not difference.field and not _is_counted(counts, difference, loaded):
            lines.append(f"{_row(difference)} {difference.action}")
    return lines


def _is_counted(counts: Counter[tuple[str, str]], difference: Difference, loaded: Loaded) -> bool:
    return loaded.is_new or counts[difference.action, difference.subject] > _ONE_BY_ONE


def _row(difference: Difference) -> str:
    name = ", ".join(part for part in parts_of(difference.key) if part)
    return f"{_ONE[difference.subject]} {name}".strip()


def _field(difference: Difference) -> str:
    name = difference.field.replace("_", " ") or "row"
    return f"{name} {_value(difference.before)} -> {_value(difference.after)}"


def _value(value: object) -> str:
    if isinstance(value, list):
        return "; ".join(str(part) for part in value) or "none"
    return "none" if value is None else str(value)


def as_text(loaded: Loaded, lines: list[str], database: str) -> str:
    """What the person who loaded a folder reads."""
    text = [f"{loaded.class_name}: {'loaded.' if lines else 'nothing has changed.'}", *lines]
    if loaded.code:
        text.append(f"To join as the owner, send the bot this code once: {loaded.code}")
    text.append(f"Kept in {database}")
    return "\n".join(text)


def answer_lines(reply: Reply) -> str:
    """A reply in a terminal: its text, its buttons below, its files."""
    lines = [reply.text]
    if reply.choices:
        lines.append("  ".join(f"[{choice.label}: {choice.send}]" for choice in reply.choices))
    return "\n".join([*lines, *reply.attachments])


def database_fault(fault: DatabaseFault) -> str:
    """What is wrong with the database and how to mend it."""
    sentences = {
        "address": f"TUBTALLY_DATABASE is not an SQLAlchemy URL: {fault.where}",
        "driver": f"No driver for this kind of database is installed: {fault.detail}",
        "unwritable": f"The database {fault.where} cannot be written: {fault.detail}. "
        "Check the folder's rights, or set TUBTALLY_DATABASE to another place.",
        "corrupt": f"The file {fault.where} is not a sound database: {fault.detail}. "
        "It was left as it is; move it away, or restore a backup.",
        "newer": f"The database {fault.where} was made by a later version of this program "
        f"({fault.detail}). Update the program; nothing was changed.",
        "unreachable": f"The database at {fault.where} cannot be reached: {fault.detail}",
        "trouble": f"The database could not carry this out ({fault.detail}); nothing was changed.",
    }
    return sentences[fault.kind]


def backed_up(file: Path) -> str:
    """A backup was made."""
    return f"The whole database is in {file}. It holds children's names: keep it as you keep them."


def restored(file: Path, aside: Path | None) -> list[str]:
    """A backup was put back, and where the database that was there is now."""
    lines = [f"The database is as {file} holds it."]
    return lines if aside is None else [*lines, f"What was there before is in {aside}."]


def backup_fault(fault: BackupFault) -> str:
    """Why a backup could not be made or put back."""
    return _BACKUP_FAULTS[fault.kind].format(where=fault.where)


_BACKUP_FAULTS = {
    "server": "{where} is a database server: use its own tools (for PostgreSQL pg_dump and "
    "pg_restore).",
    "exists": "{where} is there already: name a new file.",
    "no_database": "There is no file {where}.",
    "not_ours": "{where} is no database of this program, or a damaged one. Nothing changed.",
    "newer": "{where} was made by a later version of this program. Nothing changed.",
    "in_use": "Something has the database {where} open: stop the bot first. Nothing changed.",
    "unwritable": "{where} cannot be written.",
}
