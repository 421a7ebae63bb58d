"""What is written about the bot is what it does: examples, words, README, the lay-out."""

from __future__ import annotations

import re
import shutil
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot import outcomes
from bot.conversation import Answer, Incoming, take
from bot.folder import ClassFolder, read_folder
from bot.folder.loading import load
from bot.outcomes import Outcome
from bot.settings import sqlite_url
from bot.skills import SKILLS, THEMES
from bot.skills.skill import Skill
from bot.wording import WORDS
from bot.wording.practice import numbered
from storage.database import open_database

CHECKOUT = Path(__file__).parent.parent
TUESDAY = datetime(2026, 11, 17, 10, 41, tzinfo=ZoneInfo("America/Chicago"))
EXAMPLES = [(skill.acts[0][0].name, example) for skill in SKILLS for example in skill.examples]
TOLD_FIRST = {"redo": ("g2 ramps", "undo"), "log_visits": ("plan", "g2 ramps")}


@pytest.fixture(scope="module")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo class on a Tuesday in the middle of its term."""
    path = tmp_path_factory.mktemp("demo") / "demo.db"
    folder = read_folder(CHECKOUT / "demo_roster", machine_zone="UTC")
    assert isinstance(folder, ClassFolder)
    database = open_database(sqlite_url(path))
    with database.writing() as work:
        load(work, folder, TUESDAY)
    database.close()
    return path


def say_to_demo(path: Path, texts: tuple[str, ...]) -> Answer:
    """The answer to the last of several texts."""
    database = open_database(sqlite_url(path))
    for text in texts:
        with database.writing() as work:
            [class_] = work.register.classes()
            [owner] = work.register.members(class_.id)
            answer = take(work.book(class_.id), owner, Incoming(text, TUESDAY, TUESDAY))
    database.close()
    return answer


@pytest.mark.parametrize(("name", "example"), EXAMPLES)
def test_an_example_is_read_as_what_it_stands_for(
    demo_file: Path, tmp_path: Path, name: str, example: str
) -> None:
    path = tmp_path / "demo.db"
    shutil.copy(demo_file, path)
    before = TOLD_FIRST.get(name, ("g2 ramps",))
    answer = say_to_demo(path, (*before, example))
    assert name in answer.requests
    assert answer.outcome in ("done", "answered")


def test_every_skill_has_a_name_of_its_own_a_title_and_examples() -> None:
    names = [skill.name for skill in SKILLS]
    assert len(set(names)) == len(names)
    assert all(skill.title and skill.examples for skill in SKILLS)


def test_a_request_is_acted_on_by_one_skill_and_a_skill_goes_by_one_name() -> None:
    requests = [request for skill in SKILLS for request, _ in skill.acts]
    assert len(set(requests)) == len(requests)
    names = [{request.name for request, _ in skill.acts} for skill in SKILLS]
    assert [found for found in names if len(found) != 1] == []


def test_every_outcome_has_its_words() -> None:
    kinds = [kind for kind in vars(outcomes).values() if isinstance(kind, type)]
    below = {kind for kind in kinds if issubclass(kind, Outcome) and kind is not Outcome}
    assert set(WORDS) == below


def test_help_tells_of_every_skill(demo_file: Path, tmp_path: Path) -> None:
    path = tmp_path / "demo.db"
    shutil.copy(demo_file, path)
    reply = say_to_demo(path, ("help",)).reply.text
    told = {skill.name for skill in SKILLS if f"“{skill.examples[0]}”" in reply}
    assert told == {skill.name for skill in SKILLS}
    assert len(reply.splitlines()) <= 10  # one screen


def test_every_skill_has_its_place_in_help() -> None:
    assert sorted(s.name for skills in THEMES.values() for s in skills) == sorted(
        skill.name for skill in SKILLS
    )


@pytest.mark.parametrize("theme", THEMES)
def test_help_with_one_theme_says_what_each_of_its_skills_is_for(
    theme: str, demo_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "demo.db"
    shutil.copy(demo_file, path)
    buttons = {c.label: c.send for c in say_to_demo(path, ("help",)).reply.choices}
    reply = say_to_demo(path, (buttons[theme],)).reply.text
    assert reply.splitlines() == [
        f"{theme}:",
        *(f"• {skill.title}: “{skill.examples[0]}”" for skill in THEMES[theme]),
    ]


# README


def readme() -> str:
    return (CHECKOUT / "README.md").read_text(encoding="utf-8")


def commands() -> list[str]:
    """The fenced blocks of README that hold one line, an installation, and no more."""
    blocks = re.findall(r"^```\w*\n(.*?)\n```$", readme(), flags=re.DOTALL | re.MULTILINE)
    return [block for block in blocks if "\n" not in block and "pip install" in block]


def test_readme_has_two_commands_each_on_one_line() -> None:
    bot, tests = commands()
    assert "-m bot" in bot
    assert "pytest" in tests


def test_the_tests_command_of_readme_is_the_one_that_ci_runs() -> None:
    _, tests = commands()
    lines = (CHECKOUT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines.count(f"test_command='{tests}'") == 1
    assert lines.count('eval "$test_command"') == 1


@pytest.mark.parametrize("skill", SKILLS, ids=lambda skill: skill.name)
def test_readme_tells_of_every_skill(skill: Skill) -> None:
    assert skill.title in readme()
    assert skill.examples[0] in readme()


def conversation() -> list[tuple[str, str]]:
    """The texts of README's conversation, each with the reply printed under it."""
    [block] = re.findall(r"^```text\n(.*?)\n```$", readme(), flags=re.DOTALL | re.MULTILINE)
    turns = re.findall(r"^> (.*)\n((?:(?!> ).*\n?)*)", block, flags=re.MULTILINE)
    return [(text, reply.rstrip("\n")) for text, reply in turns]


def test_readmes_conversation_is_what_the_demo_class_answers(
    demo_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "demo.db"
    shutil.copy(demo_file, path)
    told = [(text, numbered(say_to_demo(path, (text,)).reply)) for text, _ in conversation()]
    assert told == conversation()
    assert len(told) > 5


# The lay-out


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    made = {"build", "dist"}  # by an installation
    found = {
        path.name
        for path in CHECKOUT.iterdir()
        if not path.name.startswith((".", "__")) and path.suffix != ".egg-info"
    }
    assert found - made == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "bot",
        "storage",
        "tests",
        "demo_roster",
    }
