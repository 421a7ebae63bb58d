"""What the bot can do, by subject. SKILLS is the one list of it."""

from bot.skills import attendance, closing, journal, needs, swaps, talk, visits
from bot.skills.skill import Skill

SKILLS: tuple[Skill, ...] = (
    visits.LOG,
    visits.REMOVE,
    journal.UNDO,
    journal.REDO,
    needs.WHO,
    needs.CHILD,
    attendance.SKILL,
    swaps.CHECK,
    swaps.SUGGEST,
    swaps.SWAP,
    closing.SKILL,
    journal.WHY,
    talk.HELP,
    talk.SMALLTALK,
)
