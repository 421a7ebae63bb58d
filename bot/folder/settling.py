"""A draft without a problem to its final values: names in one spelling, shared facts shared."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from bot.folder.draft import Draft
from bot.folder.nearest import fold
from bot.folder.rows import Line
from bot.folder.school_days import last_school_day
from bot.folder.values import BinLine, ClassFolder, RotationLine, Student


def settle(draft: Draft) -> ClassFolder:
    """The folder that `draft` describes; `draft` has passed every check."""
    name, bin_name = draft.roster.meant, draft.bin_names.meant
    aways = (line.value for line in draft.aways)
    visits = (line.value for line in draft.visits)
    supplies = (line.value for line in draft.supplies)
    settled_visits = (
        replace(one, student=name[fold(one.student)], bin=bin_name[fold(one.bin)]) for one in visits
    )
    return ClassFolder(
        settings=draft.settings.value,
        students=tuple(_student(line.value, draft) for line in draft.students),
        bins=_bins(draft),
        supplies=tuple(replace(one, bin=bin_name[fold(one.bin)]) for one in supplies),
        stations=tuple(line.value for line in draft.stations),
        rotations=tuple(_rotation(line.value, draft) for line in draft.rotations),
        aways=tuple(replace(one, student=name[fold(one.student)]) for one in aways),
        units=tuple(line.value for line in draft.units),
        # The same visit told twice is one visit.
        visits=tuple(dict.fromkeys(settled_visits)),
        closures=draft.closures,
        blocks=draft.blocks,
        files=draft.files,
    )


def _student(one: Student, draft: Draft) -> Student:
    names = (draft.roster.meant[fold(name)] for name in one.keep_apart)
    return replace(one, keep_apart=tuple(dict.fromkeys(names)))


def _rotation(one: RotationLine, draft: Draft) -> RotationLine:
    return replace(one, weekdays=one.weekdays or draft.settings.value.school_days)


def _bins(draft: Draft) -> tuple[BinLine, ...]:
    lines_of: dict[str, list[Line[BinLine]]] = {}
    for line in draft.bins:
        lines_of.setdefault(fold(line.value.bin), []).append(line)
    return tuple(_bin(line.value, lines_of[fold(line.value.bin)], draft) for line in draft.bins)


def _bin(one: BinLine, lines: list[Line[BinLine]], draft: Draft) -> BinLine:
    told_seats = [line.value.seats for line in lines if "seats" in line.told]
    return replace(
        one,
        bin=lines[0].value.bin,
        seats=told_seats[0] if told_seats else one.seats,
        unit=next((line.value.unit for line in lines if line.value.unit), None),
        also_called=_together(line.value.also_called for line in lines),
        standards=_together(line.value.standards for line in lines),
        cautions=_together(line.value.cautions for line in lines),
        last_day=_last_day(one, draft),
    )


def _together(lists: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    first_spelling: dict[str, str] = {}
    for entries in lists:
        for entry in entries:
            first_spelling.setdefault(entry.casefold(), entry)
    return tuple(first_spelling.values())


def _last_day(one: BinLine, draft: Draft) -> date | None:
    if one.opens is None or one.closes is None:
        return None
    weekdays, closed = draft.settings.value.school_days, draft.closed_days
    return last_school_day(one.opens, one.closes, weekdays=weekdays, closed=closed)
