"""What became of a supply, by the cues of one part."""

from __future__ import annotations

from bot.understanding.clause import Clause
from bot.understanding.supplies.cues import Cue
from bot.understanding.supplies.kit import CLOSE, GENERIC
from bot.understanding.supplies.parts import Part
from bot.understanding.supplies.signs import Is, Sign

_GETTING = frozenset((
    "copy", "buy", "print", "order", "ordered", "ordering", "get", "make", "bring", "restock",
    "refill", "add", "put",
))  # fmt: skip
_FILLS = frozenset((
    "restocked", "restock", "refilled", "refill", "replenished", "topped up", "topped off",
    "filled", "filled up", "stocked", "stocked up",
))  # fmt: skip
_KEEPS = frozenset(("keep", "kept", "stay", "stays", "stayed", "pull", "pulled", "take", "took"))
_BEFORE_THING = frozenset(
    ("the", "our", "my", "all", "any", "more", "of", "good", "clean", "those")
)
_NO_STOCK = frozenset((
    "time", "order", "control", "steam", "energy", "patience", "breath", "school", "town", "room",
    "class", "sorts", "bounds", "reach", "hand", "here", "place", "luck", "ideas", "shape", "it",
    "them", "us", "everyone", "everybody", "group", "line", "bed", "nowhere", "date", "sync",
))  # fmt: skip
_PER = frozenset(("per", "each", "every", "apiece"))
_HERE = frozenset(("came", "came in", "came today", "arrived", "delivered", "were delivered"))
_SHOPS = frozenset(("store", "shop", "market", "grocery", "groceries", "online", "sale"))
_MINE = ("i got", "just got", "i just got", "we just got")  # went and got, not "we've got"


def became(part: Part, clause: Clause) -> str | None:
    """counted, added, found, lost, discarded, wanted, out, future, used, bare, or unclear where it
    may be several; None where it is no report."""
    timed = (
        part.counts_time and not part.amounts and part.says(Cue.NEED, Cue.MORE, Cue.ADD, Cue.GOT)
    )
    if part.says(Cue.ENOUGH) or timed:
        return None
    return _went(part) or _came_or_counted(part, clause)


def _went(part: Part) -> str | None:
    """What there is less of, or too little."""
    number, who = bool(part.amounts), bool(part.who)
    if part.says(Cue.LOW):
        return "counted" if _is_count_of_few(part) else "wanted"
    if part.says(Cue.OUT):
        if _is_out_of_else(part) or (who and all(item.is_also_bin for item in part.items)):
            return "lost" if part.has_number and part.says(Cue.LOST) else None
        if who and any(s.key in _KEEPS for s in part.signs):
            return None  # "keep mia out of dough"
        return "lost" if part.has_number and part.says(Cue.LOST) else "out"
    if _is_down_by(part) and part.items and not who:
        return "lost"
    if part.says(Cue.DOWN_TO) or (part.says(Cue.LEFT) and number):
        return "counted"
    if part.says(Cue.LAST) and part.says(Cue.LOST, Cue.ADD, Cue.DISCARD, Cue.USED):
        return "out"
    if part.says(Cue.LAST) and _follows_last(part):
        return "counted"
    if part.says(Cue.NEED):
        return None if who or (part.strange and not part.bins) else "wanted"
    if part.says(Cue.DISCARD):
        return "lost" if number else "discarded"
    if part.says(Cue.FOUND):
        return "counted" if part.has_number and _says(part, "only") else "found"
    if part.says(Cue.LOST, Cue.SHORT):
        return "unclear" if part.says(Cue.ADD) else "lost"
    if part.says(Cue.GONE):
        return "lost" if number else "out"
    if part.says(Cue.USED):
        return "used" if number and not who else None
    return None


def _is_out_of_else(part: Part) -> bool:
    """ "out of time at the loom", "out of the 4 of them"."""
    for at, sign in enumerate(part.signs):
        if sign.cue is not Cue.OUT or not sign.key.endswith(" of"):
            continue
        ahead = [s for s in part.signs[at + 1 :] if s.key not in _BEFORE_THING]
        if not ahead:
            return False
        at_time = len(ahead) > 1 and ahead[1].key in _NO_STOCK  # "out of clay time"
        return ahead[0].key in _NO_STOCK or ahead[0].what is Is.AMOUNT or at_time
    return False


def _is_down_by(part: Part) -> bool:
    """ "down two mallets", "we're down a mallet"; not "down to 2"."""
    return any(at > 0 and part.signs[at - 1].key in ("down", "minus") for at, _ in part.amounts)


def _follows_last(part: Part) -> bool:
    """ "on my last 2 bags"."""
    return any(at > 0 and part.signs[at - 1].cue is Cue.LAST for at, _ in part.amounts)


def _is_count_of_few(part: Part) -> bool:
    """ "running low, 3 left", "low on sticks (5)"; not "low, need 5"."""
    if not part.has_number or part.says(Cue.NEED):
        return False
    ends = part.amounts[-1][0] == max(
        at for at, s in enumerate(part.signs) if any(c.isalnum() for c in s.key)
    )
    return ends or part.says(Cue.LEFT, Cue.DOWN_TO, Cue.HAVE)


def _came_or_counted(part: Part, clause: Clause) -> str | None:
    number, who = bool(part.amounts), bool(part.who)
    if part.says(Cue.WILL) and not any(s.key in _HERE for s in part.signs):
        return "future" if part.items and not who and _speaks_of_getting(part) else None
    if part.says(Cue.ADD) or (part.says(Cue.OPEN) and part.has_pack):
        if number:
            return "counted" if _fills_to(part) else "added"
        named = part.bins or any(item.how not in (GENERIC, CLOSE) for item in part.items)
        return "added" if named and not who and not part.strange else None
    return None if who else _counted(part, clause)


def _counted(part: Part, clause: Clause) -> str | None:
    if any(s.key in _PER for s in part.signs) or _is_said_of_them(part):
        return None
    if not part.amounts:
        return "added" if part.says(Cue.GOT) and part.says(Cue.MORE) and part.items else None
    if part.says(Cue.MORE) or _says(part, "another") or _is_plus(part):
        return "added"
    if part.says(Cue.GOT):
        return "added" if _was_fetched(part) else "bare"
    if part.says(Cue.HAVE, Cue.TOTAL):
        return "counted"
    if any(_may_be_group(part, item, clause) for item in part.items):
        return None  # "4 dough": who was there, not how much there is
    named = any(item.how not in (GENERIC, CLOSE) for item in part.items)
    if not part.items or part.strange:
        return None
    if named and _is_all_said(part, clause):
        return "counted"
    return "bare" if part.bins or (named and _is_whole_text(clause)) else None


def _is_said_of_them(part: Part) -> bool:
    """ "one of the jugs has a crack": no count of jugs."""
    items = [at for at, s in enumerate(part.signs) if s.what is Is.ITEM]
    for at, sign in enumerate(part.signs):
        if sign.cue is Cue.HAVE and items and items[0] < at < len(part.signs) - 1:
            counted = any(n < items[0] for n, _ in part.amounts)
            if counted and not any(n > at for n, a in part.amounts if not a.is_article):
                return True
    return False


def _is_all_said(part: Part, clause: Clause) -> bool:
    """ "spools: 7", "toy cars 8": the item and its number are all that the sentence says."""
    first, last = clause.items[0], clause.items[-1]
    before, after = clause.text[: first.start].rstrip(" "), clause.text[last.end :].lstrip(" ")
    alone = before[-1:] in ("", ".", "!", "\n", ";") and after[:1] in ("", ".", "!", "\n", ";")
    into = any(s.key in ("for", "to", "into", "with", "from") for s in part.signs)
    leads = part.signs[0].what is Is.ITEM or _is_whole_text(clause)
    return alone and leads and part.is_plain and not part.cues and not into and not part.has_pack


def _is_whole_text(clause: Clause) -> bool:
    """ "20 counters" behind "g2 did balance with" is no report; by itself it may be one."""
    around = clause.text[: clause.items[0].start] + clause.text[clause.items[-1].end :]
    return not any(letter.isalnum() for letter in around)


def _may_be_group(part: Part, item: Sign, clause: Clause) -> bool:
    """ "flashlights 4" where that is a bin too, and 4 is a group or a child's code."""
    if not item.is_also_bin:
        return False
    roster = clause.roster
    numbers = {g.name for g in roster.groups} | {s.code for s in roster.students if s.code}
    return any(a.value is None or str(int(a.value)) in numbers for _, a in part.amounts)


def _was_fetched(part: Part) -> bool:
    """ "i got 20 eggs", "got a dozen", "got 5 from the office"; "we got 5" may be what there is."""
    says = {word for sign in part.signs for word in sign.key.split()}
    by_me = any(s.cue is Cue.GOT and s.key in _MINE for s in part.signs)
    return by_me or part.has_pack or bool(says & {"dozen", "from", *_SHOPS})


def _fills_to(part: Part) -> bool:
    """ "restocked pine cones to 20": so many there are then."""
    at = part.amounts[0][0]
    fills = any(s.cue is Cue.ADD and s.key in _FILLS for s in part.signs)
    return fills and at > 0 and part.signs[at - 1].key == "to"


def _is_plus(part: Part) -> bool:
    return any(s.key == "+" for s in part.signs)


def _says(part: Part, word: str) -> bool:
    return any(sign.key == word for sign in part.signs)


def _speaks_of_getting(part: Part) -> bool:
    return any(word in _GETTING for sign in part.signs for word in sign.key.split())
