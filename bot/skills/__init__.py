"""What the bot can do, by subject. SKILLS is the one list of it."""

from bot.skills import attendance, closing, journal, needs, swap_checks, swaps, talk, visits
from bot.skills.skill import Skill

SKILLS: tuple[Skill, ...] = (
    visits.LOG,
    visits.REMOVE,
    journal.UNDO,
    journal.REDO,
    needs.WHO,
    needs.CHILD,
    attendance.SKILL,
    swap_checks.CHECK,
    swap_checks.SUGGEST,
    swaps.SWAP,
    closing.SKILL,
    journal.WHY,
    talk.HELP,
    talk.SMALLTALK,
)
