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
    MILD,
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
from bot.understanding.spans import spans_said

_KINDS = {
    "away": phrases.AWAY,
    "leaves": phrases.LEAVES,
    "late": phrases.LATE,
    "busy": phrases.BUSY,
    "around": phrases.AROUND,
    "misses": phrases.MISSES,
}
"""Which part of the day each way of saying it means."""
PHRASES = tuple(phrase for said in _KINDS.values() for phrase in said)
_CORRECTS = frozenset(("actually", "oops", "whoops", "wait", "correction", "sorry", "scratch"))
_WHOLE_GROUP = frozenset(("absent", "away", "sick", "trip"))
_OUT_OF = frozenset((
    "school", "town", "class", "state", "country", "district", "city", "building", "commission",
))  # fmt: skip
_WEAK = frozenset(("out", "gone", "away", "home", "off", "sick", "ill"))
_LEADS = frozenset((
    "parents", "emailed", "texted", "voicemail", "guardian", "grandma", "grandpa", "grandmother",
    "unfortunately", "nanny", "family", "sitter", "aunt", "uncle", "attendance", "announcement",
))  # fmt: skip
_ON_THE_WAY = frozenset(("going", "goes", "heading", "heads", "go"))
_NOT_IN = frozenset(("wont", "isnt", "not", "cant", "absent", "stay", "staying", "stayed", "stays"))
_NOUNS_TOO = frozenset((
    "art", "joy", "hope", "faith", "sky", "river", "summer", "sunny", "kit", "autumn", "star",
))  # fmt: skip
_TO = (("to",), ("-",), ("through",), ("thru",), ("till",), ("until",), ("–",))
_NOBODY = frozenset(("nobody", "noone", "none", "no"))


def _hear_away(clause: Clause) -> Heard | Request | None:
    if clause.bins or clause.is_question or is_only_thought_of(clause):
        return None
    told = _told(clause)
    if not told:
        clause = _by_pronoun(clause) or clause
        told = _told(clause)
    if not told:
        return None
    kind, found = max(told, key=lambda pair: len(pair[1].words.split()))
    if kind == "away" and found.words.endswith("home") and _ON_THE_WAY & clause.word_set:
        kind = "leaves"
    who = _who(found)
    if not who or _is_something_else(clause, found):
        return None
    if who.groups and not clause.word_set & _WHOLE_GROUP:
        return None
    if found.words.startswith("no ") and clause.word_set & {"with", "near", "beside", "w"}:
        return None  # "no ava with ben"
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


def _told(clause: Clause) -> list[tuple[str, Found]]:
    return [(kind, found) for kind, said in _KINDS.items() if (found := clause.find(said))]


def _by_pronoun(clause: Clause) -> Clause | None:
    """ "ava's dad emailed, she has a fever", "ava broke her arm, out today": the same said of Ava;
    None where nothing goes on about children who were named once before."""
    named = [n for n, item in enumerate(clause.items) if is_subject(item)]
    if not named:
        return None
    listed = clause.items[named[0] : named[-1] + 1]
    if any(not is_subject(item) and item.kind not in LINKS for item in listed):
        return None
    for at, item in enumerate(clause.items[named[-1] + 1 :], start=named[-1] + 1):
        if item.keys[:1] in _PRONOUNS or item.kind in (Kind.COMMA, Kind.AND):
            same = replace(clause, items=(*listed, *clause.items[at + 1 :]))
            if same.finds(PHRASES):
                return same
    return None


_PRONOUNS = (("she",), ("he",), ("they",), ("shes",), ("hes",), ("theyre",))


def _is_told_by_pronoun(clause: Clause) -> bool:
    if clause.bins or clause.finds(PHRASES):
        return False
    return _by_pronoun(clause) is not None


def _who(found: Found) -> Who:
    """The children it is said of: of "everyone is here but mia" those behind the "but"."""
    inside = found.inside
    missing = next((at for at, item in enumerate(inside) if "missing" in item.keys), None)
    if missing is not None and any(map(is_subject, inside[missing:])):
        inside = inside[missing:]  # "the owls are missing ava"
    named = [item for item in inside if is_subject(item) or item.kind is Kind.EXCEPT]
    but = [at for at, item in enumerate(found.inside) if item.kind in (Kind.EXCEPT, Kind.BUT)]
    whole = any(item.kind is Kind.EVERYONE for item in named) or found.words.split()[0] in _NOBODY
    if but and (whole or any(is_subject(item) for item in found.inside[: but[-1]])):
        named = [item for item in found.inside[but[-1] :] if is_subject(item)]
    named += _named_behind(found)
    groups = tuple(
        i.sense.ids[0] for i in named if _is(i, Kind.GROUP) and not i.can_be(Kind.NUMBER)
    )
    students = tuple(item.sense.ids[0] for item in named if _is(item, Kind.STUDENT))
    return Who(tuple(dict.fromkeys(groups)), tuple(dict.fromkeys(students)))


def _texts(found: Found) -> list[str]:
    return [item.text for item in found.inside if item.kind is Kind.STUDENT]


def _is(item: Item, kind: Kind) -> bool:
    return item.kind is kind and len(item.sense.ids) == 1


def _named_behind(found: Found) -> list[Item]:
    """ "mia is out and ben too", "mia is absent, as is ben"."""
    after = [item for item in found.after if item.kind not in (Kind.COMMA, Kind.MARK)]
    if [item.keys for item in after[:2]] in ([("as",), ("is",)], [("as",), ("are",)]):
        after = after[2:]
    if not all(_is_aside(item) or is_subject(item) for item in after):
        return []
    return [item for item in after if is_subject(item)]


def _is_aside(item: Item) -> bool:
    times = (Kind.DAY, Kind.TIME, Kind.SLOT)
    return item.kind in (*LINKS, Kind.MARK, Kind.PLAIN, *times)


def _is_something_else(clause: Clause, found: Found) -> bool:
    """ "out of control", "sick of it"; or a "not" before it."""
    words = clause.words
    if any(
        first in ("out", "sick") and link == "of" and not _OUT_OF & set(words[at + 2 : at + 4])
        for at, (first, link) in enumerate(pairwise(words))
    ):
        return True
    behind = (*found.rest.split(), "", "")
    last = found.words.split()[-1]
    if last == "away" and behind[0] == "from" and behind[1] not in ("<day>", "<time>", "school"):
        return True
    if last == "in" and behind[0] in ("a", "the", "group", "my", "his", "her", "their", "an"):
        return True
    if {"together", "same", "group"} & clause.word_set and len(_texts(found)) > 1:
        return True
    if (last in ("out", "home") and behind[0] in _ELSEWHERE) or _is_helped(found):
        return True
    if last in MILD or last in ("late", "tardy"):
        return bool(behind[0]) and behind[0] not in BEHIND and behind[0].isalpha()
    before = {key for item in found.before for key in item.keys}
    return denies(" ".join(before)) or _is_no_child((*found.before, *found.inside))


_ELSEWHERE = frozenset(("there", "here", "schooled", "loud", "work", "run", "base", "room"))


def _is_helped(found: Found) -> bool:
    """ "ava helped ben out": what is said is said of the one before."""
    last = found.before[-1] if found.before else None
    named = any(is_subject(item) for item in found.before)
    return named and last is not None and last.kind not in (*LINKS, Kind.BUT, Kind.MARK)


def _is_no_child(items: Sequence[Item]) -> bool:
    """ "the bill came", "i may be late": a name that is a word here."""
    return any(
        item.kind is Kind.STUDENT and before.keys[-1:] and before.keys[-1] in _BEFORE_NOUN
        for before, item in pairwise(items)
    )


_BEFORE_NOUN = frozenset((
    "its", "thats", "whats", "the", "a", "an", "my", "our", "your", "i", "we", "you", "they", "he",
    "she", "it", "u", "this",
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
    if {"half", "part"} & clause.word_set and not any(
        "half" in i.keys for i in clause.items if i.kind is Kind.TIME
    ):
        return False
    if is_unsure(clause) or any(is_subject(item) for item in found.before):
        return False
    if not _is_led_in(found) or (any(map(is_subject, found.after)) and not _named_behind(found)):
        return False
    if MILD & set(found.words.split()) and not (_WEAK | _NOT_IN) & clause.word_set:
        return False
    if found.words.startswith("no ") and _NOUNS_TOO & set(_texts(found)):
        return False  # "no art today"
    strange = any(key[:1].isdecimal() for item in found.after for key in item.keys)
    told = any(i.kind in (Kind.DAY, Kind.TIME, Kind.SLOT) for i in clause.items)
    if strange and not told and not any(s.names_day or s.is_part for s in spans_said(clause)):
        return False
    pairs = pairwise(clause.items)
    ends = any(a.keys[-1:] in _TO and b.can_be(Kind.NUMBER, Kind.UNIT) for a, b in pairs)
    if ends and not any(span.is_part for span in spans_said(clause)):
        return False  # an end that was not read
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


TOLD_AWAY = Listener(
    PHRASES, _hear_away, asks_of="away", rank=1, apart=True, notices=_is_told_by_pronoun
)
