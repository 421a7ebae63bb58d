"""A class folder moved in time by whole weeks: an example that looks like mid-term."""

from dataclasses import replace
from datetime import date, timedelta

from bot.folder.values import ClassFolder


def weeks_to_middle(folder: ClassFolder, today: date) -> int:
    """How many weeks to move `folder` so that its history ends in the week before `today`.

    The last visit then lies 1 to 7 days back. Without visits: the middle between the first opening
    and the last closing day lies there. 0 where no bin is ever out.
    """
    days = [visit.day for visit in folder.visits]
    if days:
        middle = max(days)
    else:
        edges = [day for one in folder.bins for day in (one.opens, one.closes) if day]
        if not edges:
            return 0
        middle = min(edges) + (max(edges) - min(edges)) // 2
    return ((today - middle).days - 1) // 7


def shift_weeks(folder: ClassFolder, weeks: int) -> ClassFolder:
    """`folder` with every day `weeks` later (earlier where negative); weekdays and times stay.

    Raises OverflowError where that leaves the calendar.
    """
    by = timedelta(weeks=weeks)

    def moved(day: date | None) -> date | None:
        return day + by if day else None

    return replace(
        folder,
        students=tuple(
            replace(one, joined=moved(one.joined), left=moved(one.left)) for one in folder.students
        ),
        bins=tuple(
            replace(
                one,
                opens=moved(one.opens),
                closes=moved(one.closes),
                last_day=moved(one.last_day),
            )
            for one in folder.bins
        ),
        supplies=tuple(replace(one, counted_on=moved(one.counted_on)) for one in folder.supplies),
        aways=tuple(
            replace(one, from_day=moved(one.from_day), to_day=moved(one.to_day))
            for one in folder.aways
        ),
        units=tuple(
            replace(one, from_day=moved(one.from_day), to_day=moved(one.to_day))
            for one in folder.units
        ),
        visits=tuple(replace(one, day=one.day + by) for one in folder.visits),
        closures=tuple(replace(one, day=one.day + by) for one in folder.closures),
        blocks=tuple(replace(one, day=one.day + by) for one in folder.blocks),
    )
