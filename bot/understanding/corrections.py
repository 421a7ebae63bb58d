"""Corrections of the sender's last log, said in the minutes after it.

    oops that was group 4      other children
    i meant ramps              another bin
    that was yesterday         another day
    not ana                    one child less
    2 was dough not balance    one of several logs

"luca too" is no correction but one more log at the same bin; see `hear_more`.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from bot.requests import Ask, CorrectLog, LogVisits, Option, RemoveVisits, Undo, When, Who
from bot.understanding.asking_back import Heard
from bot.understanding.canonical import log_in_full, removal_in_full, who_in_full
from bot.understanding.clause import Clause, Last, place_of, when_of
from bot.understanding.corrected import (
    Said,
    children_of,
    corrected_logs,
    is_unreadable,
    was_meant,
    who_of,
)
from bot.understanding.exchanged import (
    exchanged,
    namesake_instead,
    only_started,
    taken_off,
)
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import Item, Kind

_SAYS_OTHERWISE = frozenset((
    "oops", "whoops", "sorry", "correction", "meant", "mean", "actually", "wrong", "mistake",
    "typo", "wait", "instead", "bad", "fix", "scratch", "rather", "no", "nope", "woops", "oop",
    "ugh", "argh", "autocorrect",
))  # fmt: skip
_WAS = (
    ("that", "was"), ("it", "was"), ("thats",), ("should", "be"), ("should", "have"), ("shouldve",),
    ("should", "say"), ("make", "that"), ("make", "it"), ("change",), ("was", "actually"),
    ("was", "really"),
    ("it", "should"), ("that", "should"), ("i", "meant"), ("i", "mean"), ("meant",),
    ("these", "were"),
    ("those", "were"), ("they", "were"), ("that", "is"), ("that", "were"),
)  # fmt: skip
_NEGATES = frozenset((
    "not", "no", "wasnt", "werent", "didnt", "isnt", "without", "minus", "except", "remove",
    "uncheck", "delete", "erase", "drop", "cross", "unmark",
))  # fmt: skip
_MAY_CORRECT = _SAYS_OTHERWISE | frozenset(
    (
        "was",
        "were",
        "though",
        "only",
        "just",
        "for",
        "should",
        "make",
        "change",
        "not",
        "wasnt",
        "werent",
    )
)
_PRONOUNS = frozenset(("she", "he", "they", "that", "it"))


def hear_correction(clause: Clause) -> Heard:
    """The last log put right by this clause; empty where it corrects nothing beyond doubt."""
    if not _may_correct(clause):
        return Heard()
    last = clause.last
    if last is None:
        return Heard()
    said = _said(clause)
    marked = _is_marked(clause)
    more = _more(clause, said, last)
    if more:
        return more
    other = exchanged(clause, last) or namesake_instead(clause, last) or taken_off(clause, last)
    if other is not None:
        return Heard([CorrectLog(last.entry_id, tuple(other))])
    if _takes_all_back(clause, said):
        return Heard([Undo(last.entry_id or None)])
    if _says_wrong(clause):
        undo = Option("Undo", f"undo {last.entry_id}")
        return Heard(asks=[Ask("what_instead", "", (undo, Option("Leave it", "no")))])
    instead = _instead(clause, said, last, marked=marked)
    if instead is not None:
        return Heard(asks=[instead])
    if only_started(clause):
        return Heard([Undo(last.entry_id or None)])
    logs = corrected_logs(clause, said, last, marked=marked)
    if logs is None:
        which = _which_log(clause, said, last) if marked else None
        return Heard(asks=[which]) if which is not None else Heard()
    if tuple(logs) == last.logs:
        return Heard()
    return Heard([CorrectLog(last.entry_id, tuple(logs))])


def _may_correct(clause: Clause) -> bool:
    """Whether it is worth looking at the last log: most texts that name children and a bin are logs
    of their own."""
    if not (clause.children and clause.bins):
        return True
    words = clause.word_set
    return bool(words & _MAY_CORRECT) or any(
        i.can_be(Kind.KEY) or i.text == "*" for i in clause.items
    )


def _said(clause: Clause) -> Said:
    who: list[Item] = []
    places: list[Item] = []
    not_who: list[Item] = []
    not_places: list[Item] = []
    days: list[Item] = []
    negated = False
    last = clause.last
    for item in clause.items:
        if (item.keys and item.keys[0] in _NEGATES) or item.kind in (Kind.EXCEPT, Kind.NOT):
            negated = not item.can_be(Kind.DID)
        elif is_subject(item) and not (item.can_be(Kind.COLOR) and _by_color(last)):
            child = _narrowed(item, last, clause)
            plain_no = negated and _is_plain_no(clause) and last is not None
            denied = negated and not (plain_no and not was_meant(child, last, clause))
            (not_who if denied else who).append(child)
        elif is_place(item) or item.can_be(Kind.BIN, Kind.COLOR):
            place = item.only(Kind.BIN, Kind.COLOR)
            known = last is not None and place_of(place) in [log.place for log in last.logs]
            denied = negated and not (_is_plain_no(clause) and not known)
            (not_places if denied else places).append(place)
        elif item.kind in (Kind.DAY, Kind.TIME, Kind.SLOT):
            if not negated or (_is_plain_no(clause) and not days):
                days.append(item)
            negated = False
        elif item.kind is Kind.BUT:
            negated = any(i.kind is Kind.EVERYONE for i in who)
        elif item.kind is Kind.COMMA:
            negated = False
    if who and not not_who and not places and _denied_behind(clause):
        who, not_who = [], who  # "mia wasnt there"
    when = when_of(days, When())
    return Said(tuple(who), tuple(places), tuple(not_who), tuple(not_places), when)


def _by_color(last: Last | None) -> bool:
    """Whether the last log named its bin by color: then "i meant blue" is a box too."""
    return last is not None and any(log.place.color is not None for log in last.logs)


def _is_plain_no(clause: Clause) -> bool:
    """ "no g4", "wait no she was at magnets": a no that stands for "that was wrong"."""
    words = clause.words
    return "no" in words and not set(words) & (_NEGATES - {"no"})


def _narrowed(item: Item, last: Last | None, clause: Clause) -> Item:
    """ "not sofia": the Sofia whom the last log meant."""
    if item.kind is not Kind.STUDENT or len(item.sense.ids) < 2 or last is None:
        return item
    meant = children_of(last, clause)
    ids = tuple(i for i in item.sense.ids if i in meant)
    return item.as_(replace(item.sense, ids=ids)) if len(ids) == 1 else item


def _denied_behind(clause: Clause) -> bool:
    """Whether something behind the children says that they were not there."""
    seen = False
    for item in clause.items:
        if is_subject(item):
            seen = True
        elif seen and item.can_be(Kind.NOT, Kind.MISSED) and not item.can_be(Kind.DID):
            return True
    return False


def _instead(clause: Clause, said: Said, last: Last, *, marked: bool) -> Ask | None:
    """ "mia was at ramps" right after her group's log at another bin: instead of it, or as well?"""
    places = [place for item in said.places if (place := place_of(item))]
    who = who_of(said.who)
    words = clause.word_set
    others = _others_there(clause, said, last, marked=marked)
    if others is not None:
        return others
    moved = words & {"was", "were"} and not words & {"also", "too", "though", "not", "then", "and"}
    if marked or not moved or len(places) != 1 or who is None or not who.students or who.groups:
        return None
    fits = [log for log in last.logs if log.who.groups and log.place != places[0]]
    if len(fits) != 1 or not set(who.students) <= children_of(Last(0, tuple(fits)), clause):
        return None
    log = LogVisits(who, places[0], fits[0].when)
    also = log_in_full(log, clause.roster)
    gone = removal_in_full(RemoveVisits(who, fits[0].place, When(fits[0].when.day)), clause.roster)
    names = who_in_full(who, clause.roster)
    return Ask("instead", names, (Option("Instead", f"{gone}\n{also}"), Option("As well", also)))


def _which_log(clause: Clause, said: Said, last: Last) -> Ask | None:
    """ "oops that was group 4" behind several logs: one tap says which of them."""
    who = who_of(said.who)
    if not who or said.places or said.not_who or said.not_places or len(last.logs) < 2:
        return None
    options = []
    for log in last.logs[:_MOST_LOGS]:
        gone = removal_in_full(RemoveVisits(log.who, log.place, When(log.when.day)), clause.roster)
        there = log_in_full(replace(log, who=who), clause.roster)
        label = f"Not {who_in_full(log.who, clause.roster)}"
        options.append(Option(label, f"{gone}\n{there}"))
    return Ask("which_log", who_in_full(who, clause.roster), tuple(options))


def _others_there(clause: Clause, said: Said, last: Last, *, marked: bool) -> Ask | None:
    """ "clay was group 4" right after group 1's log there: instead of them, or as well?"""
    places = [place for item in said.places if (place := place_of(item))]
    who = who_of(said.who)
    if marked or said.not_who or len(places) != 1 or who is None or not who.groups:
        return None
    bin_first = bool(clause.bins) and clause.bins[0].start < said.who[0].start
    there = [log for log in last.logs if log.place == places[0] and log.who != who]
    elsewhere = any(set(who.groups) & set(log.who.groups) for log in last.logs)
    if not bin_first or not clause.word_set & {"was", "were"} or len(there) != 1 or elsewhere:
        return None
    also = log_in_full(LogVisits(who, places[0], there[0].when), clause.roster)
    gone = removal_in_full(
        RemoveVisits(there[0].who, places[0], When(there[0].when.day)), clause.roster
    )
    names = who_in_full(who, clause.roster)
    return Ask("instead", names, (Option("Instead", f"{gone}\n{also}"), Option("As well", also)))


def _takes_all_back(clause: Clause, said: Said) -> bool:
    """ "no she didnt", "they werent": the whole last log was wrong."""
    words = clause.word_set
    mentions = said.who or said.places or said.not_who or said.not_places
    denies = words & {"didnt", "wasnt", "werent", "hasnt", "havent"}
    return bool(not mentions and denies and words & _PRONOUNS and len(words) <= _SHORT)


def _says_wrong(clause: Clause) -> bool:
    """ "that's wrong", "oops no": something is, and it does not say what."""
    words = clause.word_set
    mentions = clause.children or clause.bins
    later = clause.last is not None and clause.last.entry_id > 0
    return later and not mentions and bool(words & _WRONG) and words <= _WRONG | _AROUND


_WRONG = frozenset(("wrong", "incorrect", "mistake", "typo", "oops", "whoops", "wait"))
_AROUND = frozenset((
    "that", "thats", "that was", "was", "is", "its", "it", "no", "a", "my", "one", "sorry", "bin",
    "group", "kid", "child", "name", "box", "student", "oh", "all", "not", "right", "the", "last",
    "made", "i", "actually", "hold", "on", "ugh", "um",
))  # fmt: skip
_SHORT = 8
_MOST_LOGS = 6  # offered to be put right


def _is_marked(clause: Clause) -> bool:
    """Whether the clause says that it puts something right."""
    words = clause.words
    is_later = clause.last is not None and clause.last.entry_id > 0  # not in the same text
    stars = any(item.text == "*" for item in clause.items)
    if is_later and (stars or words[:1] in (("only",), ("just",), ("for",))):
        return True
    if any(word in _SAYS_OTHERWISE for word in words):
        return True
    pairs = set(pairwise(words)) | {(word,) for word in words}
    return any(phrase in pairs for phrase in _WAS)


def _more(clause: Clause, said: Said, last: Last) -> Heard:
    """ "luca too", "and g4", "g4 same": one more log at the bin of the last one."""
    if not said.who or said.places or said.not_who or said.not_places or len(last.logs) != 1:
        return Heard()
    words = clause.word_set
    opens = any(item.kind in (Kind.AND, Kind.PLUS) for item in clause.items[:2])
    adds = any(item.kind is Kind.PLUS for item in clause.items) or opens
    asks_more = words & {"same", "ditto", "too", "also", "add", "forgot"}
    if not (adds or asks_more) or is_unreadable(clause) or words & {"yesterday"}:
        return Heard()
    bad = (Kind.NOT, Kind.MISSED, Kind.FUTURE, Kind.STARTED, Kind.PARTIAL)
    if any(i.can_be(*bad) and not i.can_be(Kind.PLAIN, Kind.DID, Kind.KEY) for i in clause.items):
        return Heard()
    log = last.logs[0]
    who = Who(
        groups=tuple(i for item in said.who if item.kind is Kind.GROUP for i in item.sense.ids),
        students=tuple(
            item.sense.ids[0]
            for item in said.who
            if item.kind is Kind.STUDENT and len(item.sense.ids) == 1
        ),
    )
    if len(who.groups) + len(who.students) < len(said.who):
        return Heard()
    return Heard([LogVisits(who, log.place, log.when)])
