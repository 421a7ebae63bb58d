"""Questions about swaps: whether a bin may go, and till when it is out."""

from __future__ import annotations

import re

from bot.classroom.stints import stint_of
from bot.requests import Place, Request, SwapCheck
from bot.understanding.clause import Clause
from bot.understanding.swaps.line import places_named
from bot.understanding.swaps.said import Said, swap_said
from bot.understanding.swaps.suggestions import any_of, suggestion

_SWAPPING = any_of(
    "swap*, switch*, exchang*, replac*, rotat*, trade, trading, change, changed, changing",
    "(?:take|taken|taking|pulled|bring|comes?|go(?:es)?|put|pack|packed|closed?) .{0,60}"
    "(?:down|out|away|up|off|shelf)",
    "go, pull, close, shut, shelve, retire*, end, stop",
)
_STRONG = any_of(
    "swap*, switch*, exchang*, replac*, rotat*, retire*, down, away, shelf, miss, misses"
)
_DONE = any_of("done, finished, finish, ready, complete, completed, over, through, thru")
_IS_DONE = re.compile(
    r"^(?:so |ok |and |hey )*(?:is|are|hows|s|isnt) (?:\S+ ){1,4}?"
    r"(?:all |about |almost |nearly )*(?:done|finished|complete|completed|over|ready)\b"
)
_PEOPLE = any_of("we, they, you, everyone, everybody, all of")
_WHEN = any_of("when, whens, till when, until when, how long, how much longer, what day, which day")
_CLOSING = any_of(
    "open, opens, start, starts, begin, begins, come out, comes out",
    "close, closes, closing, closed, ends?, last day, due, leaves?, stays?, out, finish, go away",
    "comes? down, coming down, goes away",
)
_IN_BOX = re.compile(
    r"^(?:what|whats|which|which one|(?:what|which) (?:bin|activity|center)) (?:is |s |are )?"
    r"(?:there )?(?:now |currently )?in\b"
)
_ARE_WE_DONE = re.compile(
    r"^(?:\S+ ){0,2}?(?:are|r) (?:we|you guys|yall) (?:all |about |almost |nearly )*"
    r"(?:done|finished|through) (?:with|w|at|on)\b|^(?:all )?(?:done|finished) (?:with|w)\b"
)
_WHAT_CLOSES = re.compile(
    r"\b(?:what|whats|which|anything|any)\b.*\b(?:clos(?:e|es|ing)|ends?|ending|expires?|"
    r"(?:com(?:e|es|ing)|go(?:es|ing)?) (?:down|away))\b"
)
_ARE_OUT = re.compile(
    r"^(?:what|whats|which|what all) (?:bins? |boxes |centers? )?(?:is |are |s )?(?:all )?"
    r"(?:out|up)\b"
)
_ANY_BIN = any_of("which, what, any, anything, something, bins?, centers?, boxes, box, ones?")
_MAY_GO = any_of("ready, able, time, ok, okay, can, could, should, done, finished, needs?, due")
_GOES = any_of(
    "swap*, switch*, chang*, rotat*, retire*",
    "come down, go down, be taken down, take down, taken down, pull, be replaced",
    "come out, to go, can go",
)
_WHICH_DONE = any_of(
    "(?:which|what|any|anything) (?:bins? |boxes |centers? |of the bins )?(?:is |are |s )?(?:all )?"
    "(?:done|finished|complete)"
)
_OF_CHILDREN = any_of("groups?, seats?, partners?, tables?, kids?, students?, jobs?")


def swap_question(clause: Clause, words: str) -> Request | None:
    """What a question about swaps asks for; None where it is about something else."""
    places = places_named(clause)
    closing = not places and not clause.children and _WHAT_CLOSES.search(words) is not None
    if closing and _MAY_GO.search(words) is None:
        return SwapCheck(about="closes")
    next_ = suggestion(clause, words)
    if next_ is not None:
        return next_
    boxes = bool(places) and all(place.color is not None for place in places)
    if boxes and not clause.children and _ARE_WE_DONE.search(words) is not None:
        return SwapCheck(places)
    if not places and any_of("it, that, this").search(words):
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
        return _OF_CHILDREN.search(words) is None or _STRONG.search(words) is not None
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
