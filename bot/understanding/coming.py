"""Days to come: what "on monday" and "till the 11th" mean where something is planned."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from bot.understanding.days import EITHER, VAGUE
from bot.understanding.senses import Item, Kind

_NTH = re.compile(r"^(\d{1,2})(?:st|nd|rd|th)$")


def coming_days(item: Item, today: date) -> tuple[date, ...]:
    """The day an item speaks of, looking ahead; several where it may be one of them, none where it
    cannot be told. A day in the past is given as it is.

    "Monday" is the next one; "tuesday", sent on a Tuesday, may be today or a week from now; "the
    11th" is the next 11th.
    """
    if item.kind is not Kind.DAY:
        nth = day_of_month(item.keys[-1] if item.keys else "", today)
        return () if nth is None else (nth,)
    day = item.sense.value
    if not isinstance(day, date):
        return ()
    if item.sense.word == EITHER:
        return (day if day >= today else day + timedelta(days=7),)
    if item.sense.word == VAGUE:
        return (day, day + timedelta(days=7)) if day == today else (day,)
    if day < today and item.sense.word == "date":
        nth = day_of_month(item.keys[-1], today) if _names_no_month(item.keys) else None
        return (nth or day,)
    return (day,)


def day_of_month(word: str, today: date) -> date | None:
    """The next day of the month that "11th" means, today included."""
    found = _NTH.match(word)
    if found is None:
        return None
    year, month = today.year, today.month
    for _ in range(12):
        try:
            day = date(year, month, int(found[1]))
        except ValueError:
            day = None
        if day is not None and day >= today:
            return day
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return None


def _names_no_month(keys: Sequence[str]) -> bool:
    return all(key in ("on", "the") or _NTH.match(key) for key in keys)
