"""Settings from the environment, each in one place."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

TOKEN = "CROCKBELL_TOKEN"
DATABASE = "CROCKBELL_DB"
API = "CROCKBELL_API"
PLANNING = "CROCKBELL_PLANNING_LIMIT"

PLANNING_LIMIT = timedelta(seconds=20)
"""How long to plan before answering with the best found so far; enough for any plan but the largest."""


A_DAY = 24 * 60 * 60


class BadSettings(ValueError):
    """A setting that is missing or makes no sense; the text says which."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`database` is where SQLite keeps everything; `api` another Bot API server than the public one;
    `planning` how long working out a timetable may take, in whole seconds where it is set.
    """

    database: Path
    token: str | None = None
    api: str | None = None
    planning: timedelta = PLANNING_LIMIT

    @staticmethod
    def read(database: str | None = None, name: str = "crockbell.sqlite3") -> Settings:
        chosen = database or os.environ.get(DATABASE)
        path = Path(chosen) if chosen else _data_home() / name
        return Settings(path, os.environ.get(TOKEN), os.environ.get(API), _seconds(PLANNING, PLANNING_LIMIT))

    def need_token(self) -> str:
        if not self.token:
            raise BadSettings(f"set {TOKEN} to the token of your Telegram bot")
        return self.token


def _seconds(name: str, otherwise: timedelta) -> timedelta:
    given = os.environ.get(name)
    if not given:
        return otherwise
    if not (given.isascii() and given.isdigit() and 0 < int(given) <= A_DAY):
        raise BadSettings(f"{name} is {given!r}; expected whole seconds, such as 20")
    return timedelta(seconds=int(given))


def _data_home() -> Path:
    """Where the XDG base directory specification puts a user's data."""
    home = os.environ.get("XDG_DATA_HOME")
    return (Path(home) if home else Path.home() / ".local" / "share") / "crockbell"
