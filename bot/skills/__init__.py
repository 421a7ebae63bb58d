"""What the bot can do, by subject. SKILLS is the one list of it."""

from bot.skills import attendance, digest, journal, needs, talk, visits
from bot.skills.skill import Skill

SKILLS: tuple[Skill, ...] = (
    visits.LOG,
    visits.REMOVE,
    journal.UNDO,
    journal.REDO,
    needs.WHO,
    needs.CHILD,
    attendance.SKILL,
    journal.WHY,
    digest.SKILL,
    talk.HELP,
    talk.SMALLTALK,
)
