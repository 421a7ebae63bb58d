"""Whether a clause asks: a question mark, a question word in front, "has mia ...", "... did she".

What leads into a question is passed over ("quick q before the bell, ...", "can you tell me who
..."); behind words of knowing or telling, a question word asks wherever it stands.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.understanding.segments import is_mention, is_place, is_subject
from bot.understanding.senses import Item, Kind

_HAVE = ("did", "has", "have", "was", "were", "is", "does")
_WONDERS = re.compile(
    r"\b(wonder\w*|know|remember|sure|check|see|tell me|forget|forgot|ask|recall) (if|whether)\b"
    r"|^had \S+( \S+)? (been|done|gone|finished|visited|ever)\b"
    r"|^(?:so |ok |hey )?(?:was|wasnt|is|isnt) it <> (?:who|that)\b"
    r"|\bwhether or not\b"
)
_TELLS = frozenset((
    "tell", "know", "knows", "remind", "remember", "forgot", "forget", "see", "show", "check",
    "checking", "wondering", "wonder", "curious", "find", "figure", "idk", "sure", "unsure", "list",
    "name", "say", "question", "q", "ask", "asking", "recall", "need",
))  # fmt: skip
_TOLD = frozenset(("me", "us", "again", "real", "quick", "out", "just", "exactly", "about", "to"))
_LEADS = frozenset(("and", "so", "but", "also", "q", "question", "checking", "wondering", "then"))
_TAG = re.compile(
    r"\b(?:didnt|hasnt|havent|isnt|arent|wasnt|werent|dont|doesnt|wont) (?:she|he|they|it|we|you|i)"
    r"(?: yet| already)?$"
    r"|(?<!so )\b(?:has|have|did|does|do|is|are|was|were) (?:she|he|they)(?: yet)?$"
)
_IS, _ITS = ("is", "are", "was", "were", "does", "isnt"), ("my", "the", "your", "these", "our")
_PRONOUNS = ("i", "we", "they", "it", "there", "she", "he", "anyone", "anybody", "someone")


def asks(items: Sequence[Item]) -> bool:
    """Whether the clause of these items is a question."""
    said = [item for item in items if item.kind not in (Kind.COMMA, Kind.MARK)]
    if any(item.kind is Kind.QUERY for item in said):
        return True
    words = " ".join("<>" if is_mention(i) else " ".join(i.keys) for i in said)
    if _WONDERS.search(words) or _TAG.search(words):
        return True
    return _opens(said) or any(_opens(part) for part in _behind_leads(items)) or _tells_what(items)


def _opens(said: Sequence[Item]) -> bool:
    """Whether a question begins here, a few plain words before it apart."""
    spoken = [i for i in said if i.kind is not Kind.PLAIN or i.can_be(Kind.ASK, Kind.AUX)]
    if not spoken:
        return False
    first, second = spoken[0], spoken[1] if len(spoken) > 1 else None
    if first.can_be(Kind.ASK):
        return True
    if first.keys[:1] == ("so",) and second is not None and is_subject(second):
        return any(map(is_place, said))  # "so did mia get to ramps", not "so did mia"
    if second is None or not first.can_be(Kind.AUX):
        return False
    words = [key for item in said for key in item.keys]
    if words[1:2] == ["you"] and first.keys[-1] in _HAVE:
        return True  # "did you log g3?", but "can you log g3"
    if words[0] in _IS and words[1] in _ITS and not is_subject(said[0]):
        return True
    if is_subject(second) or second.can_be(Kind.ASK) or " ".join(words[1:2]) in _PRONOUNS:
        return True
    return second.kind is Kind.UNKNOWN and first.keys[-1] in _HAVE


def _behind_leads(items: Sequence[Item]) -> list[list[Item]]:
    """What stands behind a comma, or behind "so" or "just checking", with nobody named before."""
    parts = []
    for at, item in enumerate(items):
        if is_mention(item):
            break
        if item.kind is Kind.COMMA or (item.keys[-1:] and item.keys[-1] in _LEADS):
            parts.append([i for i in items[at + 1 :] if i.kind not in (Kind.COMMA, Kind.MARK)])
    return parts


def _tells_what(items: Sequence[Item]) -> bool:
    """ "i forgot where g5 goes", "pls tell who needs loom"."""
    for at, item in enumerate(items):
        if is_mention(item):
            return False
        if not item.can_be(Kind.ASK):
            continue
        before = [key for i in items[:at] for key in (i.word.split() if i.word else i.keys)]
        while before and before[-1] in _TOLD:
            before.pop()
        if before and before[-1] in _TELLS:
            return True
    return False
