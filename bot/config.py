"""Settings from the environment, each in one place."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from scheduler.domain.kitchen.rules import RULES, STRICTER, Rules

TOKEN = "CROCKBELL_TOKEN"
DATABASE = "CROCKBELL_DB"
API = "CROCKBELL_API"
PLANNING = "CROCKBELL_PLANNING_LIMIT"
HOLDING = "CROCKBELL_RULES"

PLANNING_LIMIT = timedelta(seconds=20)
"""How long to plan before answering with the best found so far; enough for any plan but the largest."""


A_DAY = 24 * 60 * 60


class BadSettings(ValueError):
    """A setting that is missing or makes no sense; the text says which."""


@dataclass(frozen=True, slots=True)
class Settings:
    """`database` is where SQLite keeps everything; `api` another Bot API server than the public one;
    `planning` how long working out a timetable may take, in whole seconds where it is set; `rules` the published
    rules for cooling and holding that limits are told by.
    """

    database: Path
    token: str | None = None
    api: str | None = None
    planning: timedelta = PLANNING_LIMIT
    rules: Rules = STRICTER

    @staticmethod
    def read(database: str | None = None, name: str = "crockbell.sqlite3") -> Settings:
        chosen = database or os.environ.get(DATABASE)
        path = Path(chosen) if chosen else _data_home() / name
        limit = _seconds(PLANNING, PLANNING_LIMIT)
        return Settings(path, os.environ.get(TOKEN), os.environ.get(API), limit, rules_set())

    def need_token(self) -> str:
        if not self.token:
            raise BadSettings(f"set {TOKEN} to the token of your Telegram bot")
        return self.token


def rules_set() -> Rules:
    """The rules for cooling and holding that the settings name; the stricter of all where they name none."""
    given = os.environ.get(HOLDING)
    return rules_named(given, HOLDING) if given else STRICTER


def rules_named(name: str, setting: str) -> Rules:
    """One set of rules; BadSettings, with the names there are, for a name that is none of them."""
    found = RULES.get(" ".join(name.split()).casefold().replace(" ", "-"))
    if found is None:
        raise BadSettings(f"{setting} is {name!r}; expected one of {', '.join(RULES)}")
    return found


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
