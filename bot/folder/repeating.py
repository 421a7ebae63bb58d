"""Whether a repeat rule comes at all between two days, told in a fraction of a second.

A rule such as "30 February" is walked by its reader up to the year 9999, seconds for each. The
calendar is the same every 400 years (146,097 days, whole weeks), so the walk is done as late as
years can be written: what is left of them is short.
"""

from __future__ import annotations

import re
from datetime import MAXYEAR, date, datetime, time, timedelta

from dateutil.rrule import rrulestr

_CYCLE = 400  # years
_ENDS = re.compile(r";?\bUNTIL=[^;]*", re.IGNORECASE)
_MARGIN = timedelta(days=2)  # zones


def comes_between(rule: str, starts: date, first: date, last: date) -> bool:
    """Whether the RRULE of an event that starts so may come from `first` to `last`.

    Its UNTIL is left out of account. Raises what the reader of rules raises for a wrong one.
    """
    if starts.year > last.year:
        return False
    late = (MAXYEAR - 1 - last.year) // _CYCLE * _CYCLE
    local = starts.replace(tzinfo=None) if isinstance(starts, datetime) else _midnight(starts)
    found = rrulestr(_ENDS.sub("", rule).strip(";"), dtstart=_later(local, late))
    span = _later(_midnight(first), late) - _MARGIN, _later(_midnight(last), late) + _MARGIN
    return any(found.between(*span, inc=True))


def _later(moment: datetime, years: int) -> datetime:
    return moment.replace(year=moment.year + years)


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time())
