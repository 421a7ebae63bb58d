"""``python -m tests.benchmarks.unpaced_bot``: the bot as users run it, but at no set pace."""

import os
import sys
from pathlib import Path

from bot.settings import read_settings
from bot.telegram.running import Pace, run

if __name__ == "__main__":
    sys.exit(run(read_settings(os.environ, Path("/nowhere")), pace=Pace(limited=False)))
