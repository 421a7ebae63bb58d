"""What the bot can do, by subject. SKILLS is the one list of it."""

from collections.abc import Mapping

from bot.skills import (
    as_planned,
    attendance,
    aways,
    calendar,
    closing,
    digest,
    journal,
    moves,
    needs,
    plans,
    schedule,
    supplies,
    swap_checks,
    swaps,
    talk,
    visits,
)
from bot.skills.skill import Skill

SKILLS: tuple[Skill, ...] = (
    visits.LOG,
    visits.REMOVE,
    journal.UNDO,
    journal.REDO,
    needs.WHO,
    needs.CHILD,
    attendance.SKILL,
    plans.PLAN,
    as_planned.AS_PLANNED,
    aways.AWAY,
    aways.WHO_IS_AWAY,
    schedule.SCHEDULE,
    calendar.CALENDAR,
    moves.MOVE,
    supplies.REPORT,
    supplies.RESTOCK,
    swap_checks.CHECK,
    swap_checks.SUGGEST,
    swaps.SWAP,
    closing.SKILL,
    journal.WHY,
    digest.SKILL,
    talk.HELP,
    talk.SMALLTALK,
)

THEMES: Mapping[str, tuple[Skill, ...]] = {
    "Turns": (visits.LOG, visits.REMOVE, journal.UNDO, journal.REDO),
    "Who needs what": (needs.WHO, needs.CHILD, attendance.SKILL, journal.WHY),
    "The plan": (plans.PLAN, as_planned.AS_PLANNED),
    "Away, school days, groups": (
        aways.AWAY,
        aways.WHO_IS_AWAY,
        schedule.SCHEDULE,
        calendar.CALENDAR,
        moves.MOVE,
    ),
    "Supplies": (supplies.REPORT, supplies.RESTOCK),
    "Swaps": (swap_checks.CHECK, swap_checks.SUGGEST, swaps.SWAP, closing.SKILL),
    "Messages and help": (digest.SKILL, talk.HELP, talk.SMALLTALK),
}
"""Skills by what they are about: the lines of help."""
