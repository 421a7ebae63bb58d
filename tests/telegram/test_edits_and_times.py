"""Promise: the message's own time counts, and an edit corrects what its message said."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from tests.local_bot_api import LocalBotApi
from tests.telegram import seen
from tests.telegram.conftest import Running
from tests.telegram.rooms import MORNING, ROBIN

YESTERDAY = int((MORNING - timedelta(days=1)).timestamp())


async def test_a_backlog_keeps_its_times(api: LocalBotApi, running: Running) -> None:
    api.phone(ROBIN).text("mei ramps", date=YESTERDAY)
    async with running(now=lambda: MORNING + timedelta(hours=9)) as database:
        await seen.until_replies(api, 1)
        [entry] = seen.entry_rows(database)
        assert seen.visits(database) == {("Mei-Lin C.", "Ramps", "2026-11-17")}
    assert entry["at"] == datetime.fromtimestamp(YESTERDAY, UTC)
    assert entry["received_at"] == MORNING + timedelta(hours=9)


async def test_an_edit_corrects_its_message_at_the_time_of_the_message(
    api: LocalBotApi, running: Running
) -> None:
    robin = api.phone(ROBIN)
    first = robin.text("mei ramps", date=YESTERDAY)
    async with running() as database:
        await seen.until_replies(api, 1)
        robin.edit(first.message_id, "kofi ramps", date=int(MORNING.timestamp()))
        said = (await seen.until_replies(api, 2))[1]
        assert seen.visits(database) == {("Kofi B.", "Ramps", "2026-11-17")}
        log, edit = seen.entry_rows(database)
    assert said.startswith("Changed.")
    assert (edit["kind"], edit["replaces"], edit["at"]) == ("edit", log["id"], log["at"])
    assert edit["message"] == log["message"] == str(first.message_id)


async def test_an_edit_of_an_edit_corrects_the_edit(api: LocalBotApi, running: Running) -> None:
    robin = api.phone(ROBIN)
    first = robin.text("mei ramps")
    async with running() as database:
        for count, text in ((1, None), (2, "kofi ramps"), (3, "linh ramps")):
            if text is not None:
                robin.edit(first.message_id, text)
            await seen.until_replies(api, count)
        assert seen.visits(database) == {("Linh P.", "Ramps", "2026-11-18")}


async def test_an_edit_of_what_was_not_text_is_let_be(api: LocalBotApi, running: Running) -> None:
    about = {
        "message_id": 9,
        "date": YESTERDAY,
        "edit_date": YESTERDAY + 60,
        "from": {"id": ROBIN, "is_bot": False},
        "chat": {"id": ROBIN, "type": "private"},
    }
    api.raw({"edited_message": {**about, "location": {"latitude": 1, "longitude": 1}}})
    api.phone(ROBIN).text("thanks")
    async with running() as database:
        assert await seen.until_replies(api, 1) == ["Any time."]
        assert [row["text"] for row in seen.entry_rows(database)] == ["thanks"]
