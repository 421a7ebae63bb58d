"""The ear for swaps: what a clause asks for, to do one, whether it may be, or what is next.

An order is carried out, a question answered; what is doubtful ("if everyone is done", "maybe") is
answered like a question, with a button that does it. What may mean something else is asked.
"""

from __future__ import annotations

import re

from bot.requests import MoveClosing, Request, Smalltalk, Swap
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.swaps.asking import asked_or_done, check_instead, swap_back
from bot.understanding.swaps.line import children_named, words_of
from bot.understanding.swaps.orders import request_of
from bot.understanding.swaps.questions import swap_question
from bot.understanding.swaps.said import Said, swap_said
from bot.understanding.swaps.suggestions import suggestion

_POLITE = re.compile(
    r"^(?!.*\b(?:what|which|when|how|tell|know)\b).*?\b(?:can|could|would|will) (?:you|u|ya)\b"
    r"|\bwould you mind\b"
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
_MISSES = re.compile(
    r"\bmiss(?:es|ed|ing)?(?: out)?\b.*\b(?:if|when)\b|\b(?:if|when)\b.*\bmiss(?:es|ed|ing)?\b"
)
_ALL_DONE = re.compile(
    r"\b(?:everyone|everybody|every one|every1|all of them|all the kids|all|class)s?\b.{0,20}?"
    r"\b(?:done|finished|through|been|had|completed|gone)\b"
)
_BACK = re.compile(
    r"\b(?:swap|swapped|switch|switched|trade|traded)"
    r"(?: (?:it|them|that|everything|those|the bins|the boxes))? back\b"
)
_OTHERS = frozenset(("who", "whos", "whose", "whom", "where", "wheres", "why", "whod", "whove"))
_PHRASES = (
    "swpa|sawp|swp|sqap|wsap",
    "swap|swaps|swapped|swapping|switch|switches|switched|switching|exchange|"
    "exchanged|exchanging|replace|replaces|replaced|replacing|trade|traded|trading|"
    "rotate|rotated|rotating|change|changed|changing",
    "take|takes|took|taking|taken|pull|pulled|bring|brings|bringing|put|puts|putting|"
    "set|get|gets|getting|pack|packed|clear|remove|return|have|add|introduce|load|roll",
    "down|away|shelf|retire|retired|retiring|shelve|becomes",
    "push|pushed|bump|bumped|shorten|shortened|trim|cut",
    "open|opens|opening|launch|start|starts|begin|begins",
    "close|closes|closed|closing|end|ends|ending|shut|stop|stops|expires|finish",
    "stay|stays|staying|remain|remains|keep|keeps|keeping|leave|leaves|extend|extends|"
    "longer|run|runs|continue|lasts|last|till|until|another|give|prolong",
    "next|after|instead|comes|coming|goes|go|going|come",
    "done|finished|ready|complete|over",
    "in|into <bin>",
    "fits|fit|matches|match|is|be <bin>",
    "good|work|works|fit|fits for|in <bin>",
    "will be <bin>",
    "suggest|suggestion|suggestions|idea|ideas|recommend",
    "out|in|up|off|more|weeks|days",
    "<bin> for|to|-|→ <bin>",
)
_APART = (
    "can|could|should|may|shall i|we swap|switch|exchange|replace|change|take|pull|retire|close",
    "what|whats|which goes|go|next|comes|should|could ... <bin> next?",
    "is <bin> ready|done",
    "<bin> stays|stay|closes out? till|until|on|another|<day>",
    "keep|leave|extend <bin> ... till|until|longer|more|another",
    "close <bin> <day>",
    "swap|switch|exchange|replace|swapped out? <bin> for|with|to <bin>",
)


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
    if children_named(clause) and not _is_why(said, clause, words):
        return _once_everyone_has(said, clause, words)
    if said is None:
        back = not clause.bins and _BACK.search(words) is not None
        return swap_back(clause.roster, clause.at.date()) if back else suggestion(clause, words)
    if set(words.split()) & _NEVER:
        return Smalltalk("no")
    request = request_of(said, clause, words)
    if request is None or isinstance(request, Heard):
        return request
    if _is_doubtful(clause, words) and not _may_stay(request, clause):
        return check_instead(request, clause)
    return asked_or_done(request, said, clause)


def _once_everyone_has(said: Said | None, clause: Clause, words: str) -> Request | None:
    """ "once everyone is done swap ramps for gears" """
    if said is None or not _is_doubtful(clause, words):
        return None
    request = request_of(said, clause, words)
    return check_instead(request, clause) if isinstance(request, Swap | MoveClosing) else None


def _is_why(said: Said | None, clause: Clause, words: str) -> bool:
    """ "everyone is done with ramps, take it down": why, not a turn of them all."""
    goes = said is not None and said.what in ("down", "tidy", "exchange")
    return goes and _ALL_DONE.search(words) is not None and not _is_doubtful(clause, words)


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


TOLD_OR_ASKED = Listener(_PHRASES, hear_swap, rank=1)
TOLD_OR_ASKED_APART = Listener(_APART, hear_swap, rank=1, apart=True)
