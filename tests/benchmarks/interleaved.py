"""Time several bots message by message, in blocks A B A B, each against its own server process."""

import asyncio
from collections.abc import Callable, Mapping
from contextlib import AbstractAsyncContextManager, ExitStack
from dataclasses import dataclass
from statistics import median, quantiles

from tests.local_bot_api import Remote, running_apart

SystemUnderTest = Callable[[str, str], AbstractAsyncContextManager[object]]
"""Takes the base address of a Bot API server and a token; answers every text exactly once while
the context is open. It may run in this event loop or start a process of its own."""


@dataclass(frozen=True, slots=True)
class Timing:
    """Milliseconds for each message, from the text's arrival at the server to its reply's."""

    milliseconds: tuple[float, ...]

    @property
    def median(self) -> float:
        """The middle value."""
        return median(self.milliseconds)

    @property
    def p90(self) -> float:
        """The value that nine in ten messages stay below."""
        return quantiles(self.milliseconds, n=10)[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """How much is timed: ``messages`` for each system, in ``blocks``; what is texted."""

    messages: int = 500
    blocks: int = 4
    warm_up: int = 20
    texts: tuple[str, ...] = ("g3 balance except mia",)
    reply_method: str = "sendMessage"


async def timed(systems: Mapping[str, SystemUnderTest], course: Course) -> dict[str, Timing]:
    """Run every system through the course; violations of the Bot API are an error."""
    seconds: dict[str, list[float]] = {name: [] for name in systems}
    with ExitStack() as stack:
        remotes = {name: stack.enter_context(running_apart()) for name in systems}
        for _ in range(course.blocks):
            for name, system in systems.items():
                seconds[name] += await _block(system, remotes[name], course)
        for name, remote in remotes.items():
            if violations := remote("violations"):
                raise AssertionError(f"{name} broke the Bot API: {violations[0]}")
    return {name: Timing(tuple(s * 1000 for s in took)) for name, took in seconds.items()}


async def _block(system: SystemUnderTest, remote: Remote, course: Course) -> list[float]:
    async with system(remote.base_url, remote.token):
        await _converse(remote, course, course.warm_up)
        took = await _converse(remote, course, course.messages // course.blocks)
        # What is not confirmed would be given to the next block again.
        await asyncio.to_thread(remote, "wait", confirmed=True)
    return took


async def _converse(remote: Remote, course: Course, count: int) -> list[float]:
    result = await asyncio.to_thread(
        remote,
        "converse",
        count=count,
        texts=list(course.texts),
        reply_method=course.reply_method,
        user_id=501,
        first_name="Robin",
    )
    return [float(second) for second in result["seconds"]]


def report(timings: Mapping[str, Timing]) -> str:
    """One line a system; the ratio is to the first one's median."""
    floor = next(iter(timings.values())).median
    lines = [f"{'system':<28} {'n':>5} {'median ms':>10} {'p90 ms':>8} {'ratio':>6}"]
    lines += [
        f"{name:<28} {len(t.milliseconds):>5} {t.median:>10.3f} {t.p90:>8.3f} "
        f"{t.median / floor:>6.2f}"
        for name, t in timings.items()
    ]
    return "\n".join(lines)
