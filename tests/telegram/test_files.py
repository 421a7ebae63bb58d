"""A calendar file over the platform: fetched outside of the unit of work, lost by nothing."""

from __future__ import annotations

import asyncio
import base64
import json
import os
import signal
import subprocess
import sys
import time
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from bot.folder.sent_calendar import LARGEST
from bot.telegram import fetching
from bot.wording.telegram import STRANGER
from storage.database import open_database
from tests.calendars import ics
from tests.local_bot_api import LocalBotApi, Remote
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import MORNING, ROBIN, room

# The demo class has its own calendar: these are days it does not know of.
STAFF = "DTSTART;VALUE=DATE:20261201|SUMMARY:Staff day"
FAIR = "DTSTART;VALUE=DATE:20261207|DTEND;VALUE=DATE:20261209|SUMMARY:Book fair"
ASKED = "2 events would close school (3 days). Nothing has changed yet."
FILE = ics(STAFF, FAIR)


def closed(database: Any) -> set[str]:
    """The days that were closed from the chat: the folder knows none of these."""
    with database.reading() as work:
        days = {c.day.isoformat() for c in work.book(1).roster().closures}
    return days & {"2026-12-01", "2026-12-07", "2026-12-08"}


async def test_a_calendar_is_fetched_shown_and_taken_with_one_tap(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    robin.document(FILE, "district.ics", mime_type="text/calendar", caption="our calendar")
    async with running() as database:
        [told] = await seen.until_replies(api, 1)
        assert told.startswith(ASKED)
        assert seen.labels(api) == ["All of them", "Choose", "None"]
        assert closed(database) == set()
        robin.press("All of them")
        assert (await seen.until_replies(api, 2))[1].startswith("Noted: no school on 3 days.")
        assert closed(database) == {"2026-12-01", "2026-12-07", "2026-12-08"}
        robin.press("Undo")
        await seen.until_replies(api, 3)
        assert closed(database) == set()
        first = seen.entry_rows(database)[0]
        updates = {row["state"] for row in seen.update_rows(database)}
    assert (first["kind"], first["text"]) == ("file", "our calendar [district.ics]")
    assert updates == {"handled"}
    assert [call.status for call in api.called("file")] == [200]


async def test_events_are_chosen_by_buttons_and_by_text(api: LocalBotApi, running: Running) -> None:
    robin = api.phone(ROBIN)
    robin.document(FILE, "district.ics")
    async with running() as database:
        await seen.until_replies(api, 1)
        robin.press("Choose")
        await seen.until_replies(api, 2)
        robin.press("☑ 2. Book fair")
        assert "☐ 2. Book fair" in (await seen.until_replies(api, 3))[2]
        robin.press("Take these 1")
        await seen.until_replies(api, 4)
        assert closed(database) == {"2026-12-01"}
        robin.document(ics(FAIR), "again.ics")
        await seen.until_replies(api, 5)
        robin.text("all but book fair")
        await seen.until_replies(api, 6)
        assert closed(database) == {"2026-12-01"}


async def test_the_question_survives_a_restart(api: LocalBotApi, running: Running) -> None:
    robin = api.phone(ROBIN)
    robin.document(FILE, "district.ics")
    async with running():
        await seen.until_replies(api, 1)
    robin.text("only the book fair")
    async with running() as database:
        await seen.until_replies(api, 2)
        assert closed(database) == {"2026-12-07", "2026-12-08"}


@pytest.mark.parametrize("method", ["getFile", "file"])
@pytest.mark.parametrize("kind", ["error", "drop", "retry_after"])
async def test_trouble_on_the_way_is_tried_again_and_others_go_on(
    api: LocalBotApi, running: Running, method: str, kind: Any
) -> None:
    api.fail(kind, method, times=2, status=502, seconds=0.01)
    api.phone(ROBIN).document(FILE, "district.ics")
    async with running():
        assert (await seen.until_replies(api, 1))[0].startswith(ASKED)
    assert len(api.called(method)) == 3


@pytest.mark.parametrize("method", ["getFile", "file"])
async def test_a_file_that_cannot_be_had_is_answered_in_the_end(
    api: LocalBotApi, running: Running, method: str
) -> None:
    api.fail("error", method, times=99, status=500)
    api.phone(ROBIN).document(FILE, "district.ics")
    async with running() as database:
        [told] = await seen.until_replies(api, 1)
        states = [row["state"] for row in seen.update_rows(database)]
        api.phone(ROBIN).text("all")
        await seen.until_replies(api, 2)
        assert closed(database) == set()
    assert told == "I could not fetch that file, so nothing changed. Please send it again."
    assert states == ["handled"]
    assert len(api.called(method)) == 5


async def test_a_file_that_is_gone_is_not_asked_for_again(
    api: LocalBotApi, running: Running
) -> None:
    api.phone(ROBIN).document(FILE, "district.ics")
    api.chats.files.clear()
    async with running():
        [told] = await seen.until_replies(api, 1)
    assert "send it again" in told
    assert len(api.called("getFile")) == 1


async def test_too_big_a_file_is_refused_without_being_fetched(
    api: LocalBotApi, running: Running
) -> None:
    api.phone(ROBIN).document(b"B" * (LARGEST + 1), "district.ics")
    async with running() as database:
        [told] = await seen.until_replies(api, 1)
        kinds = [row["kind"] for row in seen.entry_rows(database)]
    assert told == "That file is too big for a calendar: I read up to 5 MB. Nothing changed."
    assert kinds == ["file"]
    assert api.called("getFile") == api.called("file") == []


async def test_another_kind_of_document_is_not_fetched(api: LocalBotApi, running: Running) -> None:
    api.phone(ROBIN).document(b"x", "list.csv", mime_type="text/csv")
    async with running():
        [told] = await seen.until_replies(api, 1)
    assert "I can't read that kind of message" in told
    assert api.called("getFile") == []


async def test_nothing_of_a_stranger_is_fetched(api: LocalBotApi, running: Running) -> None:
    api.phone(900, "Lee").document(FILE, "district.ics", caption="our calendar")
    async with running() as database:
        assert await seen.until_replies(api, 1, 900) == [STRANGER]
        assert seen.entry_rows(database) == []
    assert api.called("getFile") == []


async def test_other_messages_do_not_wait_for_a_file(
    api: LocalBotApi, running: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    may_go = asyncio.Event()
    well = fetching.Fetching._download

    async def held(self: Any, file: Any) -> Any:
        await may_go.wait()
        return await well(self, file)

    monkeypatch.setattr(fetching.Fetching, "_download", held)
    robin = api.phone(ROBIN)
    robin.document(FILE, "district.ics")
    robin.text("hello")
    async with running() as database:
        await seen.until_replies(api, 1)
        await api.until_confirmed()
        states = [row["state"] for row in seen.update_rows(database)]
        may_go.set()
        assert (await seen.until_replies(api, 2))[1].startswith(ASKED)
    assert states == ["waiting", "handled"]


async def test_the_same_update_again_and_an_edit_of_the_caption_change_nothing(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    sent = robin.document(FILE, "district.ics")
    assert sent.update_id is not None
    async with running() as database:
        await seen.until_replies(api, 1)
        message = api.visible(ROBIN)[0]
        api.updates.add_raw(json.dumps({"update_id": sent.update_id, "message": message}))
        edited = {**message, "caption": "all", "edit_date": message["date"] + 60}
        api.raw({"edited_message": edited})
        robin.text("thanks")
        await api.until(lambda: seen.replies(api)[-1] == "Any time.")
        assert len(seen.replies(api)) == 2
        assert [row["kind"] for row in seen.entry_rows(database)] == ["file", "text"]
        assert closed(database) == set()


async def test_a_file_that_waits_at_the_start_is_fetched_then(
    api: LocalBotApi, running: Running, url: str
) -> None:
    """As a crash leaves it: kept, acknowledged, not handled; read as of when it was sent."""
    robin = api.phone(ROBIN)
    sent = robin.document(FILE, "district.ics")
    assert sent.update_id is not None
    message = api.visible(ROBIN)[0]
    update = json.dumps({"update_id": sent.update_id, "message": message})
    api.updates.drop_all()
    database = open_database(url)
    with database.writing() as work:
        work.post.keep({sent.update_id: update}, MORNING)
    database.close()
    async with running(now=lambda: MORNING + timedelta(hours=2)) as database:
        assert (await seen.until_replies(api, 1))[0].startswith(ASKED)
        assert [row["at"] for row in seen.entry_rows(database)] == [MORNING]
        assert [row["state"] for row in seen.update_rows(database)] == ["handled"]


def test_killing_the_bot_while_it_fetches_loses_no_file(remote: Remote, tmp_path: Path) -> None:
    url = room(tmp_path / "killed.db", 801)
    environment = {
        **os.environ,
        "TUBTALLY_TOKEN": remote.token,
        "TUBTALLY_API_URL": remote.base_url,
        "TUBTALLY_DATABASE": url,
    }

    def start() -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", "tests.benchmarks.unpaced_bot"]
        return subprocess.Popen(command, env=environment, stderr=subprocess.DEVNULL)

    days = [date.today() + timedelta(days=n) for n in range(7, 100)]
    events = [f"DTSTART;VALUE=DATE:{day:%Y%m%d}|SUMMARY:Holidays" for day in days]
    remote("fault", kind="slow", method="getFile", seconds=30)
    remote("document", user_id=801, first_name="A", name="a.ics", content=_base64(ics(*events)))
    with start() as process:
        remote("wait", method="getFile", count=1, seconds=30)
        remote("wait", confirmed=True, seconds=30)  # acknowledged while it is being fetched
        process.send_signal(signal.SIGKILL)
    with start() as process:
        ends = time.monotonic() + 30
        while not _replies(remote) and time.monotonic() < ends:
            time.sleep(0.05)
        process.send_signal(signal.SIGTERM)
    assert process.returncode == 0
    [told] = _replies(remote)
    assert "would close school" in told


def _replies(remote: Remote) -> list[str]:
    return [m["text"] for m in remote("visible", chat_id=801) if m["from"]["is_bot"]]


def _base64(content: bytes) -> str:
    return base64.b64encode(content).decode()
