"""How the bot speaks of children, days and lists; in a chat with others in it, without names."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time

from bot.requests import Option
from storage.records import Bin, Roster, Stint, Student


@dataclass(frozen=True, slots=True)
class Reply:
    """What goes out: text, buttons, and files."""

    text: str
    choices: tuple[Option, ...] = ()
    attachments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Voice:
    """A class's way of being spoken of; `spoken` are the children that may be named in a chat with
    others in it, None where all may."""

    roster: Roster
    spoken: frozenset[int] | None = None

    def child(self, student: Student) -> str:
        """One child, by name where that may be."""
        return student.name if self._may_name(student) else "a child"

    def children(self, students: Iterable[Student], *, most: int = 40) -> str:
        """Children in order: "Ava R., Ben T. and 3 more"."""
        listed = list(students)
        named = [s.name for s in listed if self._may_name(s)][:most]
        rest = len(listed) - len(named)
        if not named:
            return counted(rest, "child", "children") if listed else "nobody"
        if rest:
            return f"{', '.join(named)} and {rest} more"
        return ", ".join(named)

    def may_say(self, *texts: str) -> bool:
        """Whether texts name no child that must not be named here."""
        if self.spoken is None:
            return True
        hidden = [s.name for s in self.roster.students if s.id not in self.spoken]
        return not any(name in text for name in hidden for text in texts)

    def students(self, ids: Iterable[int]) -> str:
        """Children by id, in roster order."""
        wanted = set(ids)
        return self.children(s for s in self.roster.students if s.id in wanted)

    def bin_(self, stint: Stint) -> str:
        """The bin of a stint, by name."""
        return self.roster.bin_of(stint).name

    def bin_with_color(self, stint: Stint) -> str:
        """ "Shadows (pink)"."""
        return f"{self.bin_(stint)} ({stint.color})"

    def _may_name(self, student: Student) -> bool:
        return self.spoken is None or student.id in self.spoken


LONGEST_REPLY = 4000  # the platform takes 4096 UTF-16 units; common practice leaves room


def fitted(text: str) -> str:
    """A reply that fits into one message: cut at the end of a line, and said so."""
    if _units(text) <= LONGEST_REPLY:
        return text
    lines = text.split("\n")
    while len(lines) > 1 and _units("\n".join(lines)) > LONGEST_REPLY:
        lines.pop()
    kept = "\n".join(lines)
    while _units(kept) > LONGEST_REPLY:
        kept = kept[: len(kept) * 9 // 10]
    return f"{kept}\n…"


def _units(text: str) -> int:
    return len(text.encode("utf-16-le")) // 2


def sentence(text: str) -> str:
    """A text with a full stop at its end, if it has none: names may end in one."""
    return text if text.endswith((".", "?", "!")) else f"{text}."


def counted(number: int, one: str, many: str) -> str:
    """ "1 child", "3 children"."""
    return f"{number} {one if number == 1 else many}"


def listed(words: Sequence[str], link: str = "and") -> str:
    """ "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {link} {words[-1]}"


def on_day(day: date, today: date) -> str:
    """ "today", "yesterday", "on Thu 19 Nov", with the year where it is another."""
    if day == today:
        return "today"
    if (today - day).days == 1:
        return "yesterday"
    return f"on {short_day(day, today)}"


def short_day(day: date, today: date) -> str:
    """ "Thu 19 Nov", with the year where it is another."""
    year = f" {day.year}" if day.year != today.year else ""
    return f"{day:%a} {day.day} {day:%b}{year}"


def till(stint: Stint, today: date) -> str:
    """ "out till Fri 4 Dec", "out all year", "closed Fri 20 Nov"."""
    if stint.opens > today:
        return f"opens {short_day(stint.opens, today)}"
    if stint.closes is None:
        return "out all year"
    if stint.closes < today:
        return f"closed {short_day(stint.closes, today)}"
    return f"out till {short_day(stint.closes, today)}"


def clock(moment: time) -> str:
    """ "10:15"."""
    return f"{moment.hour}:{moment.minute:02d}"


def of_bins(bins: Sequence[Bin]) -> str:
    """Several bins by name."""
    return listed([bin_.name for bin_ in bins])
