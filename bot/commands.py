"""What several commands need: the class, the member, the moment, the folder."""

from __future__ import annotations

from argparse import Namespace
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.folder import ClassFolder, Problems, read_folder
from bot.folder.cell_types import FIRST_YEAR, LAST_YEAR
from bot.wording.folder import word_problem
from storage.database import Work
from storage.records import Class, Member
from storage.register import OWNER

_LONGEST_SPAN = timedelta(days=731)
ROLES = ("owner", "co-teacher", "aide", "substitute")


class CannotDo(Exception):
    """A command that cannot be carried out: the reason in lines, and the exit code."""

    def __init__(self, *lines: str, code: int = 1) -> None:
        super().__init__(*lines)
        self.lines = lines
        self.code = code


def read_class_folder(path: Path, machine_zone: str) -> ClassFolder:
    """The folder's values; CannotDo with every problem in it."""
    found = read_folder(path, machine_zone=machine_zone)
    if isinstance(found, Problems):
        lines = [word_problem(problem) for problem in found.listed]
        raise CannotDo(*lines, "Nothing was loaded.")
    return found


def chosen_class(work: Work, name: str | None) -> Class:
    """The class named, or the only one there is."""
    classes = work.register.classes()
    if not classes:
        raise CannotDo("There is no class yet. Load one: python -m bot load FOLDER")
    if name is None:
        if len(classes) > 1:
            known = ", ".join(class_.name for class_ in classes)
            raise CannotDo(f"Which class? --class NAME with one of: {known}", code=2)
        return classes[0]
    found = [class_ for class_ in classes if class_.name.casefold() == name.casefold()]
    if not found:
        known = ", ".join(class_.name for class_ in classes)
        raise CannotDo(f"There is no class {name!r}. Known: {known}", code=2)
    return found[0]


def chosen_member(work: Work, class_: Class, name: str | None) -> Member:
    """The member named (made on first use: whoever runs commands holds the database), or the
    owner."""
    wanted = name or OWNER
    found = work.register.member(class_.id, wanted)
    if found is not None:
        return found
    role = wanted.casefold() if wanted.casefold() in ROLES else "co-teacher"
    return work.register.add_member(class_.id, wanted, role=role)


def local_moment(text: str | None, time_zone: str) -> datetime:
    """An ISO time, local to the class unless it carries an offset; now where none is given."""
    if text is None:
        return datetime.now(UTC).astimezone(ZoneInfo(time_zone))
    moment = moment_in(text)
    if moment is None:
        raise CannotDo(f"--at {text!r} is not a time such as 2026-11-24T10:41.", code=2)
    return moment if moment.tzinfo else moment.replace(tzinfo=ZoneInfo(time_zone))


def may_be_written_to(member: Member) -> bool:
    """Whether a member would get nudges: who has joined, and the owner before that too."""
    return member.account is not None or member.role == OWNER


def span_of(options: Namespace, time_zone: str) -> tuple[datetime, datetime]:
    """`--from` and `--to` in the class's zone; a day by itself means all of it. By default from
    now (or `--at`) for a day."""
    first = _end(options.first, time_zone, "--from")
    first = local_moment(options.at, time_zone) if first is None else first
    last = _end(options.last, time_zone, "--to")
    last = first + timedelta(days=1) if last is None else last
    if last < first:
        raise CannotDo("--to lies before --from.", code=2)
    if last - first > _LONGEST_SPAN:
        raise CannotDo("--from and --to may lie two years apart at most.", code=2)
    return first, last


def _end(text: str | None, time_zone: str, option: str) -> datetime | None:
    if text is None:
        return None
    moment = moment_in(text)
    if moment is None:
        raise CannotDo(f"{option} {text!r} is not a time such as 2026-11-24T10:41.", code=2)
    if option == "--to" and len(text) <= len("2026-11-24"):
        moment = datetime.combine(moment, time.max)
    return moment if moment.tzinfo else moment.replace(tzinfo=ZoneInfo(time_zone))


def moment_in(text: str) -> datetime | None:
    """The ISO time that a text is, or None; years as far off as no class can be are none either."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if FIRST_YEAR <= moment.year < LAST_YEAR else None
