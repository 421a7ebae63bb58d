"""What the bot can do, by subject. SKILLS is the one list of it."""

from bot.skills import (
    attendance,
    aways,
    closing,
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
    plans.AS_PLANNED,
    aways.AWAY,
    aways.WHO_IS_AWAY,
    schedule.SCHEDULE,
    moves.MOVE,
    supplies.REPORT,
    supplies.RESTOCK,
    swap_checks.CHECK,
    swap_checks.SUGGEST,
    swaps.SWAP,
    closing.SKILL,
    journal.WHY,
    talk.HELP,
    talk.SMALLTALK,
)
