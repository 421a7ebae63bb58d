"""Verbs that are also what a bin is called: "ava leaves at one" where the leaves are a bin."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time

from bot.classroom.stints import out_on
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.vocabulary import Vocabulary

_LEAVE = frozenset(("leave", "leaves", "leaving"))
_BETWEEN = (Kind.PLAIN, Kind.AUX, Kind.FUTURE, Kind.DAY, Kind.AT)
_NEVER_A_BIN = frozenset(("early", "for", "school", "home", "now", "from", "after", "before"))
_AT = frozenset(("at", "around", "by", "about", "@"))


def settle_leaving(row: list[Item], vocabulary: Vocabulary, at: datetime) -> list[Item]:
    """ "ava leaves early", "ava has to leave at one": she goes; "ava leaves 9:15", with the bin out
    and that time past, was there."""
    out = list(row)
    for place, item in enumerate(row):
        if item.kind is not Kind.BIN or not set(item.keys) <= _LEAVE:
            continue
        if _one_child_before(row, place) and _leaves(row, place, vocabulary, at):
            out[place] = item.as_(Sense(Kind.UNKNOWN, word=item.keys[0]))
    return out


def _one_child_before(row: Sequence[Item], place: int) -> bool:
    """Whether it is said of children by name, not of a group."""
    place -= 1
    while place >= 0 and row[place].kind in _BETWEEN:
        place -= 1
    return place >= 0 and (row[place].kind is Kind.STUDENT or row[place].keys == ("who",))


def _leaves(row: Sequence[Item], place: int, vocabulary: Vocabulary, at: datetime) -> bool:
    item = row[place]
    after = [other for other in row[place + 1 :] if other.kind is not Kind.DAY]
    asked = item.keys[0] != "leaves"  # "has to leave", "is leaving": no name of a bin
    behind = after[0].keys[:1] if after else ()
    if behind and behind[0] in _NEVER_A_BIN:
        return True
    moment = next((o.sense.value for o in after[:2] if o.kind is Kind.TIME), None)
    timed = moment is not None or (bool(behind) and behind[0] in _AT)
    is_out = any(stint.bin_id in item.sense.ids for stint in out_on(vocabulary.roster, at.date()))
    later = isinstance(moment, time) and moment > at.time().replace(tzinfo=None)
    return timed and (asked or not is_out or later)
