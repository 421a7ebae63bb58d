"""Keeping a copy of the whole database, and putting one back.

For SQLite, by its own online backup (https://www.sqlite.org/backup.html): a copy is consistent
however much is written meanwhile. A database server has its own tools for this.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy.engine import make_url

from storage.migrating import HEAD

ASIDE = ".before-restore"  # what was there before is kept under this ending


class BackupFault(Exception):
    """A copy cannot be made or put back; `kind` is one of server, exists, no_database, not_ours,
    newer, in_use, unwritable."""

    def __init__(self, kind: str, where: str) -> None:
        super().__init__(kind, where)
        self.kind = kind
        self.where = where


def back_up(url: str, target: Path) -> None:
    """Copy the database at an SQLAlchemy URL into a new file; the bot may go on meanwhile.

    Raises BackupFault; a copy is there as a whole or not at all.
    """
    source = _file_of(url)
    if not source.exists():
        raise BackupFault("no_database", str(source))
    if target.exists():
        raise BackupFault("exists", str(target))
    part = target.with_name(f"{target.name}.part")
    try:
        part.unlink(missing_ok=True)
        with closing(sqlite3.connect(source)) as held, closing(sqlite3.connect(part)) as copy:
            held.backup(copy)
        os.replace(part, target)
    except (OSError, sqlite3.Error):
        part.unlink(missing_ok=True)
        raise BackupFault("unwritable", str(target)) from None


def put_back(url: str, source: Path) -> Path | None:
    """Put a copy in the place of the database; where the database that was there is kept.

    Raises BackupFault where the file is no copy of ours, or where anything has the database open.
    """
    target = _file_of(url)
    _check(source)
    if not target.exists():
        target.parent.mkdir(parents=True, exist_ok=True)
    is_new = not target.exists()
    aside = target.with_name(target.name + ASIDE)
    with _alone(target) as held:
        if not is_new:
            with closing(sqlite3.connect(aside)) as kept:
                held.backup(kept)
        with closing(sqlite3.connect(source)) as copy:
            copy.backup(held)
    return None if is_new else aside


def _file_of(url: str) -> Path:
    address = make_url(url)
    if address.get_backend_name() != "sqlite" or address.database in (None, "", ":memory:"):
        raise BackupFault("server", address.render_as_string())
    return Path(str(address.database))


def _check(source: Path) -> None:
    """That a file is a whole database of this program, no newer than it."""
    if not source.is_file():
        raise BackupFault("no_database", str(source))
    try:
        with closing(sqlite3.connect(f"file:{source}?mode=ro", uri=True)) as copy:
            [state] = copy.execute("PRAGMA integrity_check").fetchone()
            [revision] = copy.execute("SELECT version_num FROM alembic_version").fetchone()
            copy.execute("SELECT 1 FROM classes LIMIT 1")
    except (sqlite3.Error, TypeError):
        raise BackupFault("not_ours", str(source)) from None
    if state != "ok":
        raise BackupFault("not_ours", str(source))
    if revision > HEAD:
        raise BackupFault("newer", str(source))


@contextmanager
def _alone(target: Path) -> Iterator[sqlite3.Connection]:
    """The database with nobody else in it: leaving write-ahead logging needs just that, and an
    exclusive lock held from then on keeps everybody out."""
    with closing(sqlite3.connect(target, timeout=0.2, isolation_level=None)) as held:
        try:
            held.execute("PRAGMA locking_mode=EXCLUSIVE")
            held.execute("PRAGMA journal_mode=DELETE")
            held.execute("BEGIN EXCLUSIVE")
            held.execute("COMMIT")  # the lock stays
        except sqlite3.DatabaseError as fault:
            kind = "in_use" if "locked" in str(fault) else "not_ours"
            raise BackupFault(kind, str(target)) from None
        yield held
