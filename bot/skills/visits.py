"""Turns taken, and turns taken back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bot.classroom.children import Meant as Children
from bot.classroom.credit import Credit, credit
from bot.classroom.days import is_school_day, school_day_before
from bot.classroom.moments import meant_for_log
from bot.classroom.needs import needs_of
from bot.classroom.stints import nearest_stint, out_on
from bot.outcomes import (
    ANSWERED,
    ASKED,
    DONE,
    REFUSED,
    HeldBack,
    NotLogged,
    Outcome,
    Question,
    VisitsLogged,
    VisitsRemoved,
    WhichDay,
)
from bot.requests import (
    Ask,
    CorrectLog,
    Frame,
    HoldBack,
    LogAsBefore,
    LogVisits,
    Option,
    Place,
    RemoveVisits,
    When,
    Who,
)
from bot.skills.replaying import replay
from bot.skills.skill import Situation, Skill
from bot.understanding.as_before import TOLD_AS_BEFORE
from bot.understanding.asking_back import NO, YES
from bot.understanding.canonical import log_in_full, removal_in_full
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from storage.records import Claim, Roster, Stint, Turn

_DAYS_OFFERED = 5  # when a text speaks of "last week"


def log_visits(request: LogVisits, now: Situation) -> Outcome:
    """Give the children meant their turn, or say why not, or ask."""
    roster, when = now.roster, request.when
    meant = meant_for_log(roster, now.at, when.day, when.starts, when.slot)
    if when.unsure or meant.trouble == "which_day":
        return _which_day(request, now)
    stint = now.stint(request.place, meant.day)
    if meant.trouble is not None:
        bin_ = now.bin_at(request.place, stint)
        return NotLogged(
            status=REFUSED, reason=meant.trouble, place=request.place, bin_=bin_, day=meant.day
        )
    if stint is None:
        return _not_out(request.place, meant.day, now)
    children = now.children(request.who, meant.day)
    result = credit(
        roster,
        stint,
        meant.day,
        meant.rotation,
        named=children.named,
        in_groups=children.in_groups,
    )
    full = replace(request, when=When(meant.day, meant.rotation))
    if not result.credited and not result.unsure:
        return _nobody(full, stint, children, result)
    return _write(full, stint, children, result, now)


def _write(
    log: LogVisits, stint: Stint, children: Children, result: Credit, now: Situation
) -> Outcome:
    day, rotation = log.when.day or now.today, log.when.starts
    turns = [Turn(student.id, stint.id, day, rotation) for student in result.credited]
    standing = now.book.days_at(turns)
    new = tuple(turn for turn in turns if turn.key not in standing)
    already = tuple(turn for turn in turns if turn.key in standing)
    repeats = not new and _is_repeat(turns, standing, now)
    if not repeats:
        now.book.claim(now.entry_id, turns)
    tally = now.book.tally([s.id for s in out_on(now.roster, now.today)] + [stint.id])
    asks = _about_unsure(log, result, now.roster)
    first = min((claims[0] for claims in standing.values()), key=lambda c: c.id, default=None)
    told = now.book.entry(first.entry_id) if first is not None and not new else None
    return VisitsLogged(
        status=ASKED if asks else DONE if new else ANSWERED,
        added=new,
        claims=not repeats and not _has_told(now, standing),
        choices=asks,
        said=log_in_full(log, now.roster),
        stint=stint,
        day=day,
        rotation=rotation,
        today=now.today,
        already=already,
        already_at=told.at.astimezone(now.at.tzinfo) if told else None,
        credit=result,
        excepted=children.left_out,
        not_on_roster=children.not_on_roster,
        needs=needs_of(now.roster, tally, stint, now.at) if stint.is_out(now.today) else None,
    )


def _is_repeat(
    turns: Sequence[Turn], standing: dict[tuple[int, int, date], list[Claim]], now: Situation
) -> bool:
    """Whether the same member said just this before: then it is the same text again, and one undo
    takes both back. Said by someone else, or said of some of them only, it is a claim of its
    own."""
    by_entry: dict[int, set[tuple[int, int, date]]] = {}
    for key, claims in standing.items():
        for claim in claims:
            by_entry.setdefault(claim.entry_id, set()).add(key)
    same = [entry_id for entry_id, keys in by_entry.items() if keys == {t.key for t in turns}]
    told = now.book.entries(same)
    return any(
        entry.member_id == now.member.id and len(now.book.claims(entry_id=entry.id)) == len(turns)
        for entry in told.values()
    )


def _has_told(now: Situation, standing: dict[tuple[int, int, date], list[Claim]]) -> bool:
    """Whether this member has told of any of these turns before."""
    ids = {claim.entry_id for claims in standing.values() for claim in claims}
    return bool(ids) and any(
        entry.member_id == now.member.id for entry in now.book.entries(ids).values()
    )


def _about_unsure(log: LogVisits, result: Credit, roster: Roster) -> tuple[Option, ...]:
    """Children who were away for a part of that day: were they there?"""
    return tuple(
        option
        for student in result.unsure
        for option in (
            Option(
                f"{YES}, {student.name}",
                log_in_full(LogVisits(Who(students=(student.id,)), log.place, log.when), roster),
            ),
            Option(f"{NO}, {student.name}", "no"),
        )
    )


def _which_day(request: LogVisits, now: Situation) -> Outcome:
    open_today = is_school_day(now.roster, now.today)
    if request.when.maybe:
        days = [day for day in request.when.maybe if is_school_day(now.roster, day)]
    elif request.when.unsure:
        days = _recent_school_days(now)
    else:
        before = school_day_before(now.roster, now.today)
        days = [day for day in (before, now.today if open_today else None) if day is not None]
    options = tuple(
        Option(
            "Today" if day == now.today else f"{day:%a} {day.day} {day:%b}",
            log_in_full(replace(request, when=_on(day, request.when)), now.roster),
        )
        for day in days
    )
    undated = replace(request, when=When(None, request.when.starts, request.when.slot))
    return WhichDay(
        status=ASKED,
        choices=options,
        frames=(Frame("day", f"{log_in_full(undated, now.roster)} on {{}}"),),
        today=now.today,
        is_school_day=open_today,
        is_vague=request.when.unsure,
    )


def _on(day: date, when: When) -> When:
    return When(day, when.starts, when.slot)


def _recent_school_days(now: Situation) -> list[date]:
    days: list[date] = []
    day = school_day_before(now.roster, now.today)
    while len(days) < _DAYS_OFFERED and day is not None:
        days.append(day)
        day = school_day_before(now.roster, day)
    return days


def _not_out(place: Place, day: date, now: Situation) -> Outcome:
    bin_ = now.roster.bin[place.bin_id] if place.bin_id is not None else None
    stint = nearest_stint(now.roster, bin_.id, day) if bin_ is not None else None
    return NotLogged(status=REFUSED, reason="not_out", place=place, bin_=bin_, stint=stint, day=day)


def _nobody(log: LogVisits, stint: Stint, children: Children, result: Credit) -> Outcome:
    kept = (*result.away, *result.kept_away, *children.not_on_roster)
    reason = "nobody"
    if children.not_on_roster and not result.away and not result.kept_away:
        reason = "not_on_roster"
    elif result.kept_away and not result.away:
        reason = "caution"
    elif result.away:
        reason = "away"
    return NotLogged(
        status=REFUSED,
        reason=reason,
        place=log.place,
        stint=stint,
        day=log.when.day,
        students=kept or children.left_out,
    )


def correct_log(request: CorrectLog, now: Situation) -> Outcome:
    """Put another log in the place of the sender's last one, and tell the difference; where the
    other cannot be, the last one stays as it is."""
    entry = now.book.entry(request.instead_of)
    assert entry is not None, "a correction names an entry that was read"
    with now.book.attempt() as attempt:
        outcomes, change = replay(
            entry, lambda: [log_visits(log, now) for log in request.logs], now
        )
        refused = next((o for o in outcomes if o.status == REFUSED), None)
        asked = next((o for o in outcomes if isinstance(o, WhichDay)), None)
        failed = refused or asked
        if failed is not None:
            attempt.give_up()
            return failed
    return change


def log_as_before(request: LogAsBefore, now: Situation) -> Outcome:
    """Log the children at the one bin where they were on a day before; where it is not one, ask."""
    children = now.children(request.who, now.today).all
    claims = now.book.claims(students=children, day=request.before)
    bins = {now.roster.stint[claim.turn.stint_id].bin_id for claim in claims}
    if len(bins) == 1:
        return log_visits(LogVisits(request.who, Place(bins.pop()), request.when), now)
    out = [stint.bin_id for stint in out_on(now.roster, now.today)]
    options = tuple(
        Option(
            now.roster.bin[bin_id].name,
            log_in_full(LogVisits(request.who, Place(bin_id), request.when), now.roster),
        )
        for bin_id in out
        if not bins or bin_id in bins
    )
    ask = Ask("which_bin", "", options, request.name)
    return Question(status=ASKED, choices=options, ask=ask)


def hold_back(request: HoldBack, now: Situation) -> Outcome:
    """Log nothing, and say why."""
    day = request.when.day or now.today
    bin_ = now.bin_at(request.place, now.stint(request.place, day))
    status = ANSWERED if request.reason == "started" else REFUSED
    return HeldBack(status=status, request=request, bin_=bin_)


def remove_visits(request: RemoveVisits, now: Situation) -> Outcome:
    """Take turns back: those of the day meant, by default today's."""
    day = request.when.day or now.today
    children = now.children(request.who, day)
    stint = None if request.place is None else now.stint(request.place, day)
    bin_ = None if request.place is None else now.bin_at(request.place, stint)
    stints = None if request.place is None else [stint.id] if stint else []
    claims = now.book.claims(students=children.all, stints=stints, day=day)
    if claims and not request.is_sure:
        return _shall_it_go(replace(request, when=replace(request.when, day=day)), now)
    now.book.take_back(now.entry_id, claims)
    turns = {claim.turn.key: claim.turn for claim in claims}
    students = tuple(s for s in now.roster.students if s.id in children.all)
    return VisitsRemoved(
        status=DONE if turns else ANSWERED,
        removed=tuple(turns.values()),
        stint=stint,
        bin_=bin_,
        day=day,
        today=now.today,
        students=students,
    )


def _shall_it_go(request: RemoveVisits, now: Situation) -> Outcome:
    send = removal_in_full(replace(request, is_sure=True), now.roster)
    ask = Ask("take_back", "", (Option(YES, send), Option(NO, "no")), request.name)
    return Question(status=ASKED, choices=ask.options, ask=ask)


def _hear_removal(clause: Clause) -> RemoveVisits | None:
    who, places = clause.who(), clause.places()
    if not who:
        return None
    return RemoveVisits(who, places[0] if places else None, clause.said_when())


LOG = Skill(
    name="log_visits",
    title="Log who was at which bin",
    examples=(
        "g3 finished balance",
        "g1 and g2 ramps except Ruby",
        "1 ramps 2 balance 3 magnets",
        "yesterday everyone did shadows",
    ),
    # A statement with children and a bin is a log as well; see understanding.logs.
    listeners=(TOLD_AS_BEFORE,),
    acts=(
        (LogVisits, log_visits),
        (LogAsBefore, log_as_before),
        (CorrectLog, correct_log),
        (HoldBack, hold_back),
    ),
)

REMOVE = Skill(
    name="remove_visits",
    title="Take a turn back",
    examples=("take Ruby off balance", "Ruby wasn't at ramps yesterday"),
    listeners=(
        Listener(
            (
                "take|remove|delete|erase|uncheck|unlog|drop|scratch ... <who> off|"
                "from|out ... <bin>",
                "remove|delete|erase|uncheck|unlog <who> <bin>",
                "take off|out <who> from|at <bin>",
                "take <who> off",
            ),
            _hear_removal,
            asks_of="remove_visits",
        ),
    ),
    acts=((RemoveVisits, remove_visits),),
)
