"""A text as the answer to a pending question: by place, by label, by part of a label."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.understanding.asking_back import ALL, BOTH, NO, NOBODY, YES
from bot.understanding.lexicon import NUMBER_WORDS, ORDINAL_WORDS
from bot.understanding.reading import items_of
from bot.understanding.senses import Item, Kind
from bot.understanding.supplies.amounts import amount_at
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import keys, normal, tokenise
from storage.records import Question, Roster

_SAME = {
    YES: "yes y yep yeah yup ya sure ok okay correct right true please do log",
    NO: "no n nope nah not neither none never",
    BOTH: "both all two botj bot bth",
    ALL: "all everyone everybody both",
    NOBODY: "nobody noone none no nope neither",
}
_FILLERS = frozenset((
    "the", "a", "an", "one", "ones", "it", "was", "is", "its", "that", "thats", "i", "mean",
    "meant", "im", "ment", "please", "pls", "just", "of", "them", "sorry", "oh", "group", "bin",
    "definitely", "for", "log", "name", "called", "go", "with", "ok", "yes", "actually",
    "course", "obviously", "option", "number", "choice", "other",
))  # fmt: skip


def choice_meant(text: str, labels: Sequence[str]) -> int | None:
    """The index of the one choice that a text picks, or None where it picks none or several."""
    words = tuple("and" if w in ("n", "&") else w for w in keys(text.replace("&", " and ")))
    if not words or len(words) > 8:
        return None
    for index, label in enumerate(labels):
        if words == keys(label):
            return index
    said = [w for w in words if w not in _FILLERS] or list(words)
    by_meaning = _by_meaning(_without_article(words), labels)
    if by_meaning is None and _lists_all(said, labels):
        return labels.index(BOTH)
    if by_meaning is not None:
        return by_meaning
    by_label = _by_label(said, labels)
    return by_label if by_label is not None else _by_place(text, said, labels)


def agreed(text: str, choices: Sequence[tuple[str, str]]) -> int | None:
    """The one choice that does what was asked about, where the text agrees to it: "yes", "go
    ahead", "yes take it back"; the one that does nothing, where it is turned down: "no keep it".

    A question is open to that if one of its choices does nothing and one does all that is offered.
    """
    turned_down = [n for n, (label, send) in enumerate(choices) if send == "no" and label != NOBODY]
    if len(turned_down) != 1:
        return None
    words = [word for word in keys(text) if word not in _POLITE]
    if words and (set(words) <= _KEEPS):
        return turned_down[0]
    does = [n for n in range(len(choices)) if n != turned_down[0]]
    lines = {line for n in does for line in choices[n][1].splitlines()}
    whole = [n for n in does if set(choices[n][1].splitlines()) == lines]
    if len(whole) != 1 or not keys(text) or len(words) > _LONGEST_YES:
        return None
    takes_back = all(line.startswith("take ") for line in lines)
    said = {word for word in words if word not in _AGREES}
    if not said or (takes_back and said & _TAKES and said <= _TAKES | _IT):
        return whole[0]
    return None


_POLITE = frozenset(("please", "pls", "plz", "thanks", "thx", "oh", "um", "just", "the", "that"))
_AGREES = frozenset((
    "yes", "y", "yep", "yeah", "yup", "ya", "yea", "sure", "ok", "okay", "k", "correct", "right",
    "do", "it", "go", "ahead", "definitely", "exactly", "absolutely",
))  # fmt: skip
_TAKES = frozenset(("take", "remove", "delete", "erase", "uncheck", "back", "off", "out"))
_IT = frozenset(("it", "them", "her", "him", "both", "all", "those", "turn", "turns", "away"))
_KEEPS = frozenset((
    "no", "nope", "nah", "keep", "leave", "it", "them", "her", "him", "there", "dont", "not",
))  # fmt: skip
_LONGEST_YES = 6


def filled(text: str, question: Question, roster: Roster, at: datetime) -> str | None:
    """What a text means that names just what the question is about: "g3", "mia and ben", "all but
    kai", "yellow", "thursday", "the one in group 2"."""
    if len(question.frames) != 1:
        return None
    [(fills, frame, everyone)] = question.frames
    if fills == "amount":
        return _with_amount(text, frame)
    items = items_of(text, roster, at)
    inner = _stripped(items)
    if not inner or len(inner) > _LONGEST_FILL or any(i.kind is Kind.QUERY for i in items):
        return None
    if any(not _fits(i, fills) for i in inner) or inner[0].can_be(Kind.NOT):
        return None
    if not any(i.can_be(*_NEEDED[fills]) for i in inner):
        return None
    by_group = _candidate_in_group(inner, question, roster, at) if fills == "who" else None
    if by_group is not None or _is_bare_number(inner, question):
        return by_group
    words = normal(text)[inner[0].start : inner[-1].end]
    if everyone and inner[0].kind is Kind.EVERYONE:
        words = everyone + normal(text)[inner[0].end : inner[-1].end]
    return frame.replace("{}", words)


def _with_amount(text: str, frame: str) -> str | None:
    """ "12", "there are 12 left", "none": a number for the gap, with few words around it."""
    tokens = tokenise(normal(text))
    if not tokens or len(tokens) > _LONGEST_AMOUNT:
        return None
    if tokens[0].key in ("none", "zero", "nothing"):
        return frame.replace("{}", "0")
    told = [found for at in range(len(tokens)) if (found := amount_at(tokens, at)) is not None]
    said = [amount.value for amount in told if not amount.is_article]
    if len(said) != 1 or said[0] is None or said[0] < 0:
        return None
    return frame.replace("{}", f"{said[0]:g}")


_LONGEST_AMOUNT = 6


def _candidate_in_group(
    inner: Sequence[Item], question: Question, roster: Roster, at: datetime
) -> str | None:
    """ "the one in group 1", where the choices are children of different groups."""
    groups = [i.sense.ids[0] for i in inner if i.kind is Kind.GROUP and i.sense.ids]
    named = [i for i in inner if i.kind is Kind.STUDENT and len(i.sense.ids) == 1]
    if len(groups) != 1 or named:
        return None
    ids = {student.name: student.id for student in roster.students}
    sends = [
        send
        for label, send in question.choices
        if label in ids and roster.group_on(ids[label], at.date()) == groups[0]
    ]
    return sends[0] if len(sends) == 1 else None


def _is_bare_number(inner: Sequence[Item], question: Question) -> bool:
    """A number alone is a choice or nothing, unless groups are to choose from."""
    offers_groups = any(label.startswith("Group ") for label, _ in question.choices)
    return any(item.can_be(Kind.NUMBER) for item in inner) and not offers_groups


_LONGEST_FILL = 24
_WHO = (Kind.STUDENT, Kind.GROUP, Kind.EVERYONE)
_NEEDED = {"who": _WHO, "place": (Kind.BIN, Kind.COLOR), "day": (Kind.DAY,)}
_JOINS = (Kind.AND, Kind.COMMA, Kind.PLUS, Kind.EXCEPT, Kind.BUT, Kind.MARK, Kind.WHOLE)


def _fits(item: Item, fills: str) -> bool:
    allowed = (*_NEEDED[fills], *_JOINS, Kind.PLAIN, *(_WHO if fills == "place" else ()))
    return item.can_be(*allowed)


def _stripped(items: Sequence[Item]) -> list[Item]:
    """Without "oh", "it was", "sorry", "actually" around the answer."""
    around = (Kind.PLAIN, Kind.KEY, Kind.AT, Kind.STOP, Kind.COMMA, Kind.MARK)
    inner = list(items)
    names = (*_WHO, Kind.BIN, Kind.COLOR, Kind.DAY)
    while inner and inner[0].can_be(*around) and not inner[0].can_be(*names, Kind.WHOLE):
        inner.pop(0)
    if inner and inner[0].keys in (("no",), ("nope",)) and len(inner) > 2:
        inner = inner[1:]
        return _stripped(inner)
    while inner and inner[-1].can_be(*around) and not inner[-1].can_be(*names):
        inner.pop()
    return inner


def _without_article(words: Sequence[str]) -> Sequence[str]:
    return words[1:] if words[0] in ("the", "oh", "um") and len(words) > 1 else words


def _lists_all(said: Sequence[str], labels: Sequence[str]) -> bool:
    """ "r and t", "1 and 2", "sofia r and sofia t": both, said one by one."""
    if BOTH not in labels or len(said) < 3 or ("and" not in said and "n" not in said):
        return False
    at = next(i for i, word in enumerate(said) if word in ("and", "n"))
    halves = (said[:at], said[at + 1 :])
    picked = {choice_meant(" ".join(half), labels[:2]) for half in halves if half}
    return picked == {0, 1}


def _by_meaning(words: Sequence[str], labels: Sequence[str]) -> int | None:
    for label in (BOTH, ALL, NOBODY, NO, YES):
        if label in labels and words[0] in _SAME[label].split() and len(words) < 5:
            rest = [w for w in words[1:] if w not in _FILLERS and w not in _SAME[label].split()]
            if not rest:
                return labels.index(label)
    return None


def _by_label(said: Sequence[str], labels: Sequence[str]) -> int | None:
    """Every word said occurs in just one label: "R", "chidi", "sofia t"."""
    fits = [
        index
        for index, label in enumerate(labels)
        if all(word in _label_words(label) for word in said)
    ]
    return fits[0] if len(fits) == 1 else None


def _label_words(label: str) -> set[str]:
    words = keys(label)
    return {*words, "".join(words), *(word + "s" for word in words)}


def _by_place(text: str, said: Sequence[str], labels: Sequence[str]) -> int | None:
    """ "the first", "2nd", "last", "2" where no label holds a number."""
    if len(said) != 1:
        return None
    token = next((t for t in tokenise(normal(text)) if t.key == said[0]), None)
    if token is None:
        return None
    if token.key == "last":
        return max(i for i, label in enumerate(labels) if label not in (BOTH, ALL, NO, NOBODY))
    number = token.number or ORDINAL_WORDS.get(token.key) or NUMBER_WORDS.get(token.key)
    if token.kind is Shape.NUMBER and any(t.isdecimal() for label in labels for t in keys(label)):
        return None
    real = sum(label not in (BOTH, ALL, NO, NOBODY) for label in labels)
    return number - 1 if number is not None and 1 <= number <= real else None
