"""Words of the day's course: rotations, what takes their place, and what ends a day early."""

from __future__ import annotations

ROTATION = "rotation|rotations|round|rounds|slot|slots|session|sessions|block|blocks|rotating"
CENTERS = "bin|bins|center|centers|station|stations|stem|tub|tubs|centre|centres"
WHICH = (
    "the|our|my|that|this|a|an|any|more|stem|first|second|third|last|morning|afternoon|pm|am|"
    "<time>|<day>|today|todays|tomorrow|tomorrows|to|of|off|out|up|in|for|with|on|all|science|"
    "math|early|late|other|scheduled|planned|at|next|both|and|first|second|third|fourth|two|2"
)
"""What may stand between a word for losing and what is lost."""
EVENT = (
    "assembly|assemblies|concert|parade|drill|lockdown|ceremony|rehearsal|performance|speaker|"
    "visitor|guest|reader|pictures|picture|screening|screenings|testing|party|rally|presentation|"
    "magician|author|fair|vision|program|library|mass|chapel|meeting|"
    "celebration|fingerprinting|firefighters"
)
EARLY = "dismissal|release|out|closing|closure|dismissed|released|pickup|dismiss|released"
"""Words for the end of a day, behind "early"."""
LOSE = (
    "lost|lose|loses|losing|skip|skips|skipped|skipping|missed|miss|misses|missing|cancel|"
    "canceled|cancelled|canceling|cancelling|drop|drops|dropped|dropping|scrap|scrapped|"
    "scrapping|scratch|scratched|nix|nixed|nixing|kill|killed|axe|axed|ditch|ditching|remove|"
    "delete|without|cut|cutting|pull|omit|losing|forget|forgo|wipe"
)
GONE = (
    "lost|skipped|cancelled|canceled|dropped|off|missed|scrapped|gone|nixed|out|scratched|axed|"
    "killed|cut"
)
