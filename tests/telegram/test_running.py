"""Promise: the bot starts, waits and stops cleanly, says what is wrong once, and keeps secrets."""

from __future__ import annotations

import asyncio
import logging
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from bot.telegram import running as wiring
from bot.telegram.quiet import Redacting, described
from bot.wording import telegram as words
from storage.database import open_database
from tests.local_bot_api import TOKEN, LocalBotApi, Remote
from tests.telegram import seen
from tests.telegram.conftest import HASTY, Running
from tests.telegram.rooms import MORNING, ROBIN, room, settings_for


def _lines(caplog: pytest.LogCaptureFixture) -> list[str]:
    return [r.getMessage() for r in caplog.records if r.name == "tubtally"]


@pytest.mark.parametrize("token", ["no token at all", "", "1:a\nb", "123456"])
def test_what_is_no_token_is_said_before_anything_is_asked(
    url: str, capfd: pytest.CaptureFixture[str], token: str
) -> None:
    assert wiring.run(settings_for(url, "http://127.0.0.1:9", token)) == 1
    assert capfd.readouterr().err == words.BAD_TOKEN + "\n"


def test_a_refused_token_ends_the_bot_with_a_sentence_and_without_the_token(
    remote: Remote, tmp_path: Path
) -> None:
    with _bot(remote.base_url, "123456:wrong", room(tmp_path / "class.db", ROBIN)) as process:
        assert process.stderr is not None
        log = process.stderr.read()
    assert process.returncode == 1
    assert log.endswith(f" ERROR {words.BAD_TOKEN}\n")
    assert "123456:wrong" not in log
    assert len(log.splitlines()) == 1


def _bot(base_url: str, token: str, url: str) -> subprocess.Popen[str]:
    environment = {
        **os.environ,
        "TUBTALLY_TOKEN": token,
        "TUBTALLY_API_URL": base_url,
        "TUBTALLY_DATABASE": url,
    }
    command = [sys.executable, "-m", "bot"]
    return subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True)


def test_a_missing_token_is_said(url: str, capfd: pytest.CaptureFixture[str]) -> None:
    settings = settings_for(url, "http://127.0.0.1:9", "")
    settings = type(settings)(settings.database, None, settings.api_url, False)
    assert wiring.run(settings) == 1
    assert capfd.readouterr().err == words.NO_TOKEN + "\n"


async def test_a_token_withdrawn_while_the_bot_runs_ends_it(
    api: LocalBotApi, url: str, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    database = open_database(url)
    settings = settings_for(url, api.base_url, api.token)
    task = asyncio.create_task(wiring.serve(settings, database, asyncio.Event(), pace=HASTY))
    await api.until_called("getUpdates")
    api.token = "1:another"
    api.phone(ROBIN).text("thanks")
    assert await task == 1
    database.close()
    api.calls.clear()
    assert words.BAD_TOKEN in _lines(caplog)


async def test_an_unreachable_server_is_said_once_waited_for_and_said_to_be_back(
    url: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    async with LocalBotApi(clock=MORNING.timestamp) as gone:
        base_url = gone.base_url
    port = int(base_url.rpartition(":")[2])
    database, stop = open_database(url), asyncio.Event()
    settings = settings_for(url, base_url, TOKEN)
    refused = asyncio.Event()
    counted = _count_failures(refused, 5)
    logging.getLogger("httpcore.connection").addHandler(counted)
    logging.getLogger("httpcore.connection").setLevel(logging.DEBUG)
    task = asyncio.create_task(wiring.serve(settings, database, stop, pace=HASTY))
    await refused.wait()
    async with LocalBotApi(port=port, clock=MORNING.timestamp) as api:
        api.phone(ROBIN).text("thanks")
        assert await seen.until_replies(api, 1) == ["Any time."]
        stop.set()
        assert await task == 0
    logging.getLogger("httpcore.connection").removeHandler(counted)
    logging.getLogger("httpcore.connection").setLevel(logging.NOTSET)
    database.close()
    assert _lines(caplog) == [
        words.UNREACHABLE % "NetworkError",
        words.BACK,
        words.RUNNING % "local_test_bot",
        words.STOPPED,
    ]


def _count_failures(enough: asyncio.Event, count: int) -> logging.Handler:
    """Sets `enough` once so many connections have failed."""

    class Counting(logging.Handler):
        left = count

        def emit(self, record: logging.LogRecord) -> None:
            if "connect_tcp.failed" in record.getMessage():
                self.left -= 1
                if self.left == 0:
                    enough.set()

    return Counting()


@pytest.mark.parametrize(
    ("fault", "sentence"),
    [
        ({"kind": "drop", "times": 4}, words.UNREACHABLE % "NetworkError"),
        (
            {"kind": "error", "status": 502, "description": "Bad Gateway", "times": 4},
            words.UNREACHABLE % "NetworkError",
        ),
        (
            {"kind": "error", "status": 409, "description": "Conflict: other", "times": 4},
            words.CONFLICT,
        ),
        ({"kind": "retry_after", "times": 4}, words.REFUSED % "RetryAfter"),
        ({"kind": "malformed", "times": 4}, words.REFUSED % "an answer that cannot be read"),
    ],
)
async def test_trouble_in_the_middle_is_said_once_and_loses_nothing(
    api: LocalBotApi,
    running: Running,
    caplog: pytest.LogCaptureFixture,
    fault: dict[str, object],
    sentence: str,
) -> None:
    caplog.set_level(logging.INFO)
    api.phone(ROBIN).text("hello")
    async with running():
        await seen.until_replies(api, 1)
        await api.until_confirmed()
        api.fail(method="getUpdates", **fault)  # type: ignore[arg-type]  # as the cases say
        for text in ("g1 ramps", "thanks"):
            api.phone(ROBIN).text(text)
        said = await seen.until_replies(api, 3)
        await api.until_confirmed()
    assert [text[:5] for text in said] == ["Hello", "✓ Ram", "Any t"]
    assert _lines(caplog)[1:-1] == [sentence, words.BACK]


async def test_a_second_poller_is_told_of(
    api: LocalBotApi, running: Running, caplog: pytest.LogCaptureFixture
) -> None:
    async with running():
        await api.until_called("getUpdates")
        async with running():
            await api.until(lambda: api.updates.conflicts >= 2)
    assert words.CONFLICT in _lines(caplog)


def test_sigterm_stops_the_bot_cleanly_and_its_log_holds_no_secret(
    remote: Remote, tmp_path: Path
) -> None:
    url = room(tmp_path / "class.db", ROBIN)
    for number in (signal.SIGTERM, signal.SIGINT):
        for text in ("g1 ramps on 2026-11-18", "who still needs ramps", "mia ramps"):
            remote("text", user_id=ROBIN, first_name="Robin", text=text)
        remote("raw", update={"message": {"text": "Amara O.", "from": {"id": 1, "is_bot": False}}})
        with _bot(remote.base_url, remote.token, url) as process:
            remote("wait", confirmed=True)
            process.send_signal(number)
            assert process.stderr is not None
            log = process.stderr.read()
        assert process.returncode == 0, log
        assert log.splitlines()[-1].endswith(words.STOPPED)
        assert "could not be handled (KeyError" in log
        assert remote.token not in log
        assert "Amara" not in log
    assert remote("violations") == []


def test_the_token_is_blacked_out_even_in_a_traceback() -> None:
    try:
        raise ValueError(f"https://host/bot{TOKEN}/getMe")
    except ValueError:
        fault = sys.exc_info()
    record = logging.LogRecord("x", logging.ERROR, "x", 1, "at %s", (TOKEN,), fault)
    text = Redacting(TOKEN).format(record)
    assert TOKEN not in text
    assert text.count("[token]") == 2


def test_a_fault_is_described_without_its_words() -> None:
    try:
        int("Mia R.")
    except ValueError as fault:
        told = described(fault)
    assert told.startswith("ValueError in test_a_fault_is_described_without_its_words, line ")
    assert "Mia" not in told
