"""Journeys through the whole machine: a plan of twelve steps over nine days, lived through by many a cook."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta

import pytest

from scheduler.domain.hours import local
from scheduler.domain.stages import About, Stage
from scheduler.ports import TryLater
from scheduler.records import Kind, PlanStatus
from tests.journey_cook import EVENING, Cook, nudges, stages
from tests.journey_kit import Journey
from tests.journey_messages import Message, said
from tests.journey_plans import overnight, sunday
from tests.plans_for_tests import PARIS, at

MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
NOON, SUPPER = "2026-03-15 12:00", "2026-03-22 19:30"
NOOR = "kitchen:noor"


def at_night(messages: list[Message]) -> list[str]:
    """What came between bedtime, half past ten, and waking, at seven."""
    return [str(message) for message in messages if not "07:00" <= message.clock[-5:] <= "22:30"]


# ---------------------------------------------------------------- punctual and late


def test_a_punctual_cook_is_told_each_thing_once_at_its_time() -> None:
    """No reminder is needed, nobody is woken, nothing moves, and the meal is on the table at its hour."""
    with Journey.in_use(sunday(), NOON, NOON) as journey:
        planned = journey.starts()
        Cook(journey)
        heard = nudges(journey.run_to(SUPPER))
        begun = {
            journey.view().step(message.letter.step or 0).name: message.clock
            for message in heard
            if message.nudge == "start/now"
        }
        assert begun == {name: planned[name] for name in begun}
        assert len(begun) == 10, "all but the ferment and the rising, which begin by themselves"
        asked_twice = [each for each in heard if each.letter.stage not in (Stage.HEADS_UP, Stage.NOW)]
        assert {message.letter.about for message in asked_twice} == {About.LOOK}
        assert max(Counter(message.letter.key for message in heard).values()) == 1
        assert sum(message.nudge == "tend/now" for message in heard) == 3
        assert at_night(heard) == []
        assert journey.plan().status is PlanStatus.FINISHED
        assert journey.marks()[-1].about <= journey.plan().serve == at("2026-03-22 13:00")


def test_a_late_cook_keeps_the_hour_and_only_what_must_moves() -> None:
    """Up to forty minutes late with several things: what does not hang on them stays where it was."""
    late = {
        "Salt and jar the radishes": 25 * MINUTE,
        "Mix the dough": 15 * MINUTE,
        "Shape the loaf": 30 * MINUTE,
        "Drain the beans": 40 * MINUTE,
    }
    with Journey.in_use(sunday(), NOON, NOON) as journey:
        planned, serve = journey.starts(), journey.plan().serve
        Cook(journey, late)
        journey.run_to("2026-03-21 22:00")
        moved = {name for name, start in journey.starts().items() if start != planned[name]}
        radishes = {"Salt and jar the radishes", "Radishes ferment", "Put the radishes in the cold"}
        assert moved <= radishes | {"Mix the dough", "Dough rises"}
        journey.run_to(SUPPER)
        assert journey.plan().status is PlanStatus.FINISHED
        assert journey.plan().serve == serve
        assert journey.marks()[-1].about <= serve
        assert journey.starts()["Dress the beans and carry everything out"] == "Sun 22 12:40"


def test_when_the_hour_cannot_hold_the_cook_is_told_at_once_and_decides() -> None:
    """Draining only at noon leaves no time: the earliest hour is named, and stands once the cook takes it.

    Until then the meal keeps its hour, and only what hangs on the beans is carried on.
    """
    with Journey.in_use(overnight(), *EVENING) as journey:
        Cook(journey, {"Drain the beans": None})
        journey.run_to("2026-03-22 12:00")
        before = journey.starts()
        answer = journey.say("drained the beans")[0]
        assert "13:00 cannot hold" in answer.text
        (hour,) = [label for label in answer.labels if label.startswith("Serve 13:")]
        assert journey.plan().serve == at("2026-03-22 13:00")
        moved = {name for name, start in journey.starts().items() if start != before[name]}
        assert moved <= {"Drain the beans", "Simmer the beans", "Dress the beans and carry everything out"}
        journey.press(hour)
        serve = journey.plan().serve
        assert local(serve, PARIS).strftime("Serve %H:%M") == hour
        dressing = journey.starts()["Dress the beans and carry everything out"]
        heard = said(journey.run_to("2026-03-22 20:00"), "start/now")
        assert heard[-1] == f"{dressing} Dress the beans and carry everything out"
        assert journey.marks()[-1].about <= serve
        assert journey.plan().status is PlanStatus.FINISHED


def test_a_step_missed_for_good_says_so_and_what_would_do() -> None:
    """Nobody mixed the dough before bed: what cannot hold is said, with an hour that would."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        Cook(journey, {"Mix the dough": None})
        missed = [each for each in journey.run_to("2026-03-22 08:00") if each.nudge == "start/missed"]
        assert [message.heading[:17] for message in missed] == ["13:00 cannot hold"]
        assert missed[0].labels[0].startswith("Serve ")
        assert journey.plan().serve == at("2026-03-22 13:00")


# ---------------------------------------------------------------- asleep, silent


def test_the_last_word_comes_before_bedtime() -> None:
    """What must be begun that evening is said for the last time while there is still time to do it."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        closing = [each for each in journey.run_to("2026-03-22 06:59") if each.letter.stage is Stage.CLOSING]
        assert sorted(message.heading for message in closing) == [
            "By 22:10 at the latest: Mix the dough (Rye loaf)",
            "By 22:25 at the latest: Soak the beans",
        ]
        assert all(message.at <= at("2026-03-21 22:10") for message in closing)


def test_a_cook_who_never_answers_is_reminded_in_order_and_then_left_alone() -> None:
    """Now, waiting, closing, missed; nothing of what hangs on it; no burst, none at night; it ends by itself."""
    with Journey.in_use(sunday(), NOON, NOON) as journey:
        heard = nudges(journey.run_to("2026-03-24 12:00"))
        salting = stages(heard, journey, "Salt and jar the radishes")
        assert salting == [Stage.NOW, *[Stage.WAITING] * 4, Stage.CLOSING, Stage.MISSED]
        assert stages(heard, journey, "Soak the beans")[0] is Stage.NOW
        for never in ("Drain the beans", "Simmer the beans", "Shape the loaf", "Bake the loaf"):
            assert stages(heard, journey, never) == []
        assert not any(message.letter.about is About.TEND for message in heard)
        for first, fourth in zip(heard, heard[3:], strict=False):
            assert fourth.at - first.at > 5 * MINUTE, "four messages within five minutes are a burst"
        assert at_night(heard) == []
        assert journey.plan().status is PlanStatus.FINISHED
        assert heard[-1].at < journey.plan().serve + HOUR


# ---------------------------------------------------------------- without a network


def test_a_night_without_a_network_ends_in_one_message_and_doubles_nothing() -> None:
    """What the cook said meanwhile counts; what fell due is told once, in one message."""
    with Journey.in_use(overnight(), *EVENING) as journey:
        journey.run_to("2026-03-21 21:01")
        journey.press("Done")
        journey.messenger.trouble = lambda address, letter: TryLater(5 * MINUTE / 60, "no network")
        journey.run_to("2026-03-21 22:00")
        assert journey.press("Undo") == []
        journey.run_to("2026-03-22 08:00")
        journey.messenger.trouble = lambda address, letter: None
        heard = journey.run_to("2026-03-22 08:15")
        assert [message.letter.kind for message in heard] == [Kind.ANSWER, Kind.NUDGE]
        assert heard[1].heading.startswith("While I was away (since ")
        keys = [letter.key for _, letter in journey.messenger.sent]
        assert len(set(keys)) == len(keys)
        assert not any("(repeat)" in message.text for message in journey.heard())


# ---------------------------------------------------------------- the clocks change


@pytest.mark.parametrize(
    ("serve", "hours_by_the_clock", "offsets"),
    [("2026-03-29 13:00", 1, (1, 2)), ("2026-10-25 13:00", -1, (2, 1))],
)
def test_a_soak_through_the_night_in_which_the_clocks_change(
    serve: str, hours_by_the_clock: int, offsets: tuple[int, int]
) -> None:
    """It lasts its hours as they pass, and everything is asked for at its hour on the kitchen's clock.

    Source: IANA time zone database 2026f, Europe/Paris: UTC+1 to UTC+2 on 2026-03-29, back on 2026-10-25.
    """
    table = at(serve)
    with Journey.in_use(overnight(serve), serve_minus(table, 26), serve_minus(table, 25)) as journey:
        slots = {journey.view().step(slot.step).name: slot for slot in journey.view().timetable.slots}
        soak, drain = slots["Soak the beans"], slots["Drain the beans"]
        zone = [local(slot.start, PARIS).utcoffset() for slot in (soak, drain)]
        assert zone == [timedelta(hours=hours) for hours in offsets]
        assert 12 * HOUR <= drain.start - soak.start <= 14 * HOUR
        by_the_clock = naive(drain.start) - naive(soak.start)
        assert by_the_clock - (drain.start - soak.start) == timedelta(hours=hours_by_the_clock)
        Cook(journey)
        heard = journey.run_to(table + HOUR)
        begun = {each.letter.step: each for each in heard if each.nudge == "start/now"}
        assert len(begun) == 8
        for slot in slots.values():
            told = begun[slot.step].at if slot.step in begun else slot.start
            assert timedelta(0) <= told - slot.start <= timedelta(seconds=2)
        assert begun[drain.step].clock[-5:] == naive(drain.start).strftime("%H:%M")
        assert "13:00" in journey.heard()[1].text
        assert at_night(heard) == []
        assert journey.plan().status is PlanStatus.FINISHED


def serve_minus(table: datetime, hours: int) -> str:
    """So many hours earlier, on the clock in Paris."""
    return local(table - hours * HOUR, PARIS).strftime("%Y-%m-%d %H:%M")


def naive(moment: datetime) -> datetime:
    return local(moment, PARIS).replace(tzinfo=None)
