"""What is due goes out: what each failure of the transport leads to."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from scheduler.ports import Barred, Moved, Rejected, SendError, TryLater, Unauthorised, Uncertain
from scheduler.records import Kind, Letter, LetterState, PlanStatus
from scheduler.service import outcomes
from scheduler.service.answers import Said
from scheduler.service.letters import (
    answer_letter,
)
from tests.dispatch_kit import EVENING, MINUTE, NOON, NOW_SALT, SALTING, SECOND, fail
from tests.journey_kit import ADA, Journey
from tests.journey_messages import said
from tests.journey_plans import sunday
from tests.plans_for_tests import at
from tests.stores import put


@pytest.fixture
def journey() -> Iterator[Journey]:
    """The evening before the first step, which is due at 07:15."""
    with Journey.in_use(sunday(), NOON, EVENING) as made:
        yield made


def test_a_nudge_goes_out_at_its_time_and_is_kept_as_it_was_sent(journey: Journey) -> None:
    """At 07:15, once; its words, buttons and receipt are there when somebody answers it."""
    assert said(journey.run_to("2026-03-16 07:30"), "start/now") == [NOW_SALT]
    message = journey.heard()[-1]
    with journey.store() as uow:
        kept = uow.outbox.by_receipt(1, message.receipt)
    assert kept is not None and kept.state is LetterState.SENT
    assert (kept.text, kept.buttons, kept.sent) == (message.text, message.letter.buttons, message.at)


# ---------------------------------------------------------------- try later


def test_what_is_to_be_tried_later_waits_as_long_as_was_asked_across_a_restart(tmp_path: Path) -> None:
    """`not_before` is stored with the letter, so a new process does not knock any earlier."""
    with Journey.in_use(sunday(), NOON, EVENING, tmp_path / "kitchen.sqlite3") as journey:
        journey.run_to("2026-03-16 07:14")
        fail(journey, TryLater(6 * MINUTE, "flood"))
        assert journey.run_to(SALTING) == []
        journey.restart()
        assert journey.run_to("2026-03-16 07:20") == []
        assert journey.due == at("2026-03-16 07:21")
        assert said(journey.run_to("2026-03-16 07:30")) == ["Mon 16 07:21 Salt and jar the radishes"]


def test_a_chat_that_is_to_wait_waits_with_everything(journey: Journey) -> None:
    """After one refusal nothing else is tried at that chat until the time is up; another chat goes on."""
    journey.settle("kitchen:noor")
    tried: list[tuple[str, str]] = []

    def flooded(address: str, letter: Letter) -> SendError | None:
        tried.append((address, letter.key))
        return TryLater(2 * MINUTE, "flood") if len(tried) == 1 else None

    journey.messenger.trouble = flooded
    now = journey.clock.now()
    put(journey.store, *(answer_letter(1, Said(f"Number {n}"), now, f"a{n}") for n in range(3)))
    put(journey.store, answer_letter(2, Said("For Noor"), now, "b"))
    journey.tick()
    assert tried == [(ADA, "a0"), ("kitchen:noor", "b")]
    assert journey.due == now + 2 * MINUTE
    heard = journey.run_to(now + 3 * MINUTE)
    assert [(message.heading, message.at - now) for message in heard] == [
        ("Number 0", 2 * MINUTE),
        ("Number 1", 2 * MINUTE + SECOND),
        ("Number 2", 2 * MINUTE + 2 * SECOND),
    ]


def test_after_a_success_our_own_pause_is_short_again(journey: Journey) -> None:
    """It doubles with each refusal in a row; one message that goes through ends the row."""
    start = journey.clock.now()
    put(journey.store, *(answer_letter(1, Said(f"Number {n}"), start, f"a{n}") for n in range(2)))
    refusals = [TryLater(0 * SECOND, "no network") for _ in range(3)]
    fate: list[SendError | None] = [*refusals[:2], None, refusals[2], None]
    journey.messenger.trouble = lambda address, letter: fate.pop(0) if fate else None
    heard = journey.run_to(start + MINUTE)
    assert [(message.at - start).total_seconds() for message in heard] == [2 + 4, 2 + 4 + 1 + 2]


def test_a_letter_that_is_put_back_is_what_it_was() -> None:
    """Never delivered, it is pending again; perhaps delivered before, it stays uncertain."""
    letter = Letter(1, Kind.ANSWER, at(EVENING), "a", state=LetterState.SENDING, attempts=1)
    assert outcomes.put_back(letter, None, "down").state is LetterState.PENDING
    again = outcomes.put_back(replace(letter, attempts=2), at(EVENING), "down")
    assert (again.state, again.attempts, again.not_before) == (LetterState.UNCERTAIN, 1, at(EVENING))
    assert outcomes.not_now(replace(letter, kind=Kind.NUDGE), "barred").state is LetterState.OBSOLETE
    assert outcomes.not_now(letter, "barred").state is LetterState.DEAD


def test_a_night_without_a_network_does_not_use_up_the_tries(journey: Journey) -> None:
    """What surely was not delivered does not count: an uncertain send after a hundred refusals is repeated."""
    errors = [TryLater(SECOND, "no network")] * 100
    left = fail(journey, *errors, Uncertain("timed out"))
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    journey.run_to("2026-03-17 22:00")
    assert left == []
    assert [m.text for m in journey.heard() if "Salted" in m.text] == ["(repeat) Salted"]


# ---------------------------------------------------------------- uncertain


def test_an_uncertain_send_is_repeated_marked_and_in_the_end_given_up(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """Once more after half a minute, then after 2 and 10 minutes, each marked; then it is logged and left."""
    tried: list[tuple[timedelta, str]] = []
    begun = journey.clock.now()

    def silent(address: str, letter: Letter) -> SendError | None:
        tried.append((journey.clock.now() - begun, letter.text))
        return Uncertain("timed out")

    journey.messenger.trouble = silent
    put(journey.store, answer_letter(1, Said("Salted"), begun, "a"))
    with caplog.at_level(logging.ERROR):
        journey.run_to(begun + timedelta(hours=2))
    assert tried == [
        (0 * SECOND, "Salted"),
        (30 * SECOND, "(repeat) Salted"),
        (150 * SECOND, "(repeat) Salted"),
        (750 * SECOND, "(repeat) Salted"),
    ]
    assert "letter a is given up" in caplog.text


def test_what_may_have_arrived_stays_marked_when_the_repeat_is_put_off(journey: Journey) -> None:
    """A network that fails while repeating does not make the cook believe they are told for the first time."""
    fail(journey, Uncertain("timed out"), TryLater(MINUTE, "no network"), TryLater(MINUTE, "no network"))
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    heard = journey.run_to("2026-03-15 22:20")
    assert [message.text for message in heard] == ["(repeat) Salted"]


def test_a_nudge_overtaken_before_its_repeat_is_not_repeated(journey: Journey) -> None:
    """The cook got the first one after all, and did it."""
    fail(journey, Uncertain("timed out"))
    journey.run_to("2026-03-16 07:09")
    put(journey.store, answer_letter(1, Said("Good morning"), journey.clock.now(), "a"))
    journey.tick()
    fail(journey, Uncertain("timed out"))
    journey.run_to(SALTING)
    journey.say("salted the radishes")
    assert not any("(repeat) Salt" in message.text for message in journey.run_to("2026-03-16 12:00"))


def test_a_letter_whose_sending_kills_the_process_is_given_up(journey: Journey) -> None:
    """A message that ends every process that sends it is not sent for ever."""
    deaths: list[str] = []

    def dies(address: str, letter: Letter) -> SendError | None:
        deaths.append(letter.text)
        raise KeyboardInterrupt

    journey.messenger.trouble = dies
    put(journey.store, answer_letter(1, Said("Poison"), journey.clock.now(), "a"))
    for _ in range(9):
        try:
            journey.tick()
        except KeyboardInterrupt:
            journey.restart()
        journey.clock.advance(3 * MINUTE)
    assert deaths == ["Poison", *["(repeat) Poison"] * 3]


# ---------------------------------------------------------------- moved, barred, rejected, unauthorised


def test_a_group_that_moved_is_written_to_at_its_new_address(journey: Journey) -> None:
    """The letter that found out goes there a moment later, and so does all that follows."""
    fail(journey, Moved("kitchen:upgraded"))
    journey.run_to("2026-03-16 07:20")
    assert [m.address for m in journey.messenger.messages[-2:]] == ["kitchen:upgraded"] * 2
    assert said(journey.heard("kitchen:upgraded"))[-1] == NOW_SALT


@pytest.mark.parametrize("begun_there", ["nobody", "newcomer", "settled"])
def test_a_move_keeps_the_chat_that_has_the_plan(journey: Journey, begun_there: str) -> None:
    """Whether or not a chat began at the new address meanwhile, the plan's own goes on there."""
    if begun_there == "newcomer":
        journey.say("hello", "kitchen:upgraded")
    elif begun_there == "settled":
        journey.settle("kitchen:upgraded")
    fail(journey, Moved("kitchen:upgraded"))
    journey.run_to("2026-03-16 07:20")
    journey.press("Done", "kitchen:upgraded")
    assert [mark.kind for mark in journey.marks()] == ["done"]


def test_an_update_from_the_old_address_after_the_move_changes_nothing(journey: Journey) -> None:
    """Told of the move by a refused letter first and by the update second, the plan stays where it went."""
    fail(journey, Moved("kitchen:upgraded"))
    journey.run_to("2026-03-16 07:16")
    journey.give(ADA, kind="moved", moved_to="kitchen:upgraded")
    journey.tick()
    journey.press("Done", "kitchen:upgraded")
    assert [mark.kind for mark in journey.marks()] == ["done"]
    with journey.store() as uow:
        there = uow.chats.at("kitchen:upgraded")
    assert there is not None and there.id == 1 and there.barred is None


def test_a_chat_said_to_move_for_ever_does_not_keep_us_busy(journey: Journey) -> None:
    """Each move is followed by a longer pause, as any failure is."""
    count = 0

    def restless(address: str, letter: Letter) -> SendError | None:
        nonlocal count
        count += 1
        return Moved(f"kitchen:{count}")

    journey.messenger.trouble = restless
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    journey.run_to("2026-03-15 23:00")
    assert count < 20


def test_a_cook_who_blocked_us_finds_the_plan_waiting_when_they_are_back(journey: Journey) -> None:
    """Nothing is sent meanwhile, the plan pauses, and what is still to do is said once they write again."""
    fail(journey, Barred("bot was blocked"))
    journey.run_to("2026-03-16 07:30")
    assert journey.plan().status is PlanStatus.PAUSED
    journey.messenger.trouble = lambda address, letter: None
    assert journey.run_to("2026-03-16 12:00") == []
    journey.say("hello again")
    heard = [message.text for message in journey.run_to("2026-03-16 12:01")]
    assert journey.plan().status is PlanStatus.ACTIVE
    assert (
        sum("Salt and jar the radishes" in text and "Still" not in text.splitlines()[0] for text in heard)
        == 1
    )
    journey.press("Done")
    assert [mark.kind for mark in journey.marks()] == ["done"]


def test_a_refused_message_is_told_more_plainly_once(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """Its heading in plain words; and when that is refused too, nothing more, or it would go on for ever."""
    fail(journey, Rejected("can't parse entities"))
    put(journey.store, answer_letter(1, Said("Salted\nand more"), journey.clock.now(), "a"))
    with caplog.at_level(logging.ERROR):
        heard = journey.run_to("2026-03-15 22:10")
    assert [message.heading for message in heard] == ["Salted"]
    assert "was refused" in caplog.text
    fail(journey, *[Rejected("no")] * 9)
    put(journey.store, answer_letter(1, Said("Jarred"), journey.clock.now(), "b"))
    tried = len(journey.messenger.tried)
    assert journey.run_to("2026-03-15 22:20") == []
    assert len(journey.messenger.tried) == tried


def test_a_token_that_is_not_accepted_stops_the_service_and_loses_nothing(journey: Journey) -> None:
    """The error reaches whoever runs the worker; with a good token the letter goes out after all."""
    fail(journey, Unauthorised("unauthorized"))
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    with pytest.raises(Unauthorised):
        journey.tick()
    journey.restart()
    assert [message.text for message in journey.run_to("2026-03-15 22:20")] == ["Salted"]
