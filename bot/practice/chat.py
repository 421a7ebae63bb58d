"""Practice: the bot in a terminal, with the demo class, in a database file of its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TextIO

from bot.classroom.rotation.memo import Plans
from bot.conversation import Answer, Incoming, take, with_plans
from bot.folder import ClassFolder, read_folder, shift_weeks, weeks_to_middle
from bot.folder.loading import load
from bot.folder.sent_calendar import file_at
from bot.nudges.speaking import speak_up
from bot.requests import Option, SentFile
from bot.settings import data_folder, sqlite_url
from bot.wording.practice import GOODBYE, no_file, numbered, welcome
from storage.database import Database, open_database
from storage.records import Class, Member
from storage.register import OWNER

DEMO = Path(__file__).parent.parent.parent / "demo_roster"
_LONGEST_NUMBER = 5  # digits
_LEAVING = frozenset(("quit", "exit", "q", ":q"))


Clock = Callable[[], datetime]


def practice(source: TextIO, out: TextIO, clock: Clock, *, folder: Path | None = None) -> int:
    """Chat until the source ends or someone leaves; the clock gives an aware moment."""
    path = (folder or data_folder()) / "practice.db"
    database = open_database(sqlite_url(path))
    class_, owner = _demo_class(database, clock())
    print(welcome(class_.name, str(path)), file=out)
    choices: tuple[Option, ...] = ()
    while True:
        choices = _speak_up(database, class_, clock(), out) or choices
        print("> ", end="", file=out, flush=True)
        line = _line(source)
        if not line or line.strip().casefold() in _LEAVING:
            break
        choices = _say(database, class_, owner, line.rstrip("\n"), choices, clock(), out)
    print(GOODBYE, file=out)
    database.close()
    return 0


def _line(source: TextIO) -> str:
    """The next line; nothing where the source ends or someone presses Ctrl-C."""
    try:
        return source.readline()
    except KeyboardInterrupt:
        return ""


def demo_folder(now: datetime) -> ClassFolder:
    """The demo class, moved by whole weeks so that it is in the middle of its term."""
    folder = read_folder(DEMO, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    return shift_weeks(folder, weeks_to_middle(folder, now.date()))


def _demo_class(database: Database, now: datetime) -> tuple[Class, Member]:
    """The demo class as loaded this week; anew once its weeks have passed."""
    folder = demo_folder(now)
    with database.writing() as work:
        load(work, folder, now, folder_wins=True)
        class_ = next(c for c in work.register.classes() if c.name == folder.settings.name)
        owner = work.register.member(class_.id, OWNER)
    assert owner is not None
    return class_, owner


def _speak_up(database: Database, class_: Class, now: datetime, out: TextIO) -> tuple[Option, ...]:
    """Show what is due unasked; the buttons of the last of it."""
    with database.writing() as work:
        spell = speak_up(work, class_.id, now, lambda member: member.role == OWNER)
    for said in spell.spoken:
        print(numbered(said.reply), file=out)
    return spell.spoken[-1].reply.choices if spell.spoken else ()


def _say(
    database: Database,
    class_: Class,
    owner: Member,
    text: str,
    choices: tuple[Option, ...],
    now: datetime,
    out: TextIO,
) -> tuple[Option, ...]:
    """Take one line; a bare number presses that button, "file PATH" sends that file."""
    try:
        file = _file(text)
    except OSError as fault:
        print(no_file(fault.strerror or ""), file=out)
        return choices
    digits = text.strip()
    number = int(digits) if digits.isdecimal() and len(digits) < _LONGEST_NUMBER else 0
    pressed = choices[number - 1] if 1 <= number <= len(choices) else None
    incoming = Incoming(
        pressed.send if pressed else "" if file else text,
        now,
        now,
        kind="button" if pressed else "file" if file else "text",
        place="practice",
        file=file,
    )

    def taken(plans: Plans) -> Answer:
        with database.writing() as work:
            return take(work.book(class_.id), owner, incoming, plans)

    answer = with_plans(taken)
    print(numbered(answer.reply), file=out)
    return answer.reply.choices


def _file(text: str) -> SentFile | None:
    """The file that a line sends. Raises OSError."""
    command, _, path = text.strip().partition(" ")
    if command.casefold() != "file" or not path.strip():
        return None
    return file_at(Path(path.strip().strip("'\"")).expanduser())
