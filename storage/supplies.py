"""Supplies: what was counted, what came and what went, written in the name of entries."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from sqlalchemy import or_, select

from storage.of_class import OfClass
from storage.records import Count, Move
from storage.rosters import read_standing
from storage.tables import changes, counts, entries, moves


@dataclass(frozen=True)
class Supplies(OfClass):
    """The stock of one class; which supplies there are is part of its roster."""

    def supply_counts(self) -> tuple[Count, ...]:
        """Every supply count that stands, oldest first."""
        return read_standing(self.connection, self.class_id, counts, Count)

    def supply_moves(self) -> tuple[Move, ...]:
        """Everything that came or went and stands, oldest first."""
        return read_standing(self.connection, self.class_id, moves, Move)

    def count_supply(
        self,
        entry_id: int,
        supply_id: int,
        on_hand: float,
        day: date,
        at: time | None,
        *,
        learns: bool = True,
    ) -> None:
        """Say how much of a supply was found; `at` None is by the end of that day."""
        self.journal(entry_id).add(
            counts,
            supply_id=supply_id,
            on_hand=on_hand,
            counted_on=day,
            counted_at=at,
            learns=learns,
        )

    def move_supply(
        self,
        entry_id: int,
        supply_id: int,
        amount: float,
        kind: str,
        day: date,
        at: time | None,
        *,
        tub: int | None = None,
    ) -> None:
        """Say what came to a supply or went from it other than by visits."""
        self.journal(entry_id).add(
            moves,
            supply_id=supply_id,
            amount=amount,
            kind=kind,
            moved_on=day,
            moved_at=at,
            tub=tub,
        )

    def supplies_touched(self, entry_id: int) -> tuple[int, ...]:
        """The supplies that an entry, or what it stepped back, counted or moved."""
        stepped = select(entries.c.id).where(entries.c.undone_by == entry_id)
        found: dict[int, None] = {}
        for table in (counts, moves):
            lines = select(changes.c.row_id).where(
                changes.c.entry_id == entry_id, changes.c.subject == table.name
            )
            spoken_of = or_(
                table.c.made_by == entry_id,
                table.c.made_by.in_(stepped),
                table.c.id.in_(lines),
            )
            query = select(table.c.supply_id).where(spoken_of).order_by(table.c.id)
            found |= dict.fromkeys(self.connection.scalars(query))
        return tuple(found)
