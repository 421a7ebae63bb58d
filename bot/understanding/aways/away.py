"""Told that children are away: "ruby is out", "omar leaves at 10:30", "theo has speech at 10"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from bot.classroom.days import rotations_on
from bot.requests import Ask, NoteAway, Option, Request, Span, Who
from bot.understanding.asking_back import Heard
from bot.understanding.aways.words import GONE, PAST, is_denied
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_of

_AT = "speech|ot|pt|nurse|office|dentist|doctor|doctors|therapy|counselor|resource|reading|ell|esl"
_PHRASES = (
    f"<who> is|are|was|were|will|be|s|stays|staying|still|called|has|have|being ... {GONE}",
    f"<who> {GONE}",
    f"<who> all|both|also|too? {GONE}",
    f"<who> <day>|<time> {GONE}",
    f"^ {GONE} <day>|is|are? <who> $",
    f"mark|put|note|count <who> as? {GONE}",
    f"{GONE} <day>|is|are|include|includes? <who>",
    "<who> isnt|arent|wasnt|werent|not here|coming|in|at",
    "<who> is|are|was|were|will not be? here|coming|in|at",
    "<who> wont|cant|cannot|not be|come|make|coming ... "
    "here|in|school|class|it|today|<day>|until|till|there",
    "<who> will not be|come|make ... here|in|school|class|it|today|<day>|until|till",
    "<who> went|go|goes|going|sent|gone home",
    "<who> was|were|got|is|are|being|will|be sent home",
    "<who> has|have|had|having a|an|the? ... fever|flu|covid|cold|strep|pox|lice|"
    "appointment|appt|dentist|doctor|doctors|therapy|speech|ot|pt",
    "<who> leaves|leaving|leave|left|goes|going|heads|pulled|out ... "
    "at|early|<time>|before|after|from|home|now",
    "<who> is|are|will|has|have|needs ... leave|leaving ... at|early|<time>|before|after",
    "<who> gets|getting|got|is|being|be|will picked|getting up|picked",
    "<who> is|are|will|was|be|running|comes|coming|came|arrives|arriving ... late|tardy",
    "<who> late|tardy",
    "<who> arrives|arriving|comes|coming|in|here at|<time>|late|around|after",
    f"<who> is|are|will|has|have|be|going|goes ... at|in|with|to|for the? {_AT}",
    f"<who> at|in|with|to|has|have the? {_AT}",
    "no <who> <day>",
    "no <who> today|tomorrow",
    "<who> no show",
    "<who> has|have|taking|takes the? day|week off",
    "<who> <day> off $",
    "<who> is|are off $",
    "<who> on|taking a? vacation|holiday|trip|leave",
    "everyone|all|everybody ... here|present except|but|minus <who>",
    "<who> is|are? here|present except|but|minus|besides <who>",
    "<who> except|but|minus <who> is|are here|present",
    "missing <who> <day>|today",
    "^ missing <who> $",
)
_LEAVES = frozenset(("leaves", "leaving", "leave", "left", "goes", "going", "went", "sent", "gets"))
_COMES = frozenset(("late", "tardy", "arrives", "arriving", "arrive", "comes", "coming", "in"))
_CORRECTS = frozenset(("actually", "oops", "whoops", "wait", "correction", "sorry", "scratch"))
_LEFT = frozenset(("went", "sent", "picked", "left", "leaving"))
_SHORT = (
    "speech", "ot", "pt", "nurse", "dentist", "doctor", "therapy", "counselor", "appointment",
    "reading", "resource", "office",
)  # fmt: skip
_WHOLE_GROUP = frozenset(("absent", "away", "sick", "trip"))
_REASONS = (
    "sick", "ill", "fever", "flu", "speech", "ot", "pt", "nurse", "dentist", "doctor", "therapy",
    "counselor", "trip", "vacation", "appointment", "reading", "resource", "office",
)  # fmt: skip
_OUT_OF = ("school", "town", "class", "the", "state", "country", "office", "my", "our")


def _hear_away(clause: Clause) -> Heard | Request | None:
    who = clause.who()
    words = clause.word_set
    if who.everyone:
        who = Who(who.but_groups, who.but_students)
    if not who or clause.bins or clause.is_question:
        return None
    groups = (item for item in clause.children if item.kind is Kind.GROUP)
    if who.students and all(item.can_be(Kind.NUMBER) for item in groups):
        who = replace(who, groups=())  # "felix is here by 1"
    if _is_out_of_it(clause):
        return None
    if who.groups and not words & _WHOLE_GROUP:
        return None
    if is_denied(clause) or any(item.can_be(Kind.DOUBT) for item in clause.items):
        return None
    spans = spans_of(clause.items, clause.at, past=bool(PAST & words))
    ask = _ask_when(clause, words) if not any(span.is_part for span in spans) else None
    if ask is not None:
        return Heard(asks=[ask])
    spans = tuple(_as_said(span, words, clause.at) for span in spans)
    reason = next((word for word in _REASONS if word in words), "")
    if reason in _SHORT and not any(span.names_day or span.is_part for span in spans):
        return None  # "ava has a dentist appt": when?
    return NoteAway(who, spans, reason, bool(_CORRECTS & words))


def _is_out_of_it(clause: Clause) -> bool:
    """ "out of control", "sick of it": not away."""
    words = clause.words
    return any(
        first in ("out", "sick") and link == "of" and what not in _OUT_OF
        for first, link, what in zip(words, words[1:], words[2:], strict=False)
    )


def _as_said(span: Span, words: frozenset[str], at: datetime) -> Span:
    """ "leaves at 10:30" is away from then on, "late till 10" or "in at 10" until then; "went home"
    is away from now on."""
    starts, ends = span.starts, span.ends
    if starts is not None and ends is None and words & _COMES and not words & _LEAVES:
        starts, ends = None, starts
    if words & _LEFT and not (span.is_part or span.names_day):
        starts = at.time().replace(second=0, microsecond=0, tzinfo=None)
    return replace(span, starts=starts, ends=ends)


def _ask_when(clause: Clause, words: frozenset[str]) -> Ask | None:
    """ "leaves early", "comes late": when? The rotations of that day are offered."""
    late = bool(words & {"late", "tardy"})
    if not (late or ("early" in words and words & _LEAVES)):
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    day = span.first or clause.at.date()
    text = " ".join(item.text for item in clause.items if item.kind is not Kind.MARK)
    link = "until" if late else "at"
    options = tuple(
        Option(f"{rotation.starts:%H:%M}", f"{text} {link} {rotation.starts:%H:%M}")
        for rotation in rotations_on(clause.roster, day)
    )
    return Ask("when", "Until when?" if late else "From when on?", options, NoteAway.name)


TOLD_AWAY = Listener(_PHRASES, _hear_away, asks_of="away", rank=1, apart=True)
