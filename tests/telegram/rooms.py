"""An invented class in a real database, with people whose phones are members' phones."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from bot.folder import ClassFolder, read_folder, shift_weeks, weeks_to_middle
from bot.folder.loading import load
from bot.settings import Settings, sqlite_url
from storage.database import Database, Work, open_database
from storage.records import Member

DEMO = Path(__file__).parent.parent.parent / "demo_roster"
DAY = date(2026, 11, 18)  # a Wednesday in the middle of the demo class's term
MORNING = datetime(2026, 11, 18, 17, 5, tzinfo=UTC)  # 11:05 in the class, after both rotations
ROBIN = 501


def demo_class(work: Work, now: datetime, *, shift: bool = False) -> int:
    """Load the demo class (moved to around `now` if asked) and give its id."""
    folder = read_folder(DEMO, machine_zone="UTC")
    assert isinstance(folder, ClassFolder), folder
    if shift:
        folder = shift_weeks(folder, weeks_to_middle(folder, now.date()))
    load(work, folder, now)
    return work.register.classes()[-1].id


def new_member(work: Work, class_id: int, account: int, name: str) -> Member:
    """A co-teacher who has joined; the owner where the name says so."""
    place = work.register.member(class_id, name)
    place = place or work.register.add_member(class_id, name, role="co-teacher")
    joined = work.register.redeem(work.register.new_code(place), account, MORNING)
    assert joined is not None
    return joined


def room(path: Path, *accounts: int, now: datetime = MORNING, shift: bool = False) -> str:
    """Make a database with the demo class and these members' accounts; its URL."""
    url = sqlite_url(path)
    database = open_database(url)
    with database.writing() as work:
        class_id = demo_class(work, now, shift=shift)
        for number, account in enumerate(accounts):
            new_member(work, class_id, account, "owner" if number == 0 else f"member {number}")
    database.close()
    return url


def settings_for(url: str, base_url: str, token: str) -> Settings:
    """Settings that point at a local Bot API server."""
    return Settings(database=url, token=token, api_url=base_url, is_default_database=False)


def opened(settings: Settings) -> Database:
    """The database of these settings."""
    return open_database(settings.database)
