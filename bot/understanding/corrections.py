"""Corrections of the sender's last log, said in the minutes after it.

    oops that was group 4      other children
    i meant ramps              another bin
    that was yesterday         another day
    not ana                    one child less
    2 was dough not balance    one of several logs

"luca too" is no correction but one more log at the same bin; see `hear_more`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.requests import Ask, CorrectLog, LogVisits, Option, Place, RemoveVisits, Undo, When, Who
from bot.understanding.canonical import log_in_full, removal_in_full, who_in_full
from bot.understanding.clause import Clause, Last, place_of, when_of
from bot.understanding.logs import Heard
from bot.understanding.segments import is_place, is_subject
from bot.understanding.senses import Item, Kind

_SAYS_OTHERWISE = frozenset((
    "oops", "whoops", "sorry", "correction", "meant", "mean", "actually", "wrong", "mistake",
    "typo", "wait", "instead", "bad", "fix", "scratch", "rather", "no", "nope", "woops", "oop",
    "ugh", "argh",
))  # fmt: skip
_WAS = (
    ("that", "was"), ("it", "was"), ("thats",), ("should", "be"), ("should", "have"), ("shouldve",),
    ("make", "that"), ("make", "it"), ("change",), ("was", "actually"), ("was", "really"),
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


@dataclass(frozen=True, slots=True)
class _Said:
    """What a clause puts right: what it is now, what it is not."""

    who: tuple[Item, ...]
    places: tuple[Item, ...]
    not_who: tuple[Item, ...]
    not_places: tuple[Item, ...]
    when: When


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
    if _takes_all_back(clause, said):
        return Heard([Undo(last.entry_id or None)])
    instead = _instead(clause, said, last, marked=marked)
    if instead is not None:
        return Heard(asks=[instead])
    logs = _corrected(clause, said, last, marked=marked)
    if logs is None or tuple(logs) == last.logs:
        return Heard()
    return Heard([CorrectLog(last.entry_id, tuple(logs))])


def _may_correct(clause: Clause) -> bool:
    """Whether it is worth looking at the last log: most texts that name children and a bin are logs
    of their own."""
    if not (clause.children and clause.bins):
        return True
    words = {key for item in clause.items for key in item.keys}
    return bool(words & _MAY_CORRECT) or any(
        i.can_be(Kind.KEY) or i.text == "*" for i in clause.items
    )


def _said(clause: Clause) -> _Said:
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
            denied = negated and not (plain_no and not _was_meant(child, last, clause))
            (not_who if denied else who).append(child)
        elif is_place(item) or item.can_be(Kind.BIN, Kind.COLOR):
            place = item.only(Kind.BIN, Kind.COLOR)
            known = last is not None and place_of(place) in [log.place for log in last.logs]
            denied = negated and not (_is_plain_no(clause) and not known)
            (not_places if denied else places).append(place)
        elif item.kind in (Kind.DAY, Kind.TIME, Kind.SLOT):
            if not negated:
                days.append(item)
            negated = False
        elif item.kind is Kind.BUT:
            negated = any(i.kind is Kind.EVERYONE for i in who)
        elif item.kind is Kind.COMMA:
            negated = False
    if who and not not_who and not places and _denied_behind(clause):
        who, not_who = [], who  # "mia wasnt there"
    when = when_of(days, When())
    return _Said(tuple(who), tuple(places), tuple(not_who), tuple(not_places), when)


def _by_color(last: Last | None) -> bool:
    """Whether the last log named its bin by color: then "i meant blue" is a box too."""
    return last is not None and any(log.place.color is not None for log in last.logs)


def _is_plain_no(clause: Clause) -> bool:
    """ "no g4", "wait no she was at magnets": a no that stands for "that was wrong"."""
    words = [key for item in clause.items for key in item.keys]
    return "no" in words and not set(words) & (_NEGATES - {"no"})


def _narrowed(item: Item, last: Last | None, clause: Clause) -> Item:
    """ "not sofia": the Sofia whom the last log meant."""
    if item.kind is not Kind.STUDENT or len(item.sense.ids) < 2 or last is None:
        return item
    meant = _children_of(last, clause)
    ids = tuple(i for i in item.sense.ids if i in meant)
    return item.as_(replace(item.sense, ids=ids)) if len(ids) == 1 else item


def _children_of(last: Last, clause: Clause) -> set[int]:
    day = clause.at.date()
    return {
        student_id
        for log in last.logs
        for student_id in (
            *log.who.students,
            *(
                s.id
                for g in log.who.groups
                for s in clause.roster.members_of(g, log.when.day or day)
            ),
        )
    }


def _was_meant(item: Item, last: Last | None, clause: Clause) -> bool:
    if last is None or not item.sense.ids:
        return False
    if item.kind is Kind.GROUP:
        return any(item.sense.ids[0] in log.who.groups for log in last.logs)
    return item.kind is Kind.STUDENT and bool(set(item.sense.ids) & _children_of(last, clause))


def _denied_behind(clause: Clause) -> bool:
    """Whether something behind the children says that they were not there."""
    seen = False
    for item in clause.items:
        if is_subject(item):
            seen = True
        elif seen and item.can_be(Kind.NOT, Kind.MISSED) and not item.can_be(Kind.DID):
            return True
    return False


def _instead(clause: Clause, said: _Said, last: Last, *, marked: bool) -> Ask | None:
    """ "mia was at ramps" right after her group's log at another bin: instead of it, or as well?"""
    places = [place for item in said.places if (place := place_of(item))]
    who = _who_of(said.who)
    words = {key for item in clause.items for key in item.keys}
    moved = words & {"was", "were"} and not words & {"also", "too", "though", "not", "then", "and"}
    if marked or not moved or len(places) != 1 or who is None or not who.students or who.groups:
        return None
    fits = [log for log in last.logs if log.who.groups and log.place != places[0]]
    if len(fits) != 1 or not set(who.students) <= _children_of(Last(0, tuple(fits)), clause):
        return None
    log = LogVisits(who, places[0], fits[0].when)
    also = log_in_full(log, clause.roster)
    gone = removal_in_full(RemoveVisits(who, fits[0].place, When(fits[0].when.day)), clause.roster)
    names = who_in_full(who, clause.roster)
    return Ask("instead", names, (Option("Instead", f"{gone}\n{also}"), Option("As well", also)))


def _takes_all_back(clause: Clause, said: _Said) -> bool:
    """ "no she didnt", "they werent": the whole last log was wrong."""
    words = {key for item in clause.items for key in item.keys}
    mentions = said.who or said.places or said.not_who or said.not_places
    denies = words & {"didnt", "wasnt", "werent", "hasnt", "havent"}
    return bool(not mentions and denies and words & _PRONOUNS and len(words) <= _SHORT)


_SHORT = 8


def _is_marked(clause: Clause) -> bool:
    """Whether the clause says that it puts something right."""
    words = [key for item in clause.items for key in item.keys]
    is_later = clause.last is not None and clause.last.entry_id > 0  # not in the same text
    stars = any(item.text == "*" for item in clause.items)
    if is_later and (stars or words[:1] in (["only"], ["just"], ["for"])):
        return True
    if any(word in _SAYS_OTHERWISE for word in words):
        return True
    pairs = set(pairwise(words)) | {(word,) for word in words}
    return any(phrase in pairs for phrase in _WAS)


def _more(clause: Clause, said: _Said, last: Last) -> Heard:
    """ "luca too", "and g4", "g4 same": one more log at the bin of the last one."""
    if not said.who or said.places or said.not_who or said.not_places or len(last.logs) != 1:
        return Heard()
    words = {key for item in clause.items for key in item.keys}
    opens = any(item.kind in (Kind.AND, Kind.PLUS) for item in clause.items[:2])
    adds = any(item.kind is Kind.PLUS for item in clause.items) or opens
    asks_more = words & {"same", "ditto", "too", "also", "add", "forgot"}
    if not (adds or asks_more) or _is_unreadable(clause) or words & {"yesterday"}:
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


def _is_unreadable(clause: Clause) -> bool:
    return any(item.kind is Kind.UNKNOWN for item in clause.items)


def _corrected(clause: Clause, said: _Said, last: Last, *, marked: bool) -> list[LogVisits] | None:
    """The logs that the last ones become, or None where the clause does not say."""
    if _is_unreadable(clause) or clause.is_question:
        return None
    if said.who and said.places:
        return _one_of_several(clause, said, last, marked=marked)
    everyone = all(item.kind is Kind.EVERYONE for item in said.who)
    if said.not_who and not said.places and everyone:
        meant = all(_was_meant(item, last, clause) for item in said.not_who)
        elsewhere = said.not_places and not {log.place for log in last.logs} & {
            place_of(item) for item in said.not_places
        }
        other_day = said.when.day is not None or said.when.unsure
        return _without(said, last) if meant and not elsewhere and not other_day else None
    if said.who and (marked or said.not_who):
        return _other_children(clause, said, last)
    if said.places and (marked or said.not_places):
        return _other_bin(said, last)
    if marked or _only_day(clause):
        if said.when == When() or said.who or said.places:
            return None
        return [replace(log, when=_moved(log.when, said.when)) for log in last.logs]
    return None


def _only_day(clause: Clause) -> bool:
    """ "not today, yesterday": nothing but days."""
    quiet = (Kind.DAY, Kind.TIME, Kind.SLOT, Kind.PLAIN, Kind.NOT, Kind.COMMA, Kind.AT, Kind.MARK)
    return any(i.kind is Kind.NOT for i in clause.items) and all(
        i.can_be(*quiet) for i in clause.items
    )


def _moved(old: When, new: When) -> When:
    if new.day is None and not new.unsure:
        return replace(new, day=old.day)
    return new


def _without(said: _Said, last: Last) -> list[LogVisits] | None:
    """ "not ana": she is taken out of whichever log meant her."""
    ids = tuple(item.sense.ids[0] for item in said.not_who if len(item.sense.ids) == 1)
    if len(ids) < len(said.not_who):
        return None
    students = [i for i, item in zip(ids, said.not_who, strict=True) if item.kind is Kind.STUDENT]
    groups = [i for i, item in zip(ids, said.not_who, strict=True) if item.kind is Kind.GROUP]
    logs = []
    for log in last.logs:
        who = replace(
            log.who,
            but_students=(*log.who.but_students, *students),
            students=tuple(i for i in log.who.students if i not in students),
            groups=tuple(i for i in log.who.groups if i not in groups),
        )
        if who:
            logs.append(replace(log, who=who))
    return logs


def _who_of(items: Sequence[Item]) -> Who | None:
    groups: list[int] = []
    students: list[int] = []
    for item in items:
        if item.kind is Kind.EVERYONE:
            return Who(everyone=True)
        if len(item.sense.ids) != 1 or item.kind not in (Kind.GROUP, Kind.STUDENT):
            return None
        (groups if item.kind is Kind.GROUP else students).append(item.sense.ids[0])
    return Who(tuple(groups), tuple(students))


def _other_children(clause: Clause, said: _Said, last: Last) -> list[LogVisits] | None:
    """ "that was group 4"; "kai not ben" swaps one child of several."""
    who = _who_of(said.who)
    if who is None:
        return None
    if said.not_who:
        gone = _who_of(said.not_who)
        fits = [log for log in last.logs if gone is not None and _means(log.who, gone)]
        if gone is None or len(fits) != 1:
            return None
        [old] = fits
        whole = set(old.who.groups) <= set(gone.groups) and set(old.who.students) <= set(
            gone.students
        )
        new = (
            who
            if whole
            else Who(
                groups=(*(g for g in old.who.groups if g not in gone.groups), *who.groups),
                students=(*(s for s in old.who.students if s not in gone.students), *who.students),
                but_groups=old.who.but_groups,
                but_students=(*old.who.but_students, *gone.students),
            )
        )
        return [replace(log, who=new) if log is old else log for log in last.logs]
    if len(last.logs) != 1:
        return None
    [old] = last.logs
    kept = old.who.but_students if who.groups == old.who.groups else ()
    return [replace(old, who=replace(who, but_students=kept))]


def _means(who: Who, part: Who) -> bool:
    return set(part.groups) <= set(who.groups) and (
        set(part.students) <= set(who.students) or bool(who.groups)
    )


def _other_bin(said: _Said, last: Last) -> list[LogVisits] | None:
    """ "i meant ramps", "ramps not balance"."""
    places = [place for item in said.places if (place := place_of(item))]
    if len(places) != 1:
        return None
    if len(last.logs) == 1:
        return [replace(last.logs[0], place=places[0])]
    wrong = {place for item in said.not_places if (place := place_of(item))}
    fits = [log for log in last.logs if log.place in wrong]
    if len(fits) != 1:
        return None
    return [replace(log, place=places[0]) if log is fits[0] else log for log in last.logs]


def _one_of_several(
    clause: Clause, said: _Said, last: Last, *, marked: bool
) -> list[LogVisits] | None:
    """ "2 was dough not balance": that group's log goes to the other bin."""
    who = _who_of(said.who)
    places: list[Place] = [place for item in said.places if (place := place_of(item))]
    words = {key for item in clause.items for key in item.keys}
    puts_right = marked or bool(said.not_places) or bool(words & {"was", "were", "though"})
    if who is None or len(places) != 1 or not puts_right or said.not_who:
        return None
    fits = [log for log in last.logs if log.who.groups and _means(log.who, who)]
    whole = [log for log in fits if not who.students and set(log.who.groups) == set(who.groups)]
    if len(whole) == 1:
        return [replace(log, place=places[0]) if log is whole[0] else log for log in last.logs]
    if len(fits) == 1 and who.students and not who.groups:
        [old] = fits
        mine = {
            student.id
            for group_id in old.who.groups
            for student in clause.roster.members_of(group_id, old.when.day or clause.at.date())
        }
        if set(who.students) <= mine and (marked or said.not_places or "though" in words):
            left = replace(old.who, but_students=(*old.who.but_students, *who.students))
            moved = LogVisits(who, places[0], old.when)
            return [*(replace(log, who=left) if log is old else log for log in last.logs), moved]
    if marked and len(last.logs) == 1 and not said.not_places:
        return [replace(last.logs[0], who=who, place=places[0])]
    return None
