"""Days without school, half days, rotations lost and added."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, time, timedelta
from itertools import pairwise

from bot.classroom.days import (
    current_rotation,
    is_school_day,
    nth_rotation,
    rotation_end,
    rotations_on,
    running_at,
)
from bot.outcomes import ANSWERED, DONE, REFUSED, Outcome, ScheduleChanged
from bot.requests import Ask, ChangeSchedule, Option, Request, Span
from bot.skills.planning import replan_today
from bot.skills.skill import Situation, Skill
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import NOON, spans_of
from storage.records import Closure, Rotation

_LONGEST = 60  # days closed by one text: more is a slip
_USUAL = 20  # minutes of a rotation where the class has none to go by


def change_schedule(request: ChangeSchedule, now: Situation) -> Outcome:
    """Close or open days and rotations, and say what that changes today."""
    days = list(_days(request, now))
    if not days:
        return _changed(request, now, (), (), status=ANSWERED, what="no_such_day")
    if days[0] < now.today - timedelta(days=_LONGEST) or len(days) > _LONGEST:
        return _changed(request, now, (), (), status=REFUSED, what="too_long")
    act = {
        "no_school": _no_school,
        "school": _school,
        "lost": _lost,
        "block": _block,
        "extra": _extra,
        "runs": _runs,
    }[request.what]
    return act(request, days, now)


def _days(request: ChangeSchedule, now: Situation) -> Iterator[date]:
    """The days meant, in order; today where none is named. Weekends close with their week."""
    seen = set()
    for span in request.spans:
        first = span.first or now.today
        last = span.last or first
        for n in range(min((last - first).days, _LONGEST) + 1):
            seen.add(first + timedelta(days=n))
    open_days = now.roster.class_.school_days
    yield from sorted(day for day in seen if day.weekday() in open_days)


def _changed(
    request: ChangeSchedule,
    now: Situation,
    days: tuple[date, ...],
    rotations: tuple[Rotation, ...],
    **said: object,
) -> ScheduleChanged:
    changed = said.get("status", DONE) == DONE
    moved, planned = replan_today(now, ()) if changed and now.today in days else ((), None)
    told = {
        "status": DONE,
        "what": request.what,
        "days": days,
        "rotations": rotations,
        "reason": request.reason,
        "today": now.today,
        "moved": moved,
        "at_risk": planned.unmet if planned is not None else (),
        **said,
    }
    return ScheduleChanged(**told)  # type: ignore[arg-type]


def _no_school(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    new = [day for day in days if is_school_day(now.roster, day)]
    for day in new:
        now.book.add_closure(now.entry_id, day, request.reason or "no school")
    if not new:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="closed_already")
    held = sum(len(now.book.claims(day=day)) for day in new if day <= now.today)
    changes = tuple({"what": "no_school", "day": day.isoformat()} for day in new)
    return _changed(request, now, tuple(new), (), changes=changes, logged=held)


def _school(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    closed = [c for c in now.roster.closures if c.day in days]
    if not closed:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="open_already")
    now.book.void_closures(now.entry_id, [closure.id for closure in closed])
    opened = tuple(sorted({closure.day for closure in closed}))
    changes = tuple({"what": "school", "day": day.isoformat()} for day in opened)
    return _changed(request, now, opened, (), changes=changes)


def _lost(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    lost: list[tuple[date, Rotation]] = []
    for day in days:
        lost += [(day, rotation) for rotation in _rotations_meant(request.spans[0], day, now)]
    if not lost:
        return _changed(request, now, tuple(days), (), status=REFUSED, what="no_such_rotation")
    for day, rotation in lost:
        if rotation.id < 0:
            now.book.void_extras(now.entry_id, [-rotation.id])
        else:
            reason = request.reason or "rotation lost"
            ends = rotation_end(rotation)
            now.book.add_closure(now.entry_id, day, reason, rotation.starts, ends)
    held = sum(
        claim.turn.rotation == rotation.starts
        for day, rotation in lost
        for claim in now.book.claims(day=day)
    )
    changes = tuple(
        {"what": "rotation_lost", "day": day.isoformat(), "starts": f"{r.starts:%H:%M}"}
        for day, r in lost
    )
    return _changed(
        request,
        now,
        tuple(dict.fromkeys(day for day, _ in lost)),
        tuple(rotation for _, rotation in lost),
        changes=changes,
        logged=held,
    )


def _rotations_meant(span: Span, day: date, now: Situation) -> list[Rotation]:
    """The rotations named by number or time; those of a block; else all of the day."""
    rotations = rotations_on(now.roster, day)
    if span.slots:
        chosen = (nth_rotation(rotations, number) for number in span.slots)
        return [rotation for rotation in chosen if rotation is not None]
    if span.starts is not None and span.ends is not None:
        return [r for r in rotations if r.starts < span.ends and span.starts < rotation_end(r)]
    if span.starts is not None:
        running = running_at(rotations, span.starts)
        return [running] if running is not None else []
    return list(rotations)


def _block(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    """A part of the day in which no rotation runs: an assembly, early release, a late start."""
    [span, *_] = request.spans
    starts, ends = span.starts, span.ends
    lost = [
        (day, r)
        for day in days
        for r in rotations_on(now.roster, day)
        if r.starts < (ends or time.max) and (starts or time.min) < rotation_end(r)
    ]
    for day in days:
        now.book.add_closure(
            now.entry_id, day, request.reason or "no rotations", starts or time.min, ends
        )
    changes = tuple(
        {
            "what": "block",
            "day": day.isoformat(),
            "starts": f"{starts:%H:%M}" if starts else None,
            "ends": f"{ends:%H:%M}" if ends else None,
        }
        for day in days
    )
    return _changed(request, now, tuple(days), tuple(r for _, r in lost), changes=changes)


def _extra(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    [span, *_] = request.spans
    assert span.starts is not None, "asked for before"
    usual = now.roster.rotations[0].minutes if now.roster.rotations else _USUAL
    minutes = request.minutes or usual
    added = Rotation(0, days[0].weekday(), span.starts, minutes)
    ends = rotation_end(added)
    for day in days:
        if not is_school_day(now.roster, day):
            return _changed(request, now, (day,), (), status=REFUSED, what="no_school_then")
        beside = rotations_on(now.roster, day)
        if any(r.starts < ends and span.starts < rotation_end(r) for r in beside):
            return _changed(request, now, (day,), (added,), status=REFUSED, what="overlaps")
    for day in days:
        now.book.add_extra(now.entry_id, day, span.starts, minutes)
    changes = tuple(
        {"what": "rotation_added", "day": day.isoformat(), "starts": f"{span.starts:%H:%M}"}
        for day in days
    )
    return _changed(request, now, tuple(days), (added,), changes=changes)


def _runs(request: ChangeSchedule, days: list[date], now: Situation) -> Outcome:
    """A block is taken back: the rotation runs after all."""
    [span, *_] = request.spans
    blocks = [
        closure
        for closure in now.roster.closures
        if closure.day in days and closure.starts is not None and _covers(closure, span)
    ]
    if not blocks:
        return _changed(request, now, tuple(days), (), status=ANSWERED, what="open_already")
    now.book.void_closures(now.entry_id, [closure.id for closure in blocks])
    changes = tuple({"what": "school", "day": closure.day.isoformat()} for closure in blocks)
    return _changed(request, now, tuple({c.day for c in blocks}), (), changes=changes)


def _covers(closure: Closure, span: Span) -> bool:
    if span.starts is None:
        return True
    return (closure.starts or time.min) <= span.starts < (closure.ends or time.max)


# What is listened for

_REASONS = (
    "snow", "fire drill", "drill", "assembly", "field trip", "early release", "early dismissal",
    "half day", "conference", "conferences", "holiday", "teacher workday", "late start", "delay",
    "picture day", "lockdown", "storm", "power outage", "pd day", "inservice", "parade", "concert",
)  # fmt: skip


def _reason(clause: Clause) -> str:
    said = " ".join(clause.words)
    return next((reason for reason in _REASONS if reason in said), "")


def _is_unsure(clause: Clause) -> bool:
    words = clause.word_set
    return clause.is_question or bool(words & {"if", "maybe", "might", "unless", "hope", "wish"})


def _heard(what: str, clause: Clause) -> Request | None:
    if _is_unsure(clause) or clause.children or clause.bins:
        return None
    spans = spans_of(clause.items, clause.at, past=_is_past(clause))
    return ChangeSchedule(what, tuple(_dated(span, clause) for span in spans), _reason(clause))


def _dated(span: Span, clause: Clause) -> Span:
    """ "friday's 10:40" is the next Friday's, never today's."""
    if span.first is not None or span.weekday is None:
        return span
    today = clause.at.date()
    return replace(span, first=today + timedelta(days=(span.weekday - today.weekday()) % 7))


def _is_past(clause: Clause) -> bool:
    words = clause.word_set
    return bool(words & {"was", "were", "lost", "skipped", "missed", "had", "didnt", "ate"})


def _hear_no_school(clause: Clause) -> Request | None:
    known = {"school", "snow", "class", "classes", "workday", "holiday", "development"}
    strange = any(item.kind is Kind.UNKNOWN for item in clause.items)
    if strange and not known & clause.word_set:
        return None  # "thoe is off friday"
    return _heard("no_school", clause)


def _hear_school(clause: Clause) -> Request | None:
    return _heard("school", clause)


def _hear_lost(clause: Clause) -> Heard | Request | None:
    heard = _heard("lost", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    [span, *_] = heard.spans
    words = clause.word_set
    named = span.is_part or span.names_day or words & {"all", "any", "no", "every", "today"}
    if named or "rotations" in words:
        return heard
    running = current_rotation(clause.roster, clause.at)
    if words & {"this", "current"} and running is not None:
        return replace(heard, spans=(replace(span, starts=running.starts),))
    return _which_rotation(clause)


def _which_rotation(clause: Clause) -> Heard | None:
    """ "we lost a rotation": which of today's?"""
    text = " ".join(item.text for item in clause.items if item.kind is not Kind.MARK)
    options = tuple(
        Option(f"{r.starts:%H:%M}", f"{text} at {r.starts:%H:%M}")
        for r in rotations_on(clause.roster, clause.at.date())
    )
    if not options:
        return None
    return Heard(asks=[Ask("when", "Which rotation?", options, ChangeSchedule.name)])


def _hear_block(clause: Clause) -> Heard | Request | None:
    heard = _heard("block", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    said = " ".join(clause.words)
    [span, *more] = heard.spans
    starts, ends = span.starts, span.ends
    if span.slots:
        return ChangeSchedule("lost", heard.spans, heard.reason)
    late = any(words in said for words in ("late start", "delay", "delayed", "start late"))
    if late and starts is not None and ends is None:
        starts, ends = None, starts
    if "half" in said and not span.is_part:
        starts = NOON
    if starts is None and ends is None:
        return _which_rotation(clause)
    return ChangeSchedule(
        "block",
        tuple(Span(s.first, s.last, None, starts, ends) for s in (span, *more)),
        heard.reason,
    )


def _hear_extra(clause: Clause) -> Heard | Request | None:
    heard = _heard("extra", clause)
    if not isinstance(heard, ChangeSchedule):
        return None
    [span, *_] = heard.spans
    if span.starts is None:
        words = "At what time? Text it like “extra rotation at 1:10”."
        return Heard(asks=[Ask("when", words, (), ChangeSchedule.name)])
    return ChangeSchedule("extra", heard.spans, heard.reason, _minutes(clause, span))


def _minutes(clause: Clause, span: Span) -> int | None:
    if span.starts is not None and span.ends is not None:
        gap = (span.ends.hour - span.starts.hour) * 60 + span.ends.minute - span.starts.minute
        return gap if 0 < gap < 240 else None
    words = clause.words
    for word, unit in pairwise(words):
        if word.isdecimal() and unit in ("minutes", "minute", "min", "mins"):
            return int(word) if 0 < int(word) < 240 else None
    return None


def _hear_runs(clause: Clause) -> Request | None:
    return _heard("runs", clause)


_ROTATION = "rotation|rotations|round|slot|session|bins|centers|stem|<time>"
SCHEDULE = Skill(
    name="schedule",
    title="Tell of days without school, half days, rotations lost or added",
    examples=(
        "no school friday",
        "half day tomorrow",
        "we lost the 10:40 rotation",
        "extra rotation at 1:10",
    ),
    listeners=(
        Listener(
            (
                "no school",
                "school|schools is|was|will be? closed|cancelled|canceled|out|off",
                "school|schools closed|cancelled|canceled",
                "snow day",
                "<day> is|will be? a? ... holiday|day off|closed",
                "day off <day>",
                "<day> off $",
                "teacher workday|work|inservice",
                "pd|professional|inservice|conference development? day",
                "we are|re|have off <day>",
                "were|was|are|is off on? <day>",
                "closed on? <day>",
                "school wont|will not be? open|in session?",
                "no class|classes on? <day>",
            ),
            _hear_no_school,
            rank=1,
            apart=True,
        ),
        Listener(
            (
                "school after all",
                "there is|will be? school",
                "we do have school",
                "have school <day>",
                "school is|will be? open|back on|on",
                "<day> is|will be? a? school day",
                "school <day> after all",
                "no snow day",
            ),
            _hear_school,
            rank=2,
            apart=True,
        ),
        Listener(
            (
                f"lost|lose|losing|skip|skipped|skipping|missed|miss|missing|cancel|canceled|"
                f"cancelled|cancelling|drop|dropped|scrap|scrapped|without ... {_ROTATION}",
                f"{_ROTATION} ... lost|skipped|cancelled|canceled|dropped|off|missed|scrapped",
                "<slot> ... lost|skipped|cancelled|canceled|dropped|off|missed|scrapped",
                f"{_ROTATION} ... didnt happen|run",
                f"{_ROTATION} ... not happening",
                f"no {_ROTATION} <day>|this|at|on|in",
                "no rotation|rotations|centers|bins|stem",
                "no <time>|<day> rotation|round|slot|session",
                "ate|took|killed|interrupted|cancelled|canceled ... "
                "<time>|rotation|rotations|round|slot",
                "fire drill ... <time>|rotation|slot",
                "didnt|did not get to|have|do|run ... rotation|rotations|<time>|centers|bins",
                "wont|cant|not have|do|run|doing|having|running ... rotation|rotations|<time>|"
                "centers|bins",
            ),
            _hear_lost,
            rank=1,
            apart=True,
        ),
        Listener(
            (
                "half day|days",
                "early release|dismissal|out",
                "out|dismissed|released early",
                "dismissal|release at <time>",
                "assembly|concert|parade|drill|lockdown|ceremony|rehearsal ... "
                "<time>|<day>|from|at",
                "<day>|<time> ... assembly|concert|parade|drill",
                "late start|opening",
                "delay|delayed start|opening|school",
                "two|one|1|2 hour delay",
                "school starts|ends|lets ... at|out|late|early|<time>",
            ),
            _hear_block,
            rank=1,
            apart=True,
        ),
        Listener(
            (
                "extra|additional|bonus|another rotation|round|slot|session|<time>",
                "add|adding|added|have|insert|squeeze|fit|do in? a|an|one|another|extra "
                "rotation|round|slot|session|extra",
                "add|adding <time>",
                "one more rotation|round|slot",
                "rotation|round added|more",
            ),
            _hear_extra,
            rank=2,
            apart=True,
        ),
        Listener(
            (
                "<time>|rotation ... runs|happens|happening|on|back after all",
                "<time>|rotation ... runs|happens after all",
                "<time>|rotation is|are back on",
                "no assembly|drill|early|half after|release|day ... all",
                "not a half day",
            ),
            _hear_runs,
            rank=3,
            apart=True,
        ),
    ),
    acts=((ChangeSchedule, change_schedule),),
)
