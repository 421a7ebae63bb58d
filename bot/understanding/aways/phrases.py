"""How people say that a child is away: for the day, from some time on, until then, for a while.

Between the child and what is said of it stand only words that leave it the child's (FILL): "mia is
freaking out" is no away.
"""

from __future__ import annotations

from bot.understanding.aways.words import (
    ERRAND,
    FILL,
    GONE,
    ILLNESS,
    NEARBY,
    RELATIVE,
    SERVICE,
)

_W = f"<who> {FILL}*"
_NOT = "not|isnt|arent|wasnt|werent|aint"
_WONT = "wont|cant|cannot|not|didnt|doesnt|couldnt|never"
_BE = "be|at|able|to|going|gonna|been|even|actually|really"
_CAME = (
    "here|in|back|coming|come|came|attending|attend|attended|present|make|made|making|show|"
    "showed|showing|join|joining|school|class|today|<day>|<time>|until|till|til"
)
_THEM = "him|her|them|em"
_GONE = GONE.replace("|away", "")
_HOURS = "8|9|10|11|12|1|2|3"
_BARE = SERVICE.replace("reading|", "")
_PRONOUN = "he|she|they|hes|shes|theyre|him|her|them"
_AT_TIME = "<time>|at|@|around|about|by|after|before|until|till|til"
_PASSED = "is|are|gets|get|got|getting|be|being|was|were|will"

AWAY = (
    f"{_W} {_GONE}",
    f"{_W} away <day>|<time>|today|tomorrow|until|till|til|on|for|all|this|next|sick|both|at|in|"
    "with|"
    "and|starting|through|thru|too|again|because|bc|visiting|most|every|the|as|since|due|please|$",
    f"{_W} away from <day>|<time>|school",
    f"{_W} {_NOT} {_BE}* {_CAME}",
    f"{_W} {_WONT} {_BE}* {_CAME}",
    f"{_W} wont be there",
    "neither <who> is|are|was|were be? here|in|coming|present",
    "<who> team|group|table? is|are missing <who>",
    f"{_W} no show|shows|noshow",
    f"{_W} stay|stays|stayed|staying|kept|keeping home",
    f"{_W} called|call|calling|calls in|out? sick",
    f"{_W} called|calling|calls in|out $|<day>",
    f"{_W} in|at the? hospital",
    f"{_W} has|have|had|caught|with|got|down|having|w ... {ILLNESS}",
    f"{_W} came|come|coming|comes down with",
    f"{_W} miss|misses|missed|missing school|class|today|<day>",
    f"{_W} has|have|taking|takes|taken|took the|a? day|days|week off",
    f"{_W} <day>|<time> off $",
    f"^ {_W} off $",
    f"^ {_W} off <day>|sick",
    f"{_W} on|taking|takes|go|goes|leaving|leaves|going|has|for on|to|for|a|an|the|their|his|her* "
    "... vacation|holiday|trip|trips|leave|cruise",
    "<who> vacation|trip <day>|from|till|until|this|next",
    f"{_W} excused|suspended",
    f"{_W} {RELATIVE} ... {_PRONOUN} ... {GONE}",
    f"{_W} {RELATIVE} ... {_PRONOUN} {_WONT} {_BE}* {_CAME}",
    f"{_W} {RELATIVE} ... keeping|kept|keeps|keep {_THEM} home|out",
    "keeping|keeps|kept <who> home|out",
    f"^ {GONE} <day>|today|tomorrow|is|are|include|includes|for|kids|list|students|-|:* <who>",
    f"<day> {GONE} is|are|include? <who>",
    f"mark|put|note|count|log|record|list <who> down? as? {GONE}",
    "^ <day>? no <who> <day>|$",
    "^ no <who> for? the|rest|of|day|week* <day>|$",
    "dont|doesnt|wont have <who> <day>|here|in|this",
    "missing <who> <day>",
    "^ we|im|i|are|were|missing* missing <who>",
    "down|short|missing a|1|one|two|2|three|3|kids|kid|students|student|<day>* <who> $",
    "missing a|1|2|3|4|one|two|three|four|kids|students|<day>|today|-|:* <who>",
    "two|three|four|five|2|3|4|one|1|kids|<who> absent|out|missing|gone|away "
    "<day>|today|are|-|:* <who>",
    "everyone|all|everybody|<who> is|are|s|here|present|in* here|present|in <day>? except|but|"
    "minus|besides|cept <who>",
    "<who> except|but|minus <who> is|are here|present|in",
    f"nobody|noone|none is|are|s|else|today|<day>* {GONE} <day>|today? except|but|besides|cept "
    "<who>",
    f"no one is|are|s|else|today|<day>* {GONE} <day>|today? except|but|besides|cept <who>",
)
LEAVES = (
    f"{_W} has|have|needs|need|going|planning? to leave|go|head|depart ... early|home|{_AT_TIME}",
    f"{_W} leave|leaves|leaving|leavin|departs|departing|heads|heading|left|exits "
    f"out|right|just|a|little|bit* "
    f"early|school|home|<day>|<time>|at|@|around|about|by|after|before|for|from|now|us|here|with",
    f"{_W} leave|leaves|leaving|left early",
    f"{_W} leave|leaves|leaving|left $",
    f"{_W} go|goes|going|went|sent|heading|headed|taken|brought home",
    f"{_W} goes|going {_AT_TIME}|early",
    f"{_W} {_PASSED} dismissed|released|checked|signed|pulled|taken out? early|{_AT_TIME}|now|$",
    f"{_W} {_PASSED} picked up",
    f"{_W} {_PASSED} picked|pickedup up? early|just|now|from|by|today|<day>|{_AT_TIME}|$",
    f"{_W} early pickup|pick|dismissal|release|checkout",
    f"{_W} pickup|pick up? <time>|at|early|around|by",
    f"{_W} {RELATIVE} {FILL}* picking|picks|pick|picked|taking|getting|grabbing|takes|collecting|"
    "came|come|"
    f"coming|comes {_THEM}|for|to|get|gets|grab|pick|up|out",
    f"{RELATIVE} ... picking|picks|pick|taking|getting|grabbing|takes|collecting|picked <who>",
    f"{RELATIVE} ... coming|comes|came|come to|for|get|grab|pick|up* <who>",
    "picking|pick|picked <who> up",
)
LATE = (
    "^ late|tardy <day>|today|is|are|:|-|kids* <who>",
    f"{_W} late|tardy|delayed",
    f"{_W} came|running|coming|comes|arriving|arrives|getting|in|here late|behind|tardy",
    f"{_W} arrives|arrive|arriving|arrived|comes|coming|come|gets|get|be|returning|return|in|here "
    f"in|here|to|school|back|late* {_AT_TIME}",
    f"{_W} here <time>",
    f"{_W} here|in at|around|about|by|after|before|until|till|til|not",
    f"{_W} should be|get|arrive|come here|in|to|school* {_AT_TIME}",
    f"{_W} {RELATIVE} {FILL}* bringing|brings|dropping|drops {_THEM} in|off|here|at|late|around|by",
)
BUSY = (
    f"{_W} has|have|had|at|in|with|goes|go|going|to|w|needs|seeing|sees|meets|meeting ... "
    f"{SERVICE}|{ERRAND}",
    f"{_W} {_BARE}|{ERRAND} <day>|<time>|{_HOURS}|at|from|till|until|every|on|{SERVICE}|{ERRAND}",
    f"{_W} is|are|gets|get|getting|be|being|will|got pulled|taken|pullout "
    "for|out|by|from|to|every|<day>|<time>|at|daily|$",
    "pulls|pulling|takes|taking|sees|seeing <who> out? every|<day>|<time>|at|for|from|daily",
    f"{SERVICE} takes|pulls|has|sees|gets|taking|pulling <who>",
    f"{_W} {RELATIVE} ... taking|takes {_THEM} to|out",
)
AROUND = (
    f"{_W} at|to|in|with|went|going|goes|seeing|sees|visiting|still* the? {NEARBY}",
    f"{_W} sent to the? {NEARBY}",
)
MISSES = (
    f"{_W} miss|misses|missed|missing|skips|skipping|skip|sitting|sits the|out|of|our|last|first|"
    "two|2|this* <time>",
)
