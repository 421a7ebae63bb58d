"""What requests speak of: children, places, days and times, as a text says them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time


@dataclass(frozen=True, slots=True)
class Who:
    """The children meant: by group, one by one, or everyone; and those left out of that."""

    groups: tuple[int, ...] = ()
    students: tuple[int, ...] = ()
    everyone: bool = False
    but_groups: tuple[int, ...] = ()
    but_students: tuple[int, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.groups or self.students or self.everyone)


@dataclass(frozen=True, slots=True)
class Place:
    """A bin by itself, or whatever bin is in a color on the day spoken of."""

    bin_id: int | None = None
    color: str | None = None


@dataclass(frozen=True, slots=True)
class When:
    """What a text said of the time: a day, the start of a rotation, or "the second rotation"."""

    day: date | None = None
    starts: time | None = None
    slot: int | None = None
    unsure: bool = False  # a day was spoken of that may be several: "last week"
    maybe: tuple[date, ...] = ()  # the days it may be, where they can be told


@dataclass(frozen=True, slots=True)
class Span:
    """Days from-to (both included; None leaves that side open), or one weekday again and again,
    and what part of those days: by the clock, or by rotations ("the second")."""

    first: date | None = None
    last: date | None = None
    weekday: int | None = None
    starts: time | None = None
    ends: time | None = None
    slots: tuple[int, ...] = ()

    @property
    def names_day(self) -> bool:
        """Whether a day was said."""
        return self.first is not None or self.last is not None or self.weekday is not None

    @property
    def is_part(self) -> bool:
        """Whether it is only a part of the day."""
        return self.starts is not None or self.ends is not None or bool(self.slots)
