"""Told that a rotation ran as planned: "everyone where the plan says", "as planned, minus mia".

    everything | went | as planned ,  rose was at the nurse  but  kai did ramps
    |---- who it was true of ----|    |-- exceptions.py: who of them was not --|

Children before the word for the plan are those who were where it says; with everyone, everything or
nobody before it, it was all of them, and children behind it are exceptions or asked about.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from itertools import pairwise

from bot.classroom.days import rotations_on
from bot.requests import Ask, LogAsPlanned, Option, Request, When, Who
from bot.understanding.asking_back import NO, YES, Heard
from bot.understanding.clause import Clause
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.plans.exceptions import Exceptions, exceptions_of
from bot.understanding.plans.planned_in_full import as_it_was, planned_in_full
from bot.understanding.reading import Listener
from bot.understanding.segments import is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind

_PLAN = "plan|schedule|rotations"
_PLANNED = "planned|planed|plannd|scheduled|asplanned"
_SAYS = "says|said|say|had|told|put|sent|has|wanted"
_PHRASES = (
    f"where|like|as|what|how the|your? plan {_SAYS}",
    f"where|like|as|what|how you|u|it|we|they {_SAYS}|planned",
    "did|followed|kept ... what|as|like you|u|the ... plan|said|told",
    f"as|like|according|per|by|following|followed to|with? the|our|your? {_PLAN}",
    f"as|like|per|exactly|just {_PLANNED}",
    f"ran|went|run|gone|go|goes|all|everything|rotations|it|that|day ... {_PLANNED}",
    f"stuck|kept|sticking|keeping|stayed to|with|on the|our|your {_PLAN}",
    "went|ran|gone|goes|going|all to plan|schedule",
    "on plan|schedule $",
    "asplanned",
    f"followed|did|ran|kept|log|mark|record|ditto ... the|your|our {_PLAN}",
    "^ ditto|same ... plan $",
    "plan ran|worked|held|happened",
    "plan went ... fine|well|perfectly|great|smoothly|ok",
    "no changes to the? plan",
    "where they|he|she|we were|are? supposed|meant to",
    "where they|he|she|we should",
)
_WORDS_FOR_IT = frozenset((
    "plan", "planned", "planed", "plannd", "asplanned", "schedule", "scheduled", "says", "said",
    "told", "supposed", "meant", "should", "wanted",
))  # fmt: skip
_DENIES = frozenset((
    "not", "didnt", "isnt", "wasnt", "werent", "arent", "cant", "wont", "couldnt", "never", "no",
    "nothing", "nobody", "none", "noone", "if", "hope", "hopefully", "hoping", "wish", "would",
    "could", "couldve", "wouldve", "will", "gonna", "lets", "let", "going", "goes", "go", "send",
    "should", "supposed", "keep", "follow", "tomorrow", "ill", "well", "was to", "aint",
    "unless", "when", "want", "need", "needs", "must", "shall", "forgot", "ditched", "dropped",
    "changed", "change", "doesnt", "dont", "please follow", "instead", "until", "hard",
))  # fmt: skip
_MEANS_IT = frozenset(("where", "what", "as", "like", "how"))  # "where they should be"
_ALL = frozenset((
    "everything", "all", "it", "we", "that", "this", "they", "day", "morning", "afternoon",
    "rotation", "rotations", "round", "slot", "session", "things", "groups", "kids", "class",
    "today", "everybody", "everyone", "both", "stuff", "which", "friends", "children",
))  # fmt: skip
_WHOLE_DAY = frozenset((
    "today", "day", "all", "everything", "everythings", "morning", "rotations", "both", "far",
))  # fmt: skip
_DOINGS = frozenset((
    "went", "ran", "run", "gone", "did", "followed", "kept", "stuck", "worked", "held", "stayed",
    "happened", "turned", "was", "were", "is", "are", "has", "have", "had", "been", "did what",
    "log", "logged", "mark", "record", "put", "check", "ditto", "same", "changes", "perfect",
    "no", "the", "to", "exactly", "just", "done", "finished", "where", "what", "like", "how",
    "according", "per", "you", "follow", "thats", "good", "pretty",
))  # fmt: skip
_QUIET = (
    Kind.PLAIN, Kind.AND, Kind.COMMA, Kind.DAY, Kind.TIME, Kind.SLOT, Kind.MARK, Kind.COLON,
    Kind.STOP, Kind.AT, Kind.GROUP_WORD, Kind.AUX, Kind.DID, Kind.KEY, Kind.NUMBER,
    Kind.WHOLE, Kind.BIN_WORD, Kind.UNIT,
)  # fmt: skip


def _hear_as_planned(clause: Clause) -> Heard | Request | None:
    at = _word_for_it(clause)
    if at is None or _asks(clause):
        return None
    before, behind = clause.items[:at], _behind(clause.items[at + 1 :])
    opening = next((n for n, i in enumerate(before) if i.kind in _OPENS), len(before))
    subject, inside = before[:opening], before[opening:]
    if before and before[0].can_be(Kind.ASK):
        return None  # "g3 went to ramps" before "where the plan says"
    if any(is_place(item) for item in subject) or _is_denied(clause, subject, inside, at):
        return None
    if _counts_rotations(clause, subject):
        return Heard(asks=[_which_rotation(clause)])
    only, behind = _those(clause, subject, behind)
    if only is None:
        return Heard(asks=[_who_else(clause)])
    found = exceptions_of(clause, (*inside, *behind), is_all=not only)
    if found.is_other:
        return None
    told = LogAsPlanned(
        clause.said_when(), only, found.but, _is_whole_day(clause, subject), found.but_places
    )
    if found.is_open or any(item.can_be(Kind.PARTIAL) for item in subject):
        return Heard(asks=[_who_else(clause)])
    heard = Heard(asks=[_was_there(clause, told, child) for child in found.asides[:1]])
    if not found.asides:
        sure = _is_sure(subject, found)
        heard = Heard([told]) if sure else Heard(asks=[_confirm(clause, told)])
    heard.requests += found.requests
    heard.asks += found.asks
    return heard


_OPENS = (Kind.EXCEPT, Kind.BUT)


def _word_for_it(clause: Clause) -> int | None:
    """Where the word for the plan stands."""
    return next((n for n, i in enumerate(clause.items) if _WORDS_FOR_IT & set(i.keys)), None)


def _behind(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """What stands behind all of "the plan said to"."""
    end = 0
    while end < len(items) and set(items[end].keys) & _GOES_ON:
        end += 1
    return items[end:]


_GOES_ON = _WORDS_FOR_IT | {"to", "be", "go", "say", "says", "had", "put", "sent", "has", "have"}


def _asks(clause: Clause) -> bool:
    """ "we did what the plan said" asks nothing."""
    first = clause.items[0] if clause.items else None
    marked = any(item.kind is Kind.QUERY for item in clause.items)
    return marked or (first is not None and first.can_be(Kind.ASK, Kind.AUX) and clause.is_question)


def _is_denied(
    clause: Clause, subject: tuple[Item, ...], inside: tuple[Item, ...], at: int
) -> bool:
    """ "nothing went as planned", "hope it goes as planned", "stick to the plan"."""
    words = [key for i in subject if not is_subject(i) for key in i.keys]
    words += [key for i in inside[1:] if not is_mention(i) for key in i.keys]
    named = [key for i in subject if i.kind is Kind.STUDENT for key in i.keys]
    if set(named) & {"hope"} and set(words) & {"goes", "go", "it"}:
        return True
    denies = _DENIES & set(words)
    if denies <= {"no"} and "changes" in words:
        denies = frozenset()
    word = clause.items[at].keys
    meant = bool(_MEANS_IT & set(words)) or word[:1] == ("as",)
    if set(word) & {"should", "supposed", "meant"} and not meant:
        return True
    says = set(word) & {"says", "said", "told", "wanted"} or "says" in clause.word_set
    if says and not meant:
        return True  # "the plan says group 3 goes to clay"
    if any(item.can_be(Kind.DAY) and _is_ahead(item, clause) for item in clause.items):
        return True
    return bool(denies) or words[-1:] == ["stick"]


def _is_ahead(item: Item, clause: Clause) -> bool:
    value = item.sense.value
    return item.kind is Kind.DAY and value is not None and str(value) > str(clause.at.date())


def _counts_rotations(clause: Clause, subject: tuple[Item, ...]) -> bool:
    """ "both rotations", "the first two rotations": which, where more or fewer have begun?"""
    words = [key for item in subject for key in item.keys]
    begun = _begun(clause)
    for before, word in pairwise(words):
        told = NUMBER_WORDS.get(before) or (int(before) if before.isdecimal() else 0)
        if word in ("rotations", "rounds", "slots", "sessions") and told:
            return True
    both = "both" in words and not any(is_subject(item) for item in subject)
    return both and clause.said_when().day is None and len(begun) != 2


def _begun(clause: Clause) -> list[time]:
    rotations = rotations_on(clause.roster, clause.at.date())
    return [rotation.starts for rotation in rotations if rotation.starts <= clause.at.time()]


def _which_rotation(clause: Clause) -> Ask:
    today = clause.at.date()
    options = [
        Option(f"{starts:%H:%M}", planned_in_full(LogAsPlanned(When(today, starts)), clause.roster))
        for starts in _begun(clause)
    ]
    whole = LogAsPlanned(When(today), whole_day=True)
    options.append(Option("All so far", planned_in_full(whole, clause.roster)))
    return Ask("when", "Which rotation ran as planned?", tuple(options))


def _those(
    clause: Clause, subject: tuple[Item, ...], behind: tuple[Item, ...]
) -> tuple[Who | None, tuple[Item, ...]]:
    """The children it was true of (nobody: all of them; None: it cannot be told), and what is left
    behind the word for the plan."""
    named = tuple(item for item in subject if is_subject(item))
    lead = next((n for n, i in enumerate(behind) if not i.can_be(*_BEFORE_NAMES)), None)
    if not named and lead is not None and behind[lead].keys in (("for",), ("with",)):
        end = lead + 1
        while end < len(behind) and (
            is_subject(behind[end]) or behind[end].kind in (Kind.AND, Kind.COMMA, Kind.GROUP_WORD)
        ):
            end += 1
        named, behind = tuple(i for i in behind[lead:end] if is_subject(i)), behind[end:]
    if any(item.kind in (Kind.EVERYONE, Kind.REST) for item in named):
        return Who(), behind
    if not _are_certain(named):
        return None, behind
    who = Clause(named, clause.roster, clause.at).who()
    return Who(who.groups, who.students), behind


_BEFORE_NAMES = (Kind.DAY, Kind.TIME, Kind.SLOT, Kind.MARK)


def _are_certain(named: tuple[Item, ...]) -> bool:
    return all(len(i.sense.ids) == 1 and i.kind in (Kind.STUDENT, Kind.GROUP) for i in named)


def _is_whole_day(clause: Clause, subject: tuple[Item, ...]) -> bool:
    everyone = any(i.kind is Kind.EVERYONE and "all" in i.keys for i in clause.items)
    return bool(_WHOLE_DAY & clause.word_set) and not everyone


def _is_sure(subject: tuple[Item, ...], found: Exceptions) -> bool:
    """Nothing is said that may make it another thing: "the field trip is on as planned"."""
    known = _DOINGS | _ALL | _WORDS_FOR_IT
    doubts = any(
        i.can_be(Kind.DOUBT, Kind.IF) and not i.can_be(Kind.PLAIN) and i.keys[0] not in known
        for i in subject
    )
    strange = any(
        not is_subject(item)
        and not item.can_be(*_QUIET)
        and not {*item.keys, *item.word.split()} <= known
        for item in subject
    )
    return not doubts and not strange and not found.is_strange


def _confirm(clause: Clause, told: LogAsPlanned) -> Ask:
    yes = planned_in_full(as_it_was(told, clause), clause.roster)
    return Ask("as_planned", "", (Option(YES, yes), Option(NO, "no")))


def _was_there(clause: Clause, told: LogAsPlanned, child: Item) -> Ask:
    """ "as planned, rose loved it": was she where the plan says?"""
    meant = as_it_was(told, clause)
    without = Clause((child,), clause.roster, clause.at).who()
    groups = (*meant.but.groups, *without.groups)
    less = replace(meant, but=Who(groups, (*meant.but.students, *without.students)))
    options = (
        Option(YES, planned_in_full(meant, clause.roster)),
        Option(NO, planned_in_full(less, clause.roster)),
    )
    return Ask("where_planned", child.text, options)


def _who_else(clause: Clause) -> Ask:
    """ "mostly as planned", "as planned except sofia": who was not where the plan says?"""
    told = as_it_was(LogAsPlanned(clause.said_when()), clause)
    everyone = Option("Nobody", planned_in_full(told, clause.roster))
    return Ask("planned_except", "", (everyone, Option("Log nothing", "no")))


def is_behind_it(clause: Clause, following: Clause) -> bool:
    """Whether a clause behind such a one tells who of them was not there: "theo was with me"."""
    told = clause.finds(_PHRASES) > 0 and _word_for_it(clause) is not None
    return told and bool(following.children) and not following.bins and not following.is_question


TOLD_AS_PLANNED = Listener(_PHRASES, _hear_as_planned, rank=3, takes_in=is_behind_it)
