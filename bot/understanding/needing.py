"""Whether a question is about needs: who still has to go to a bin, or what a child still needs.

    who | is first for clay          how many | kids still have to go to towers
    what | does mia | have left      how many bins | does mark | have left

Told by the kind of question word, by a word of needing, and by where children are named.
"""

from __future__ import annotations

import itertools

from bot.understanding.clause import Clause
from bot.understanding.senses import Kind

_WHO = frozenset((
    "who", "whos", "whose", "whod", "whove", "anyone", "anybody", "somebody", "someone", "whom",
))  # fmt: skip
_PEOPLE = frozenset((
    "kids", "kid", "children", "child", "students", "student", "friends", "ones", "groups",
    "kiddos", "names", "people",
))  # fmt: skip
_NEEDS = frozenset((
    "need", "needs", "left", "remaining", "missing", "still", "hasnt", "havent", "yet", "lack",
    "lacks", "missed", "remain", "remains", "stragglers", "behind", "unfinished",
))  # fmt: skip
_FIRST = frozenset(("first", "priority", "turn", "urgent", "behind"))
_COUNTS = frozenset(("more", "left", "remain", "remaining", "still", "yet", "need", "needs"))
_ASKS_WHAT = frozenset(("what", "whats", "which", "where", "wheres", "how", "wut", "wat"))
_WAS = frozenset(("was", "were", "went", "yesterday", "been"))
_SWAPS = frozenset((
    "swap", "switch", "exchange", "replace", "close", "closes", "open", "opens", "weeks", "days",
    "week", "rotations", "minutes", "time", "times", "long", "away", "absent", "sick", "here",
    "copies", "sheets",
))  # fmt: skip


def asks_who_is_left(clause: Clause) -> bool:
    """Whether it asks who (or how many) still need a bin, or who should go there first."""
    tokens = clause.outline.split()
    words = frozenset(tokens)
    at = next((n for n, word in enumerate(tokens) if word in _WHO), 0)
    if not clause.is_question or _SWAPS & set(tokens[at:]) or _names_things(clause):
        return False
    if _asks_of_child(tokens):
        return False
    whom = bool(words & _WHO) or bool(words & {"which", "what"} and words & _PEOPLE)
    first = "<bin>" in words and words & _FIRST and not words & {"<time>", *_WAS}
    if whom and first:
        return True
    if words & _WHO and "behind" in words:
        return True
    if whom and words & {"missed", "miss", "skipped"} and "<bin>" in words:
        return not words & {"will", "might", "gonna", "going", "could"}
    if whom and words & _NEEDS and "<bin>" in words and not words & _WAS:
        return True
    return _counts(tokens) and not words & _WAS


def _asks_of_child(tokens: list[str]) -> bool:
    """ "which ones does art still need": children behind a "does"."""
    return any(
        before in ("does", "do", "has", "have", "is", "did") and word == "<who>"
        for before, word in itertools.pairwise(tokens)
    )


def _counts(tokens: list[str]) -> bool:
    """ "how many kids still have to go to towers", "how many more for the loom"."""
    if "how" not in tokens or tokens[-1] == "how":
        return False
    at = tokens.index("how")
    if tokens[at + 1] not in ("many", "much"):
        return False
    rest = frozenset(tokens[at + 2 :])
    if not rest & (_COUNTS | {"havent", "hasnt"}) or rest & {"bins", "centers", "stations"}:
        return False
    return "<bin>" in rest and "<who>" not in rest


def _names_things(clause: Clause) -> bool:
    """A supply is spoken of: another question."""
    return any(
        item.kind is Kind.SUPPLY or (item.kind is Kind.UNIT and not item.can_be(Kind.PLAIN))
        for item in clause.items
        if not set(item.keys) & (_PEOPLE | _COUNTS)
    )


def asks_what_is_left(clause: Clause) -> bool:
    """Whether it asks what the children it names still need."""
    tokens = clause.outline.split()
    words = frozenset(tokens)
    if not clause.is_question or "<who>" not in words or words & (_WHO | _SWAPS | _WAS):
        return False
    asked = words & _ASKS_WHAT or clause.items[0].can_be(Kind.AUX)
    left = words & (_NEEDS - {"behind", "missed"}) or {"has", "got", "left"} <= words
    if not (asked and left) or _names_things(clause):
        return False
    return _asks_of_child(tokens) and "<bin>" not in words


def is_remark_before(clause: Clause, following: Clause) -> bool:
    """ "ugh tubes closes tomorrow doesnt it, who hasnt done it yet" is one question."""
    if clause.children or not clause.bins or following.bins or not following.is_question:
        return False
    tag = clause.words[-2:] in _TAGS or clause.words[-1:] == ("right",)
    return tag and bool(following.word_set & _WHO)


_TAGS = (
    ("doesnt", "it"), ("isnt", "it"), ("dont", "they"), ("hasnt", "it"), ("wont", "it"),
    ("does", "it"), ("is", "it"), ("didnt", "it"), ("arent", "they"),
)  # fmt: skip
