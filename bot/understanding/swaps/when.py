"""When a swap is to be: the days a line names, and till when."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from bot.understanding.clause import Clause
from bot.understanding.coming import coming_days
from bot.understanding.senses import Item, Kind
from bot.understanding.swaps.line import Line, words_of

_WEEKS_AHEAD = 30


def starts_and_tills(line: Line, what: str) -> tuple[list[Item], list[Item]]:
    """The days on which something begins (or is done), and those till which it stays."""
    starts: list[Item] = []
    tills: list[Item] = []
    ends = what in ("stays", "closes")
    for at, item in enumerate(line.days):
        before = line.text.split(f"<day:{at}>")[0].split()
        is_till = bool(before) and before[-1] in ("till", "until", "til", "thru", "through")
        is_till = is_till or (at > 0 and before[-1:] == ["to"])  # "from monday to dec 11"
        (tills if is_till or (ends and len(line.days) == 1) else starts).append(item)
    if ends and not tills:
        starts, tills = starts[:-1], starts[-1:]
    return starts, tills


def one_day(items: Sequence[Item], today: date) -> tuple[date | None, tuple[date, ...], bool]:
    """One day; or several that it may be; or that a day was named that cannot be told."""
    if not items:
        return None, (), False
    found = coming_days(items[0], today)
    for other in items[1:]:  # "monday, november 30"
        found = tuple(day for day in coming_days(other, today) if day in _weekly(found))
        if len(found) != 1:
            return None, (), True
    if len(found) == 1:
        return found[0], (), False
    return None, found, not found


def _weekly(days: Sequence[date]) -> set[date]:
    """These days and the same weekday of the weeks to come."""
    return {day + timedelta(weeks=n) for day in days for n in range(_WEEKS_AHEAD)}


def is_now(clause: Clause) -> bool:
    """ "now", "right away": also on a day on which the bin has been used."""
    return (
        re.search(
            r"\b(?:right now|now|right away|immediately|straight away|asap|at once)\b",
            words_of(clause),
        )
        is not None
    )


def speaks_of_next_week(clause: Clause) -> bool:
    """ "next week", "end of the month": no day yet."""
    said = words_of(clause)
    days = [item for item in clause.items if item.kind is Kind.DAY]
    return (
        not days
        and re.search(r"\b(?:next week|next month|end of (?:the )?(?:week|month))\b", said)
        is not None
    )
