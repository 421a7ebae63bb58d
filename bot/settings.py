"""Settings: the environment (and an .env file) once, as one frozen value."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from dotenv import dotenv_values
from platformdirs import user_data_path

from storage.database import without_password

_PREFIX = "TUBTALLY_"
_KNOWN = ("TUBTALLY_DATABASE", "TUBTALLY_TOKEN", "TUBTALLY_API_URL")
_DEFAULT_API = "https://api.telegram.org"


class WrongSettings(Exception):
    """Every setting that is missing or wrong, one sentence each; none holds a secret."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        super().__init__("; ".join(problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Settings:
    """What the environment says. The token is kept out of the representation."""

    database: str
    token: str | None
    api_url: str
    is_default_database: bool

    @property
    def shown_database(self) -> str:
        """The database's address without a password in it."""
        return without_password(self.database)

    def __repr__(self) -> str:
        token = "set" if self.token else None
        return f"Settings(database={self.shown_database!r}, token={token})"


def data_folder() -> Path:
    """Where this user's own files belong."""
    return user_data_path("tubtally", appauthor=False)


def read_settings(environment: Mapping[str, str], folder: Path) -> Settings:
    """Settings from the environment, filled up from an .env file in `folder`.

    Raises WrongSettings with everything that is wrong at once.
    """
    told, problems = _told(folder / ".env")
    values = {**told, **{k: v for k, v in environment.items() if v}}
    problems += [
        f"{name} is not a setting; known are {', '.join(_KNOWN)}."
        for name in sorted(values)
        if name.startswith(_PREFIX) and name not in _KNOWN
    ]
    api_url = values.get("TUBTALLY_API_URL", _DEFAULT_API).rstrip("/")
    if not api_url.startswith(("http://", "https://")):
        problems.append("TUBTALLY_API_URL must begin with http:// or https://.")
    database = values.get("TUBTALLY_DATABASE")
    if database is not None and "://" not in database:
        problems.append(
            "TUBTALLY_DATABASE must be an SQLAlchemy URL such as sqlite:////home/me/t.db."
        )
    if problems:
        raise WrongSettings(tuple(problems))
    return Settings(
        database=database or sqlite_url(data_folder() / "tubtally.db"),
        token=values.get("TUBTALLY_TOKEN"),
        api_url=api_url,
        is_default_database=database is None,
    )


def _told(file: Path) -> tuple[dict[str, str], list[str]]:
    """What an .env file says, and what is wrong with it; no file says nothing."""
    if not file.is_file():
        return {}, []
    try:
        return {k: v for k, v in dotenv_values(file).items() if v}, []
    except (OSError, UnicodeDecodeError):
        return {}, [f"{file} cannot be read; it must be text in UTF-8 that you may open."]


def sqlite_url(path: Path) -> str:
    """The SQLAlchemy URL of an SQLite file."""
    return f"sqlite:///{path}"


def environment() -> Mapping[str, str]:
    """The process's own environment."""
    return os.environ
