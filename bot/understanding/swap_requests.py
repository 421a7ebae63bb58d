"""What a clause asks for where it speaks of swaps: to do one, whether it may be, or what is next.

An order is carried out, a question answered; what is doubtful ("if everyone is done", "maybe") is
answered like a question, with a button that does it. What may mean something else is asked.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta

from bot.classroom.days import is_school_day
from bot.classroom.stints import nearest_stint, stint_in, stint_of
from bot.requests import (
    Ask,
    MoveClosing,
    Option,
    Place,
    Request,
    Smalltalk,
    SuggestSwap,
    Swap,
    SwapCheck,
)
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.canonical import closing_in_full, place_in_full, swap_in_full
from bot.understanding.clause import Clause
from bot.understanding.senses import Kind
from bot.understanding.swap_questions import suggestion, swap_question
from bot.understanding.swaps import Said, children_named, swap_said, words_of
from storage.records import Roster

_DAYS_OFFERED = 5
_POLITE = re.compile(
    r"^(?!what|which)(?:\S+ ){0,2}?(?:can|could|would|will) (?:you|u|ya)\b|\bwould you mind\b"
)
_MAY_I = re.compile(r"\b(?:ok|okay|alright|time|safe|ready|fine|good|possible) (?:for me )?to\b")
_OPENS = re.compile(
    r"^(?:\S+ ){0,2}?(?:is|are|isnt|can|could|should|may|shall|does|do|did|has|will|would|am)\b"
)
_TILL_WORDS = frozenset(("till", "until", "til", "unless", "instead", "rather"))
_WISHES = frozenset(("id", "would", "like", "want", "wanna", "love", "please"))
_THOUGHTS = frozenset(("when", "thinking", "considering", "should", "maybe", "wondering"))
_NEVER = frozenset((
    "not", "dont", "never", "wont", "cant", "cannot", "didnt", "shouldnt", "wouldnt", "havent",
    "hasnt", "isnt", "arent", "aint", "nevermind",
))  # fmt: skip
_OTHER_SWAPS = re.compile(
    r"\b(?:swap\w*|switch\w*|trad(?:e|ed|ing)|exchang\w*) (?:the |their |our |all )?"
    r"(?:seats?|tables?|partners?|spots?|places|chairs?|jobs?|desks?|books|shoes|toys|snacks)\b"
)
_MISSES = re.compile(r"\bmiss(?:es|ing)?(?: out)?\b.*\b(?:if|when)\b")
_OTHERS = frozenset(("who", "whos", "whose", "whom", "where", "wheres", "why", "whod", "whove"))
_STRONG = re.compile(r"\b(?:swap\w*|exchang\w*|replac\w*|trad\w+|rotat\w*)\b")


def hear_swap(clause: Clause) -> Heard | Request | None:
    """What a clause asks for about swaps and closing days; None where it is of something else."""
    words = words_of(clause)
    if not clause.bins and _OTHER_SWAPS.search(words) is not None:
        return Heard()  # "g3 and g4 swapped tables": nothing to do with bins
    if any(item.kind is not Kind.EVERYONE for item in children_named(clause)):
        return None  # "swap mia and ben", "g3 swapped to ramps"
    if set(words.split()) & _OTHERS and not _MISSES.search(words):
        return None
    if _POLITE.search(words) is None and _asks(clause, words):
        return swap_question(clause, words)
    said = swap_said(clause)
    if children_named(clause):
        return _once_everyone_has(said, clause, words)
    if said is None:
        return suggestion(clause, words)
    if set(words.split()) & _NEVER:
        return Smalltalk("no")
    request = _request_of(said, clause, words)
    if request is None or isinstance(request, Heard):
        return request
    if _is_doubtful(clause, words) and not _may_stay(request, clause):
        return _check_instead(request, clause)
    return _asked_or_done(request, said, clause)


def _once_everyone_has(said: Said | None, clause: Clause, words: str) -> Request | None:
    """ "once everyone is done swap ramps for gears" """
    if said is None or not _is_doubtful(clause, words):
        return None
    request = _request_of(said, clause, words)
    return _check_instead(request, clause) if isinstance(request, Swap | MoveClosing) else None


def _asks(clause: Clause, words: str) -> bool:
    """Whether it asks; "is ramps done" and "can shadows go" too."""
    first = next((i for i in clause.items if i.kind is not Kind.PLAIN or i.can_be(Kind.AUX)), None)
    opens = first is not None and first.can_be(Kind.AUX) and bool(_OPENS.search(words))
    asked = re.search(r"\b(?:till|until) when\b", words) is not None
    return clause.is_question or opens or asked or _MAY_I.search(words) is not None


def _may_stay(request: Swap | MoveClosing, clause: Clause) -> bool:
    """ "ramps can stay another week" """
    doubts = [i for i in clause.items if i.can_be(Kind.IF, Kind.DOUBT, Kind.NOT)]
    doubts = [i for i in doubts if not (i.can_be(Kind.PLAIN) or set(i.keys) & _TILL_WORDS)]
    return isinstance(request, MoveClosing) and all(i.keys == ("can",) for i in doubts)


def _is_doubtful(clause: Clause, words: str) -> bool:
    """Whether it is hung on something, or only thought of."""
    for item in clause.items:
        keys = set(item.keys)
        is_wish = keys <= _WISHES
        if item.can_be(Kind.IF, Kind.DOUBT, Kind.NOT) and not item.can_be(Kind.PLAIN):
            if not (is_wish or keys & _TILL_WORDS):
                return True
        elif keys & _THOUGHTS:
            return True
    return False


def _request_of(said: Said, clause: Clause, words: str) -> Swap | MoveClosing | Heard | None:
    roster, today = clause.roster, clause.at.date()
    base = Swap(day=said.day, till=said.till, is_now=said.is_now, is_anyway=said.is_anyway)
    if said.what == "exchange":
        assert said.outgoing is not None
        assert said.incoming is not None
        return _exchange(
            replace(base, outgoing=said.outgoing, incoming=said.incoming), clause, words
        )
    if said.what == "put":
        return replace(base, incoming=said.incoming, into_color=said.color)
    if said.outgoing is None:
        return None
    if said.what == "down" and said.till is not None:
        return None  # "ramps is closed until monday": not for good
    if said.what == "tidy":
        return _tidied_or_down(said, roster, today)
    if said.what == "extend":
        return _how_long(said, roster, today)
    if said.what in ("stays", "closes", "longer"):
        return _closing(said, base, clause)
    if said.what == "swap":
        if _STRONG.search(words) is None and "switch" not in words:
            return None
        if said.outgoing.bin_id is not None and _is_out(said.outgoing, roster, today) is False:
            return replace(base, incoming=said.outgoing)
        return replace(base, outgoing=said.outgoing, is_open=True)
    if "remove" in words or "removed" in words:
        return None if clause.last is not None else _tidied_or_down(said, roster, today)
    if re.search(r"\b(?:take|took|get|bring|brought) (?:out \S+|\S+ out)", words) and not _is_out(
        said.outgoing, roster, said.day or today
    ):
        return replace(base, incoming=said.outgoing)  # "take gears out": from the shelf
    return replace(base, outgoing=said.outgoing)


def _exchange(swap: Swap, clause: Clause, words: str) -> Swap | None:
    """ "switch ramps to balance" may be a log put right; it is a swap where one bin is out and the
    other is not."""
    today = clause.at.date()
    assert swap.outgoing is not None
    assert swap.incoming is not None
    out = [_is_out(place, clause.roster, today) for place in (swap.outgoing, swap.incoming)]
    is_clear = out[0] != out[1] or None in out
    is_strong = _STRONG.search(words) is not None and clause.last is None
    return swap if is_clear or is_strong else None


def _is_out(place: Place, roster: Roster, day: date) -> bool:
    if place.bin_id is not None:
        return stint_of(roster, place.bin_id, day) is not None
    return True


def _closing(said: Said, base: Swap, clause: Clause) -> Swap | MoveClosing | None:
    place, today = said.outgoing, clause.at.date()
    assert place is not None
    if said.what == "longer":
        return None if said.shift is None else MoveClosing(place, longer=said.shift)
    if place.bin_id is not None and said.what == "stays":
        stint = nearest_stint(clause.roster, place.bin_id, today)
        if stint is None or (stint.closes is not None and stint.closes < today):
            return replace(base, incoming=place)  # "put gears out till friday"
    return MoveClosing(place, day=said.till)


def _tidied_or_down(said: Said, roster: Roster, today: date) -> Heard:
    assert said.outgoing is not None
    swap = Swap(outgoing=said.outgoing, day=said.day or today)
    options = (
        Option("Take it down", swap_in_full(swap, roster)),
        Option("Only tidied up", "no"),
    )
    name = place_in_full(said.outgoing, roster)
    return Heard(asks=[Ask("tidied_or_down", name, options, Swap.name)])


def _how_long(said: Said, roster: Roster, today: date) -> Heard | None:
    """ "extend ramps": till when?"""
    place = said.outgoing
    assert place is not None
    by_bin = place.bin_id is not None
    stint = (
        stint_of(roster, place.bin_id or 0, today)
        if by_bin
        else stint_in(roster, place.color or "", today)
    )
    if stint is None or stint.closes is None:
        return None
    days = [stint.closes + timedelta(weeks=n) for n in (1, 2)]
    options = tuple(
        Option(
            f"Till {day:%a} {day.day} {day:%b}", closing_in_full(MoveClosing(place, day), roster)
        )
        for day in days
    )
    return Heard(asks=[Ask("till_when", roster.bin_of(stint).name, options, MoveClosing.name)])


def _check_instead(request: Swap | MoveClosing, clause: Clause) -> Request | None:
    if isinstance(request, MoveClosing):
        return SwapCheck((request.place,), about="closes")
    if request.outgoing is not None:
        comes = request.incoming.bin_id if request.incoming is not None else None
        return SwapCheck((request.outgoing,), comes)
    if request.into_color is not None:
        return SuggestSwap(Place(color=request.into_color), request.day)
    return None


def _asked_or_done(request: Swap | MoveClosing, said: Said, clause: Clause) -> Heard | Request:
    """The request where all is clear; else a question with each way out in full words."""
    if said.several_days or said.has_unknown_day:
        days = said.several_days or _days_ahead(clause)
        options = tuple(
            Option(f"{day:%a} {day.day} {day:%b}", _on(request, day, said, clause.roster))
            for day in days
            if is_school_day(clause.roster, day)
        )
        return Heard(asks=[Ask("day_to_come", "", options, request.name)])
    if said.is_certain:
        return request
    if isinstance(request, MoveClosing) and request.day is None:
        return request
    full = (
        closing_in_full(request, clause.roster)
        if isinstance(request, MoveClosing)
        else swap_in_full(replace(request, day=request.day or clause.at.date()), clause.roster)
    )
    return Heard(
        asks=[Ask("confirm_swap", "", (Option(YES, full), Option(NO, "no")), request.name)]
    )


def _on(request: Swap | MoveClosing, day: date, said: Said, roster: Roster) -> str:
    if isinstance(request, MoveClosing):
        return closing_in_full(replace(request, day=day), roster)
    is_till = said.day is not None and said.till is None
    return swap_in_full(
        replace(request, till=day) if is_till else replace(request, day=day), roster
    )


def _days_ahead(clause: Clause) -> list[date]:
    today = clause.at.date()
    skipped = 7 - today.weekday() if "next week" in words_of(clause) else 1
    ahead = (today + timedelta(days=n) for n in range(skipped, 30))
    return [day for day in ahead if is_school_day(clause.roster, day)][:_DAYS_OFFERED]
