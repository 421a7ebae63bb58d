"""Stints: bins put out, taken down and kept out longer, each in the name of an entry."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from storage.of_class import OfClass
from storage.tables import changes, claims, entries, stints


@dataclass(frozen=True)
class Stints(OfClass):
    """The stints of one class."""

    def open_stint(
        self,
        entry_id: int,
        *,
        bin_id: int,
        color: str,
        opens: date,
        closes: date | None,
        seats: int,
        visits_each: int,
    ) -> int:
        """Put a bin out in a color from one day to another (None: all year), and give its id."""
        return self.journal(entry_id).add(
            stints,
            bin_id=bin_id,
            color=color,
            opens=opens,
            closes=closes,
            seats=seats,
            visits_each=visits_each,
        )

    def close_stint(self, entry_id: int, stint_id: int, closes: date | None) -> bool:
        """Give a stint another last day; False where it had that already."""
        return self.journal(entry_id).change(stints, stint_id, closes=closes)

    def reopen_stint(
        self, entry_id: int, stint_id: int, *, opens: date, closes: date | None
    ) -> None:
        """Give a stint that has not begun other days."""
        self.journal(entry_id).change(stints, stint_id, opens=opens, closes=closes)

    def drop_stint(self, entry_id: int, stint_id: int) -> None:
        """Take back a stint at which nobody has been."""
        self.journal(entry_id).void(stints, (stint_id,))

    def has_visits(self, stint_id: int, day: date | None = None) -> bool:
        """Whether a visit to a stint stands: on a day, or at all."""
        query = select(claims.c.id).where(
            claims.c.stint_id == stint_id, claims.c.voided_by.is_(None)
        )
        if day is not None:
            query = query.where(claims.c.day == day)
        return self.connection.execute(query.limit(1)).first() is not None

    def entries_behind(self, stint_ids: Collection[int]) -> tuple[int, ...]:
        """The standing entries that put these stints out or changed their days."""
        made = select(stints.c.made_by).where(stints.c.id.in_(stint_ids))
        changed = select(changes.c.entry_id).where(
            changes.c.subject == stints.name,
            changes.c.row_id.in_(stint_ids),
            changes.c.settles.is_(False),
        )
        query = select(entries.c.id).where(
            entries.c.id.in_(made.union(changed)), entries.c.undone_by.is_(None)
        )
        return tuple(self.connection.scalars(query.order_by(entries.c.id)))

    def entries_at_stints_taken_back(self) -> tuple[int, ...]:
        """The entries whose visits stand at a stint that was taken back: none may be left so."""
        query = (
            select(claims.c.made_by)
            .distinct()
            .join(stints, stints.c.id == claims.c.stint_id)
            .where(
                stints.c.class_id == self.class_id,
                stints.c.voided_by.is_not(None),
                claims.c.voided_by.is_(None),
            )
        )
        return tuple(self.connection.scalars(query.order_by(claims.c.made_by)))
