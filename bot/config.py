"""Settings from the environment, each in one place."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

TOKEN = "CROCKBELL_TOKEN"
DATABASE = "CROCKBELL_DB"
API = "CROCKBELL_API"


class BadSettings(ValueError):
    """A setting that is missing or makes no sense; the text says which."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`database` is where SQLite keeps everything; `api` another Bot API server than the public one."""

    database: Path
    token: str | None = None
    api: str | None = None

    @staticmethod
    def read(database: str | None = None, name: str = "crockbell.sqlite3") -> Settings:
        chosen = database or os.environ.get(DATABASE)
        path = Path(chosen) if chosen else _data_home() / name
        return Settings(path, os.environ.get(TOKEN), os.environ.get(API))

    def need_token(self) -> str:
        if not self.token:
            raise BadSettings(f"set {TOKEN} to the token of your Telegram bot")
        return self.token


def _data_home() -> Path:
    """Where the XDG base directory specification puts a user's data."""
    home = os.environ.get("XDG_DATA_HOME")
    return (Path(home) if home else Path.home() / ".local" / "share") / "crockbell"
