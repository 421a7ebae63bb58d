"""Bringing a database to the shape this version knows, one process at a time."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

HEAD = "0004"
_LOCK = 746_298_114  # any number, the same for every process of ours


class NewerDatabase(Exception):
    """The database was made by a later version of this program."""

    def __init__(self, revision: str) -> None:
        super().__init__(revision)
        self.revision = revision


def migrate(engine: Engine) -> None:
    """Apply the missing migrations under an exclusive lock; nothing to do costs one small read.

    Raises NewerDatabase for a revision this version has never heard of.
    """
    with engine.connect() as connection, connection.begin():
        if _revision(connection) == HEAD:
            return
    with (
        engine.connect().execution_options(tubtally_writes=True) as connection,
        connection.begin(),
    ):
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})
        if _revision(connection) != HEAD:
            _upgrade(connection)


def _revision(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _upgrade(connection: Connection) -> None:
    # Imported here: most starts find nothing to migrate, and the import costs more than the check.
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    held = _revision(connection)
    known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
    if held is not None and held not in known:
        raise NewerDatabase(held)
    command.upgrade(config, "head")
