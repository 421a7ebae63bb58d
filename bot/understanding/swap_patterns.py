"""How people say that bins are swapped: patterns over a line of words, bins, colors and days. Data.

A pattern stands for words in order; `out` is what goes, `in` what comes, `color` where it goes.
"""

from __future__ import annotations

import re

_SWAP = (
    "swap|swaps|swapped|swapping|switch|switches|switched|switching|exchange|exchanged|exchanging|"
    "replace|replaces|replaced|replacing|trade|traded|trading|rotate|rotated|rotating|substitute|"
    "substituted|change|changed|changing|flip|flipped|sub|subbed|cycle|cycled"
)
_PUT = (
    "put|puts|putting|set|sets|setting|get|gets|getting|got|bring|brings|bringing|brought|place|"
    "placed|roll|hang|lay|move|moved|moving|load|loaded|add|added|introduce|have|want"
)
_BEGIN = "open|opens|opened|opening|launch|launched|introduce|start|starts|starting|begin|begins"
_TAKE = "take|takes|took|taking|taken|pull|pulls|pulled|pulling|bring|brings|bringing|get|getting"
_RETIRE = "retire|retires|retired|retiring|shelve|shelved|shelving|dismantle|dismantled"
_CLOSE = (
    "close|closes|closed|closing|end|ends|ending|finish|finishes|shut|shuts|stop|stops|wrap|"
    "wraps|goes away|go away|run out|runs out|expires|close out|closes out|close down|shut down"
)
_STAY = (
    "stay|stays|staying|remain|remains|keep|keeps|keeping|leave|leaves|leaving|extend|extends|"
    "extended|extending|run|runs|continue|continues|goes on|go on|lasts|last|hold|prolong"
)
_ON = "by|on|to|is|be|of"
_LINK = "for|with|w|w/|to|and|&|by|then|,|→|->|2|as|out for"
_INTO = "in|into|inside|to|in to"

_X = r"(?P<out><bin:\d+>|it|that one|this one|that|them)"
_Y = r"(?P<in><bin:\d+>)"
_C = r"(?P<color><color:\d+>)"
_ANY_X = r"(?P<out><(?:bin|color):\d+>|it|that one|this one|that|them)"
_ANY_Y = r"(?P<in><(?:bin|color):\d+>)"
_FEW = (
    r"(?:(?:out|up|open|on|going|has|have|to|is|be|can|could|should|must|for|at least|in|around|go|"
    r"of|day) ){0,3}?"
)
_UNTIL = "till|until|til|thru|through"
_PART = r"(?:(?:out|over|up|in|around|down|off|back) )*"


def _compiled(*patterns: str) -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(rf"(?:^|(?<= )){pattern} ".replace("  ", " ")) for pattern in patterns)


_EXCHANGES = _compiled(
    rf"(?:{_SWAP}) {_PART}{_ANY_X} {_PART}(?:(?:{_LINK}) )*{_PART}{_ANY_Y}",
    rf"(?:{_SWAP}) {_PART}{_ANY_X} {_PART}(?:(?:and|,|then) )*(?:{_PUT}) {_PART}{_ANY_Y}",
    rf"{_ANY_X} (?:is |be |gets |being |getting )?(?:{_SWAP}) {_PART}(?:(?:{_LINK}) )+{_ANY_Y}",
    rf"{_ANY_X} (?:becomes|becoming|turns into|will be|changes to|turns to) {_ANY_Y}",
    rf"{_ANY_Y} {_PART}(?:instead of|in place of|rather than|takes? over from|taking over from|"
    rf"takes? over|replaces|replacing|replace|takes the place of|for) {_ANY_X}",
    rf"(?:{_TAKE}) {_PART}{_ANY_X} {_PART}(?:(?:and|,|then) )*(?:{_PUT}) {_PART}{_ANY_Y}",
    rf"(?:{_PUT}) {_PART}{_ANY_Y} {_PART}(?:(?:and|,|then) )*(?:{_TAKE}) {_PART}{_ANY_X}",
    rf"{_ANY_X} (?:comes |goes |is )?(?:out|down|off) (?:(?:and|,|then) )*{_ANY_Y} "
    rf"(?:comes |goes |is )?(?:in|up|out)",
    rf"{_ANY_Y} (?:comes |goes |is )?(?:in|up) (?:(?:and|,|then) )*{_ANY_X} "
    rf"(?:comes |goes |is )?(?:out|down|off)",
    rf"(?:out|down) with {_ANY_X} (?:(?:and|,) )*(?:in|up) with {_ANY_Y}",
    rf"{_ANY_X} (?:→|->|to) {_ANY_Y}",
    rf"(?:{_SWAP}) {_PART}{_Y} {_PART}(?:(?:{_INTO}) )+(?P<out><color:\d+>)",
)
_PUTS = _compiled(
    rf"(?:{_PUT}|{_BEGIN}) {_PART}{_Y} {_PART}(?:(?:into|to|inside|as|is|on) )*{_C}",
    rf"(?:{_PUT}|{_BEGIN}) (?:(?:in|into|out|up) )*{_C} {_PART}(?:with )?{_Y}",
    rf"{_Y} (?:is |be )?(?:goes|go|going|comes|come|coming|moves|opens|starts|begins|lives) "
    rf"{_PART}(?:(?:into|to|inside|on) )*{_C}",
    rf"{_C} (?:is )?(?:gets|getting|takes|has|will have|opens with|starts with|is now) {_Y}",
    rf"{_Y} (?:in|into) {_C}",
    rf"{_C} (?:is|:|=) {_Y}",
    rf"(?:in|into) {_C} (?:(?:put|goes|comes|next) )?{_Y}",
)
_IN_ITS_PLACE = _compiled(
    rf"(?:{_PUT}) {_PART}{_Y} {_PART}(?:in its place|in place|instead|in that)",
    rf"{_Y} (?:goes |comes )?(?:in its place|instead)",
)
_EXTENDS = _compiled(
    rf"(?:extend|extends|prolong) {_ANY_X}",
    rf"(?:{_STAY}) {_PART}{_ANY_X} {_FEW}(?:longer|a while|bit|{_UNTIL})",
    rf"{_ANY_X} {_FEW}(?:stay|stays|run|remain) {_FEW}(?:longer|a while|bit)",
)
_PUTS_OUT = _compiled(
    rf"(?:{_PUT}) (?:out|up) {_Y}",
    rf"(?:{_PUT}) {_Y} (?:out|up)",
    rf"(?:open|opens|opening|launch|launched|introduce) (?:up )?{_Y}",
    rf"{_Y} (?:is )?(?:goes|go|going|comes|come|coming) (?:out|up|live)",
)
_BEGINS = _compiled(rf"(?:{_BEGIN}) {_Y}", rf"{_Y} (?:{_BEGIN}|out|up|starts|goes out)")
_DOWNS = _compiled(
    rf"(?:{_TAKE}) (?:down|out|off) {_ANY_X}",
    rf"(?:{_TAKE}) {_ANY_X} (?:down|out|off|off shelf|back down)",
    rf"(?:{_TAKE}) (?:{_X}) out of (?P<color><color:\d+>)",
    rf"(?:{_RETIRE}) {_PART}{_ANY_X}",
    rf"(?:pull|pulled|remove|removed) {_ANY_X}",
    rf"{_ANY_X} (?:is |be |gets |get )?(?:comes|come|coming|goes|go|going|taken|came|went) "
    rf"(?:down|away|off|back on shelf|on shelf|back to shelf|to shelf)",
    rf"{_ANY_X} down",
    rf"(?:put|set|return|move) {_ANY_X} (?:back )?(?:on|onto|in|to) shelf",
    rf"(?:put|set) (?:back )?{_ANY_X} (?:back )?on shelf",
)
_TIDIES = _compiled(
    rf"(?:put|putting|pack|packing|packed|clear) (?:away|up|back) {_ANY_X}",
    rf"(?:put|putting|pack|packing|packed|clear) {_ANY_X} (?:away|up|back)",
)
_STAYS = _compiled(
    rf"(?:{_STAY}|{_PUT}) {_PART}{_ANY_X} {_FEW}(?:{_UNTIL}|to|up to) <day:\d+>",
    rf"{_ANY_X} {_FEW}(?:{_STAY}) {_FEW}(?:{_UNTIL}|to|up to) <day:\d+>",
    rf"{_ANY_X} (?:is |be )?(?:out|open|up|on)? ?(?:{_UNTIL}) <day:\d+>",
)
_LONGER = _compiled(
    rf"(?:{_STAY}|give|gets|needs|add|adds) {_PART}{_ANY_X} {_FEW}<more:\d+>",
    rf"{_ANY_X} {_FEW}(?:{_STAY}|gets|needs|have|has|get|need|could use) {_FEW}<more:\d+>",
    rf"(?:(?:{_STAY}|give|add) )?<more:\d+> (?:of|for|to|on|with|at) {_ANY_X}",
    rf"{_ANY_X} (?:for |by )?<more:\d+>",
)
_CLOSES = _compiled(
    rf"(?:{_CLOSE}) {_PART}{_ANY_X} (?:(?:{_ON}|early) )*<day:\d+>",
    rf"{_ANY_X} {_FEW}(?:{_CLOSE}) {_PART}(?:(?:{_ON}|early) )*<day:\d+>",
    rf"last day (?:(?:of|for|with|at|in) )?{_ANY_X} (?:(?:{_ON}) )*<day:\d+>",
    rf"<day:\d+> (?:is |will be )?(?:last day )(?:(?:of|for|with|at) )?{_ANY_X}",
    rf"{_ANY_X} last day (?:(?:{_ON}) )*<day:\d+>",
    rf"(?:move|moved|change|changed|set|push|pushed|make|shift) {_ANY_X} (?:closing|close|end|"
    rf"closing day|last day|end date|closing date|closes?) {_FEW}(?:(?:{_ON}|back) )*<day:\d+>",
    rf"(?:{_TAKE}) {_PART}{_ANY_X} {_PART}(?:by) <day:\d+>",
)
_CLOSES_NOW = _compiled(
    rf"(?:close|closes|closed|closing|shut|end) {_PART}{_ANY_X}",
    rf"{_ANY_X} (?:is )?(?:closed|ended)",
)
_SWAP_ALONE = _compiled(
    rf"(?:{_SWAP}) {_PART}{_ANY_X}", rf"{_ANY_X} (?:needs?|to be|be|is) (?:{_SWAP})"
)

BY_FORM: tuple[tuple[str, tuple[re.Pattern[str], ...]], ...] = (
    ("longer", _LONGER),
    ("exchange", _EXCHANGES),
    ("put", _PUTS),
    ("instead", _IN_ITS_PLACE),
    ("stays", _STAYS),
    ("closes", _CLOSES),
    ("tidy", _TIDIES),
    ("out", _PUTS_OUT),
    ("down", _DOWNS),
    ("begins", _BEGINS),
    ("ends", _CLOSES_NOW),
    ("extend", _EXTENDS),
    ("swap", _SWAP_ALONE),
)
"""What is said -> its patterns, in the order in which they are tried."""

NUMBERS = {
    "a": 1, "an": 1, "one": 1, "another": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "couple": 2, "extra": 1,
}  # fmt: skip
MORE = re.compile(
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
