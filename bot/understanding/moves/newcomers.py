"""Told of children who are new: "new student zed in group 2", "we got a new girl, priya v"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.requests import Ask, NewStudent, Option
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import newcomer_in_full
from bot.understanding.clause import Clause
from bot.understanding.introductions import KID, KIDS, Introduced, names_in, strange_in, tells_more
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_said

_IS = "is|are|s|a|an|our|the|my|in|officially|also|both|brand|just|today|<day>|will|be|as"
_PHRASES = (
    f"new {KID}",
    "enroll|enrolling|enrolled|register|registered|admit|registering ... in|into|to the? <who>",
    f"is|are {_IS}* new",
    "new <who>",
    "new in|to <who>",
    "joined|joins|joining|join the|our|my|us class|roster|room|us?",
    "joined|joins|joining|join the? <who>",
    "starts|started|starting|start with|in us|group|our|my|the|<who>",
    "starts|starting|start <day> in|with <who>",
    "add ... to the|my|our class|roster|list",
    "add|adding ... to|in|into the? <who>",
    "welcome ... to|in the|our? class|group|<who>",
    f"add ... as a|our|my* new {KID}",
    "new will be in <who>",
)
_DOUBTS = frozenset(("if", "when", "maybe", "might", "think", "hear", "rumor", "supposedly"))
_OUTRIGHT = frozenset((
    "new", "welcome", "roster", "enroll", "enrolling", "enrolled", "us", "class", "introducing",
))  # fmt: skip
_NEW = frozenset((
    "new", "joined", "joins", "joining", "join", "starts", "started", "starting", "start",
    "welcome", "roster", "enroll", "enrolling", "enrolled",
))  # fmt: skip


def _hear_new(clause: Clause) -> Heard | None:
    """A child for each name that stands in it; asked about where anything is doubtful."""
    if clause.is_question or clause.bins or clause.word_set & {"undo", "forget", "log"}:
        return None
    found = _surest(list(names_in(clause.items)))
    if not found:
        return _who_is_it(clause)
    groups = [i.sense.ids[0] for i in clause.items if i.kind is Kind.GROUP and i.sense.ids]
    if len(found) > 4 or len(set(groups)) > 1:
        return None
    named = {id(item) for one in found for item in one.items}
    if any(i.kind is Kind.STUDENT and id(i) not in named for i in clause.items):
        return None
    if all(one.is_known and len(one.items) == 1 for one in found):
        return None  # "ava joined group 3": a child of the class
    last = found[-1].items[-1]
    behind = [key for item in clause.items if item.start > last.start for key in item.keys]
    plain = found[-1].name.casefold() == last.text.casefold() and not last.text[:1].isupper()
    if plain and not groups and behind[:1] in (["is"], ["was"], ["starts"], ["meeting"]):
        return None  # "new student orientation is friday"
    [span, *_] = spans_said(clause)
    group = groups[0] if groups else None
    new = [NewStudent(one.name, group, span.first) for one in found]
    words = clause.word_set
    sure = not words & _DOUBTS and bool(words & _OUTRIGHT) and not strange_in(clause.items, named)
    sure = sure and not any(one.is_known for one in found)
    return Heard(list(new)) if sure else _asked(new, clause)


def _surest(found: list[Introduced]) -> list[Introduced]:
    """Of "new student alert: Oona P" only what is written like a name."""
    written = [
        one
        for one in found
        if one.name != one.items[0].text.capitalize() or one.items[0].text[:1].isupper()
    ]
    return written or found


def _asked(new: Sequence[NewStudent], clause: Clause) -> Heard:
    text = "\n".join(newcomer_in_full(one, clause.roster) for one in new)
    ask = Ask("confirm_note", "", (Option(YES, text), Option(NO, "no")), NewStudent.name)
    return Heard(asks=[ask])


def _who_is_it(clause: Clause) -> Heard | None:
    """ "new student": called what?"""
    if not KIDS & clause.word_set or "new" not in clause.word_set:
        return None
    if clause.children or strange_in(clause.items, set()) or len(clause.words) > 9:
        return None
    words = "What is the name? Text it like “new student Zed in group 2”."
    return Heard(asks=[Ask("when", words, (), NewStudent.name)])


def _is_told_of(clause: Clause) -> bool:
    """Whether a clause tells of somebody new."""
    new = clause.word_set & _NEW and not clause.bins
    return bool(new) and clause.finds(_PHRASES) > 0 and not _is_of_the_class(clause)


def _is_of_the_class(clause: Clause) -> bool:
    return any(item.kind is Kind.STUDENT for item in clause.items) and not (
        KIDS & clause.word_set and "new" in clause.word_set
    )


def _goes_on_about(clause: Clause) -> bool:
    return tells_more(clause.items)


TOLD_NEW = Listener(
    _PHRASES, _hear_new, rank=2, apart=True, notices=_is_told_of, goes_on=_goes_on_about
)
