"""Dates as people write them: "nov 23", "12/7-11", "the 3rd", "11-23"; weekdays by their names."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from bot.understanding.senses import Kind, Sense
from bot.understanding.tokens import Kind as Shape
from bot.understanding.tokens import Token

WEEKDAYS = {
    name: number
    for number, names in enumerate(
        (
            "monday mon mondays", "tuesday tues tue tuesdays", "wednesday wed weds wednesdays",
            "thursday thurs thur thu thursdays", "friday fri fridays", "saturday sat", "sunday sun",
        )
    )
    for name in names.split()
}  # fmt: skip
MONTHS = {
    name: number + 1
    for number, names in enumerate(
        (
            "january jan", "february feb", "march mar", "april apr", "may", "june jun", "july jul",
            "august aug", "september sept sep", "october oct", "november nov", "december dec",
        )
    )
    for name in names.split()
}  # fmt: skip
_LEADS = frozenset(
    ("day", "is", "was", "from", "till", "til", "until", "through", "thru", "to", "by", "since")
)
_DASHES = frozenset(("-", "–", "—"))
_TO = frozenset((*_DASHES, "to", "through", "thru", "till", "til", "until"))
_ENDS = frozenset((",", ".", "!", ";", "and", "&", "for", "because", "bc", "due", "with"))


def find_date(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """A date by its number that begins at this token, with the number of tokens it takes."""
    return _dashed(tokens, at, today) or _of_same_month(tokens, at, today) or nth(tokens, at, today)


def _dashed(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """ "11-23" in November or December: a date, not a range of groups."""
    part = tokens[at : at + 3]
    if len(part) < 3 or part[1].text != "-" or not (part[1].glued and part[2].glued):
        return None
    month, number = part[0].number, part[2].number
    if month not in (today.month, today.month % 12 - 1 or 12, (today.month - 2) % 12 + 1):
        return None
    if month is None or number is None or number <= 12 or Shape.ORDINAL in (part[0].kind,):
        return None
    day = _day_of_month(month, number, today)
    return None if day is None else (Sense(Kind.DAY, word="date", value=day), 3)


def _of_same_month(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """The "11" of "dec 7-11", "december 7th through the 11th", "12/7 to 11", "dec 7, 8 and 9"; the
    "7" of "7-11 dec"."""
    skip = 1 if tokens[at].key == "the" else 0
    token = tokens[at + skip] if at + skip < len(tokens) else None
    if token is None or token.number is None or not 0 < token.number < 32:
        return None
    ahead = [t.key for t in tokens[at + skip + 1 : at + skip + 4]]
    ranged = len(ahead) == 3 and ahead[0] in _TO and ahead[1].rstrip("thsndr").isdecimal()
    if ranged and ahead[2] in MONTHS and ahead[2] != "may" and not skip:
        return _dated(MONTHS[ahead[2]], token.number, today, 1)
    before = tokens[at - 1].key if at else ""
    listed = before in ("and", "&", ",") and _ends_list(tokens, at + skip + 1)
    if before not in _TO and not listed:
        return None
    earlier = _date_before(tokens, at - 1, today)
    if earlier is None or (listed and earlier.day >= token.number):
        return None
    is_tight = tokens[at - 1].glued and token.glued and earlier.day < token.number
    if before in _DASHES and not is_tight and not _ends_list(tokens, at + skip + 1):
        return None  # "nov 23 - 4 did ramps"
    month = earlier.month if token.number > earlier.day else earlier.month % 12 + 1
    return _dated(month, token.number, today, 1 + skip)


def _dated(month: int, number: int, today: date, width: int) -> tuple[Sense, int] | None:
    day = _day_of_month(month, number, today)
    return None if day is None else (Sense(Kind.DAY, word="date", value=day), width)


def _ends_list(tokens: Sequence[Token], at: int) -> bool:
    """Whether nothing stands here that a number before it could count or name."""
    return at >= len(tokens) or tokens[at].kind is Shape.BREAK or tokens[at].key in _ENDS


def _date_before(tokens: Sequence[Token], at: int, today: date) -> date | None:
    """The date that ends right before this link, numbers listed with it skipped."""
    at -= 1
    while at > 1 and tokens[at].number is not None and tokens[at - 1].key in ("and", "&", ","):
        at -= 2
    if at >= 0 and tokens[at].kind is Shape.DATE:
        return date_of(tokens[at].key, today)
    if at > 1 and tokens[at].number is not None and tokens[at - 1].text == ".":
        tokens, at = [*tokens[: at - 1], tokens[at]], at - 1  # "nov. 30"
    month = tokens[at - 1] if at > 0 and tokens[at].number is not None else None
    if month is None or month.key not in MONTHS or month.text == "may":
        return None
    return _day_of_month(MONTHS[month.key], tokens[at].number or 0, today)


def nth(tokens: Sequence[Token], at: int, today: date) -> tuple[Sense, int] | None:
    """ "the 23rd", "on the 3rd": the day of that number nearest before or after today."""
    lead = 2 if tokens[at].key == "on" else 1
    if [t.key for t in tokens[at : at + lead]] not in (["the"], ["on", "the"]):
        return None
    token = tokens[at + lead] if at + lead < len(tokens) else None
    after = tokens[at + lead + 1].key if at + lead + 1 < len(tokens) else ""
    if token is None or token.kind is not Shape.ORDINAL or token.number is None:
        return None
    before = tokens[at - 1].key if at else ""
    is_date = token.number > 12 or lead == 2 or before in _LEADS or after == "of"
    is_date = is_date or before in WEEKDAYS
    is_date = is_date or (
        before in ("and", "&") and at > 1 and tokens[at - 2].kind is Shape.ORDINAL
    )
    if not is_date or (lead == 1 and after in ("group", "rotation", "one", "bin", "round", "slot")):
        return None
    month = tokens[at + lead + 2].key if after == "of" and at + lead + 2 < len(tokens) else ""
    if month in MONTHS:
        day = _day_of_month(MONTHS[month], token.number, today)
        return None if day is None else (Sense(Kind.DAY, word="date", value=day), lead + 3)
    months = [(today.year, today.month), _month_before(today), _month_after(today)]
    days = [day for year, month in months if (day := _valid(year, month, token.number))]
    nearest = min(days, key=lambda day: abs((day - today).days), default=None)
    return None if nearest is None else (Sense(Kind.DAY, word="date", value=nearest), lead + 1)


def _month_before(today: date) -> tuple[int, int]:
    return (today.year - 1, 12) if today.month == 1 else (today.year, today.month - 1)


def _month_after(today: date) -> tuple[int, int]:
    return (today.year + 1, 1) if today.month == 12 else (today.year, today.month + 1)


def month_date(
    words: tuple[str, ...], tokens: Sequence[Token], at: int, today: date
) -> tuple[Sense, int] | None:
    """ "nov 23", "november 23rd", "23 nov", "the 23rd of november"."""
    if len(words) > 2 and len(words[0]) < 5 and words[1] == "." and tokens[at + 1].glued:
        shortened = month_date(
            (words[0], *words[2:]), [*tokens[: at + 1], *tokens[at + 2 :]], at, today
        )
        return None if shortened is None else (shortened[0], shortened[1] + 1)  # "nov. 30"
    if len(words) > 1 and words[0] in MONTHS and tokens[at + 1].number is not None:
        number = tokens[at + 1].number or 0
        if words[0] == "may" and tokens[at].text == "may":
            return None  # "may 2 and 3 do ramps": asked elsewhere
        day = _day_of_month(MONTHS[words[0]], number, today)
        return None if day is None else (Sense(Kind.DAY, word="date", value=day), 2)
    if tokens[at].number is not None and len(words) > 1:
        skip = 2 if words[1] == "of" else 1
        if len(words) > skip and words[skip] in MONTHS and words[skip] != "may":
            day = _day_of_month(MONTHS[words[skip]], tokens[at].number or 0, today)
            return None if day is None else (Sense(Kind.DAY, word="date", value=day), skip + 1)
    return None


def date_of(text: str, today: date) -> date | None:
    """ "2026-11-23", "11/23", "11/23/26"; month before day, as the United States write it."""
    iso = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text)
    if iso is not None:
        return _valid(int(iso[1]), int(iso[2]), int(iso[3]))
    parts = [int(part[:8]) for part in text.split("/")]
    if len(parts) == 3:
        year = parts[2] + 2000 if parts[2] < 100 else parts[2]
        return _valid(year, parts[0], parts[1])
    return _day_of_month(parts[0], parts[1], today)


def _day_of_month(month: int, number: int, today: date) -> date | None:
    """The day of that name nearest to today, as a school year crosses New Year."""
    days = [_valid(year, month, number) for year in (today.year - 1, today.year, today.year + 1)]
    found = [day for day in days if day is not None]
    return min(found, key=lambda day: abs((day - today).days), default=None)


def _valid(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except (ValueError, OverflowError):
        return None
