"""Times of day and rotations as people write and say them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time

from bot.understanding.lexicon import LEXICON, NUMBER_WORDS, ORDINAL_WORDS, TENS_WORDS
from bot.understanding.senses import Kind, Sense
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token

_SLOT_WORDS = frozenset(("rotation", "rotations", "round", "slot", "rot", "session"))
_FIRST_SCHOOL_HOUR = 7  # "1:10" is in the afternoon, "7:30" in the morning; common practice
_NOON = frozenset(("noon", "midday", "noontime"))
_AT = frozenset((
    "at", "by", "until", "till", "til", "before", "after", "from", "around", "about", "since", "@",
    "between", "past",
))  # fmt: skip
"""Words before a time: what may be a group or a count elsewhere is a time behind them."""
_THE = frozenset((
    "the", "our", "no", "skip", "skipped", "skipping", "cancel", "cancelled", "canceled", "lost",
    "todays", "tomorrows", "today", "tomorrow",
))  # fmt: skip
"""Words before the name of a rotation: "skip the ten ten"."""
_AT_HOUR = frozenset(("at", "around", "about", "@"))
_BEHIND_HOUR = frozenset((
    "today", "tomorrow", "tmrw", "tmw", "so", "for", "because", "bc", "on", "monday", "tuesday",
    "wednesday", "thursday", "friday", "mon", "tues", "tue", "wed", "thurs", "thu", "fri",
    "please", "pls", "this", "and", "but", "instead", "then", "sharp", "with", "next", "every",
    "to", "till", "until", "from", "since", "if", "we", "she", "he", "they", "when", "which",
    "due",
))  # fmt: skip
_NO_TIME_BEHIND = frozenset((
    "group", "groups", "grp", "g", "team", "table", "room", "page", "grade", "bin", "tub", "$",
))  # fmt: skip
_TEENS = {
    "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
_PART_OF_HOUR = {"half": 30, "quarter": 15, "five": 5, "twenty": 20, "ten": 10, "5": 5, "10": 10}
_PAST = frozenset(("past", "after"))
_SHORT_OF = frozenset(("to", "till", "til", "of"))


def find_time(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """A clock time or a rotation that begins at this token, with the number of tokens it takes."""
    token = tokens[at]
    if token.kind is Shape.TIME:
        moment = read_time(token.key)
        return None if moment is None else _time(moment, tokens, at, 1)
    if token.key in _NOON:
        return Sense(Kind.TIME, value=time(12, 0)), 1
    if token.kind is Shape.WORD and token.key.endswith("ish") and token.key[:-3] in NUMBER_WORDS:
        return _hour(NUMBER_WORDS[token.key[:-3]], 0, tokens, at, 1)
    if at + 1 >= len(tokens):
        return _spoken(tokens, at)
    return _slot(tokens, at) or _spoken(tokens, at)


def _slot(tokens: Sequence[Token], at: int) -> tuple[Sense, int] | None:
    """ "second rotation", "rotation 2", "the last round"."""
    token, following = tokens[at], tokens[at + 1]
    listed = following.key in ("and", "&", ",", "or") and at + 3 < len(tokens)
    if listed and tokens[at + 3].key in _SLOT_WORDS:
        orders = [
            t.number if t.kind is Shape.ORDINAL else ORDINAL_WORDS.get(t.key)
            for t in (token, tokens[at + 2])
        ]
        if None not in orders:
            return Sense(Kind.SLOT, value=orders[0]), 1  # "second and third rotation"
    order = token.number if token.kind is Shape.ORDINAL else ORDINAL_WORDS.get(token.key)
    if token.key == "last" and following.key in _SLOT_WORDS:
        return Sense(Kind.SLOT, value=-1), 2
    if order is not None and following.key in _SLOT_WORDS:
        return Sense(Kind.SLOT, value=order), 2
    if token.key in _SLOT_WORDS and following.kind is Shape.NUMBER:
        return Sense(Kind.SLOT, value=following.number), 2
    return None


def _spoken(tokens: Sequence[Token], at: int) -> tuple[Sense, int] | None:
    """ "half past ten", "ten fifteen", "ten o'clock", "at 1045", "at 10 50", "1ish"."""
    before = tokens[at - 1].key if at else ""
    if before in _NO_TIME_BEHIND:
        return None
    return (
        _past_or_to(tokens, at, led=before in _AT)
        or _hour_named(tokens, at)
        or _hour_and_minutes(tokens, at, led=before in _AT or before in _THE)
        or (_bare_hour(tokens, at) if before in _AT_HOUR else None)
    )


def _past_or_to(tokens: Sequence[Token], at: int, *, led: bool) -> tuple[Sense, int] | None:
    """ "half past ten", "a quarter to 2", "twenty past nine", "five minutes to ten".

    "ten to eleven" is a stretch of an hour rather than 10:50.
    """
    words = [token.key for token in tokens[at : at + 6]]
    skip = 1 if words[:1] == ["a"] and words[1:2] == ["quarter"] else 0
    minutes = _PART_OF_HOUR.get(words[skip])
    if minutes is None:
        return None
    skip += 1
    if words[skip : skip + 1] == ["five"] and minutes == 20:
        minutes, skip = 25, skip + 1
    counted = words[skip : skip + 1] in (["minutes"], ["minute"], ["min"])
    skip += counted
    link, hour = words[skip : skip + 1], words[skip + 1 : skip + 2]
    named = _hour_of(hour[0]) if hour else None
    if not link or named is None:
        return None
    if link[0] in _PAST:
        return _hour(named, minutes, tokens, at, skip + 2)
    ranged = minutes == 10 or words[0].isdecimal()
    is_told = counted or (led and not ranged) or (minutes == 15 and link[0] != "of")
    if link[0] in _SHORT_OF and minutes != 30 and is_told:
        return _hour((named - 2) % 12 + 1, 60 - minutes, tokens, at, skip + 2)
    return None


def _hour_named(tokens: Sequence[Token], at: int) -> tuple[Sense, int] | None:
    """ "ten o'clock", "10 o clock", "1ish", "one-ish"."""
    hour = _hour_of(tokens[at].key)
    if hour is None:
        return None
    words = [token.key for token in tokens[at + 1 : at + 3]]
    if words[:1] == ["oclock"] or words == ["o", "clock"]:
        return _hour(hour, 0, tokens, at, 1 + len(words[:1]) if words[0] == "oclock" else 3)
    if words[:1] == ["ish"] and tokens[at + 1].glued:
        return _hour(hour, 0, tokens, at, 2)
    if words == ["-", "ish"]:
        return _hour(hour, 0, tokens, at, 3)
    return None


def _hour_and_minutes(tokens: Sequence[Token], at: int, *, led: bool) -> tuple[Sense, int] | None:
    """ "eight fifty", "ten oh five", "at 10 50", "at 1045", "10.50"."""
    token = tokens[at]
    if token.kind is Shape.NUMBER:
        return _in_digits(tokens, at, led=led)
    hour = NUMBER_WORDS.get(token.key)
    if hour is None or not 1 <= hour <= 12 or at + 1 >= len(tokens):
        return None
    minutes, width = _minutes(tokens, at + 1)
    after = tokens[at + 1 + width].key if at + 1 + width < len(tokens) else ""
    if minutes is None or _is_counted(after) or (minutes <= 12 and not led):
        return None
    return _hour(hour, minutes, tokens, at, 1 + width)


def _bare_hour(tokens: Sequence[Token], at: int) -> tuple[Sense, int] | None:
    """ "at 2", "around ten", where nothing behind it is counted, called or listed by it."""
    hour = _hour_of(tokens[at].key)
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if hour is None or tokens[at].kind not in (Shape.NUMBER, Shape.WORD):
        return None
    ends = after is None or after.kind is Shape.BREAK or after.key in _BEHIND_HOUR
    ends = ends or (after is not None and after.text in ",.!?;)")
    return _hour(hour, 0, tokens, at, 1) if ends else None


def _minutes(tokens: Sequence[Token], at: int) -> tuple[int | None, int]:
    """Minutes in words that begin at this token, and how many tokens they take."""
    words = [token.key for token in tokens[at : at + 3]]
    if words[0] in ("oh", "o") and len(words) > 1 and 0 < NUMBER_WORDS.get(words[1], 0) < 10:
        return NUMBER_WORDS[words[1]], 2
    if words[0] in _TEENS:
        return _TEENS[words[0]], 1
    if words[0] in ("ten", "eleven", "twelve"):
        return NUMBER_WORDS[words[0]], 1
    tens = TENS_WORDS.get(words[0])
    if tens is None or tens > 50:
        return None, 0
    ahead = 2 if words[1:2] == ["-"] else 1
    ones = NUMBER_WORDS.get(words[ahead], 0) if len(words) > ahead else 0
    return (tens + ones, ahead + 1) if 0 < ones < 10 else (tens, 1)


def _in_digits(tokens: Sequence[Token], at: int, *, led: bool) -> tuple[Sense, int] | None:
    digits = tokens[at].key
    ahead = [token.key for token in tokens[at + 1 : at + 4]]
    if led and len(digits) in (3, 4) and not _is_counted(ahead[0] if ahead else ""):
        return _of_digits(digits[:-2], digits[-2:], tokens, at, 1)
    if led and len(ahead) and len(ahead[0]) == 2 and tokens[at + 1].kind is Shape.NUMBER:
        counted = _is_counted(ahead[1] if len(ahead) > 1 else "")
        return None if counted else _of_digits(digits, ahead[0], tokens, at, 2)
    dotted = ahead[:1] == ["."] and len(ahead) > 1 and len(ahead[1]) == 2
    if dotted and tokens[at + 1].glued and tokens[at + 2].glued:
        counted = _is_counted(ahead[2] if len(ahead) > 2 else "")
        return None if counted else _of_digits(digits, ahead[1], tokens, at, 3)
    return None


def _of_digits(
    hour: str, minutes: str, tokens: Sequence[Token], at: int, width: int
) -> tuple[Sense, int] | None:
    if len(hour) > 2 or not minutes.isdecimal() or int(minutes) % 5 or int(minutes) > 59:
        return None
    return _hour(int(hour), int(minutes), tokens, at, width) if 1 <= int(hour) <= 12 else None


def _hour_of(word: str) -> int | None:
    hour = int(word) if word.isdecimal() and len(word) < 3 else NUMBER_WORDS.get(word)
    return hour if hour is not None and 1 <= hour <= 12 else None


def _is_counted(word: str) -> bool:
    """Whether the number before this word counts things: "two twenty packs"."""
    units = LEXICON.get((word,), ())
    return word in ("%", "x", "=") or (Kind.UNIT in units and word not in ("am", "pm"))


def _hour(
    hour: int, minutes: int, tokens: Sequence[Token], at: int, width: int
) -> tuple[Sense, int] | None:
    moment = read_time(f"{hour}:{minutes:02}")
    return None if moment is None else _time(moment, tokens, at, width)


def _time(moment: time, tokens: Sequence[Token], at: int, width: int) -> tuple[Sense, int]:
    """The time with what belongs to it: "10:30ish", "ten fifteen am", "12 noon"."""
    after = tokens[at + width] if at + width < len(tokens) else None
    if after is not None and after.key in ("ish", "oclock"):
        width += 1
    elif after is not None and after.key in ("am", "pm") and moment.hour <= 12:
        hour = moment.hour % 12 + (12 if after.key == "pm" else 0)
        return Sense(Kind.TIME, value=moment.replace(hour=hour)), width + 1
    elif after is not None and after.key in _NOON and moment == time(12, 0):
        width += 1
    return Sense(Kind.TIME, value=moment), width


def read_time(text: str) -> time | None:
    """ "10:15", "1:10" (afternoon), "9am", "12:05 p.m." as a time; None where no such time is."""
    match = re.fullmatch(r"(\d{1,2})(?::(\d{2}))?\s*([ap])?\.?m?\.?", text)
    if match is None:
        return None
    hour, minute = int(match[1]), int(match[2] or 0)
    if hour > 23 or minute > 59 or (match[3] and not 1 <= hour <= 12):
        return None
    if match[3]:
        hour = hour % 12 + (12 if match[3] == "p" else 0)
    elif 0 < hour < _FIRST_SCHOOL_HOUR and not match[1].startswith("0"):
        hour += 12
    return time(hour, minute)
