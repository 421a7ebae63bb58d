"""What the bot can do, by subject. SKILLS is the one list of it."""

from bot.skills import attendance, journal, needs, supplies, talk, visits
from bot.skills.skill import Skill

SKILLS: tuple[Skill, ...] = (
    visits.LOG,
    visits.REMOVE,
    journal.UNDO,
    journal.REDO,
    needs.WHO,
    needs.CHILD,
    attendance.SKILL,
    supplies.REPORT,
    supplies.RESTOCK,
    journal.WHY,
    talk.HELP,
    talk.SMALLTALK,
)
