"""A calendar that was sent: what of it would close school or take rotations away.

Days of one name in a row are one event ("Winter break"), and so are the days of one repeating
event. An event keeps only the days that are news to the class.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import Any

from bot.classroom.days import is_school_day, rotation_end, rotations_on
from storage.records import Roster, Rotation

_Kind = tuple[str, time | None, time | None]  # name, from, to
_Source = tuple[_Kind, int]
_MIDNIGHT, _LAST = time(0, 0), time(23, 59)


@dataclass(frozen=True, slots=True)
class Happening:
    """One day of a calendar's event, or a part of it; `source` tells events of one name apart."""

    day: date
    name: str
    source: int
    starts: time | None = None
    ends: time | None = None


@dataclass(frozen=True, slots=True)
class SchoolEvent:
    """What closes school on some days or, with times, takes the rotations `lost` away."""

    name: str
    days: tuple[date, ...]
    starts: time | None = None
    ends: time | None = None
    lost: tuple[time, ...] = ()

    @property
    def closes(self) -> bool:
        """Whether there is no school at all."""
        return self.starts is None

    def takes(self, rotations: Iterable[Rotation]) -> tuple[Rotation, ...]:
        """Those of a day's rotations that do not run for it."""
        return tuple(r for r in rotations if _meet(r, self.starts, self.ends))

    def as_fact(self) -> dict[str, object]:
        """The same for programs, and for the journal."""
        return {
            "event": self.name,
            "days": [day.isoformat() for day in self.days],
            "starts": f"{self.starts:%H:%M}" if self.starts else None,
            "ends": f"{self.ends:%H:%M}" if self.ends else None,
            "rotations": [f"{starts:%H:%M}" for starts in self.lost],
        }


@dataclass(frozen=True, slots=True)
class Found:
    """What a calendar holds for a class: what is news, what is on record, what makes no difference.

    `past` counts events gone by, `idle` those that take no school day and no rotation.
    """

    events: tuple[SchoolEvent, ...] = ()
    known: tuple[SchoolEvent, ...] = ()
    past: int = 0
    idle: int = 0


def event_of(fact: Mapping[str, Any]) -> SchoolEvent:
    """The event that `as_fact` wrote down."""
    starts, ends = fact["starts"], fact["ends"]
    return SchoolEvent(
        str(fact["event"]),
        tuple(date.fromisoformat(day) for day in fact["days"]),
        time.fromisoformat(starts) if starts else None,
        time.fromisoformat(ends) if ends else None,
        tuple(time.fromisoformat(at) for at in fact["rotations"]),
    )


def find_events(happenings: Iterable[Happening], roster: Roster, now: datetime) -> Found:
    """What a calendar would change for a class from a moment on (in the class's zone).

    A part of a day that is the whole day closes school as a day does.
    """
    new: dict[_Source, list[Happening]] = {}
    known: dict[_Source, list[Happening]] = {}
    lost: dict[_Source, set[time]] = {}
    past: set[_Source] = set()
    idle: set[_Source] = set()
    week = _Week(roster, now)
    for one in sorted(map(_whole, happenings), key=lambda h: (h.day, h.starts or _MIDNIGHT)):
        key = ((one.name, one.starts, one.ends), one.source)
        taken = week.taken(one)
        if one.day < now.date():
            past.add(key)
        elif one.day.weekday() not in roster.class_.school_days or taken is None:
            idle.add(key)
        elif not taken.is_news:
            known.setdefault(key, []).append(one)
        else:
            new.setdefault(key, []).append(one)
            lost.setdefault(key, set()).update(rotation.starts for rotation in taken.rotations)
    idle -= new.keys() | known.keys()
    past -= new.keys() | known.keys() | idle
    news, on_record = _events(new, lost, roster), _events(known, {}, roster)
    return Found(tuple(news), tuple(on_record), len(past), len(idle))


def _whole(one: Happening) -> Happening:
    is_whole = one.starts == _MIDNIGHT and one.ends == _LAST
    return replace(one, starts=None, ends=None) if is_whole else one


@dataclass(frozen=True, slots=True)
class _Taken:
    is_news: bool
    rotations: tuple[Rotation, ...] = ()


class _Week:
    """What a happening takes of a class's days, each day looked up once."""

    def __init__(self, roster: Roster, now: datetime) -> None:
        self._roster, self._now = roster, now
        self._running: dict[date, tuple[Rotation, ...]] = {}

    def taken(self, one: Happening) -> _Taken | None:
        """The rotations it takes away that run till now; None where it takes none."""
        if one.starts is None:
            return _Taken(one.day not in self._roster.closed_days)
        usual = [r for r in self._roster.rotations if r.weekday == one.day.weekday()]
        running = self._on(one.day)
        lost = tuple(r for r in running if self._meets(one, r))
        if lost:
            return _Taken(True, lost)
        return _Taken(False) if any(self._meets(one, r) for r in usual) else None

    def _on(self, day: date) -> tuple[Rotation, ...]:
        if day not in self._running:
            self._running[day] = rotations_on(self._roster, day)
        return self._running[day]

    def _meets(self, one: Happening, rotation: Rotation) -> bool:
        is_over = one.day == self._now.date() and rotation_end(rotation) <= self._now.time()
        return _meet(rotation, one.starts, one.ends) and not is_over


def _meet(rotation: Rotation, starts: time | None, ends: time | None) -> bool:
    return rotation.starts < (ends or time.max) and (starts or time.min) < rotation_end(rotation)


def _events(
    told: Mapping[_Source, Sequence[Happening]],
    lost: Mapping[_Source, set[time]],
    roster: Roster,
) -> list[SchoolEvent]:
    """Happenings as events: those of one source together, else days of one name in a row."""
    made: list[SchoolEvent] = []
    single: dict[_Kind, dict[date, set[time]]] = {}
    for source, happenings in told.items():
        kind, _ = source
        days = sorted({one.day for one in happenings})
        taken = lost.get(source, set())
        if len(runs(days, roster)) > 1:
            made.append(_event(kind, days, taken))
        else:
            single.setdefault(kind, {}).update(dict.fromkeys(days, taken))
    for kind, by_day in single.items():
        for run in runs(sorted(by_day), roster):
            made.append(_event(kind, run, {at for day in run for at in by_day[day]}))
    return sorted(made, key=lambda event: (not event.closes, event.days[0], event.name))


def _event(kind: _Kind, days: Sequence[date], lost: Iterable[time]) -> SchoolEvent:
    name, starts, ends = kind
    return SchoolEvent(name, tuple(days), starts, ends, tuple(sorted(lost)))


def runs(days: Sequence[date], roster: Roster) -> list[list[date]]:
    """Days in order, cut where a school day of the class lies between two of them."""
    cut: list[list[date]] = []
    for day in days:
        if cut and not _school_between(cut[-1][-1], day, roster):
            cut[-1].append(day)
        else:
            cut.append([day])
    return cut


def _school_between(first: date, last: date, roster: Roster) -> bool:
    between = range(first.toordinal() + 1, last.toordinal())
    if len(between) > 14:
        return True
    return any(is_school_day(roster, date.fromordinal(day)) for day in between)
