"""What one part of a clause tells of supplies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.understanding.supplies.parts import Part
from bot.understanding.supplies.quantities import Quantity
from storage.records import Supply


@dataclass(frozen=True, slots=True)
class Told:
    """One thing told: what became of which supplies, and how many; `kind` as `became` says it.

    `supplies` has an entry for each thing spoken of: the supplies that it may be.
    """

    part: Part
    kind: str
    supplies: Sequence[Sequence[Supply]]
    quantity: Quantity | None
    in_doubt: bool = False

    @property
    def number(self) -> float | None:
        """The number said, if one was."""
        return None if self.quantity is None else self.quantity.number

    def is_of_same(self, other: Told) -> bool:
        """Whether both speak of the same supplies."""
        return [[s.id for s in m] for m in self.supplies] == [
            [s.id for s in m] for m in other.supplies
        ]
