"""Told that children are away: "ruby is out", "omar leaves at 10:30", "theo has speech at 10"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.requests import Ask, NoteAway, Option, Request, Who
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.aways import phrases
from bot.understanding.aways.parts_of_day import spans_of_kind, when_asked
from bot.understanding.aways.words import (
    BEHIND,
    denies,
    is_only_thought_of,
    is_unsure,
    reason_of,
)
from bot.understanding.canonical import away_in_full
from bot.understanding.clause import Clause, Found
from bot.understanding.reading import Listener
from bot.understanding.segments import LINKS, is_subject
from bot.understanding.senses import Item, Kind

_KINDS = {
    "away": phrases.AWAY,
    "leaves": phrases.LEAVES,
    "late": phrases.LATE,
    "busy": phrases.BUSY,
    "around": phrases.AROUND,
    "misses": phrases.MISSES,
}
"""Which part of the day each way of saying it means."""
_PHRASES = tuple(phrase for said in _KINDS.values() for phrase in said)
_CORRECTS = frozenset(("actually", "oops", "whoops", "wait", "correction", "sorry", "scratch"))
_WHOLE_GROUP = frozenset(("absent", "away", "sick", "trip"))
_OUT_OF = frozenset(("school", "town", "class", "the", "state", "country", "my", "our"))
_WEAK = frozenset(("out", "gone", "away", "home", "off", "sick", "ill"))
_LEADS = frozenset((
    "parents", "emailed", "texted", "voicemail", "guardian", "grandma", "grandpa", "grandmother",
    "unfortunately", "nanny", "family", "sitter", "aunt", "uncle", "attendance", "announcement",
))  # fmt: skip
_NOBODY = frozenset(("nobody", "noone", "none", "no"))


def _hear_away(clause: Clause) -> Heard | Request | None:
    if clause.bins or clause.is_question or is_only_thought_of(clause):
        return None
    told = [(kind, found) for kind, said in _KINDS.items() if (found := clause.find(said))]
    if not told:
        return None
    kind, found = max(told, key=lambda pair: len(pair[1].words.split()))
    who = _who(found)
    if not who or _is_something_else(clause, found):
        return None
    if who.groups and not clause.word_set & _WHOLE_GROUP:
        return None
    is_sure = _is_sure(clause, found)
    asked = when_asked(kind, clause, who)
    if asked is not None:
        return Heard(asks=[asked]) if is_sure else None
    spans = spans_of_kind(kind, clause)
    if kind in ("busy", "around") and not any(s.is_part or s.names_day for s in spans):
        return None
    noted = NoteAway(who, spans, reason_of(clause), bool(_CORRECTS & clause.word_set))
    if is_sure:
        return noted
    options = (Option(YES, away_in_full(_dated(noted, clause), clause.roster)), Option(NO, "no"))
    return Heard(asks=[Ask("confirm_note", "", options, NoteAway.name)])


def _who(found: Found) -> Who:
    """The children it is said of: of "everyone is here but mia" those behind the "but"."""
    named = [item for item in found.inside if is_subject(item) or item.kind is Kind.EXCEPT]
    but = [at for at, item in enumerate(found.inside) if item.kind in (Kind.EXCEPT, Kind.BUT)]
    whole = any(item.kind is Kind.EVERYONE for item in named) or found.words.split()[0] in _NOBODY
    if but and (whole or any(is_subject(item) for item in found.inside[: but[-1]])):
        named = [item for item in found.inside[but[-1] :] if is_subject(item)]
    if all(_is_aside(item) or is_subject(item) for item in found.after):
        named += [item for item in found.after if is_subject(item)]  # "mia is out and ben too"
    groups = tuple(i.sense.ids[0] for i in named if _is(i, Kind.GROUP) and not i.can_be(Kind.NUMBER))
    students = tuple(item.sense.ids[0] for item in named if _is(item, Kind.STUDENT))
    return Who(tuple(dict.fromkeys(groups)), tuple(dict.fromkeys(students)))


def _is(item: Item, kind: Kind) -> bool:
    return item.kind is kind and len(item.sense.ids) == 1


def _is_aside(item: Item) -> bool:
    times = (Kind.DAY, Kind.TIME, Kind.SLOT)
    return item.kind in (*LINKS, Kind.MARK, Kind.PLAIN, *times)


def _is_something_else(clause: Clause, found: Found) -> bool:
    """ "out of control", "sick of it"; or a "not" before it."""
    words = clause.words
    if any(
        first in ("out", "sick") and link == "of" and what not in _OUT_OF
        for first, link, what in zip(words, words[1:], words[2:], strict=False)
    ):
        return True
    before = {key for item in found.before for key in item.keys}
    return denies(" ".join(before)) or _is_no_child((*found.before, *found.inside))


def _is_no_child(items: Sequence[Item]) -> bool:
    """ "the bill came", "i may be late": a name that is a word here."""
    return any(
        item.kind is Kind.STUDENT and before.keys[-1:] and before.keys[-1] in _BEFORE_NOUN
        for before, item in pairwise(items)
    )


_BEFORE_NOUN = frozenset((
    "the", "a", "an", "my", "our", "your", "i", "we", "you", "they", "he", "she", "it", "u", "this",
))  # fmt: skip


def _is_led_in(found: Found) -> bool:
    """Whether what stands right before the first child only leads up to it: "mom says", "fyi"."""
    before = found.before[-1] if found.before else None
    if before is None or before.kind is not Kind.UNKNOWN or not is_subject(found.inside[0]):
        return True
    return before.keys[-1] in _LEADS


def _is_sure(clause: Clause, found: Found) -> bool:
    """Whether nothing in it makes it doubtful: a "maybe", another child before it, an unknown word
    right behind a word as weak as "out"."""
    if is_unsure(clause) or any(is_subject(item) for item in found.before):
        return False
    if not _is_led_in(found):
        return False
    said = found.words.split()
    behind = found.rest.split()[:1]
    return said[-1] not in _WEAK or not behind or behind[0] in BEHIND or not behind[0].isalpha()


def _dated(noted: NoteAway, clause: Clause) -> NoteAway:
    """With its day, so that a choice means the same whenever it is tapped."""
    today = clause.at.date()
    spans = tuple(
        span if span.names_day else replace(span, first=today, last=today) for span in noted.spans
    )
    return replace(noted, spans=spans)


TOLD_AWAY = Listener(_PHRASES, _hear_away, asks_of="away", rank=1, apart=True)
