"""Alembic's way in: it runs on the connection, and inside the lock, of storage.migrating."""

from alembic import context

from storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
)
context.run_migrations()
