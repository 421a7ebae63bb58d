"""The bot is killed at random instants while messages come in; then everything is counted.

``python -m tests.benchmarks.kill_nine [--updates 1000] [--kills 50] [--chats 8] [--seed N]``: the
bot is a process of its own (tests.benchmarks.unpaced_bot), its server another. In each chat a
member logs a group's turn and takes it back, again and again, so that a message lost, applied twice
or out of order shows in the replies as well as in the entries.
"""

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

from sqlalchemy import func, select

from storage.database import Database, open_database
from storage.tables import entries, outbox, updates
from tests.benchmarks.message_cost import texts
from tests.local_bot_api import BOT, Remote, running_apart
from tests.telegram.rooms import room

UNPACED = "tests.benchmarks.unpaced_bot"
FIRST_CHAT = 601


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """What was counted at the end. `replies_repeated` cannot be nought: a reply may have arrived
    though the bot was killed before it knew."""

    updates: int
    kills: int
    chats: int
    kills_with_work_in_hand: int
    lost: int
    applied_twice: int
    out_of_order: int
    wrong_effect: int
    dead: int
    replies_lost: int
    replies_out_of_order: int
    replies_repeated: int


class Trial:
    """One run: sends, starts, kills, restarts, and looks at what is left."""

    def __init__(self, remote: Remote, folder: Path, module: str, chats: int, seed: int) -> None:
        self.remote, self.module, self.chance = remote, module, random.Random(seed)
        self.accounts = range(FIRST_CHAT, FIRST_CHAT + chats)
        self.logs = texts(folder)[:chats]
        self.url = room(folder / "killed.db", *self.accounts, now=datetime.now(UTC), shift=True)
        self.sent: dict[int, list[int]] = {account: [] for account in self.accounts}
        self.busy_kills = 0

    def send(self, count: int) -> None:
        """Each time somebody: a log, then its undo, then the log again ..."""
        for _ in range(count):
            place = self.chance.randrange(len(self.accounts))
            account = self.accounts[place]
            text = "undo" if len(self.sent[account]) % 2 else self.logs[place]
            done = self.remote("text", user_id=account, first_name="A", text=text)
            self.sent[account].append(done["update_id"])

    def start(self) -> subprocess.Popen[bytes]:
        """The bot's own process."""
        environment = {
            **os.environ,
            "TUBTALLY_TOKEN": self.remote.token,
            "TUBTALLY_API_URL": self.remote.base_url,
            "TUBTALLY_DATABASE": self.url,
        }
        command = [sys.executable, "-m", self.module]
        return subprocess.Popen(command, env=environment, stderr=subprocess.DEVNULL)

    def kill_once(self, count: int) -> None:
        """Start the bot, send, and kill it: mostly while it works, at times while it starts."""
        self.send(count // 2)
        polls = len(self.remote("calls", method="getUpdates"))
        with self.start() as process:
            if self.chance.random() < 0.9:
                self.remote("wait", method="getUpdates", count=polls + 1, seconds=30)
            at = time.monotonic() + self.chance.random() * 0.2
            self.send(count - count // 2)
            time.sleep(max(0.0, at - time.monotonic()))
            process.send_signal(signal.SIGKILL)
        state = self.remote("state")
        self.busy_kills += bool(state["pending"]) or self._left() > 0

    def finish(self) -> None:
        """Let the bot do what is left, and stop it as one should."""
        with self.start() as process:
            self.remote("wait", confirmed=True, seconds=60)
            while self._left():
                time.sleep(0.02)
            process.send_signal(signal.SIGTERM)
        assert process.returncode == 0, process.returncode

    def _left(self) -> int:
        database = open_database(self.url)
        with database.reading() as work:
            kept = select(func.count()).where(updates.c.state == "waiting")
            unsent = select(func.count()).where(outbox.c.state == "waiting")
            counts = [work.connection.execute(query).scalar_one() for query in (kept, unsent)]
        database.close()
        return sum(counts)

    def findings(self, kills: int) -> Findings:
        """Count."""
        database = open_database(self.url)
        counted = dict.fromkeys((f.name for f in fields(Findings)), 0)
        counted |= {"kills": kills, "chats": len(self.sent)}
        counted["kills_with_work_in_hand"] = self.busy_kills
        counted["updates"] = sum(map(len, self.sent.values()))
        for account, sent in self.sent.items():
            _compare(counted, sent, *_kept(database, account))
            _look(counted, self.remote("visible", chat_id=account), _letters(database, account))
        with database.reading() as work:
            counted["dead"] = len(work.post.dead())
        database.close()
        return Findings(**counted)


def _kept(database: Database, account: int) -> tuple[list[int], list[str]]:
    """The update ids of a chat's entries, and the replies, in the order they were made."""
    query = (
        select(entries.c.key, entries.c.reply)
        .where(entries.c.place == f"telegram:{account}")
        .order_by(entries.c.id)
    )
    with database.reading() as work:
        rows = work.connection.execute(query).all()
    return [int(row.key.split(":")[1]) for row in rows], [row.reply for row in rows]


def _letters(database: Database, account: int) -> list[int]:
    query = select(outbox.c.id).where(outbox.c.chat == account).order_by(outbox.c.id)
    with database.reading() as work:
        return list(work.connection.scalars(query))


def _compare(
    counted: dict[str, int], sent: Sequence[int], kept: Sequence[int], replies: Sequence[str]
) -> None:
    counted["lost"] += len(set(sent) - set(kept))
    counted["applied_twice"] += len(kept) - len(set(kept))
    counted["out_of_order"] += _falls(kept)
    for number, reply in enumerate(replies):
        counted["wrong_effect"] += not reply.startswith("Undone" if number % 2 else "✓")


def _look(
    counted: dict[str, int], visible: Sequence[dict[str, Any]], letters: Sequence[int]
) -> None:
    """Every reply has a button that names its letter."""
    shown = [
        int(message["reply_markup"]["inline_keyboard"][0][0]["callback_data"].split(":")[1])
        for message in visible
        if message["from"] == BOT
    ]
    counted["replies_lost"] += len(set(letters) - set(shown))
    counted["replies_out_of_order"] += _falls(shown)
    counted["replies_repeated"] += len(shown) - len(set(shown))


def _falls(numbers: Sequence[int]) -> int:
    return sum(after < before for before, after in pairwise(numbers))


def trial(
    remote: Remote,
    folder: Path,
    *,
    updates: int,
    kills: int,
    chats: int,
    seed: int,
    module: str = UNPACED,
) -> Findings:
    """The whole of it, against a server that is running."""
    run = Trial(remote, folder, module, chats, seed)
    for number in range(kills):
        run.kill_once(updates * (number + 1) // (kills + 1) - updates * number // (kills + 1))
    run.send(updates - sum(map(len, run.sent.values())))
    run.finish()
    return run.findings(kills)


def main() -> None:
    """Run it and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--updates", type=int, default=1000)
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--chats", type=int, default=8)
    parser.add_argument("--seed", type=int, default=random.randrange(10**6))
    asked = vars(parser.parse_args())
    started = time.monotonic()
    with running_apart() as remote, tempfile.TemporaryDirectory() as folder:
        found = trial(remote, Path(folder), **asked)
        assert remote("violations") == []
    print(f"seed {asked['seed']}, {time.monotonic() - started:.0f} s")
    for field in fields(found):
        print(f"{field.name.replace('_', ' '):<24} {getattr(found, field.name):>6}")


if __name__ == "__main__":
    main()
