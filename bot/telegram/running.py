"""The bot on the platform, from the token to the last reply: the wiring, top to bottom."""

from __future__ import annotations

import asyncio
import contextlib
import json
import logging
import os
import re
import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy.exc import SQLAlchemyError
from telegram import BotCommand
from telegram.error import InvalidToken, TelegramError
from telegram.ext import AIORateLimiter, ExtBot
from telegram.request import HTTPXRequest

from bot.settings import Settings
from bot.skills import SKILLS
from bot.telegram.delivery import PATIENT, Delivery, Patience
from bot.telegram.fetching import Fetching
from bot.telegram.handling import Handling
from bot.telegram.intake import Intake, Reports, UpdatesRequest, clock
from bot.telegram.nudging import Nudging
from bot.telegram.quiet import described, log_quietly
from bot.wording.telegram import (
    BACK,
    BAD_TOKEN,
    BEHIND,
    BROKEN,
    DATABASE_BACK,
    DATABASE_TROUBLE,
    DEAD_KEPT,
    NO_TOKEN,
    RUNNING,
    STOPPED,
    UNREACHABLE,
    UNSENT,
)
from storage.database import Database, open_database

_LOG = logging.getLogger("tubtally")
_TOKEN = re.compile(r"\d+:[A-Za-z0-9_-]+")
_COMMANDS = ("help", "undo", "redo", "why")
_KEEP_IDS = timedelta(days=3)  # the platform gives no update again after one


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How fast to send and how long to wait; `limited` False is for measuring only."""

    limited: bool = True
    patience: Patience = PATIENT
    poll_seconds: int = 30
    look_seconds: float = 20.0  # between looks at what is due unasked


def run(settings: Settings, *, pace: Pace | None = None) -> int:
    """Run until SIGTERM or SIGINT; the exit code is 0, or 1 where the token is not accepted.

    Raises DatabaseFault where the database cannot be opened.
    """
    if settings.token is None or not _TOKEN.fullmatch(settings.token):
        print(NO_TOKEN if settings.token is None else BAD_TOKEN, file=sys.stderr)
        return 1
    log_quietly(settings.token)
    database = open_database(settings.database)
    try:
        return asyncio.run(_until_told(settings, database, pace or Pace()))
    finally:
        database.close()


async def _until_told(settings: Settings, database: Database, pace: Pace) -> int:
    stop = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGTERM, signal.SIGINT):
        try:
            loop.add_signal_handler(number, stop.set)
        except NotImplementedError:  # not on every system
            signal.signal(number, lambda *_: loop.call_soon_threadsafe(stop.set))
    return await serve(settings, database, stop, pace=pace)


async def serve(
    settings: Settings,
    database: Database,
    stop: asyncio.Event,
    *,
    pace: Pace,
    now: Callable[[], datetime] = clock,
) -> int:
    """Answer updates until `stop` is set; the update in hand is finished. Gives the exit code."""
    os.environ.setdefault("PTB_TIMEDELTA", "true")  # else the library warns at every flood limit
    updates_request = UpdatesRequest(connection_pool_size=1)
    bot = make_bot(settings, updates_request, pace)
    delivery = Delivery(bot, database, pace.patience)
    intake = Intake(updates_request, bot.base_url, pace.patience, pace.poll_seconds)
    nudging = Nudging(database, delivery, now)
    fetching = Fetching(bot, pace.patience)
    work = asyncio.create_task(_work(bot, database, delivery, intake, now, nudging, fetching, pace))
    told = asyncio.create_task(stop.wait())
    try:
        await asyncio.wait((work, told), return_when=asyncio.FIRST_COMPLETED)
        if work.done():
            work.result()
        return 0
    except InvalidToken:
        _LOG.error(BAD_TOKEN)
        return 1
    except Exception as fault:  # a mistake of ours; its text may hold names
        _LOG.critical(BROKEN, described(fault))
        return 1
    finally:
        nudging.stop()
        work.cancel()
        told.cancel()
        await asyncio.gather(work, told, return_exceptions=True)
        await fetching.close()
        await delivery.close()
        await bot.shutdown()
        if stop.is_set():
            _LOG.info(STOPPED)


def make_bot(settings: Settings, updates_request: HTTPXRequest, pace: Pace) -> ExtBot[Any]:
    """The platform's client for these settings."""
    assert settings.token is not None
    return ExtBot(
        settings.token,
        base_url=f"{settings.api_url}/bot",
        base_file_url=f"{settings.api_url}/file/bot",
        # Patient, since a reply that timed out may have arrived and is sent again.
        request=HTTPXRequest(connection_pool_size=64, read_timeout=20, pool_timeout=20),
        get_updates_request=updates_request,
        rate_limiter=AIORateLimiter(max_retries=3) if pace.limited else None,
    )


async def _work(
    bot: ExtBot[Any],
    database: Database,
    delivery: Delivery,
    intake: Intake,
    now: Callable[[], datetime],
    nudging: Nudging,
    fetching: Fetching,
    pace: Pace,
) -> None:
    await _connect(bot, intake)
    _LOG.info(RUNNING, bot.username)
    handling = Handling(database, delivery, bot.username)
    _send_what_waits(database, delivery)
    reports, failures, is_behind = Reports(), 0, True
    while True:
        try:
            if is_behind:
                await _catch_up(database, handling, fetching)
                _forget_old_ids(database, now())
                is_behind = False
            batch = await intake.next_batch()
            is_behind = True  # until all of it is handled
            await _take_in(batch, database, handling, fetching, intake, now())
            is_behind = False
            # Not before: what was texted meanwhile may leave nothing to ask about.
            nudging.start(pace.look_seconds)
        except SQLAlchemyError as trouble:
            failures += 1
            reports.trouble(DATABASE_TROUBLE, type(trouble).__name__)
            await asyncio.sleep(intake.patience.after(failures))
        else:
            failures = 0
            reports.over(DATABASE_BACK)


async def _connect(bot: ExtBot[Any], intake: Intake) -> None:
    """Find out who the bot is, however long the server takes; then the menu, and no webhook."""
    failures = 0
    while True:
        try:
            await bot.initialize()
            break
        except InvalidToken:
            raise
        except TelegramError as trouble:
            failures += 1
            intake.reports.trouble(UNREACHABLE, type(trouble).__name__)
            await asyncio.sleep(intake.patience.after(failures))
    intake.reports.over(BACK)
    with contextlib.suppress(TelegramError):  # none of it is needed to answer
        await bot.delete_webhook()
        await bot.set_my_commands(commands())


def commands() -> list[BotCommand]:
    """The menu: the skills that make sense with nothing after the word."""
    return [BotCommand(skill.name, skill.title) for skill in SKILLS if skill.name in _COMMANDS]


def _send_what_waits(database: Database, delivery: Delivery) -> None:
    with database.reading() as work:
        letters, dead = work.post.unsent(), work.post.dead()
    if dead:
        _LOG.warning(DEAD_KEPT, len(dead))
    if letters:
        _LOG.info(UNSENT, len(letters))
    for letter in letters:
        delivery.post(letter)


async def _catch_up(database: Database, handling: Handling, fetching: Fetching) -> None:
    """Handle what was kept and not handled, oldest first; what is being fetched is seen to."""
    with database.reading() as work:
        waiting = [u for u in work.post.waiting() if not fetching.has(u.id)]
    if waiting:
        _LOG.info(BEHIND, len(waiting))
    for update in waiting:
        file = handling.wants(update.raw)
        if file is not None:
            fetching.begin(handling, file, update.id, update.raw, update.received_at)
        else:
            handling.handle(update.id, update.raw, update.received_at)
        await asyncio.sleep(0)  # let replies go out meanwhile


async def _take_in(
    batch: Sequence[dict[str, Any]] | tuple[int, str],
    database: Database,
    handling: Handling,
    fetching: Fetching,
    intake: Intake,
    now: datetime,
) -> None:
    """Commit a batch, then handle it in order; one with a file once that was fetched. One update
    alone, without a file, is kept by being handled."""
    if isinstance(batch, tuple):
        update_id, text = batch
        handling.bury(update_id, text, ValueError(), now)
        intake.committed(update_id)
        return
    if not batch:
        return
    highest = max(update["update_id"] for update in batch)
    files = {u["update_id"]: file for u in batch if (file := handling.wants(u)) is not None}
    if len(batch) > 1 or files:
        with database.writing() as work:
            work.post.keep({u["update_id"]: json.dumps(u) for u in batch}, now)
        intake.committed(highest)
    for update in batch:
        update_id = update["update_id"]
        if update_id in files:
            fetching.begin(handling, files[update_id], update_id, update, now)
        else:
            handling.handle(update_id, update, now)
        if len(batch) > 1:
            await asyncio.sleep(0)  # let replies go out meanwhile
    intake.committed(highest)


def _forget_old_ids(database: Database, now: datetime) -> None:
    with database.writing() as work:
        work.post.forget_handled(now - _KEEP_IDS)
