"""Settings from the environment."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from bot.config import (
    API,
    DATABASE,
    HOLDING,
    PLANNING,
    PLANNING_LIMIT,
    TOKEN,
    BadSettings,
    Settings,
    rules_set,
)
from scheduler.domain.kitchen.rules import RULES, STRICTER

NAMES = (TOKEN, DATABASE, API, PLANNING, HOLDING, "XDG_DATA_HOME")


@pytest.fixture(autouse=True)
def _nothing_set(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)


def test_the_database_given_wins_over_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """An option is closer than a setting, a setting closer than the usual place."""
    monkeypatch.setenv(DATABASE, "/kitchen/from-env.db")
    assert Settings.read("/kitchen/given.db").database == Path("/kitchen/given.db")
    assert Settings.read().database == Path("/kitchen/from-env.db")


def test_the_usual_place_is_where_a_users_data_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification 0.8: XDG_DATA_HOME, or else .local/share in the home."""
    monkeypatch.setenv("HOME", "/home/cook")
    assert Settings.read(name="x.db").database == Path("/home/cook/.local/share/crockbell/x.db")
    monkeypatch.setenv("XDG_DATA_HOME", "/data")
    assert Settings.read(name="x.db").database == Path("/data/crockbell/x.db")


def test_a_missing_token_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """Serving needs one; the message says which variable to set, and an empty one is none."""
    monkeypatch.setenv(TOKEN, "")
    with pytest.raises(BadSettings, match=TOKEN):
        Settings.read().need_token()
    monkeypatch.setenv(TOKEN, "1:a")
    assert Settings.read().need_token() == "1:a"


def test_another_server_can_be_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """For a Bot API server of one's own."""
    assert Settings.read().api is None
    monkeypatch.setenv(API, "http://localhost:8081/bot")
    assert Settings.read().api == "http://localhost:8081/bot"


def test_the_time_for_planning_is_whole_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Twenty unless it is set; what is no length of time is refused with the name of the setting."""
    assert Settings.read().planning == PLANNING_LIMIT == timedelta(seconds=20)
    monkeypatch.setenv(PLANNING, "45")
    assert Settings.read().planning == timedelta(seconds=45)
    for wrong in ("0", "-5", "20 s", "1.5", "soon", "90000"):
        monkeypatch.setenv(PLANNING, wrong)
        with pytest.raises(BadSettings, match=PLANNING):
            Settings.read()


@pytest.mark.parametrize("name", RULES)
def test_the_rules_for_holding_food_go_by_name(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """The stricter of all unless one is named; capitals and spaces make no difference."""
    assert Settings.read().rules is STRICTER
    monkeypatch.setenv(HOLDING, f" {name.replace('-', ' ').upper()} ")
    assert Settings.read().rules is rules_set() is RULES[name]


def test_rules_that_do_not_exist_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the setting, what it was, and every name there is."""
    monkeypatch.setenv(HOLDING, "food-code-1066")
    with pytest.raises(BadSettings) as refused:
        Settings.read()
    assert HOLDING in str(refused.value) and "'food-code-1066'" in str(refused.value)
    assert all(name in str(refused.value) for name in RULES)
