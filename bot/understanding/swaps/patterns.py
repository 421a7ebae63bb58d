"""How people say that bins are swapped: patterns over a line of words, bins, colors and days. Data.

A pattern stands for words in order; `out` is what goes, `in` what comes, `color` where it goes.
"""

from __future__ import annotations

import re

from bot.understanding.swaps.words import (
    BEGIN,
    BIN_IN,
    BIN_OUT,
    BY,
    CLOSE,
    COLOR,
    FEW,
    IN,
    INTO,
    LINK,
    OUT,
    PART,
    PUT,
    RETIRE,
    STAY,
    SWAP,
    TAKE,
    UNTIL,
)


def _compiled(*patterns: str) -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(rf"(?:^|(?<= )){pattern} ".replace("  ", " ")) for pattern in patterns)


EXCHANGES = _compiled(
    rf"(?:{SWAP}) {PART}{COLOR} from {OUT} to {IN}",
    rf"(?:{SWAP}) {PART}{OUT} {PART}(?:(?:{LINK}) )*{PART}{IN}",
    rf"(?:{SWAP}) {PART}{OUT} {PART}(?:(?:and|,|then) )*(?:{PUT}) {PART}{IN}",
    rf"{OUT} (?:is |be |gets |being |getting )?(?:{SWAP}) {PART}(?:(?:{LINK}) )+{IN}",
    rf"{OUT} (?:becomes|becoming|turns into|be|changes to|turns to) {IN}",
    rf"{IN} (?:is |are |to |be )*{PART}(?:instead of|in place of|rather than|takes? over from|"
    rf"taking over from|takes? over for|taking over for|takes? over|replaces|replacing|replace|"
    rf"takes? the place of|taking the place of|fills in for|goes in for|for) {OUT}",
    rf"(?:instead|in place) of {OUT} (?:, )?(?:(?:{PUT}) )?{PART}{IN}",
    rf"(?:{SWAP}|{TAKE}) {PART}{OUT} {PART}(?:(?:and|,|then|so) )*{IN} (?:is |goes |comes )?"
    rf"(?:next|up|in|out)",
    rf"(?:{TAKE}) {PART}{OUT} {PART}(?:(?:and|,|then) )*(?:{PUT}) {PART}{IN}",
    rf"(?:{PUT}) {PART}{IN} {PART}(?:(?:and|,|then) )*(?:{TAKE}) {PART}{OUT}",
    rf"{OUT} (?:comes |goes |is )?(?:out|down|off) (?:(?:and|,|then) )*{IN} "
    rf"(?:comes |goes |is )?(?:in|up|out)",
    rf"{IN} (?:comes |goes |is )?(?:in|up) (?:(?:and|,|then) )*{OUT} "
    rf"(?:comes |goes |is )?(?:out|down|off)",
    rf"(?:out|down) with {OUT} (?:(?:and|,) )*(?:in|up) with {IN}",
    rf"{OUT} (?:→|->|to) {IN}",
    rf"(?:{SWAP}) {PART}{BIN_IN} {PART}(?:(?:{INTO}) )+(?P<out><color:\d+>)",
)
_PUTS = _compiled(
    rf"(?:{PUT}|{BEGIN}) {PART}{BIN_IN} {PART}(?:(?:into|to|inside|as|is|on) )*{COLOR}",
    rf"(?:{PUT}|{BEGIN}) (?:(?:in|into|out|up) )*{COLOR} {PART}(?:with )?{BIN_IN}",
    rf"{BIN_IN} (?:is |be )?(?:goes|go|going|comes|come|coming|moves|opens|starts|begins|lives) "
    rf"{PART}(?:(?:into|to|inside|on) )*{COLOR}",
    rf"{COLOR} (?:is )?(?:gets|getting|takes|has|will have|opens with|starts with|is now) {BIN_IN}",
    rf"{BIN_IN} (?:in|into) {COLOR}",
    rf"{COLOR} (?:is|:|=) {BIN_IN}",
    rf"(?:in|into) {COLOR} (?:(?:put|goes|comes|next) )?{BIN_IN}",
    rf"{BIN_IN} (?:work|works|fit|fits|do) (?:in|for) {COLOR}",
    rf"{COLOR} (?:to be|be|becomes|turns into) {BIN_IN}",
)
_IN_ITS_PLACE = _compiled(
    rf"(?:{PUT}) {PART}{BIN_IN} {PART}(?:in its place|in place|instead|in that)",
    rf"{BIN_IN} (?:goes |comes )?(?:in its place|instead)",
)
_EXTENDS = _compiled(
    rf"(?:extend|extends|prolong) {OUT}",
    rf"(?:{STAY}) {PART}{OUT} {FEW}(?:longer|a while|bit|{UNTIL})",
    rf"{OUT} {FEW}(?:stay|stays|run|remain) {FEW}(?:longer|a while|bit)",
)
_PUTS_OUT = _compiled(
    rf"(?:{PUT}) (?:out|up) {BIN_IN}",
    rf"(?:{PUT}) {BIN_IN} (?:out|up)",
    rf"(?:open|opens|opening|launch|launched|introduce) (?:up )?{BIN_IN}",
    rf"{BIN_IN} (?:is )?(?:goes|go|going|comes|come|coming) (?:out|up|live)",
)
_BEGINS = _compiled(rf"(?:{BEGIN}) {BIN_IN}", rf"{BIN_IN} (?:{BEGIN}|out|up|starts|goes out)")
_DOWNS = _compiled(
    rf"(?:{TAKE}) (?:down|out|off) {OUT}",
    rf"(?:{TAKE}) {OUT} (?:down|out|off|off shelf|back down)",
    rf"(?:{TAKE}) (?:{BIN_OUT}) out of (?P<color><color:\d+>)",
    rf"(?:{RETIRE}) {PART}{OUT}",
    rf"(?:pull|pulled|remove|removed) {OUT}",
    rf"{OUT} (?:is |be |gets |get )?(?:comes|come|coming|goes|go|going|taken|came|went) "
    rf"(?:down|away|off|back on shelf|on shelf|back to shelf|to shelf)",
    rf"{OUT} down",
)
_SHELVES = _compiled(
    rf"(?:put|set|return|move|moved) {OUT} (?:back )?(?:on|onto|in|to) shelf",
    rf"(?:put|set) (?:back )?{OUT} (?:back )?on shelf",
)
_TIDIES = _compiled(
    rf"(?:put|putting|pack|packing|packed|clear) (?:away|up|back) {OUT}",
    rf"(?:put|putting|pack|packing|packed|clear) {OUT} (?:away|up|back)",
)
_STAYS = _compiled(
    rf"(?:{STAY}|{PUT}) {PART}{OUT} {FEW}(?:{UNTIL}|to|up to) <day:\d+>",
    rf"{OUT} {FEW}(?:{STAY}) {FEW}(?:{UNTIL}|to|up to) <day:\d+>",
    rf"{OUT} (?:is |be )?(?:out|open|up|on)? ?(?:{UNTIL}) <day:\d+>",
)
_LONGER = _compiled(
    rf"(?:{STAY}|give|gets|needs|add|adds) {PART}{OUT} {FEW}<more:\d+>",
    rf"{OUT} {FEW}(?:{STAY}|gets|needs|have|has|get|need|could use) {FEW}<more:\d+>",
    rf"(?:(?:{STAY}|give|add) )?<more:\d+> (?:of|for|to|on|with|at) {OUT}",
    rf"{OUT} (?:for |by )?<more:\d+>",
)
_CLOSES = _compiled(
    rf"(?:push|pushed|bump|bumped) (?:(?:back|out) )*{OUT} (?:(?:back|out) )*(?:to|{UNTIL}) "
    rf"<day:\d+>",
    rf"(?:shorten|shortened|trim) {OUT} (?:to|{UNTIL}) <day:\d+>",
    rf"cut {OUT} short (?:(?:,|to|at|with|last day|by|on|is) )*<day:\d+>",
    rf"(?:closing|end|ending|last|final) (?:day|date) (?:(?:of|for|with|at|in) )?{OUT} "
    rf"(?:(?:{BY}|moved|changed) )*<day:\d+>",
    rf"(?:move|moved|change|changed|set|make|shift) {OUT} (?:closing|close|end|"
    rf"closing day|last day|end date|closing date|closes?) {FEW}(?:(?:{BY}|back) )*<day:\d+>",
    rf"(?:{CLOSE}) {PART}{OUT} (?:(?:{BY}|early) )*<day:\d+>",
    rf"{OUT} {FEW}(?:{CLOSE}) {PART}(?:(?:{BY}|early) )*<day:\d+>",
    rf"last day (?:(?:of|for|with|at|in) )?{OUT} (?:(?:{BY}) )*<day:\d+>",
    rf"<day:\d+> (?:is |will be )?(?:last day )(?:(?:of|for|with|at) )?{OUT}",
    rf"{OUT} last day (?:(?:{BY}) )*<day:\d+>",
    rf"(?:{TAKE}) {PART}{OUT} {PART}(?:by) <day:\d+>",
)
_CLOSES_NOW = _compiled(
    rf"(?:close|closes|closed|closing|shut|end) {PART}{OUT}",
    rf"{OUT} (?:is )?(?:closed|ended)",
)
_SWAP_ALONE = _compiled(rf"(?:{SWAP}) {PART}{OUT}", rf"{OUT} (?:needs?|to be|be|is) (?:{SWAP})")

BY_FORM: tuple[tuple[str, tuple[re.Pattern[str], ...]], ...] = (
    ("longer", _LONGER),
    ("exchange", EXCHANGES),
    ("put", _PUTS),
    ("instead", _IN_ITS_PLACE),
    ("stays", _STAYS),
    ("closes", _CLOSES),
    ("down", _SHELVES),
    ("tidy", _TIDIES),
    ("out", _PUTS_OUT),
    ("down", _DOWNS),
    ("begins", _BEGINS),
    ("ends", _CLOSES_NOW),
    ("extend", _EXTENDS),
    ("swap", _SWAP_ALONE),
)

"""What is said -> its patterns, in the order in which they are tried."""
