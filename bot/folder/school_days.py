"""Which days of a folder have school: its weekdays minus its closed days."""

from collections.abc import Collection
from datetime import date, timedelta


def last_school_day(
    first: date, last: date, *, weekdays: Collection[int], closed: Collection[date]
) -> date | None:
    """The latest school day from `first` to `last`, both included, or None."""
    day = last
    while day >= first:
        if day.weekday() in weekdays and day not in closed:
            return day
        day -= timedelta(1)
    return None
