"""Statements read as turns taken: segments -> logs, or questions where anything is in doubt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise, product

from bot.requests import (
    Ask,
    HoldBack,
    LogVisits,
    Option,
    Place,
    RemoveVisits,
    When,
    Who,
)
from bot.understanding.asking_back import Asking, Heard
from bot.understanding.canonical import log_in_full, place_in_full, who_in_full
from bot.understanding.clause import Clause, place_of, when_of
from bot.understanding.headings import under_heading
from bot.understanding.segments import PLACE, SUBJECT, Segment
from bot.understanding.senses import Item, Kind, Sense
from bot.understanding.statement import Segmenter
from storage.records import Roster

_SHORT = 4  # items of a text that may name nothing but who and where


_NEVER = frozenset(
    ("didnt", "did", "hasnt", "havent", "wasnt", "werent", "never", "was", "were", "has")
)


def hear_logs(clause: Clause) -> Heard:
    """Read a clause as turns taken; empty where it names neither children nor bins."""
    unsure = [item for item in clause.items if is_unsure_place(item)]
    if unsure and (len(clause.items) <= _SHORT or any(i.can_be(Kind.DID) for i in clause.items)):
        return _either_reading(clause, unsure[:2])
    heard = Heard()
    day = clause.said_when().day or clause.at.date()
    items = under_heading(_without_denied_days(clause.items), clause.roster, day)
    segments = Segmenter(items).segments()
    _leave_out_elsewhere(segments, clause)
    _count_the_rest(segments, clause.roster, day)
    shared = _shared_when(segments, clause)
    for segment in segments:
        when = when_of((*segment.days, *segment.times), shared)
        heard.add(_Reader(clause, segment, when).heard())
    return heard


def _without_denied_days(items: Sequence[Item]) -> tuple[Item, ...]:
    """ "g3 did ramps on friday, not today": the day that it was is left."""
    denied = {
        at
        for at in range(1, len(items))
        if items[at].kind is Kind.DAY and items[at - 1].keys == ("not",)
    }
    days = [at for at, item in enumerate(items) if item.kind is Kind.DAY and at not in denied]
    if not denied or not days:
        return tuple(items)
    return tuple(i for at, i in enumerate(items) if at not in denied and at + 1 not in denied)


def is_unsure_place(item: Item) -> bool:
    """A word that may be a child or group, or a box: left so by everything around it."""
    return item.can_be(*SUBJECT) and item.can_be(*PLACE)


def _either_reading(clause: Clause, unsure: Sequence[Item]) -> Heard:
    """ "violet red": every way to take such words that makes whole logs, to choose from."""
    readings: dict[str, list[LogVisits]] = {}
    for kinds in product((SUBJECT, PLACE), repeat=len(unsure)):
        chosen = dict(zip(map(id, unsure), kinds, strict=True))
        items = tuple(i.only(*chosen[id(i)]) if id(i) in chosen else i for i in clause.items)
        heard = hear_logs(replace(clause, items=items))
        logs = [request for request in heard.requests if isinstance(request, LogVisits)]
        if logs and len(logs) == len(heard.requests) and not heard.asks:
            said = "\n".join(log_in_full(log, clause.roster) for log in logs)
            readings.setdefault(said, logs)
    if len(readings) == 1 and len(unsure) == 1:
        return Heard([log for logs in readings.values() for log in logs])
    options = tuple(
        Option("; ".join(_in_short(log, clause.roster) for log in logs), said)
        for said, logs in readings.items()
    )
    words = " ".join(item.text for item in unsure)
    if not options and len(clause.items) > len(unsure) + 2:
        return Heard()
    return Heard(asks=[Ask("which_meaning", words, options)])


def _in_short(log: LogVisits, roster: Roster) -> str:
    return f"{who_in_full(log.who, roster)}: {place_in_full(log.place, roster)}"


def _leave_out_elsewhere(segments: Sequence[Segment], clause: Clause) -> None:
    """Children of a group who are told of by themselves elsewhere in the sentence were not with it:
    "but mia did magnets", "mia magnets, rest of g3 balance"."""
    for segment in segments:
        others = [
            item
            for other in segments
            if other is not segment and other.is_whole
            for item in other.who
            if item.kind is Kind.STUDENT
        ]
        at_once = not _ONE_MORE & clause.word_set and _all_at_one_time(segments)
        if at_once or any(item.sense.word == "rest" for item in segment.who):
            segment.excepted += [item for item in others if item not in segment.who]
        if any(item.kind is Kind.REST for item in segment.who):
            _rest_of_their_group(segment, others, clause)
            _rest_is_everyone_else(segment, segments)
    for earlier, later in pairwise(segments):
        if later.after_but:
            earlier.excepted += [item for item in later.who if item.kind is Kind.STUDENT]


def _all_at_one_time(segments: Sequence[Segment]) -> bool:
    """Whether nothing said is of another day or rotation than the rest of it."""
    return sum(bool(s.days or s.times) for s in segments) <= 1 and not any(
        Kind.NOT in s.moods or Kind.FUTURE in s.moods or Kind.MISSED in s.moods for s in segments
    )


# "g3 did ramps, then mia did magnets": she was with them, and had one more turn.
_ONE_MORE = frozenset((
    "then", "also", "too", "again", "later", "after", "afterwards", "plus", "both", "next",
    "before", "earlier", "first", "now", "well", "finally",
))  # fmt: skip


def _count_the_rest(segments: Sequence[Segment], roster: Roster, day: date) -> None:
    """ "the other two" are to be two: else it is in doubt who they are."""
    for segment in segments:
        for item in segment.who:
            count = item.sense.value
            if item.sense.word == "rest" and isinstance(count, int):
                others = {i for other in segment.excepted for i in other.sense.ids}
                members = roster.members_of(item.sense.ids[0], day)
                if sum(student.id not in others for student in members) != count:
                    segment.doubts.append(item)


def _rest_of_their_group(segment: Segment, others: Sequence[Item], clause: Clause) -> None:
    """ "ava and ben did ramps, the other two balance": their group, where it has two more."""
    roster, day = clause.roster, clause.said_when().day or clause.at.date()
    named = {i for item in others for i in item.sense.ids}
    groups = {roster.group_on(student, day) for student in named}
    group = groups.pop() if len(groups) == 1 else None
    if group is None:
        return
    left = sum(student.id not in named for student in roster.members_of(group, day))
    for at, item in enumerate(segment.who):
        if item.kind is Kind.REST and item.sense.value == left:
            segment.who[at] = item.as_(Sense(Kind.GROUP, (group,), "rest"))
            segment.excepted += others


def _rest_is_everyone_else(segment: Segment, segments: Sequence[Segment]) -> None:
    """ "1 ramps, 2 balance, the rest magnets": everyone whom the sentence has not placed."""
    placed = [i for other in segments if other is not segment and other.is_whole for i in other.who]
    if not any(item.kind is Kind.GROUP for item in placed):
        return
    segment.who = [
        item.as_(Sense(Kind.EVERYONE, word="everyone")) if item.kind is Kind.REST else item
        for item in segment.who
    ]
    segment.excepted += placed


def _shared_when(segments: Sequence[Segment], clause: Clause) -> When:
    """One day named anywhere in a sentence is the day of the whole sentence; so is one time that
    stands before everything."""
    days = [day for segment in segments for day in segment.days]
    times = [time for segment in segments for time in segment.times]
    alone = days if len(days) == 1 else []
    first = times if len(times) == 1 else []
    return when_of((*alone, *first), clause.when)


class _Reader(Asking):
    """Reads one segment."""

    def heard(self) -> Heard:
        segment = self._segment
        if not segment.who and not segment.places:
            return Heard()
        places = self._places()
        who, unsure = self._who()
        if segment.either_place and len(places) > 1:
            return self._either_place(who, places)
        unclear_bin = next((item for item in segment.places if place_of(item) is None), None)
        if unclear_bin is not None:
            return self._which_bin(unclear_bin, who)
        if not segment.who:
            return self._without_children(places)
        if not places:
            return self._without_bin(who)
        return self._held_back(who, places) or self._logs(who, unsure, places)

    def _held_back(self, who: Who, places: Sequence[Place]) -> Heard | None:
        """What sounds like a turn but is none: nothing is logged, and the reply says why."""
        moods = self._segment.moods
        if self._when.day is not None and self._when.day > self._clause.at.date():
            return Heard([HoldBack("future", who, place, self._when) for place in places])
        if Kind.STARTED in moods:
            return Heard([HoldBack("started", who, place, self._when) for place in places])
        if Kind.NOT in moods or Kind.MISSED in moods:
            if Kind.DOUBT in moods or self._segment.doubts:
                return self._confirm([])
            sure = self._is_denied_outright()
            return Heard([RemoveVisits(who, place, self._when, sure) for place in places])
        for kind, reason in ((Kind.FUTURE, "future"), (Kind.IF, "if")):
            if kind in moods:
                return Heard([HoldBack(reason, who, place, self._when) for place in places])
        return None

    def _logs(self, who: Who, unsure: Sequence[Item], places: Sequence[Place]) -> Heard:
        segment = self._segment
        logs = [LogVisits(who, place, self._when) for place in places]
        if Kind.PARTIAL in segment.moods and not who and unsure:
            return Heard(asks=[self._which_child(unsure[0], who, places)])
        if Kind.PARTIAL in segment.moods or segment.open_exception:
            return self._which_part(who, places)
        if segment.either_who:
            return self._either_who(places)
        if Kind.DOUBT in segment.moods or segment.doubts or segment.loose or segment.unknown:
            return self._confirm(logs)
        if any(item.kind is Kind.REST for item in segment.who):
            return self._rest(places)
        if self._is_owner_of_place():
            return self._confirm(logs)
        heard = Heard()
        if who and not any(item in unsure for item in segment.excepted):
            heard.requests += logs
        for item in unsure:
            heard.asks.append(self._which_child(item, who, places))
        for item in segment.names:
            heard.asks.append(self._who_is(item, places))
        for item in segment.asides:
            if item in segment.excepted or not self._is_meant_anyway(item, who):
                heard.asks.append(self._was_with_them(item, places))
        return heard

    def _is_denied_outright(self) -> bool:
        """ "g3 didnt do balance", and nothing else."""
        segment = self._segment
        said = {key for item in self._clause.items if item.can_be(Kind.NOT) for key in item.keys}
        return (
            segment.moods == [Kind.NOT]
            and not (segment.unknown or segment.doubts or segment.loose)
            and bool(said & _NEVER)
        )

    def _is_owner_of_place(self) -> bool:
        """ "ava's shadow": a possessive right before a bin is hardly a turn."""
        last = self._segment.who[-1]
        return last.owned and last.kind is Kind.STUDENT and not self._segment.verbs

    def _is_meant_anyway(self, item: Item, who: Who) -> bool:
        """A child of the group logged, of whom something else is told: "mia laughed"."""
        return bool(item.sense.ids) and all(
            i in self._within(item.sense.ids, who) for i in item.sense.ids
        )
