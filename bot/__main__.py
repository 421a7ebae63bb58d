"""The command line: `python -m bot`, and the commands beside it."""

from __future__ import annotations

import argparse
import io
import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from sqlalchemy.exc import DBAPIError
from tzlocal import get_localzone_name
from xlsxwriter.exceptions import FileCreateError

from bot.classroom.rotation.memo import Plans
from bot.commands import (
    CannotDo,
    chosen_class,
    chosen_member,
    local_moment,
    may_be_written_to,
    moment_in,
    read_class_folder,
    span_of,
)
from bot.conversation import Answer, Incoming, take, with_plans
from bot.exports import EXPORTS, Table, harmless, write_csv, write_xlsx
from bot.folder.loading import load
from bot.folder.sent_calendar import file_at
from bot.nudges.previewing import preview
from bot.requests import SentFile
from bot.settings import Settings, WrongSettings, environment, read_settings
from bot.wording.commands import (
    answer_lines,
    as_text,
    backed_up,
    backup_fault,
    database_fault,
    loaded_lines,
    restored,
)
from bot.wording.nudges import NOTHING_COMING, preview_lines
from storage.backups import BackupFault, back_up, put_back
from storage.database import Database, DatabaseFault, open_database


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give the exit code: 0 done, 1 could not be carried out, 2 wrong usage."""
    _speak_utf8()
    options = _parser().parse_args(arguments)
    try:
        settings = read_settings(environment(), Path.cwd())
        return int(options.run(options, settings))
    except WrongSettings as wrong:
        return _fail(*wrong.problems)
    except DatabaseFault as fault:
        return _fail(database_fault(fault))
    except CannotDo as reason:
        _fail(*reason.lines)
        return reason.code
    except BackupFault as fault:
        return _fail(backup_fault(fault))
    except DBAPIError as fault:
        return _fail(database_fault(DatabaseFault("trouble", "", type(fault.orig).__name__)))
    except BrokenPipeError:
        sys.stderr.close()
        return 0


def _speak_utf8() -> None:
    """Whatever a locale says: no name and no check mark may end a command half way."""
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding=None if stream.isatty() else "utf-8", errors="replace")


def _fail(*lines: str) -> int:
    print(*lines, sep="\n", file=sys.stderr)
    return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m bot", description=__doc__)
    parser.set_defaults(run=_run_bot)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument(
        "--class", dest="class_name", metavar="NAME", help="which class, of several"
    )
    common.add_argument("--at", metavar="ISO-TIME", help="the moment it is (default: now)")
    common.add_argument("--json", action="store_true", help="for programs")

    loading = commands.add_parser(
        "load", parents=[common], help="create or update a class from a folder"
    )
    loading.add_argument("folder", type=Path)
    loading.add_argument(
        "--folder-wins",
        action="store_true",
        help="where the chat changed the same, the folder counts",
    )
    loading.set_defaults(run=_load)

    saying = commands.add_parser("say", parents=[common], help="one message in, the reply printed")
    saying.add_argument(
        "text", nargs="*", help="the message; one that begins with a dash follows --"
    )
    saying.add_argument("--lines", metavar="FILE", help="one message a line (- is standard input)")
    saying.add_argument(
        "--file", type=Path, metavar="PATH", help="a calendar file (.ics) that comes with the text"
    )
    saying.add_argument("--as", dest="member", metavar="MEMBER", help="the sender (default: owner)")
    saying.set_defaults(run=_say, parser=saying)

    previewing = commands.add_parser(
        "preview", parents=[common], help="what would be sent unasked, without sending it"
    )
    previewing.add_argument("--from", dest="first", metavar="T", help="from (default: now)")
    previewing.add_argument("--to", dest="last", metavar="T", help="to (default: a day later)")
    previewing.set_defaults(run=_preview)

    exporting = commands.add_parser("export", parents=[common], help="CSV to standard output")
    exporting.add_argument("what", choices=sorted(EXPORTS))
    exporting.add_argument("--to", type=Path, metavar="FILE", help="a .csv or .xlsx file instead")
    exporting.set_defaults(run=_export)

    keeping = commands.add_parser("backup", help="the whole database into a new file")
    keeping.add_argument("file", type=Path)
    keeping.set_defaults(run=_back_up)

    restoring = commands.add_parser("restore", help="the database as a backup holds it")
    restoring.add_argument("file", type=Path)
    restoring.set_defaults(run=_restore)

    checking = commands.add_parser(
        "check", help="what is wrong with the set-up, and how to mend it"
    )
    checking.set_defaults(run=_check)
    return parser


def _run_bot(options: argparse.Namespace, settings: Settings) -> int:
    if settings.token is None:
        from bot.practice.chat import practice

        return practice(sys.stdin, sys.stdout, partial(datetime.now, UTC))
    from bot.telegram.running import run

    return run(settings)


def _load(options: argparse.Namespace, settings: Settings) -> int:
    folder = read_class_folder(options.folder, get_localzone_name() or "UTC")
    now = local_moment(options.at, folder.settings.time_zone)
    database = open_database(settings.database)
    with database.writing() as work:
        loaded = load(work, folder, now, folder_wins=options.folder_wins)
        if loaded.conflicts:
            raise CannotDo(*loaded_lines(loaded))
    lines = loaded_lines(loaded)
    if options.json:
        print(json.dumps({"class": loaded.class_name, "code": loaded.code, "changes": lines}))
    else:
        print(as_text(loaded, lines, settings.shown_database))
    return 0


def _say(options: argparse.Namespace, settings: Settings) -> int:
    if options.lines is None and not options.text and options.file is None:
        options.parser.error("a text is needed, or --lines FILE, or --file PATH")
    if options.lines is not None and options.file is not None:
        options.parser.error("--file PATH or --lines FILE, not both")
    if options.lines is not None and options.text:
        options.parser.error("a text or --lines FILE, not both")
    file = _file(options.file)
    database = open_database(settings.database)
    for at, text in _messages(options):
        answer = _take(database, options, text, at, file)
        if options.json:
            print(json.dumps(_for_programs(answer), ensure_ascii=False), flush=True)
        else:
            print(answer_lines(answer.reply), flush=True)
    return 0


def _messages(options: argparse.Namespace) -> Iterator[tuple[str | None, str]]:
    """Each message with the time written before it, if any."""
    if options.lines is None:
        yield options.at, " ".join(options.text)
        return
    try:
        source = sys.stdin.buffer if options.lines == "-" else open(options.lines, "rb")  # noqa: SIM115 - closed with the loop
        with source:
            for raw in source:
                line = raw.decode("utf-8", "replace").rstrip("\r\n").removeprefix("\ufeff")
                stamp, tab, text = line.partition("\t")
                yield (stamp, text) if tab and moment_in(stamp) else (options.at, line)
    except OSError as fault:
        raise CannotDo(f"{options.lines}: {fault.strerror}") from None


def _file(path: Path | None) -> SentFile | None:
    """The file that comes with a message, if one is named."""
    try:
        return None if path is None else file_at(path)
    except OSError as fault:
        raise CannotDo(f"{path}: {fault.strerror}") from None


def _take(
    database: Database,
    options: argparse.Namespace,
    text: str,
    at: str | None,
    file: SentFile | None,
) -> Answer:
    def taken(plans: Plans) -> Answer:
        with database.writing() as work:
            class_ = chosen_class(work, options.class_name)
            member = chosen_member(work, class_, options.member)
            moment, kind = local_moment(at, class_.time_zone), "file" if file else "text"
            incoming = Incoming(text, moment, datetime.now(UTC), kind=kind, file=file)
            return take(work.book(class_.id), member, incoming, plans)

    return with_plans(taken)


def _for_programs(answer: Answer) -> dict[str, object]:
    result = {key: value for key, value in answer.result.items() if key != "taken"}
    return {
        "at": answer.at.isoformat(timespec="seconds"),
        "text": answer.text,
        "outcome": answer.outcome,
        "requests": list(answer.requests),
        "reply": answer.reply.text,
        **result,
        "attachments": list(answer.reply.attachments),
    }


def _preview(options: argparse.Namespace, settings: Settings) -> int:
    database = open_database(settings.database)
    with database.reading() as work:
        class_ = chosen_class(work, options.class_name)
        span = span_of(options, class_.time_zone)
        upcoming = preview(work, class_.id, *span, may_be_written_to)
    for nudge in upcoming:
        if options.json:
            told = {**asdict(nudge), "at": nudge.at.isoformat(timespec="seconds")}
            print(json.dumps(told, ensure_ascii=False))
        else:
            print(preview_lines(nudge))
    if not upcoming and not options.json:
        print(NOTHING_COMING)
    return 0


def _export(options: argparse.Namespace, settings: Settings) -> int:
    database = open_database(settings.database)
    with database.reading() as work:
        class_ = chosen_class(work, options.class_name)
        now = local_moment(options.at, class_.time_zone)
        table = EXPORTS[options.what](work.book(class_.id), work.register, now)
    if options.to is None:
        write_csv(table, sys.stdout)
    else:
        _write_file(table, options.to, options.what)
    return 0


def _back_up(options: argparse.Namespace, settings: Settings) -> int:
    back_up(settings.database, options.file)
    print(backed_up(options.file))
    return 0


def _restore(options: argparse.Namespace, settings: Settings) -> int:
    aside = put_back(settings.database, options.file)
    open_database(settings.database).close()  # brought to this version
    print(*restored(options.file, aside), sep="\n")
    return 0


def _write_file(table: Table, path: Path, name: str) -> None:
    kind = path.suffix.lower()
    if kind not in (".csv", ".xlsx"):
        raise CannotDo("--to takes a file that ends in .csv or .xlsx.", code=2)
    try:
        if kind == ".xlsx":
            write_xlsx(table, path, name)
        else:
            with path.open("w", encoding="utf-8", newline="") as out:
                write_csv(harmless(table), out)
    except (OSError, FileCreateError) as fault:
        raise CannotDo(f"{path}: {getattr(fault, 'strerror', None) or fault}") from None


def _check(options: argparse.Namespace, settings: Settings) -> int:
    from bot.checking import check

    lines, is_well = check(settings)
    print(*lines, sep="\n")
    return 0 if is_well else 1


if __name__ == "__main__":
    sys.exit(main())
