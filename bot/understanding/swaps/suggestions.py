"""Questions of what comes: "what goes in blue next", "next bin for pink"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from bot.classroom.stints import stint_in, stint_of
from bot.requests import Place, SuggestSwap
from bot.understanding.clause import Clause
from bot.understanding.coming import coming_days
from bot.understanding.senses import Kind
from bot.understanding.swaps.line import places_named


def any_of(*phrases: str) -> re.Pattern[str]:
    """One of these phrases, as whole words; `*` ends a word anyhow."""
    told = "|".join(phrase for line in phrases for phrase in line.split(", "))
    return re.compile(rf"\b(?:{told.replace('*', chr(92) + 'w*')})\b")


_WHAT = any_of("what, whats, which, wat, wut, wich, ideas?, suggest*, recommend*, pick, options")
_IDEA = any_of("idea, ideas, suggest*, recommend*")
_NEXT = any_of(
    "next, after, instead, replace*, follow*, go(?:es)? in, go(?:es)? into, go(?:es)? out",
    "go(?:es)? up, good (?:for|in), works? (?:for|in), fits? in",
    "going in, going into, going out, put, set, bring, swap, switch, get, come, comes, new",
)
_AFTER = any_of("next, after")
_A_BIN = any_of("bins?, centers?, box, boxes, tubs?, activity, activities, kits?")
_GOES_OUT = any_of("next, put out, set out, go out, goes out, bring out")
_COMES = any_of(
    "put out, set out, bring out, put up, go(?:es)? out, going out, swap in, swap to, swap with",
    "put in, go(?:es)? in",
)
_NEXT_BIN = any_of(
    "next (?:[a-z]+ )?(?:bin|center|box|tub|activity|kit|one)s?",
    "(?:bin|center|box|activity) (?:is |comes |goes )?(?:next|after)",
)
_FITS = any_of("fits?, matches, goes with, on the shelf, match")
_OTHER_NEXT = any_of("covered, standards?, need, needs, left, short, many, long, day, time")
_FOR_CHILDREN = any_of("group, rotation, kids?, for them")


def suggestion(clause: Clause, words: str) -> SuggestSwap | None:
    """ "what goes in blue next", "next bin for pink", "what should i put out after ramps"."""
    if clause.children or "happens" in words:
        return None
    places = places_named(clause)
    if len(places) == 2 and _are_one(places, clause):
        places = tuple(place for place in places if place.color is not None)
    if len(places) > 1:
        return None
    if places:
        is_meant = _asks_what_comes(clause, words) and _OTHER_NEXT.search(words) is None
        return SuggestSwap(places[0], _first_day(clause)) if is_meant else None
    if not _asks_for_a_bin(clause, words):
        return None
    known = clause.spoken_of[:1]
    return SuggestSwap(known[0] if known else None, _first_day(clause))


def _asks_what_comes(clause: Clause, words: str) -> bool:
    """Whether it asks what comes, of a color or a bin that is named."""
    if _IDEA.search(words) is not None or _NEXT_BIN.search(words) is not None:
        return True
    if _WHAT.search(words) is not None:
        return _NEXT.search(words) is not None
    return clause.is_question and _AFTER.search(words) is not None and len(words.split()) <= _SHORT


_SHORT = 6  # words of a "blue next?"


def _asks_for_a_bin(clause: Clause, words: str) -> bool:
    """Whether it asks for a bin where none is named."""
    if _WHAT.search(words) is not None and _FITS.search(words) is not None:
        return True
    if _NEXT_BIN.search(words) is not None and _FOR_CHILDREN.search(words) is None:
        return True
    if _WHAT.search(words) is None:
        return False
    names_thing = any(
        item.kind in (Kind.SUPPLY, Kind.UNKNOWN, Kind.STATION) for item in clause.items
    )
    names_bin = _A_BIN.search(words) is not None and _GOES_OUT.search(words) is not None
    return names_bin or (_COMES.search(words) is not None and not names_thing)


def _are_one(places: Sequence[Place], clause: Clause) -> bool:
    """ "in blue after boats": a color and the bin that is in it."""
    today = clause.at.date()
    stints = {
        stint_of(clause.roster, place.bin_id, today)
        if place.bin_id is not None
        else stint_in(clause.roster, place.color or "", today)
        for place in places
    }
    return len(stints) == 1 and None not in stints


def _first_day(clause: Clause) -> date | None:
    days = [item for item in clause.items if item.kind is Kind.DAY]
    found = coming_days(days[0], clause.at.date()) if len(days) == 1 else ()
    return found[0] if len(found) == 1 and found[0] >= clause.at.date() else None
