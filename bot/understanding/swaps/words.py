"""The words of swapping: verbs as pieces of patterns, weeks and days more, words left out. Data."""

from __future__ import annotations

import re

SWAP = (
    "swap|swaps|swapped|swapping|switch|switches|switched|switching|exchange|exchanged|exchanging|"
    "replace|replaces|replaced|replacing|trade|traded|trading|rotate|rotated|rotating|substitute|"
    "substituted|change|changed|changing|flip|flipped|sub|subbed|cycle|cycled"
)
PUT = (
    "put|puts|putting|set|sets|setting|get|gets|getting|got|bring|brings|bringing|brought|place|"
    "placed|roll|hang|lay|move|moved|moving|load|loaded|add|added|introduce|have|want"
)
BEGIN = "open|opens|opened|opening|launch|launched|introduce|start|starts|starting|begin|begins"
TAKE = "take|takes|took|taking|taken|pull|pulls|pulled|pulling|bring|brings|bringing|get|getting"
RETIRE = "retire|retires|retired|retiring|shelve|shelved|shelving|dismantle|dismantled"
CLOSE = (
    "close|closes|closed|closing|end|ends|ending|finish|finishes|shut|shuts|stop|stops|wrap|"
    "wraps|goes away|go away|run out|runs out|expires|close out|closes out|close down|shut down"
)
STAY = (
    "stay|stays|staying|remain|remains|keep|keeps|keeping|leave|leaves|leaving|extend|extends|"
    "extended|extending|run|runs|continue|continues|goes on|go on|lasts|last|hold|prolong"
)
BY = "by|on|to|is|be|of"
LINK = "for|with|w|w/|to|and|&|by|then|,|→|->|2|as|out for"
INTO = "in|into|inside|to|in to"
BIN_OUT = r"(?P<out><bin:\d+>|it|that one|this one|that|them)"
BIN_IN = r"(?P<in><bin:\d+>)"
COLOR = r"(?P<color><color:\d+>)"
OUT = r"(?P<out><(?:bin|color):\d+>|it|that one|this one|that|them)"
IN = r"(?P<in><(?:bin|color):\d+>)"
FEW = (
    r"(?:(?:out|up|open|on|going|has|have|to|is|be|can|could|should|must|for|at least|in|around|go|"
    r"of|day) ){0,3}?"
)
UNTIL = "till|until|til|thru|through"
PART = r"(?:(?:out|over|up|in|around|down|off|back) )*"
EXTENDING = frozenset(("extend", "extends", "extended", "extending", "prolong"))
VERBS = frozenset(f"{PUT}|{TAKE}|{STAY}|{CLOSE}|{BEGIN}|{SWAP}".split("|"))
NUMBERS = {
    "a": 1, "an": 1, "one": 1, "another": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "couple": 2, "extra": 1,
}  # fmt: skip
MORE = re.compile(
    r"(?P<lead>(?:(?:an|another|extra|additional) )+(?=\d|two|three|four|five|six))?"
    r"(?P<n>another|an extra|extra|an? couple more|couple more|\d{1,2}|a|an|one|two|three|four|"
    r"five|six)"
    r"(?P<more> (?:more|extra|additional|other|school))* (?P<unit>weeks?|wks?|days?)"
    r"(?P<longer>(?: (?:longer|more|extra|later))*)"
)
DROPPED = frozenset((
    "the", "my", "our", "your", "their", "his", "her", "please", "pls", "plz", "plse", "just",
    "also", "ok", "okay", "so", "well", "hey", "hi", "hello", "bin", "bins", "box", "boxes",
    "tub", "tubs", "center", "centers", "activity", "station", "kit", "stem", "good", "morning",
    "all", "right", "alright", "actually", "i", "we", "you", "im", "id", "were", "ill", "lets",
    "let", "us", "gonna", "will", "ll", "shall", "need", "want", "wanna", "like", "today",
    "todays", "really", "finally", "now", "anyway", "anyways", "regardless", "even", "still",
    "here", "there", "class", "classroom", "room", "kids", "new", "old", "guys", "thanks",
    "thank", "u", "ya", "yes", "yep", "yeah", "sure", "then", "could", "can", "would",
))  # fmt: skip
KEPT_PLAIN = frozenset((
    "alone",
    "it", "that", "this", "them", "out", "up", "down", "off", "back", "over", "of", "by",
    "from", "as", "in", "next", "one", "be", "was", "is", "last", "first", "has", "have",
    "ready", "away", "day", "days", "week", "weeks", "a", "an", "another", "for",
))  # fmt: skip
