"""The database: opening it, one writing unit of work at a time, readers beside it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from sqlite3 import Cursor, OperationalError
from time import sleep

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DatabaseError, NoSuchModuleError
from sqlalchemy.exc import OperationalError as SqlOperationalError
from sqlalchemy.pool import ConnectionPoolEntry

from storage.classbook import ClassBook
from storage.migrating import NewerDatabase, migrate
from storage.post import Post
from storage.records import Roster
from storage.register import Register

_TRIES, _PAUSE = 200, 0.02  # seconds between looks


class DatabaseFault(Exception):
    """The database cannot be used; `kind` is one of address, driver, unwritable, corrupt, newer,
    unreachable."""

    def __init__(self, kind: str, where: str, detail: str = "") -> None:
        super().__init__(kind, where, detail)
        self.kind = kind
        self.where = where
        self.detail = detail


@dataclass(frozen=True)
class Work:
    """One unit of work: everything done through it is kept together or not at all."""

    connection: Connection
    rosters: dict[int, Roster]

    def book(self, class_id: int) -> ClassBook:
        """The class book of one class."""
        return ClassBook(self.connection, class_id, self.rosters)

    @property
    def register(self) -> Register:
        """Classes and members: who may text about what."""
        return Register(self.connection)

    @property
    def post(self) -> Post:
        """Updates that came in and replies that go out."""
        return Post(self.connection)


class Database:
    """An open, migrated database."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._rosters: dict[int, Roster] = {}

    @contextmanager
    def writing(self) -> Iterator[Work]:
        """A unit of work that may write; committed at the end, rolled back on any exception."""
        with self._engine.connect().execution_options(tubtally_writes=True) as connection:
            try:
                with connection.begin():
                    yield Work(connection, self._rosters)
            except BaseException:
                self._rosters.clear()  # may hold what was never committed
                raise

    @contextmanager
    def reading(self) -> Iterator[Work]:
        """A consistent view that writes nothing."""
        with self._engine.connect() as connection, connection.begin() as transaction:
            yield Work(connection, {})
            transaction.rollback()

    def close(self) -> None:
        """Let go of every connection."""
        self._engine.dispose()


def open_database(url: str) -> Database:
    """Open (or create) the database at an SQLAlchemy URL and bring it to this version.

    Raises DatabaseFault, with its kind, where that cannot be done.
    """
    address = _address(url)
    where = (_is_sqlite(address) and address.database) or address.render_as_string()
    try:
        if _is_sqlite(address) and address.database not in (None, "", ":memory:"):
            Path(str(address.database)).parent.mkdir(parents=True, exist_ok=True)
        engine = _engine(address)
        migrate(engine)
    except NewerDatabase as newer:
        raise DatabaseFault("newer", where, newer.revision) from None
    except (NoSuchModuleError, ModuleNotFoundError) as missing:
        raise DatabaseFault("driver", where, str(missing)) from None
    except OSError as fault:
        raise DatabaseFault("unwritable", where, fault.strerror or "") from None
    except DatabaseError as fault:
        raise DatabaseFault(_kind(fault, address), where, str(fault.orig)) from None
    return Database(engine)


def without_password(url: str) -> str:
    """An address that may be shown; of one that cannot be read only the kind is."""
    try:
        return make_url(url).render_as_string()
    except (ArgumentError, ValueError):
        return f"{url.partition('://')[0]}://..."


def _address(url: str) -> URL:
    try:
        return make_url(url)
    except (ArgumentError, ValueError):  # ValueError: a port that is no number
        raise DatabaseFault("address", without_password(url)) from None


def _is_sqlite(address: URL) -> bool:
    return address.get_backend_name() == "sqlite"


def _kind(fault: DatabaseError, address: URL) -> str:
    """Which of the plain reasons lies behind a driver's complaint."""
    if not _is_sqlite(address):
        return "unreachable"
    text = str(fault.orig).lower()
    if "not a database" in text or "malformed" in text:
        return "corrupt"
    return "unwritable" if isinstance(fault, SqlOperationalError) else "corrupt"


def _engine(address: URL) -> Engine:
    """An engine whose writing transactions begin as such, so that none fails half way; what it
    complains of holds no child's name."""
    if not _is_sqlite(address):
        return create_engine(address, pool_pre_ping=True, hide_parameters=True)
    engine = create_engine(address, connect_args={"timeout": 30}, hide_parameters=True)

    @event.listens_for(engine, "connect")
    def prepare(connection: object, _: ConnectionPoolEntry) -> None:
        connection.isolation_level = None  # type: ignore[attr-defined]  # we say BEGIN ourselves
        cursor = connection.cursor()  # type: ignore[attr-defined]
        for pragma in ("busy_timeout=30000", "synchronous=FULL", "foreign_keys=ON"):
            cursor.execute(f"PRAGMA {pragma}")
        _keep_a_log(cursor)
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("tubtally_writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _keep_a_log(cursor: Cursor) -> None:
    """Write-ahead logging. Turning it on needs the file to itself for a moment, and SQLite does not
    wait for that: where another process is just doing the same, look again."""
    for _ in range(_TRIES):
        if cursor.execute("PRAGMA journal_mode").fetchone()[0] == "wal":
            return
        try:
            cursor.execute("PRAGMA journal_mode=WAL")
        except OperationalError as fault:
            if "locked" not in str(fault):
                raise
            sleep(_PAUSE)
