"""What every part of a class book has: a connection within a unit of work, and a class."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection

from storage.journal import Journal


@dataclass(frozen=True)
class OfClass:
    """A part of the book of one class."""

    connection: Connection
    class_id: int

    def journal(self, entry_id: int) -> Journal:
        """Writing on behalf of one entry."""
        return Journal(self.connection, self.class_id, entry_id)
