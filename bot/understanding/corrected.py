"""What a correction makes of the last log: other children, another bin, another day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.requests import LogVisits, Place, When, Who
from bot.understanding.clause import Clause, Last, place_of
from bot.understanding.senses import Item, Kind


@dataclass(frozen=True, slots=True)
class Said:
    """What a clause puts right: what it is now, what it is not."""

    who: tuple[Item, ...]
    places: tuple[Item, ...]
    not_who: tuple[Item, ...]
    not_places: tuple[Item, ...]
    when: When


def children_of(last: Last, clause: Clause) -> set[int]:
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


def was_meant(item: Item, last: Last | None, clause: Clause) -> bool:
    if last is None or not item.sense.ids:
        return False
    if item.kind is Kind.GROUP:
        return any(item.sense.ids[0] in log.who.groups for log in last.logs)
    return item.kind is Kind.STUDENT and bool(set(item.sense.ids) & children_of(last, clause))


def corrected_logs(
    clause: Clause, said: Said, last: Last, *, marked: bool
) -> list[LogVisits] | None:
    """The logs that the last ones become, or None where the clause does not say."""
    if is_unreadable(clause) or clause.is_question:
        return None
    if said.who and said.places:
        return _one_of_several(clause, said, last, marked=marked)
    everyone = all(item.kind is Kind.EVERYONE for item in said.who)
    if said.not_who and not said.places and everyone:
        meant = all(was_meant(item, last, clause) for item in said.not_who)
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


def _without(said: Said, last: Last) -> list[LogVisits] | None:
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


def who_of(items: Sequence[Item]) -> Who | None:
    groups: list[int] = []
    students: list[int] = []
    for item in items:
        if item.kind is Kind.EVERYONE:
            return Who(everyone=True)
        if len(item.sense.ids) != 1 or item.kind not in (Kind.GROUP, Kind.STUDENT):
            return None
        (groups if item.kind is Kind.GROUP else students).append(item.sense.ids[0])
    return Who(tuple(groups), tuple(students))


def _other_children(clause: Clause, said: Said, last: Last) -> list[LogVisits] | None:
    """ "that was group 4"; "kai not ben" swaps one child of several."""
    who = who_of(said.who)
    if who is None:
        return None
    if said.not_who:
        gone = who_of(said.not_who)
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


def _other_bin(said: Said, last: Last) -> list[LogVisits] | None:
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
    clause: Clause, said: Said, last: Last, *, marked: bool
) -> list[LogVisits] | None:
    """ "2 was dough not balance": that group's log goes to the other bin."""
    who = who_of(said.who)
    places: list[Place] = [place for item in said.places if (place := place_of(item))]
    words = clause.word_set
    puts_right = marked or bool(said.not_places) or bool(words & {"was", "were", "though"})
    if said.not_who and who is not None and len(places) == 1:
        return _others_at(said, last, who, places[0])
    if who is None or len(places) != 1 or not puts_right or said.not_who:
        return None
    fits = [log for log in last.logs if log.who.groups and _means(log.who, who)]
    whole = [log for log in fits if not who.students and set(log.who.groups) == set(who.groups)]
    if len(whole) == 1:
        return [replace(log, place=places[0]) if log is whole[0] else log for log in last.logs]
    listed = [log for log in last.logs if set(who.students) < set(log.who.students)]
    if len(listed) == 1 and not fits and not who.groups and who.students:
        [old] = listed
        left = replace(
            old.who, students=tuple(i for i in old.who.students if i not in who.students)
        )
        moved = LogVisits(who, places[0], old.when)
        return [*(replace(log, who=left) if log is old else log for log in last.logs), moved]
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


def _others_at(said: Said, last: Last, who: Who, place: Place) -> list[LogVisits] | None:
    """ "clay was 4 not 1": the children of the log at that bin."""
    gone = who_of(said.not_who)
    fits = [log for log in last.logs if log.place == place and gone and _means(log.who, gone)]
    if len(fits) != 1 or gone is None or set(fits[0].who.groups) != set(gone.groups):
        return None
    if set(fits[0].who.students) - set(gone.students):
        return None
    return [replace(log, who=who) if log is fits[0] else log for log in last.logs]


def is_unreadable(clause: Clause) -> bool:
    return any(item.kind is Kind.UNKNOWN for item in clause.items)
