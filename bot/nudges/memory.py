"""What members have been told unasked: each nudge once, few a day, nothing twice unless worse."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from bot.nudges.kinds import Levels
from storage.nudges import SENT
from storage.records import Nudge

MOST_A_DAY = 4  # for one recipient


@dataclass
class Memory:
    """Nudges sent or passed over, by kind, day and member."""

    passed: set[tuple[str, date, int]] = field(default_factory=set)
    sent: Counter[tuple[int, date]] = field(default_factory=Counter)
    _levels: dict[tuple[str, int], dict[str, float]] = field(
        default_factory=lambda: defaultdict(dict)
    )

    def has_had(self, kind: str, day: date, member_id: int) -> bool:
        """Whether a nudge of this kind has been sent or passed over that day."""
        return (kind, day, member_id) in self.passed

    def has_had_enough(self, day: date, member_id: int) -> bool:
        """Whether a member has had as many nudges that day as one may have."""
        return self.sent[member_id, day] >= MOST_A_DAY

    def told(self, kind: str, member_id: int) -> Levels:
        """How bad each thing was when the member was last told of it."""
        return self._levels[kind, member_id]

    def remember(
        self, kind: str, day: date, member_id: int, *, times: int, levels: Mapping[str, float]
    ) -> None:
        """A nudge was sent (or passed over, where `times` is 0)."""
        self.passed.add((kind, day, member_id))
        self.sent[member_id, day] += times
        held = self._levels[kind, member_id]
        for key, level in levels.items():
            held[key] = max(level, held.get(key, level))


def memory_of(nudges: Iterable[Nudge]) -> Memory:
    """The memory of the nudges on record."""
    memory = Memory()
    for nudge in nudges:
        was_sent = nudge.state == SENT
        memory.remember(
            nudge.kind,
            nudge.day,
            nudge.member_id,
            times=nudge.times if was_sent else 0,
            levels=nudge.levels if was_sent else {},
        )
    return memory
