"""A clock of food, lived through with the whole machine: crashes, restarts, nights on which the clocks change.

Paris: on 25 October 2026 at 03:00 back to 02:00, on 28 March 2027 from 02:00 to 03:00 (IANA 2026b).
"""

from __future__ import annotations

import json
from collections import Counter
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time

from bot.main import SystemClock, main, make_worker
from scheduler.domain.stages import About, Stage
from scheduler.planners import Here
from scheduler.ports import SendError, Store
from scheduler.records import Letter, Received
from storage.engine import open_store
from tests.fakes import FakeMessenger
from tests.journey_kit import ADA, SOURCE, Journey
from tests.journey_messages import Message
from tests.plans_for_tests import at
from tests.test_crashes import Crash, Fate, MortalStore

DUCK = """\
crockbell: 1
title: Duck for four
serve: {serve}
zone: Europe/Paris
kitchen: {{awake: 07:00-22:30, gear: {{oven: 1}}}}
components:
  - name: Duck
    steps:
      - name: Roast the duck
        nearby: 2 h
        oven: 180 C
      - name: Cool the duck
        nearby: 1 h
        caution: cooling
      - name: Rest in the fridge
        unattended: at least 4 h
        keeps: 2 d
      - name: Carve the duck
        hands-on: 10 min
        keeps: 30 min
"""
SAID = "start the clock for the duck"
MINUTE = timedelta(minutes=1)


def clocks_in(messages: list[Message]) -> list[str]:
    """ "Sat 20 15:30 closing" for each message about a plan's clock."""
    return [f"{each.clock} {each.letter.stage}" for each in messages if each.letter.about is About.CLOCK]


# ---------------------------------------------------------------- the process dies


class Kitchen(Journey):
    """A cook says at noon that the duck is out; the process dies once, at a commit or at a message."""

    def __init__(self, path: Path, fate: Fate, loose: bool) -> None:
        self.fate, self.loose, self.deaths = fate, loose, 0
        super().__init__("2026-03-20 11:00", path)
        self.messenger.trouble = self._before_sending
        self.messenger.listeners = [self._after_sending]

    def used(self, store: Store) -> Store:
        return MortalStore(store, self.fate)

    def live(self) -> None:
        self.settle()
        self.messenger.documents["duck"] = DUCK.format(serve="2026-03-22 19:30").encode()
        if not self.loose:
            self.later(MINUTE, lambda: self.give(ADA, 1, document=["plan.yaml", "duck"]))
            self.later(2 * MINUTE, lambda: self.give(ADA, 2, text="yes"))
        self.later(60 * MINUTE, lambda: self.give(ADA, 3, text=SAID))
        while True:
            try:
                self.run_to("2026-03-20 16:00")
                return
            except Crash:
                self.deaths += 1
                self.restart()

    def _before_sending(self, address: str, letter: Letter) -> SendError | None:
        if not self.fate.after and self.fate.sending():
            raise Crash
        return None

    def _after_sending(self, message: Message) -> None:
        if self.fate.after and self.fate.sending():
            raise Crash


def lived(path: Path, fate: Fate, loose: bool) -> tuple[Counter[str], list[str], int]:
    """How often each message about the clock was sent, what was sent again unmarked, and how often it died."""
    with Kitchen(path, fate, loose) as kitchen:
        kitchen.live()
        times: Counter[str] = Counter()
        unmarked = []
        for letter in (letter for _, letter in kitchen.messenger.sent if is_of_clock(letter)):
            times[letter.key] += 1
            if times[letter.key] > 1 and not letter.text.startswith("(repeat) "):
                unmarked.append(letter.key)
        return times, unmarked, kitchen.deaths


def is_of_clock(letter: Letter) -> bool:
    return letter.about is About.CLOCK or "clock" in letter.facts


@pytest.mark.parametrize("loose", [False, True])
@pytest.mark.parametrize("after", [False, True])
def test_dying_anywhere_each_is_sent_once(tmp_path: Path, after: bool, loose: bool) -> None:
    """Between start, warning and limit, before or after a commit or a message: one warning, one limit; what is
    sent again says so.
    """
    whole = Fate()
    times, _, _ = lived(tmp_path / "whole.sqlite3", whole, loose)
    assert sorted(times.values()) == [1, 1]
    fates = [Fate(commit=number, after=after) for number in range(1 + after, whole.commits + 1, 3)]
    fates += [Fate(send=number, after=after) for number in range(1 + after, whole.sends + 1, 2)]
    for fate in fates:
        path = tmp_path / f"{fate.commit}-{fate.send}.sqlite3"
        again, unmarked, deaths = lived(path, fate, loose)
        assert (set(again), unmarked) == (set(times), []), fate
        assert deaths <= 1
        assert sum(again.values()) <= sum(times.values()) + 1, fate


def test_down_at_the_warning_and_up_before_the_limit(tmp_path: Path) -> None:
    """What was due while the process was down comes when it is up again, if it is still of use."""
    with Journey.in_use(
        DUCK.format(serve="2026-03-22 19:30"), "2026-03-20 11:00", "2026-03-20 12:00", tmp_path / "a"
    ) as late:
        late.say(SAID)
        late.down_until("2026-03-20 13:50")
        assert clocks_in(late.run_to("2026-03-20 16:00")) == ["Fri 20 13:50 closing", "Fri 20 14:00 missed"]


def test_down_over_the_limit_only_the_last_word_is_said(tmp_path: Path) -> None:
    """After the limit its warning is of no use; in the night too the limit is told at once."""
    with Journey.in_use(
        DUCK.format(serve="2026-03-22 19:30"), "2026-03-20 11:00", "2026-03-20 22:00", tmp_path / "a"
    ) as late:
        late.say(SAID)
        late.down_until("2026-03-21 02:30")
        (told,) = [each for each in late.run_to("2026-03-21 03:00") if is_of_clock(each.letter)]
        assert (told.clock, told.letter.stage) == ("Sat 21 02:30", Stage.MISSED)
        assert "Duck: time was up at 00:00" in told.text


def test_held_up_together_with_a_step_both_are_in_the_one_message(tmp_path: Path) -> None:
    """A roast to begin and food that is out, both overdue: one message, with the clock's limit in it."""
    with Journey.in_use(
        DUCK.format(serve="2026-03-20 19:30"), "2026-03-20 08:00", "2026-03-20 11:05", tmp_path / "a"
    ) as late:
        late.say(SAID)
        late.down_until("2026-03-20 13:03")
        first = late.run_to("2026-03-20 13:04")[0]
        assert "- Duck, out or cooling: its next limit comes at 13:05." in first.text
        assert "Roast the duck" in first.text


# ---------------------------------------------------------------- rehearsed


@pytest.mark.parametrize(
    ("cook", "stages"), [("on-time", {"closing"}), ("late", {"closing"}), ("silent", set())]
)
def test_a_rehearsal_lives_through_it(
    cook: str, stages: set[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The simulated cook says what it is down to at each warning, and it ends; who begins nothing has no clock."""
    (tmp_path / "duck.yaml").write_text(DUCK.format(serve="2026-03-22 19:30"))
    assert main(["rehearse", str(tmp_path / "duck.yaml"), "--json", "--cook", cook]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    told = [line for line in lines if "What's the rule" in line["buttons"] and line["stage"]]
    assert {line["stage"] for line in told} == stages
    assert {line["step"] for line in told} <= {"Cool the duck"}
    pressed = [line["text"] for line in lines if line["from"] != "crockbell"]
    assert ("Cold now" in pressed) == bool(stages)


# ---------------------------------------------------------------- the clocks change


@pytest.mark.parametrize(
    ("since", "said", "heard"),
    [
        ("2026-10-24 12:00", "2026-10-25 01:30", ["Sun 25 02:00 closing", "Sun 25 02:30 missed"]),
        ("2027-03-27 12:00", "2027-03-28 01:30", ["Sun 28 04:00 closing", "Sun 28 04:30 missed"]),
    ],
)
def test_two_hours_are_two_hours_in_those_nights(since: str, said: str, heard: list[str]) -> None:
    """Out at half past one, for two hours of time that passes, whatever the clocks on the wall do."""
    with Journey.in_use(DUCK.format(serve=f"{said[:10]} 19:30"), since, said) as night:
        night.say(SAID)
        assert clocks_in(night.run_to(f"{said[:10]} 06:00")) == heard


# ---------------------------------------------------------------- on the machine's own clock


def test_on_the_clock_of_the_machine(tmp_path: Path) -> None:
    """Started, warned of and told in frozen time, with a new process between each."""
    path, messenger = str(tmp_path / "frozen"), FakeMessenger()
    with Journey("2026-03-20 11:00", tmp_path / "frozen") as first:
        first.settle()
    Here()  # what planning brings is imported before time is frozen
    seen: list[tuple[str, Stage | None]] = []
    moments = [
        "2026-03-20 12:00",
        "2026-03-20 13:29",
        "2026-03-20 13:30",
        "2026-03-20 14:00",
        "2026-03-20 15:00",
    ]
    with freeze_time(at(moments[0])) as frozen:
        for number, moment in enumerate(moments):
            frozen.move_to(at(moment))
            store = open_store(path)
            if number == 0:
                row = Received(SOURCE, 1, {"address": ADA, "text": "start the clock for the rice"}, _now())
                with store() as uow:
                    uow.inbox.take([row])
                    uow.commit()
            before = len(messenger.sent)
            make_worker(store, messenger, SystemClock(), Here()).tick()
            fresh = [letter for _, letter in messenger.sent[before:] if is_of_clock(letter)]
            seen += [(moment[11:], letter.stage) for letter in fresh]
            store.close()
    assert seen == [("13:30", Stage.CLOSING), ("14:00", Stage.MISSED)]


def _now() -> datetime:
    return SystemClock().now()
