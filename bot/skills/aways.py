"""Children who are away, and back: noted, told, and what that changes today."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time, timedelta

from bot.classroom.days import is_before_first_rotation, is_school_day, rotations_on
from bot.classroom.presence import aways_on, covers_day, is_away_in
from bot.outcomes import ANSWERED, ASKED, DONE, REFUSED, AwayNoted, AwayTold, Outcome, Unplanned
from bot.requests import NoteAway, NoteBack, Option, Place, RemoveVisits, When, Who, WhoIsAway
from bot.skills.away_spans import aways_of_span, from_today, is_known, joined, trouble_with
from bot.skills.planning import Planned, replan_today, students_of
from bot.skills.skill import Situation, Skill
from bot.understanding.aways.away import TOLD_AWAY
from bot.understanding.aways.back import TOLD_BACK
from bot.understanding.aways.questions import ASKED_IN_SHORT, ASKED_WHO_IS_AWAY
from bot.understanding.canonical import removal_in_full
from storage.records import Away, Claim, Stint, Student

_MOST_DAYS = 10  # days shown when asked who is away


def note_away(request: NoteAway, now: Situation) -> Outcome:
    """Note that children are away, and say what that changes today.

    What is on record of them meanwhile is asked about, or taken back where the text corrects it.
    """
    spans = tuple(from_today(span, now.today) for span in request.spans)
    first = min((s.first for s in spans if s.first is not None), default=now.today)
    meant = now.children(request.who, first)
    students = students_of(now.roster, meant.all)
    trouble = trouble_with(spans, now)
    if trouble or not students:
        return AwayNoted(
            status=REFUSED,
            students=students,
            today=now.today,
            reason=trouble or "nobody",
            not_on_roster=meant.not_on_roster,
        )
    asked_for = [(student, span) for student in students for span in joined(spans)]
    new = [(student, span) for student, span in asked_for if not is_known(now, student, span)]
    already = [student for student, span in asked_for if (student, span) not in new]
    aways = tuple(
        away for student, span in new for away in aways_of_span(student, span, request, now)
    )
    _write(aways, now)
    logged = _logged_meanwhile(now, aways)
    removed = logged if request.corrects else ()
    now.book.take_back(now.entry_id, removed)
    moved, planned = replan_today(now, _touched_today(now, aways))
    asked = () if request.corrects else tuple(logged)
    return AwayNoted(
        students=students,
        today=now.today,
        status=ASKED if asked else DONE if aways or removed else ANSWERED,
        removed=tuple({claim.turn.key: claim.turn for claim in removed}.values()),
        changes=tuple(_change(now, away) for away in aways),
        choices=_take_back(asked, now),
        aways=aways,
        already=tuple(dict.fromkeys(already)),
        moved=moved,
        at_risk=_at_risk(planned, students),
        logged=tuple(_as_logged(claim, now) for claim in asked),
        not_on_roster=meant.not_on_roster,
    )


def _write(aways: Sequence[Away], now: Situation) -> None:
    for away in aways:
        now.book.add_away(
            now.entry_id,
            away.student_id,
            first=away.first,
            last=away.last,
            weekday=away.weekday,
            starts=away.starts,
            ends=away.ends,
            reason=away.reason,
        )


def _as_logged(claim: Claim, now: Situation) -> tuple[Student, Stint, time | None]:
    turn = claim.turn
    return now.roster.student[turn.student_id], now.roster.stint[turn.stint_id], turn.rotation


def _logged_meanwhile(now: Situation, aways: Sequence[Away]) -> list[Claim]:
    """What is on record of these children in the rotations they are said to have missed."""
    roster = now.book.roster()
    days = {
        day
        for away in aways
        for day in (now.today, away.first)
        if day is not None and day <= now.today and covers_day(away, day)
    }
    found = []
    for day in sorted(days):
        ids = {away.student_id for away in aways if covers_day(away, day)}
        slots = {rotation.starts: rotation for rotation in rotations_on(roster, day)}
        for claim in now.book.claims(students=ids, day=day):
            slot = slots.get(claim.turn.rotation) if claim.turn.rotation else None
            whole = any(
                a.starts is None and a.ends is None
                for a in aways
                if a.student_id == claim.turn.student_id and covers_day(a, day)
            )
            if whole or (slot and is_away_in(roster, claim.turn.student_id, day, slot)):
                found.append(claim)
    return found


def _take_back(claims: Sequence[Claim], now: Situation) -> tuple[Option, ...]:
    options = []
    for claim in {claim.turn.key: claim for claim in claims}.values():
        stint = now.roster.stint[claim.turn.stint_id]
        child = now.roster.student[claim.turn.student_id]
        removal = RemoveVisits(
            Who(students=(child.id,)), Place(bin_id=stint.bin_id), When(claim.turn.day)
        )
        label = f"Take {child.name} off {now.roster.bin_of(stint).name}"
        options.append(Option(label, removal_in_full(removal, now.roster)))
    if len(options) > 1:
        options.append(Option("Take all back", "\n".join(option.send for option in options)))
    return (*options, Option("Keep it", "no")) if options else ()


def _touched_today(now: Situation, aways: Sequence[Away]) -> frozenset[int]:
    return frozenset(a.student_id for a in aways if covers_day(a, now.today))


def _at_risk(planned: Planned | None, students: Sequence[Student]) -> tuple[Unplanned, ...]:
    if planned is None:
        return ()
    ids = {student.id for student in students}
    return tuple(unmet for unmet in planned.unmet if unmet.student.id in ids)


def _change(now: Situation, away: Away, what: str = "away") -> dict[str, object]:
    change: dict[str, object] = {
        "what": what,
        "student": now.roster.student[away.student_id].name,
        "from": away.first.isoformat() if away.first else None,
        "to": away.last.isoformat() if away.last else None,
    }
    if away.weekday is not None:
        change["weekday"] = away.weekday
    if away.starts is not None:
        change["starts"] = f"{away.starts:%H:%M}"
    if away.ends is not None:
        change["ends"] = f"{away.ends:%H:%M}"
    return change


def note_back(request: NoteBack, now: Situation) -> Outcome:
    """Note that children are here again: from now, from a day on, or all along."""
    day = request.day or now.today
    students = students_of(now.roster, now.children(request.who, day).all)
    changed: list[Away] = []
    already = []
    for student in students:
        mine = [a for a in aways_on(now.roster, student.id, day) if a.weekday is None]
        if not mine:
            already.append(student)
        for away in mine:
            changed.append(_shorten(away, day, request, now))
    moved, planned = replan_today(now, {away.student_id for away in changed})
    return AwayNoted(
        students=students,
        today=now.today,
        status=DONE if changed else ANSWERED,
        changes=tuple(_change(now, away, "back") for away in changed),
        aways=tuple(changed),
        back=True,
        already=tuple(already),
        moved=moved,
        at_risk=_at_risk(planned, students),
    )


def _shorten(away: Away, day: date, request: NoteBack, now: Situation) -> Away:
    """End an away where the child is here again, and give what is left of it."""
    ends = _since(request, day, now)
    eve = day - timedelta(days=1)
    runs_before = away.first is None or away.first < day
    now.book.end_away(now.entry_id, away, eve if runs_before else None)
    if ends is not None and (away.starts is None or away.starts < ends):
        now.book.add_away(
            now.entry_id, away.student_id, first=day, last=day, starts=away.starts, ends=ends
        )
    return Away(away.id, away.student_id, day, day, None, None, ends)


def _since(request: NoteBack, day: date, now: Situation) -> time | None:
    """From what time on the child is here: as said, or since now where rotations have run."""
    if request.starts is not None:
        return request.starts
    is_today = day == now.today and not request.after_all
    if is_today and not is_before_first_rotation(now.roster, now.at):
        return now.at.time().replace(second=0, microsecond=0)
    return None


def who_is_away(request: WhoIsAway, now: Situation) -> Outcome:
    """Tell who is away on a day, or on each of several."""
    first = request.day or now.today
    last = request.last or first
    days = [first + timedelta(days=n) for n in range(min((last - first).days + 1, _MOST_DAYS))]
    open_days = [day for day in days if is_school_day(now.roster, day)]
    asked = students_of(now.roster, now.children(request.who, first).all)
    told = []
    for day in open_days:
        students = [s for s in now.roster.present_roster(day) if not asked or s in asked]
        gone = [(s, aways_on(now.roster, s.id, day)) for s in students]
        told.append((day, tuple((s, aways) for s, aways in gone if aways)))
    facts = {day.isoformat(): [s.name for s, _ in gone] for day, gone in told}
    return AwayTold(
        status=ANSWERED,
        facts={"away": facts},
        days=tuple(told),
        asked=asked,
        today=now.today,
    )


AWAY = Skill(
    name="away",
    title="Note who is away, leaves early, comes late or is back",
    examples=("Ruby is out today", "Omar leaves at 10:30", "Mateo is away till friday"),
    listeners=(
        TOLD_AWAY,
        TOLD_BACK,
    ),
    acts=((NoteAway, note_away), (NoteBack, note_back)),
)

WHO_IS_AWAY = Skill(
    name="who_is_away",
    title="Ask who is away",
    examples=("who is away today?", "who's out on friday?"),
    listeners=(
        ASKED_WHO_IS_AWAY,
        ASKED_IN_SHORT,
    ),
    acts=((WhoIsAway, who_is_away),),
)
