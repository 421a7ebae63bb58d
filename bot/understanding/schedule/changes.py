"""A change of the schedule as a clause tells it: which days, and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.classroom.days import rotations_on
from bot.requests import Ask, ChangeSchedule, Option, Request, Span
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_of

_REASONS = (
    "snow", "fire drill", "drill", "assembly", "field trip", "early release", "early dismissal",
    "half day", "conference", "conferences", "holiday", "teacher workday", "late start", "delay",
    "picture day", "lockdown", "storm", "power outage", "pd day", "inservice", "parade", "concert",
)  # fmt: skip


def heard_as(what: str, clause: Clause) -> Request | None:
    """The change of this kind that a clause tells; None where it asks, wonders or names more."""
    if _is_unsure(clause) or clause.children or clause.bins:
        return None
    spans = spans_of(clause.items, clause.at, past=_is_past(clause))
    return ChangeSchedule(what, tuple(_dated(span, clause) for span in spans), _reason(clause))


def _is_unsure(clause: Clause) -> bool:
    words = clause.word_set
    return clause.is_question or bool(words & {"if", "maybe", "might", "unless", "hope", "wish"})


def _dated(span: Span, clause: Clause) -> Span:
    """ "friday's 10:40" is the next Friday's, never today's."""
    if span.first is not None or span.weekday is None:
        return span
    today = clause.at.date()
    return replace(span, first=today + timedelta(days=(span.weekday - today.weekday()) % 7))


def _is_past(clause: Clause) -> bool:
    words = clause.word_set
    return bool(words & {"was", "were", "lost", "skipped", "missed", "had", "didnt", "ate"})


def _reason(clause: Clause) -> str:
    said = " ".join(clause.words)
    return next((reason for reason in _REASONS if reason in said), "")


def which_rotation(clause: Clause) -> Heard | None:
    """ "we lost a rotation": which of today's?"""
    text = " ".join(item.text for item in clause.items if item.kind is not Kind.MARK)
    options = tuple(
        Option(f"{r.starts:%H:%M}", f"{text} at {r.starts:%H:%M}")
        for r in rotations_on(clause.roster, clause.at.date())
    )
    if not options:
        return None
    return Heard(asks=[Ask("when", "Which rotation?", options, ChangeSchedule.name)])
