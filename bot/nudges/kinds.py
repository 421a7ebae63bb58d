"""The kinds of nudges: when each is due, and what it would say. KINDS is the one list of them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from bot.classroom.days import school_day_after, school_days
from bot.classroom.needs import needs_of
from bot.classroom.presence import aways_on
from bot.classroom.restocking import Restock, due_by, due_next_week, urgency_of
from bot.classroom.risk import risks
from bot.classroom.stints import out_on
from bot.nudges.times import after_last_rotation, after_school, digest_due, last_of_week
from bot.outcomes import ANSWERED, AtRisk, NextWeek, NothingLogged, Outcome, ShortSupplies
from bot.requests import Digest
from bot.skills.digest import digest
from bot.skills.planning import make_plan
from bot.skills.skill import Situation
from bot.skills.stocktaking import take_stock
from storage.records import Roster, Stint, Student

_UNANSWERED = 5  # days after which asking whether it ran is no use

Levels = Mapping[str, float]
Due = Callable[[Roster, date], tuple[datetime, datetime] | None]


@dataclass(frozen=True, slots=True)
class Saying:
    """Something worth saying; `levels` tell how bad each thing is, to say it again when worse."""

    outcome: Outcome
    about: str = ""
    levels: Levels = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class NudgeKind:
    """One kind of nudge: `due` gives the moment and the expiry on a day (None: not that day),
    `says` what is worth saying to one who was told these levels before."""

    name: str
    due: Due
    says: Callable[[Situation, Levels], Saying | None]


def morning(now: Situation, told: Levels) -> Saying | None:
    """The morning digest."""
    return Saying(digest(Digest(), now))


def nothing_logged(now: Situation, told: Levels) -> Saying | None:
    """No turn is on record for today, though bins are out and the last rotation is over; not after
    a week of asking in which nothing was logged at all."""
    stints = [stint.id for stint in out_on(now.roster, now.today)]
    if not stints or now.book.claims(day=now.today):
        return None
    asked = sorted(told)[-_UNANSWERED:]
    if len(asked) == _UNANSWERED:
        since = date.fromisoformat(asked[0])
        if not any(claim.turn.day >= since for claim in now.book.claims(stints=stints)):
            return None
    return Saying(NothingLogged(status=ANSWERED, day=now.today), levels={now.today.isoformat(): 1})


def at_risk(now: Situation, told: Levels) -> Saying | None:
    """Bins that not everyone will reach in time, those that were not told of or got worse."""
    stints = [stint.id for stint in out_on(now.roster, now.today)]
    tally = now.book.tally(stints)
    turns = {c.turn.key: c.turn for c in now.book.claims(stints=stints)}
    planned = make_plan(now)
    unmet: dict[int, Counter[int]] = defaultdict(Counter)
    for one in planned.unmet:
        unmet[one.stint.id][one.student.id] += one.visits
    found = [
        (risk, f"stint:{risk.stint.id}")
        for risk in risks(now.roster, tally, turns.values(), unmet, now.at)
    ]
    worse = tuple((risk, key) for risk, key in found if risk.level > told.get(key, 0))
    if sum(risk.level for risk, _ in found) <= sum(told.get(key, 0) for _, key in found):
        return None  # fewer at one bin for more at another is no worse
    return Saying(
        AtRisk(
            status=ANSWERED,
            risks=tuple(risk for risk, _ in worse),
            today=now.today,
            mends=planned.mends() if any(risk.students for risk, _ in worse) else (),
        ),
        about="; ".join(now.roster.bin_of(risk.stint).name for risk, _ in worse),
        levels={key: risk.level for risk, key in worse},
    )


def restock(now: Situation, told: Levels) -> Saying | None:
    """What has to be copied or bought by the next school day, where it was not told of since there
    last was more, or is more pressing by now."""
    by = school_day_after(now.roster, now.today) or now.today
    lines = due_by(take_stock(now.book, now.roster, now.at).lines.values(), by)
    levels = {_shortage(line): urgency_of(line, by) for line in lines}
    worse = tuple(line for line in lines if levels[_shortage(line)] > told.get(_shortage(line), 0))
    if not worse:
        return None
    return Saying(
        ShortSupplies(status=ANSWERED, lines=worse, today=now.today),
        about="; ".join(line.stock.supply.item for line in worse),
        levels={_shortage(line): levels[_shortage(line)] for line in worse},
    )


def _shortage(line: Restock) -> str:
    """One shortage of one supply: another once there has been more of it."""
    return f"supply:{line.stock.supply.id}:{line.stock.filled or ''}"


def friday(now: Situation, told: Levels) -> Saying | None:
    """A look at the next week with school."""
    first = school_day_after(now.roster, now.today)
    if first is None:
        return None
    monday = first - timedelta(days=first.weekday())
    sunday = monday + timedelta(days=6)
    days = school_days(now.roster, first, sunday)
    return Saying(
        NextWeek(
            status=ANSWERED,
            today=now.today,
            days=days,
            closed=_closed(now.roster, max(monday, now.today + timedelta(days=1)), sunday),
            opening=tuple(s for s in now.roster.stints if monday <= s.opens <= sunday),
            closing=_closing(now, monday, sunday),
            away=_away(now, days),
            short=due_next_week(take_stock(now.book, now.roster, now.at).lines.values(), now.today),
        )
    )


def _closed(roster: Roster, first: date, last: date) -> tuple[tuple[date, str], ...]:
    reasons = {c.day: c.reason for c in roster.closures if c.starts is None}
    week = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return tuple(
        (day, reasons[day])
        for day in week
        if day in reasons and day.weekday() in roster.class_.school_days
    )


def _closing(now: Situation, first: date, last: date) -> tuple[tuple[Stint, int], ...]:
    outs = out_on(now.roster, now.today)
    tally = now.book.tally([stint.id for stint in outs])
    closing = [s for s in outs if s.closes is not None and first <= s.closes <= last]
    return tuple((s, len(needs_of(now.roster, tally, s, now.at).students)) for s in closing)


def _away(now: Situation, days: tuple[date, ...]) -> tuple[tuple[Student, tuple[date, ...]], ...]:
    """Children away for whole days of these."""
    found = []
    for student in now.roster.present_roster(now.today):
        away = tuple(
            day
            for day in days
            if any(
                a.starts is None and a.ends is None for a in aways_on(now.roster, student.id, day)
            )
        )
        if away:
            found.append((student, away))
    return tuple(found)


KINDS: tuple[NudgeKind, ...] = (  # in the order in which they have their place among a day's few
    NudgeKind("digest", digest_due, morning),
    NudgeKind("not_logged", after_last_rotation, nothing_logged),
    NudgeKind("restock", after_school, restock),
    NudgeKind("at_risk", after_school, at_risk),
    NudgeKind("friday", last_of_week, friday),
)
