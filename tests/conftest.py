"""Fixtures every test may use, and the option that runs the long checks whole."""

import pytest
from hypothesis import settings

from tests.classroom_fixture import classbook, classroom, classroom_file
from tests.local_bot_api.fixtures import api, bot, remote

__all__ = ["api", "bot", "classbook", "classroom", "classroom_file", "remote"]

# The same examples in every run: a red run can be run again. `--hypothesis-seed` draws others.
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("others", deadline=None)


def pytest_addoption(parser: pytest.Parser) -> None:
    """Checks that draw a sample by default draw all of it where this is told."""
    parser.addoption(
        "--all-of-it",
        action="store_true",
        help="every misspelling, 200 rosters, 200,000 generated messages",
    )


def pytest_configure(config: pytest.Config) -> None:
    """With a seed of one's own the generated examples are drawn anew."""
    settings.load_profile("same" if config.getoption("hypothesis_seed") is None else "others")


@pytest.fixture(scope="session")
def all_of_it(request: pytest.FixtureRequest) -> bool:
    """Whether the long checks are to be run whole."""
    return bool(request.config.getoption("--all-of-it"))
