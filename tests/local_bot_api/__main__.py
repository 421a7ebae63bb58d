"""Run the server as a process of its own; the first line printed is its base address."""

import argparse
import asyncio
import contextlib
import signal

from tests.local_bot_api.server import TOKEN, LocalBotApi


def main() -> None:
    """``python -m tests.local_bot_api [--port N] [--token T]``; SIGTERM or SIGINT ends it."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--port", type=int, default=0, help="0: any free port")
    parser.add_argument("--token", default=TOKEN, help="the only token accepted")
    asked = parser.parse_args()
    with contextlib.suppress(KeyboardInterrupt):
        asyncio.run(_serve(asked.token, asked.port))


async def _serve(token: str, port: int) -> None:
    ended = asyncio.Event()
    asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, ended.set)
    async with LocalBotApi(token=token, port=port) as api:
        print(api.base_url, flush=True)
        await ended.wait()


if __name__ == "__main__":
    main()
