"""Days as people write them, against the day on which they were written."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from rapidfuzz.distance import OSA

from bot.understanding.dates import MONTHS, WEEKDAYS, date_of, find_date, month_date, nth
from bot.understanding.lexicon import NUMBER_WORDS
from bot.understanding.senses import Kind, Sense
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token

_NAMES_TOO = frozenset(
    ("sat", "sun", "may", "mar", "april", "june", "august", "jan", "jun", "march", "wed")
)
_TODAY = (
    ("today",),
    ("this", "morning"),
    ("this", "afternoon"),
    ("todays",),
    ("2", "day"),
    ("earlier", "today"),
)
_YESTERDAY = (
    ("yesterday",),
    ("yesterdays",),
    ("yest",),
    ("yday",),
    ("yesturday",),
    ("yeserday",),
    ("yestrday",),
    ("last", "night"),
)
_TOMORROW = (
    ("tomorrow",),
    ("tmrw",),
    ("tomorow",),
    ("tommorow",),
    ("tommorrow",),
    ("tmr",),
    ("tomorrows",),
    ("tmw",),
    ("tmmrw",),
    ("tomoro",),
    ("tomorro",),
    ("2", "morrow"),
    ("2", "moro"),
    ("2", "mrw"),
)
PAST, EITHER, NEXT, VAGUE = "past", "either", "next", "vague"
NEXT_OR_AFTER = "next or the one after"  # "next friday", on a tuesday: in three days or in ten?
_VAGUE: tuple[tuple[str, ...], ...] = (
    ("last", "week"), ("the", "other", "day"), ("other", "day"), ("a", "while", "ago"),
    ("while", "back"), ("a", "while", "back"), ("last", "month"), ("last", "year"),
    ("last", "time"),
    ("some", "day"), ("one", "day"), ("earlier", "this", "week"), ("this", "week"),
    ("a", "few", "days", "ago"), ("few", "days", "ago"), ("days", "ago"),
    ("a", "couple", "days", "ago"), ("a", "couple", "of", "days", "ago"), ("the", "weekend"),
    ("over", "the", "weekend"),
)  # fmt: skip
_VAGUE_BY_WORD = {first: tuple(p for p in _VAGUE if p[0] == first) for first, *_ in _VAGUE}
_PLAIN_DAYS: dict[str, tuple[tuple[tuple[str, ...], int], ...]] = {
    first: tuple(
        (phrase, offset)
        for phrases, offset in ((_TODAY, 0), (_YESTERDAY, -1), (_TOMORROW, 1))
        for phrase in phrases
        if phrase[0] == first
    )
    for phrases in (_TODAY, _YESTERDAY, _TOMORROW)
    for first, *_ in phrases
}
_DAY_WORDS = ("yesterday", "tomorrow", *(w for w in WEEKDAYS if len(w) > 5))


def find_day(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """A day that begins at this token, with the number of tokens it takes.

    The sense's word tells how a weekday is to be taken: "past" (last thu), "next" (next thu), or
    "either", which the request decides: the last one for logs, the coming one for plans; its value
    is the last one that is not in the future.
    """
    token = tokens[at]
    words = tuple(t.key for t in tokens[at : at + 4])
    letter = _letter(tokens, at, today)
    if letter is not None:
        return letter
    if token.kind is Shape.DATE:
        if at + 1 < len(tokens) and tokens[at + 1].key == "of":
            return Sense(Kind.PARTIAL, word=token.key), 2  # "3/4 of g3"
        if token.key == "1/2" and at + 1 < len(tokens) and tokens[at + 1].key in ("day", "days"):
            return Sense(Kind.PARTIAL, word="half"), 1
        day = date_of(token.key, today)
        return Sense(Kind.DAY, word="date" if day else VAGUE, value=day), 1
    if token.kind not in (Shape.WORD, Shape.NUMBER, Shape.ORDINAL):
        return None
    for phrase, offset in _PLAIN_DAYS.get(words[0], ()):
        is_spelt = phrase[0] != "2" or (at + 1 < len(tokens) and tokens[at + 1].glued)
        if words[: len(phrase)] == phrase and is_spelt:
            return _relative(today, offset), len(phrase)
    if words[:4] == ("the", "day", "before", "yesterday"):
        return _relative(today, -2), 4
    if words[:3] == ("day", "before", "yesterday"):
        return _relative(today, -2), 3
    for vague in _VAGUE_BY_WORD.get(words[0], ()):
        if tuple(t.key for t in tokens[at : at + len(vague)]) == vague:
            return Sense(Kind.DAY, word=VAGUE), len(vague)
    return (
        find_date(tokens, at, today)
        or _ago(words, today)
        or _week_from(tokens, at, today)
        or _weekday(words, tokens, at, today)
        or month_date(words, tokens, at, today)
    )


_LETTERS = {"m": 0, "t": 1, "tu": 1, "w": 2, "w/": 2, "r": 3, "th": 3, "f": 4}


def _letter(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """ "m/w/f", "t/th": days by their letters, between slashes."""
    number = _LETTERS.get(tokens[at].key)
    if number is None:
        return None
    after = [token.key for token in tokens[at + 1 : at + 3]]
    before = [token.key for token in tokens[max(0, at - 2) : at]]
    opens = after[:1] == ["/"] and len(after) > 1 and after[1] in _LETTERS
    opens = opens or (tokens[at].key == "w/" and bool(after) and after[0] in ("f", "th", "r"))
    ends = before[-1:] == ["/"] and len(before) > 1 and before[0] in _LETTERS
    ends = ends or before[-1:] == ["w/"]
    if not (opens or ends):
        return None
    back = (today.weekday() - number) % 7
    return Sense(Kind.DAY, word=EITHER, value=today - timedelta(days=back)), 1


def near_day_word(word: str) -> str | None:
    """The day word that this is a slip of: "ystrday", "wensday"."""
    if len(word) < 5:
        return None
    limit = 1 if len(word) < 7 else 2
    found = sorted((OSA.distance(word, other), other) for other in _DAY_WORDS)
    best = found[0]
    if best[0] > limit or (found[1][0] == best[0]) or best[1][0] != word[0]:
        return None
    return best[1]


def weekday(name: str) -> int | None:
    """Monday = 0 for a weekday's name or its usual short forms."""
    return WEEKDAYS.get(name)


def _relative(today: date, offset: int) -> Sense:
    word = {0: "today", -1: PAST, -2: PAST, 1: NEXT}[offset]
    return Sense(Kind.DAY, word=word, value=today + timedelta(days=offset))


def _week_from(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """ "a week from friday", "one week from today"."""
    words = [token.key for token in tokens[at : at + 4]]
    if words[0] not in ("a", "one", "1") or words[1:3] != ["week", "from"] or len(words) < 4:
        return None
    offset = {"today": 0, "tomorrow": 1, "tmrw": 1}.get(words[3])
    number = WEEKDAYS.get(words[3])
    if offset is None and number is None:
        return None
    ahead = offset if offset is not None else (number or 0) - today.weekday()
    days = 7 + (ahead if offset is not None else ahead % 7)
    return Sense(Kind.DAY, word="date", value=today + timedelta(days=days)), 4


def _ago(words: tuple[str, ...], today: date) -> tuple[Sense, int] | None:
    if len(words) < 3 or words[2] != "ago":
        return None
    count = 1 if words[0] in ("a", "one") else NUMBER_WORDS.get(words[0])
    if count is None and words[0].isdecimal():
        count = int(words[0])
    days = {"day": 1, "days": 1, "week": 7, "weeks": 7}.get(words[1])
    if count is None or days is None or count * days > 3650:
        return None
    return Sense(Kind.DAY, word=PAST, value=today - timedelta(days=count * days)), 3


def _weekday(
    words: tuple[str, ...], tokens: Sequence[Token], at: int, today: date
) -> tuple[Sense, int] | None:
    lead = 1 if words[0] in ("last", "next", "this", "past", "on", "coming") else 0
    if words[:2] in (("this", "past"), ("this", "coming"), ("on", "last"), ("on", "next")):
        lead = 2
    if len(words) <= lead or words[lead] not in WEEKDAYS:
        return None
    if lead == 0 and words[0] in _NAMES_TOO and not _is_short_for_day(tokens, at):
        return None
    number = WEEKDAYS[words[lead]]
    back = (today.weekday() - number) % 7
    said = words[lead - 1] if lead else ""
    named = _weekday_with_date(tokens, at + lead + 1, today)
    if named is not None:
        return named[0], lead + 1 + named[1]
    if said in ("last", "past"):
        # "last monday", on a tuesday: yesterday, or a week before that?
        word = VAGUE if back == 1 and words[0] != "this" else PAST
        return Sense(Kind.DAY, word=word, value=today - timedelta(days=back or 7)), lead + 1
    if said == "next":
        return _next_weekday(tokens, number, today), lead + 1
    if said == "coming":
        return Sense(Kind.DAY, word=NEXT, value=today + timedelta(days=7 - back)), lead + 1
    word = VAGUE if back == 0 and said != "this" else EITHER
    return Sense(Kind.DAY, word=word, value=today - timedelta(days=back)), lead + 1


def _next_weekday(tokens: Sequence[Token], number: int, today: date) -> Sense:
    """ "next monday" on a tuesday is the coming one; "next friday" on that tuesday may be either of
    two; nobody calls tomorrow so."""
    monday = today - timedelta(days=today.weekday())
    later = monday + timedelta(days=7 + number)
    coming = later - timedelta(days=7 if number > today.weekday() else 0)
    said = " ".join(token.key for token in tokens)
    if coming == later and today.weekday() < 5:
        return Sense(Kind.DAY, word=NEXT, value=later)
    if coming == later:
        return Sense(Kind.DAY, word=NEXT_OR_AFTER, value=coming)  # said at a weekend
    if "next week" in said or (coming - today).days == 1:
        return Sense(Kind.DAY, word=NEXT, value=later)
    return Sense(Kind.DAY, word=NEXT_OR_AFTER, value=coming)


def _weekday_with_date(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """ "monday the 30th", "fri 11/20", "friday, nov 20": the date counts."""
    if at < len(tokens) and tokens[at].text == ",":
        found = _weekday_with_date(tokens, at + 1, today)
        return None if found is None else (found[0], found[1] + 1)
    if at >= len(tokens):
        return None
    words = tuple(t.key for t in tokens[at : at + 4])
    if tokens[at].kind is Shape.DATE:
        day = date_of(tokens[at].key, today)
        return None if day is None else (Sense(Kind.DAY, word="date", value=day), 1)
    return nth(tokens, at, today) or month_date(words, tokens, at, today)


def _is_short_for_day(tokens: Sequence[Token], at: int) -> bool:
    """ "sat", "sun", "wed" alone: a day only where nothing else stands behind it that it could
    do."""
    after = tokens[at + 1].kind if at + 1 < len(tokens) else Shape.BREAK
    before = tokens[at - 1].key if at else ""
    if tokens[at].key == "wed" and _is_wednesday(tokens, at, before):
        return True
    return before in ("on", "for", "from", "since", "until", "till", "by") or after is Shape.BREAK


def _is_wednesday(tokens: Sequence[Token], at: int, before: str) -> bool:
    """ "wed" beside other days and times; else it may be "we'd"."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is None or after.kind in (Shape.TIME, Shape.DATE, Shape.NUMBER):
        return True
    if before in ("tues", "tue", "tuesday", "mon", "monday", "thru", "through", "-", "next"):
        return True
    return after.key in _BEHIND_DAY or after.key in WEEKDAYS or after.key in MONTHS


_BEHIND_DAY = frozenset((
    "at", "and", "&", "-", "–", ",", "/", ".", "!", "?", "to", "thru", "through", "till", "until",
    "morning", "afternoon", "from", "only", "next", "too", "for", "of", "the", "instead", "or",
    "because", "bc", "due", "noon", "a", "am", "p", "pm",
))  # fmt: skip
