"""Promise: kill -9 at any instant loses nothing, applies nothing twice, and keeps the order."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.benchmarks.kill_nine import Findings, trial
from tests.local_bot_api import Remote


def test_killing_the_bot_loses_nothing_and_repeats_nothing(remote: Remote, tmp_path: Path) -> None:
    found = trial(remote, tmp_path, updates=60, kills=3, chats=4, seed=7, module="bot")
    assert replace(found, kills_with_work_in_hand=0, replies_repeated=0) == Findings(
        updates=60,
        kills=3,
        chats=4,
        kills_with_work_in_hand=0,
        lost=0,
        applied_twice=0,
        out_of_order=0,
        wrong_effect=0,
        dead=0,
        replies_lost=0,
        replies_out_of_order=0,
        replies_repeated=0,
    )
    assert found.kills_with_work_in_hand > 0
    assert remote("violations") == []
