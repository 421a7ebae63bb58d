"""Told that somebody is away whose name is nobody's: "tarik is out" asks who is meant."""

from __future__ import annotations

from dataclasses import replace

from bot.requests import Ask, NoteAway, Option
from bot.understanding.asking_back import Heard
from bot.understanding.aways.away import PHRASES
from bot.understanding.clause import Clause
from bot.understanding.closeness import near_children
from bot.understanding.reading import Listener
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.vocabulary import vocabulary_of

_MOST = 4  # children offered


def _stranger(clause: Clause) -> Item | None:
    """The word that stands where a child's name would, at the head of the clause."""
    if clause.children or clause.bins or clause.is_question:
        return None
    said = [i for i in clause.items if i.kind not in (Kind.PLAIN, Kind.MARK, Kind.COMMA, Kind.DAY)]
    return said[0] if said and said[0].kind is Kind.UNKNOWN and len(said) > 1 else None


def _is_told_of_stranger(clause: Clause) -> bool:
    item = _stranger(clause)
    if item is None or not near_children(item.keys[0], vocabulary_of(clause.roster)):
        return False
    child = item.as_(Sense(Kind.STUDENT, word=item.text))
    named = tuple(child if other is item else other for other in clause.items)
    found = replace(clause, items=named).find(PHRASES)
    return found is not None and found.words.startswith("<who>")


def _hear_stranger(clause: Clause) -> Heard | None:
    item = _stranger(clause)
    if item is None:
        return None
    near = near_children(item.keys[0], vocabulary_of(clause.roster))
    ids = dict.fromkeys(i for sense in near for i in sense.ids)
    names = [clause.roster.student[i].name for i in ids][:_MOST]
    options = tuple(
        Option(name, " ".join(name if i is item else i.text for i in clause.items))
        for name in names
    )
    return Heard(asks=[Ask("unknown_name", item.text, options, NoteAway.name)])


TOLD_OF_STRANGER = Listener((), _hear_stranger, rank=1, notices=_is_told_of_stranger)
