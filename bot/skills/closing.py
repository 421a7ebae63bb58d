"""Till when a bin is out."""

from __future__ import annotations

from datetime import date, timedelta

from bot.classroom.days import school_days
from bot.classroom.readiness import missing_out
from bot.classroom.stints import nearest_stint, out_on, stints_in
from bot.classroom.swaps import FAR, closing_day, followed_by
from bot.outcomes import ANSWERED, DONE, REFUSED, ClosingMoved, ClosingStays, Outcome
from bot.requests import MoveClosing, Place
from bot.skills.skill import Situation, Skill
from bot.understanding.canonical import closing_in_full
from storage.records import Stint


def move_closing(request: MoveClosing, now: Situation) -> Outcome:
    """Give a stint another last day, or say why not."""
    stint = _stint_meant(request.place, now)
    bin_ = now.bin_at(request.place, stint)
    if stint is None:
        return ClosingStays(
            status=REFUSED, reason="not_out", today=now.today, place=request.place, bin_=bin_
        )
    day = request.day or _so_much_longer(request, stint, now)
    reason, in_the_way = _trouble(stint, day, now)
    if reason is not None or day is None:
        return ClosingStays(
            status=ANSWERED if reason == "same" else REFUSED,
            reason=reason or "all_year",
            today=now.today,
            place=request.place,
            bin_=bin_,
            stint=stint,
            in_the_way=in_the_way,
            day=day,
        )
    closes = closing_day(now.roster, day)
    tally = now.book.tally({s.id for s in (*out_on(now.roster, now.today), stint)})
    misses = missing_out(now.roster, tally, stint, now.at, closes)
    now.book.close_stint(now.entry_id, stint.id, closes)
    name = now.roster.bin_of(stint).name
    return ClosingMoved(
        status=DONE,
        changes=({"what": "closes", "bin": name, "day": closes.isoformat()},),
        said=closing_in_full(MoveClosing(Place(stint.bin_id), closes), now.roster),
        stint=stint,
        closes=closes,
        asked_for=day,
        today=now.today,
        misses=misses,
    )


def _stint_meant(place: Place, now: Situation) -> Stint | None:
    """The stint that is out, else the next one set down."""
    stint = now.stint(place, now.today)
    if stint is not None:
        return stint
    if place.bin_id is not None:
        found = nearest_stint(now.roster, place.bin_id, now.today)
    else:
        coming = [s for s in stints_in(now.roster, place.color or "") if s.opens > now.today]
        found = coming[0] if coming else None
    return found if found is not None and found.opens > now.today else None


def _so_much_longer(request: MoveClosing, stint: Stint, now: Situation) -> date | None:
    """The last day after so many more weeks, or school days; None for a bin out all year."""
    if request.longer is None or stint.closes is None:
        return None
    count, unit = request.longer
    if unit == "weeks":
        return stint.closes + timedelta(weeks=count)
    after = stint.closes + timedelta(days=1)
    ahead = school_days(now.roster, after, after + FAR)
    return ahead[min(count, len(ahead)) - 1] if ahead and count else stint.closes


def _trouble(stint: Stint, day: date | None, now: Situation) -> tuple[str | None, Stint | None]:
    if day is None:
        return "all_year", None
    closes = closing_day(now.roster, day)
    if closes < now.today:
        return "past", None
    if closes < stint.opens:
        return "before_it_opens", None
    if closes == stint.closes:
        return "same", None
    is_longer = stint.closes is not None and closes > stint.closes
    in_the_way = followed_by(now.roster, stint, closes) if is_longer else None
    return ("taken", in_the_way) if in_the_way is not None else (None, None)


SKILL = Skill(
    name="closing",
    title="Keep a bin out longer, or close it sooner",
    examples=("keep balance a week longer", "close balance on monday"),
    listeners=(),  # heard with the swaps
    acts=((MoveClosing, move_closing),),
)
