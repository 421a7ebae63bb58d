"""Everything that only shows when lines and files are held against each other."""

from collections.abc import Callable, Iterator

from bot.folder.checks.bins import (
    bins_once,
    facts_agree,
    half_stints,
    stint_days,
    stints_apart,
    units_known,
)
from bot.folder.checks.rotations import (
    aways_make_sense,
    rotations_apart,
    rotations_on_school_days,
    stations_once,
    units_in_order,
)
from bot.folder.checks.students import (
    hours_in_order,
    keep_apart_known,
    students_once,
    term_in_order,
)
from bot.folder.checks.supplies import supplies_known
from bot.folder.checks.visits import visits_happened
from bot.folder.draft import Draft
from bot.folder.problems import Problem

CHECKS: tuple[Callable[[Draft], Iterator[Problem]], ...] = (
    hours_in_order,
    students_once,
    keep_apart_known,
    term_in_order,
    half_stints,
    stint_days,
    bins_once,
    facts_agree,
    stints_apart,
    units_known,
    supplies_known,
    stations_once,
    rotations_on_school_days,
    rotations_apart,
    aways_make_sense,
    units_in_order,
    visits_happened,
)


def problems_across(draft: Draft) -> list[Problem]:
    """What contradicts what; cells that could not be read are taken to contradict nothing."""
    return [problem for check in CHECKS for problem in check(draft)]
