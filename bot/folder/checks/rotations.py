"""The days: rotations that do not overlap, stations, aways and units in order."""

from collections.abc import Iterator
from datetime import time

from bot.folder.cell_types import WEEKDAYS
from bot.folder.checks.clashes import hours_ordered, in_order, keys_once
from bot.folder.draft import Draft
from bot.folder.nearest import fold
from bot.folder.problems import Kind, Problem
from bot.folder.values import RotationLine

_DAY_MINUTES = 24 * 60


def stations_once(draft: Draft) -> Iterator[Problem]:
    """A station is listed once and is no bin."""
    known = [line.value for line in draft.stations if "station" not in line.bad]
    yield from keys_once(((fold(one.station), one.station, one.place) for one in known), "station")
    bins = {fold(line.value.bin) for line in draft.bins}
    for one in known:
        if fold(one.station) in bins:
            place = (one.place.line, "station", one.station)
            yield Problem(one.place.file, Kind.STATION_IS_BIN, *place)


def rotations_on_school_days(draft: Draft) -> Iterator[Problem]:
    """Rotations are on weekdays with school and end on the day they start."""
    school_days = draft.settings.value.school_days
    for line in draft.rotations:
        one, place = line.value, line.value.place
        off = [day for day in one.weekdays if day not in school_days]
        if off and "school_days" not in draft.settings.bad:
            accepted = tuple(WEEKDAYS[day] for day in school_days)
            found = "; ".join(WEEKDAYS[day] for day in off)
            yield Problem(place.file, Kind.ROTATION_OFF_DAY, place.line, "weekday", found, accepted)
        if _minute(one.starts) + one.minutes > _DAY_MINUTES and not line.bad & {"starts"}:
            found = str(one.minutes)
            yield Problem(place.file, Kind.PAST_MIDNIGHT, place.line, "minutes", found)


def rotations_apart(draft: Draft) -> Iterator[Problem]:
    """One rotation ends before the next begins; each pair of lines is named once."""
    sound = [line.value for line in draft.rotations if not line.bad]
    told: set[tuple[int, int]] = set()
    for weekday in range(7):
        today = [one for one in sound if weekday in _weekdays(one, draft)]
        before: RotationLine | None = None
        for one in sorted(today, key=lambda one: (one.starts, one.place.line)):
            if before and _minute(one.starts) < _minute(before.starts) + before.minutes:
                pair = (one.place.line, before.place.line)
                if pair not in told:
                    told.add(pair)
                    yield _overlap(one, before, weekday)
            if before is None or _end(one) > _end(before):
                before = one


def _overlap(one: RotationLine, before: RotationLine, weekday: int) -> Problem:
    found = f"{WEEKDAYS[weekday]} {one.starts:%H:%M}"
    hours, minutes = divmod(_end(before), 60)
    place = (one.place.file, Kind.ROTATIONS_OVERLAP, one.place.line, "starts")
    accepted = (f"{hours:02}:{minutes:02}",)
    return Problem(*place, found, accepted, other_line=before.place.line)


def _weekdays(one: RotationLine, draft: Draft) -> tuple[int, ...]:
    return one.weekdays or draft.settings.value.school_days


def _minute(moment: time) -> int:
    return moment.hour * 60 + moment.minute


def _end(one: RotationLine) -> int:
    return _minute(one.starts) + one.minutes


def aways_make_sense(draft: Draft) -> Iterator[Problem]:
    """Aways are of children on the roster, say when, and end after they start."""
    for line in draft.aways:
        one, place = line.value, line.value.place
        asked = "student" not in line.bad and draft.knows_students()
        if asked and draft.roster.find(one.student) is None:
            near = draft.roster.nearest(one.student)
            at = (place.line, "student", one.student)
            yield Problem(place.file, Kind.UNKNOWN_STUDENT, *at, nearest=near)
        if not line.told & {"from", "to", "weekday", "starts", "ends"}:
            yield Problem(place.file, Kind.AWAY_WITHOUT_TIME, place.line, "from")
        yield from in_order(one.from_day, one.to_day, place, "to")
        yield from hours_ordered(one.starts, one.ends, place, "ends")


def units_in_order(draft: Draft) -> Iterator[Problem]:
    """A unit ends on or after the day it begins; two may run side by side."""
    for line in draft.units:
        yield from in_order(line.value.from_day, line.value.to_day, line.value.place, "to")
