"""Questions about a statement: what is open in it, and a full text for each way out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from bot.classroom.moments import meant_for_log
from bot.classroom.stints import out_on
from bot.requests import (
    Ask,
    Frame,
    LogVisits,
    Option,
    Place,
    Request,
    When,
    Who,
)
from bot.understanding import closeness
from bot.understanding.canonical import log_in_full, place_in_full, who_in_full
from bot.understanding.clause import Clause, place_of
from bot.understanding.segments import Segment
from bot.understanding.senses import Item, Kind
from bot.understanding.vocabulary import vocabulary_of

YES, NO, BOTH, ALL, NOBODY = "Yes", "No", "Both", "All of them", "Nobody else"
LEAVE_IT = "Leave it"


_MOST_CHOICES = 8
_MOST_REST = 4  # groups offered for "the rest"


@dataclass(slots=True)
class Heard:
    """What a clause was heard to say: requests that are beyond doubt, and questions."""

    requests: list[Request] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)

    def __bool__(self) -> bool:
        return bool(self.requests or self.asks)

    def add(self, other: Heard) -> None:
        """Append what another clause said."""
        self.requests += other.requests
        self.asks += other.asks


class Asking:
    """A segment of a statement: whom and where it means, and every question about it."""

    def __init__(self, clause: Clause, segment: Segment, when: When) -> None:
        self._clause = clause
        self._segment = segment
        self._when = when
        self._roster = clause.roster

    def _places(self) -> tuple[Place, ...]:
        found = [place for item in self._segment.places if (place := place_of(item))]
        return tuple(dict.fromkeys(found))

    def _who(self) -> tuple[Who, list[Item]]:
        """Who is meant beyond doubt, and the items that leave open who."""
        segment = self._segment
        groups, students, unsure = self._sorted(segment.who, everyone_is_fine=True)
        everyone = any(item.kind is Kind.EVERYONE for item in segment.who)
        base = Who(groups, students, everyone)
        but_groups, but_students, but_unsure = self._sorted(segment.excepted, among=base)
        who = replace(base, but_groups=but_groups, but_students=but_students)
        return who, [*unsure, *(replace(i, owned=False) for i in but_unsure)]

    def _sorted(
        self, items: Iterable[Item], *, everyone_is_fine: bool = False, among: Who | None = None
    ) -> tuple[tuple[int, ...], tuple[int, ...], list[Item]]:
        groups: list[int] = []
        students: list[int] = []
        unsure: list[Item] = []
        for item in items:
            ids = item.sense.ids
            if item.kind is Kind.EVERYONE or (item.kind is Kind.REST and among is not None):
                continue
            if item.kind is Kind.STUDENT and among is not None and len(ids) > 1:
                ids = self._within(ids, among) or ids
            if item.kind is Kind.STUDENT and (len(ids) == 1 or self._segment.both):
                students += ids if self._is_certain(item) else []
                unsure += [] if self._is_certain(item) else [item]
            elif item.kind is Kind.GROUP and len(ids) == 1 and not item.can_be(Kind.STUDENT):
                groups += ids
            else:
                unsure.append(item)
        return tuple(dict.fromkeys(groups)), tuple(dict.fromkeys(students)), unsure

    def _is_certain(self, item: Item) -> bool:
        """A child's name that is also a common word, left open by its neighbours, is not."""
        return all(sense.kind in (Kind.STUDENT, Kind.NUMBER) for sense in item.senses)

    def _within(self, ids: Sequence[int], among: Who) -> tuple[int, ...]:
        """The candidates who belong to those meant: "g3 except sofia" is the Sofia of group 3."""
        day = self._when.day or self._clause.at.date()
        return tuple(
            i for i in ids if i in among.students or self._roster.group_on(i, day) in among.groups
        )

    def _either_place(self, who: Who, places: Sequence[Place]) -> Heard:
        """ "ramps or balance": one tap decides."""
        options = tuple(
            Option(self._name_of(place), self._full(who, place)) for place in places if who
        )
        if not options:
            return Heard(asks=[Ask("which_bin", "", ())])
        both = Option(BOTH if len(options) == 2 else ALL, self._full_all(who, places))
        return Heard(asks=[Ask("which_bin", "", (*options, both), frame=self._gap_place(who))])

    def _either_who(self, places: Sequence[Place]) -> Heard:
        """ "g3 or g4": one tap decides."""
        options = []
        for item in self._segment.who:
            who, _ = Asking(self._clause, Segment(who=[item]), self._when)._who()
            label = who_in_full(who, self._roster).capitalize() if who.groups else item.text
            if who.students:
                label = self._roster.student[who.students[0]].name
            options.append(Option(label, self._full_all(who, places)))
        words = " or ".join(option.label for option in options)
        frame = self._gap_who(places)
        return Heard(asks=[Ask("which_who", words, tuple(options), frame=frame)])

    def _name_of(self, place: Place) -> str:
        return (
            place_in_full(place, self._roster).removeprefix("the ").capitalize()
            if (place.bin_id is None)
            else self._roster.bin[place.bin_id].name
        )

    def _which_bin(self, item: Item, who: Who) -> Heard:
        options = tuple(
            Option(self._roster.bin[bin_id].name, self._full(who, Place(bin_id)))
            for bin_id in item.sense.ids
        )
        frame = self._gap_place(who) if who else None
        return Heard(asks=[Ask("which_bin", item.text, options if who else (), frame=frame)])

    def _which_child(self, item: Item, who: Who, places: Sequence[Place]) -> Ask:
        """Several children, or a child and something else, answer to this word."""
        ids = [i for sense in item.senses if sense.kind is Kind.STUDENT for i in sense.ids]
        day = self._when.day or self._clause.at.date()
        present = [i for i in ids if self._roster.student[i].is_on_roster(day)] or ids
        excepted = any(item.text == other.text for other in self._segment.excepted)

        def meaning(*chosen: int) -> str:
            if excepted:
                left_out = (*who.but_students, *chosen)
                return self._full_all(replace(who, but_students=left_out), places)
            return self._full_all(Who(students=chosen), places)

        options = [Option(self._roster.student[i].name, meaning(i)) for i in present]
        group = item.get(Kind.GROUP)
        if group is not None and group.ids:
            name = self._roster.group[group.ids[0]].name
            options.append(Option(f"Group {name}", self._full_all(Who(group.ids), places)))
        if len(present) > 1 and group is None:
            options.append(Option(BOTH if len(present) == 2 else ALL, meaning(*present)))
        if len(options) == 1:
            options.append(Option(NO, "no"))
        if not ids and not (group is not None and group.ids):
            return Ask(
                "unknown_group", item.text, self._groups(places), frame=self._gap_who(places)
            )
        frame = None if excepted else self._gap_who(places)
        return Ask("which_child", item.text, tuple(options[:_MOST_CHOICES]), frame=frame)

    def _groups(self, places: Sequence[Place]) -> tuple[Option, ...]:
        return tuple(
            Option(f"Group {group.name}", self._full_all(Who((group.id,)), places))
            for group in self._roster.groups[:_MOST_CHOICES]
        )

    def _who_is(self, item: Item, places: Sequence[Place]) -> Ask:
        """A word that stands where a name would and is none we know: the nearest are offered."""
        near = closeness.near_children(item.keys[-1], vocabulary_of(self._roster))
        ids = dict.fromkeys(i for sense in near for i in sense.ids)
        options = [
            Option(self._roster.student[i].name, self._full_all(Who(students=(i,)), places))
            for i in list(ids)[: _MOST_CHOICES - 1]
        ]
        options.append(Option(NOBODY if self._segment.who else LEAVE_IT, "no"))
        return Ask("unknown_name", item.text, tuple(options), frame=self._gap_who(places))

    def _was_with_them(self, item: Item, places: Sequence[Place]) -> Ask:
        ids = item.sense.ids
        yes = self._full_all(Who(students=ids), places)
        return Ask("was_with_them", item.text, (Option(YES, yes), Option(NO, "no")))

    def _which_part(self, who: Who, places: Sequence[Place]) -> Heard:
        """ "half of group 2": each of them can be tapped."""
        day = self._when.day or self._clause.at.date()
        members = [s for g in who.groups for s in self._roster.members_of(g, day)]
        options = [
            Option(student.name, self._full_all(Who(students=(student.id,)), places))
            for student in members[: _MOST_CHOICES - 1]
        ]
        if options:
            options.append(Option(ALL, self._full_all(who, places)))
        words, frame = _text(self._segment.who), self._gap_who(places)
        if frame is not None:
            frame = replace(frame, everyone=who_in_full(who, self._roster))
        return Heard(asks=[Ask("which_part", words, tuple(options), frame=frame)])

    def _confirm(self, logs: Sequence[LogVisits], about: str = "confirm") -> Heard:
        words = [item.text for item in (*self._segment.unknown, *self._segment.doubts)]
        said = " and ".join(log_in_full(log, self._roster) for log in logs if log.who)
        options = (Option(YES, said), Option(NO, "no")) if said else ()
        return Heard(asks=[Ask(about, " ".join(words), options)])

    def _rest(self, places: Sequence[Place]) -> Heard:
        """ "the rest did ramps": of a group of those named, or of the class."""
        day = self._when.day or self._clause.at.date()
        named = [i.sense.ids[0] for i in self._clause.children if i.kind is Kind.STUDENT]
        groups = dict.fromkeys(g for i in named if (g := self._roster.group_on(i, day)))
        options = [
            Option(
                f"Rest of group {self._roster.group[group].name}",
                self._full_all(Who((group,), but_students=tuple(named)), places),
            )
            for group in list(groups)[:_MOST_REST]
        ]
        if named:
            everyone = Who(everyone=True, but_students=tuple(named))
            options.append(Option("Everyone else", self._full_all(everyone, places)))
        words, frame = _text(self._segment.who), self._gap_who(places)
        return Heard(asks=[Ask("which_rest", words, tuple(options), frame=frame)])

    def _without_children(self, places: Sequence[Place]) -> Heard:
        """ "balance done": by whom?"""
        segment = self._segment
        if segment.names:
            return Heard(asks=[self._who_is(item, places) for item in segment.names])
        part = Kind.PARTIAL in segment.moods or len(self._clause.items) <= len(segment.places)
        if (not segment.verbs and not part) or (segment.moods and not part):
            return Heard()
        options = [
            Option(f"Group {group.name}", self._full(Who((group.id,)), place))
            for place in places[:1]
            for group in self._roster.groups[:_MOST_CHOICES]
        ]
        return Heard(
            asks=[
                Ask(
                    "which_group",
                    _text(segment.places),
                    tuple(options),
                    frame=self._gap_who(places),
                )
            ]
        )

    def _without_bin(self, who: Who) -> Heard:
        """ "g3 is done": with what?"""
        segment = self._segment
        if segment.moods or not who or segment.doubts:
            return Heard()
        named = not any(item.can_be(Kind.NUMBER) for item in segment.who)
        bare = named and not segment.unknown and len(self._clause.items) <= len(segment.who) + 1
        bare = bare or segment.more
        by_group = named and bool(who.groups) and len(segment.unknown) in (1, 2)
        if not segment.verbs and not bare and not by_group:
            return Heard()
        day = self._when.day or self._clause.at.date()
        options = tuple(
            Option(self._roster.bin_of(stint).name, self._full(who, Place(stint.bin_id)))
            for stint in out_on(self._roster, day)[:_MOST_CHOICES]
        )
        unknown = segment.unknown[0].text if segment.unknown else ""
        return Heard(asks=[Ask("which_bin", unknown, options, frame=self._gap_place(who))])

    def _full(self, who: Who, place: Place) -> str:
        return log_in_full(LogVisits(who, place, self._dated()), self._roster)

    def _full_all(self, who: Who, places: Sequence[Place]) -> str:
        return "\n".join(self._full(who, place) for place in places)

    def _gap_who(self, places: Sequence[Place]) -> Frame | None:
        """The log with its children missing."""
        if len(places) != 1:
            return None
        return Frame("who", "{}" + self._full(Who(), places[0]))

    def _gap_place(self, who: Who) -> Frame:
        """The log with its bin missing."""
        return Frame(
            "place",
            log_in_full(LogVisits(who, Place(color="{}"), self._dated()), self._roster).replace(
                "the {} bin", "{}"
            ),
        )

    def _dated(self) -> When:
        """Day and rotation are written into every choice, so that it means the same when tapped
        later; where the day itself is in doubt, that is asked next."""
        said = self._when
        meant = meant_for_log(self._roster, self._clause.at, said.day, said.starts, said.slot)
        if meant.trouble is not None:
            return said
        return When(meant.day, meant.rotation or said.starts)


def _text(items: Sequence[Item]) -> str:
    return " ".join(item.text for item in items)
