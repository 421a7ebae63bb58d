"""The class and its roster: each child once, told apart by name and code."""

from collections.abc import Iterator

from bot.folder.checks.clashes import hours_ordered, in_order, keys_once
from bot.folder.draft import Draft
from bot.folder.nearest import fold
from bot.folder.problems import Kind, Problem


def hours_in_order(draft: Draft) -> Iterator[Problem]:
    """Some hours are left in which the bot may speak."""
    settings = draft.settings.value
    if not draft.settings.bad & {"quiet_before", "quiet_after"}:
        first, last = settings.quiet_before, settings.quiet_after
        yield from hours_ordered(first, last, settings.place, "quiet_after")


def students_once(draft: Draft) -> Iterator[Problem]:
    """No name and no code stands for two children."""
    known = [line.value for line in draft.students if "name" not in line.bad]
    yield from keys_once(((fold(one.name), one.name, one.place) for one in known), "name")
    codes = ((one.code.casefold(), one.code, one.place) for one in known if one.code)
    yield from keys_once(codes, "code")


def keep_apart_known(draft: Draft) -> Iterator[Problem]:
    """Children are kept apart from others on the roster."""
    for line in draft.students:
        one = line.value
        place = (one.place.line, "keep_apart")
        for name in one.keep_apart:
            full = draft.roster.find(name)
            if full is None:
                near = draft.roster.nearest(name)
                yield Problem(one.place.file, Kind.UNKNOWN_STUDENT, *place, name, nearest=near)
            elif fold(full) == fold(one.name):
                yield Problem(one.place.file, Kind.APART_FROM_SELF, *place, name)


def term_in_order(draft: Draft) -> Iterator[Problem]:
    """Nobody leaves before joining."""
    for line in draft.students:
        yield from in_order(line.value.joined, line.value.left, line.value.place, "left")
