"""`crockbell chat`: a sitting on a real database, from the first line to the next time."""

from __future__ import annotations

import io
import threading
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.main import make_worker, open_store
from bot.sitting import sit
from bot.wiring import NoDatabase, Wiring
from scheduler.planners import Here
from scheduler.records import PlanStatus
from tests.fakes import FakeClock
from tests.talk_kit import SUPPER, on


class Kitchen:
    """One cook's database and clock; every sitting is a new start of the program."""

    def __init__(self, place: Path, now: datetime) -> None:
        self.database = place / "kitchen" / "chat.sqlite3"
        self.clock = TickingClock(now)
        self.wiring = Wiring(self.clock, open_store, make_worker, lambda limit=None: Here())

    def sit(self, *said: str) -> str:
        """What is shown when that is typed, line by line, and the input then ends."""
        out = io.StringIO()
        assert (
            sit(str(self.database), self.wiring, io.StringIO("".join(f"{line}\n" for line in said)), out) == 0
        )
        return out.getvalue()

    def statuses(self) -> list[PlanStatus]:
        store = open_store(self.database)
        with store() as uow:
            chat = uow.chats.at("terminal:here")
            found = [] if chat is None else [row.status for row in uow.plans.of_chat(chat.id or 0)]
        store.close()
        return found


class TickingClock(FakeClock):
    """A second goes by whenever it is looked at, from any thread, so that nobody has to wait."""

    def __init__(self, at: datetime) -> None:
        super().__init__(at)
        self._looking = threading.Lock()

    def now(self) -> datetime:
        with self._looking:
            return self.advance(timedelta(seconds=1))


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen(tmp_path, on(5, "20:00"))


def test_first_contact_to_a_plan_in_use(kitchen: Kitchen) -> None:
    """Greeting, zone, hours, the plan pasted, used by its number."""
    shown = kitchen.sit("hi", "Lisbon", "7 to 11pm", *SUPPER.splitlines(), "1", "bye", "never heard")
    for heading in (
        "Tell me where your kitchen is", "Now say when you are awake", "Now send me a plan",
        "Supper for four fits: served on Saturday at 19:30", "[1] Use this plan  [2] Not this one",
        "Supper for four is in use",
    ):  # fmt: skip
        assert heading in shown
    assert kitchen.statuses() == [PlanStatus.ACTIVE] and "never heard" not in shown


def test_a_restart_knows_everything(kitchen: Kitchen, tmp_path: Path) -> None:
    """The cook, the plan proposed and the numbers of its buttons; a path sends a file."""
    (tmp_path / "supper.yml").write_text(SUPPER)
    kitchen.sit("hi", "Lisbon", "7-23", str(tmp_path / "supper.yml"))
    assert kitchen.statuses() == [PlanStatus.DRAFT]
    assert "Supper for four is in use" in kitchen.sit("1")
    assert "Next, at 07:00 tomorrow: Salt the radishes" in kitchen.sit("what's next")


def test_what_fell_due_while_away_comes_as_one_message(kitchen: Kitchen) -> None:
    """Three days of nudges, none of them a burst."""
    kitchen.sit("hi", "Lisbon", "7-23", *SUPPER.splitlines(), "1")
    kitchen.clock.move_to(on(9, "17:30"))
    shown = kitchen.sit("")
    assert shown.count("Salt the radishes") >= 1
    assert len([line for line in shown.splitlines() if line.startswith("  [1]")]) == 1


@pytest.mark.parametrize("word", ["bye", "exit", "quit", " BYE "])
def test_words_that_end_the_sitting(kitchen: Kitchen, word: str) -> None:
    """What comes after them is not heard."""
    assert "kitchen is" not in kitchen.sit(word, "hi")


def test_control_characters_of_a_plan_never_reach_the_terminal(kitchen: Kitchen) -> None:
    """A plan that holds some is refused, and they are not shown in saying so."""
    shown = kitchen.sit("hi", "Lisbon", "7-23", *SUPPER.replace("Whisk the flan", '"\\e[2J"').splitlines())
    assert "\x1b" not in shown and "Put right" in shown


def test_a_database_that_cannot_be_used_is_said(tmp_path: Path) -> None:
    """The command line turns it into exit code 2."""
    kitchen = Kitchen(tmp_path, on(5, "20:00"))
    kitchen.database.parent.mkdir()
    kitchen.database.write_text("not a database, and long enough for SQLite to look at it twice")
    with pytest.raises(NoDatabase, match="cannot be used"):
        kitchen.sit("hi")
