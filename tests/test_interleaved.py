"""The benchmark's arithmetic, and one short run of it so that it cannot rot."""

from functools import partial
from pathlib import Path

from tests.benchmarks.echo_floor import bare_echo
from tests.benchmarks.interleaved import Course, Timing, report, timed


def test_the_report_gives_median_ninetieth_percentile_and_ratio() -> None:
    first = Timing(tuple(float(n) for n in range(1, 12)))
    second = Timing(tuple(float(2 * n) for n in range(1, 12)))
    assert report({"bare echo": first, "the bot": second}).splitlines() == [
        "system                           n  median ms   p90 ms  ratio",
        "bare echo                       11      6.000   10.800   1.00",
        "the bot                         11     12.000   21.600   2.00",
    ]


async def test_two_systems_take_turns_and_every_message_is_timed(tmp_path: Path) -> None:
    systems = {}
    for name in ("first", "second"):
        (tmp_path / name).mkdir()
        systems[name] = partial(bare_echo, folder=tmp_path / name)
    timings = await timed(systems, Course(messages=6, blocks=2, warm_up=1))
    assert {name: len(timing.milliseconds) for name, timing in timings.items()} == {
        "first": 6,
        "second": 6,
    }
