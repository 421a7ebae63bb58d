"""Questions about swaps: whether a bin may go, till when it is out, and what goes out next."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from bot.classroom.stints import stint_in, stint_of
from bot.requests import Place, Request, SuggestSwap, SwapCheck
from bot.understanding.clause import Clause
from bot.understanding.coming import coming_days
from bot.understanding.senses import Kind
from bot.understanding.swaps import Said, places_named, swap_said


def _any(*phrases: str) -> re.Pattern[str]:
    """One of these phrases, as whole words; `*` ends a word anyhow."""
    told = "|".join(phrase for line in phrases for phrase in line.split(", "))
    return re.compile(rf"\b(?:{told.replace('*', chr(92) + 'w*')})\b")


_WHAT = _any("what, whats, which, wat, wut, wich, ideas?, suggest*, recommend*, pick, options")
_IDEA = _any("idea, ideas, suggest*, recommend*")
_NEXT = _any(
    "next, after, instead, replace*, follow*, goes? in, goes? into, goes? out, goes? up",
    "going in, going into, going out, put, set, bring, swap, switch, get, come, comes, new",
)
_AFTER = _any("next, after")
_A_BIN = _any("bins?, centers?, box, boxes, tubs?, activity, activities, kits?")
_GOES_OUT = _any("next, put out, set out, go out, goes out, bring out")
_COMES = _any(
    "put out, set out, bring out, put up, goes? out, going out, swap in, swap to, swap with",
    "put in, goes? in",
)
_NEXT_BIN = _any(
    "next (?:[a-z]+ )?(?:bin|center|box|tub|activity|kit|one)s?",
    "(?:bin|center|box|activity) (?:is |comes |goes )?(?:next|after)",
)
_FITS = _any("fits?, matches, goes with, on the shelf, match")
_OTHER_NEXT = _any("covered, standards?, need, needs, left, short, many, long, day, time")
_FOR_CHILDREN = _any("group, rotation, kids?, for them")

_SWAPPING = _any(
    "swap*, switch*, exchang*, replac*, rotat*, trade, trading, change, changed, changing",
    "(?:take|taken|taking|pulled|bring|comes?|goes?|put|pack|packed|closed?) .{0,60}"
    "(?:down|out|away|up|off|shelf)",
    "go, pull, close, shut, shelve, retire*, end, stop",
)
_DONE = _any("done, finished, finish, ready, complete, completed, over, through, thru")
_IS_DONE = re.compile(
    r"^(?:so |ok |and |hey )*(?:is|are|hows|s|isnt) (?:\S+ ){1,4}?"
    r"(?:all |about |almost |nearly )*(?:done|finished|complete|completed|over|ready)\b"
)
_PEOPLE = _any("we, they, you, everyone, everybody, all of")
_WHEN = _any("when, whens, till when, until when, how long, how much longer, what day, which day")
_CLOSING = _any(
    "open, opens, start, starts, begin, begins, come out, comes out",
    "close, closes, closing, closed, ends?, last day, due, leaves?, stays?, out, finish, go away",
    "comes? down, coming down, goes away",
)
_IN_BOX = re.compile(r"^(?:what|whats|which bin) (?:is |s )?(?:there )?in\b")
_ARE_OUT = re.compile(
    r"^(?:what|whats|which|what all) (?:bins? |boxes |centers? )?(?:is |are |s )?(?:all )?"
    r"(?:out|up)\b"
)
_ANY_BIN = _any("which, what, any, anything, something, bins?, centers?, boxes, box, ones?")
_MAY_GO = _any("ready, able, time, ok, okay, can, could, should, done, finished, needs?, due")
_GOES = _any(
    "swap*, switch*, chang*, rotat*, retire*",
    "come down, go down, be taken down, take down, taken down, pull, be replaced",
    "come out, to go, can go",
)
_WHICH_DONE = _any(
    "(?:which|what|any|anything) (?:bins? |boxes |centers? |of the bins )?(?:is |are |s )?(?:all )?"
    "(?:done|finished|complete)"
)
_OF_CHILDREN = _any("groups?, seats?, partners?, tables?, kids?, students?, jobs?")


def swap_question(clause: Clause, words: str) -> Request | None:
    """What a question about swaps asks for; None where it is about something else."""
    next_ = suggestion(clause, words)
    if next_ is not None:
        return next_
    places = places_named(clause)
    if not places and _any("it, that, this").search(words):
        places = clause.spoken_of[:1]
    said = swap_said(clause)
    if said is not None and not clause.children and said.what in ("exchange", "put"):
        check = _for_another(said, clause)
        if check is not None:
            return check
    stays = said is not None and said.what in ("stays", "longer", "closes", "extend")
    if places and not stays and _is_about_swapping(clause, words):
        return SwapCheck(places)
    if clause.children:
        return None
    if places and (stays or _IN_BOX.search(words) is not None):
        return SwapCheck(places, about="closes")
    if not places and _ARE_OUT.search(words) is not None:
        return SwapCheck(about="closes")
    if places and _is_about_closing(words):
        return SwapCheck(places, about="closes")
    return SwapCheck() if not places and _is_about_any_bin(words) else None


def _for_another(said: Said, clause: Clause) -> SwapCheck | None:
    """ "can i swap ramps for gears": whether the one may go, and whether the other fits."""
    comes = said.incoming.bin_id if said.incoming is not None else None
    goes = said.outgoing
    if said.what == "put":
        return SwapCheck((Place(color=said.color),), comes) if said.color is not None else None
    if goes is not None and goes.bin_id is not None and comes is not None:
        is_out = stint_of(clause.roster, goes.bin_id, clause.at.date()) is not None
        goes, comes = (goes, comes) if is_out else (Place(comes), goes.bin_id)
    return SwapCheck((goes,), comes) if goes is not None else None


def _is_about_swapping(clause: Clause, words: str) -> bool:
    if _SWAPPING.search(words) is not None:
        return True
    ready = clause.is_question and words.split()[-1:] == ["ready"]
    is_done = (ready or _IS_DONE.search(words) is not None) and _PEOPLE.search(words) is None
    return is_done and not clause.children


def _is_about_closing(words: str) -> bool:
    ends = any(told.search(words) is not None for told in (_CLOSING, _SWAPPING, _DONE))
    return ends and _WHEN.search(words) is not None


def _is_about_any_bin(words: str) -> bool:
    """ "which bins can i swap", "is anything ready to come down"."""
    if _OF_CHILDREN.search(words) is not None:
        return False
    if _WHICH_DONE.search(words) is not None:
        return True
    return all(told.search(words) is not None for told in (_ANY_BIN, _MAY_GO, _GOES))


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
