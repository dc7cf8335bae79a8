"""What is due goes out: in which order, how fast, what waits for quiet, and what is not sent any more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from bot.wording import Wording
from scheduler.domain.nudges import Policy, owed
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.ports import SendError, TryLater
from scheduler.records import Button, Kind, Letter, PlanStatus
from scheduler.service.answers import Consequence, Said
from scheduler.service.deeds import Deed, Verb
from scheduler.service.dispatch import Dispatcher
from scheduler.service.letters import (
    URGENCY,
    answer_letter,
    file_letter,
    letter_of,
    replace_nudges,
    timer_letter,
)
from scheduler.service.view import View
from tests.dispatch_kit import EVENING, MINUTE, NOON, SALTING, SECOND, fail
from tests.journey_kit import ADA, Journey
from tests.journey_messages import said
from tests.journey_plans import sunday
from tests.stores import put


@pytest.fixture
def journey() -> Iterator[Journey]:
    """The evening before the first step, which is due at 07:15."""
    with Journey.in_use(sunday(), NOON, EVENING) as made:
        yield made


# ---------------------------------------------------------------- order


def test_the_most_urgent_goes_first() -> None:
    """Answers, then closing and missed, now, waiting, heads-up, files, and last the buttons to take off."""
    with Journey.in_use(sunday(), "2026-03-15 12:00", "2026-03-15 22:00") as journey:
        view, now = journey.view(), journey.clock.now()
        nudges = owed(view.plan, view.timetable, view.progress, Policy(), now)
        letters = [
            due_now(next(n for n in nudges if n.stage is stage and n.due > now), view)
            for stage in Stage
            if stage is not Stage.MISSED
        ]
        letters.append(file_letter(1, b"png", "plan.png", "The plan", now, "file"))
        letters.append(Letter(1, Kind.UNBUTTON, now, "unbutton/1", receipt="r1", priority=6))
        letters.append(answer_letter(1, Said("Yes"), now, "answer"))
        put(journey.store, *letters)
        before = len(journey.messenger.sent)
        journey.run_to(now + MINUTE)
        went = [letter.stage or letter.kind for _, letter in journey.messenger.sent[before:]]
    assert went == [
        Kind.ANSWER,
        Stage.CLOSING,
        Stage.NOW,
        Stage.WAITING,
        Stage.HEADS_UP,
        Kind.FILE,
        Kind.UNBUTTON,
    ]
    assert URGENCY[Stage.MISSED] == URGENCY[Stage.CLOSING]


def due_now(nudge: Nudge, view: View) -> Letter:
    return replace(letter_of(nudge, view), due=view.now)


def test_one_second_between_two_messages_to_a_chat(journey: Journey) -> None:
    """Source of the figure: see test_pacing."""
    put(journey.store, *(answer_letter(1, Said(f"{n}"), journey.clock.now(), f"a{n}") for n in range(5)))
    heard = journey.run_to("2026-03-15 22:05")
    gaps = [after.at - before.at for before, after in pairwise(heard)]
    assert gaps == [SECOND] * 4


def test_twenty_messages_a_minute_to_a_group(journey: Journey) -> None:
    """The twenty-first waits until the first is a minute old."""
    group, start = journey.settle("kitchen:group", group=True), journey.clock.now()
    put(journey.store, *(answer_letter(group, Said(f"{n}"), start, f"a{n}") for n in range(22)))
    heard = journey.run_to("2026-03-15 22:05")
    assert len(heard) == 22
    assert heard[19].at < start + MINUTE <= heard[20].at


def test_thirty_messages_a_second_in_all(journey: Journey) -> None:
    """With forty chats to write to at once, ten wait for the next second."""
    start = journey.clock.now()
    chats = [journey.settle(f"kitchen:{number}") for number in range(40)]
    put(journey.store, *(answer_letter(chat, Said("Hello"), start, "a") for chat in chats))
    before = len(journey.messenger.messages)
    journey.tick()
    assert len(journey.messenger.messages) - before == 30
    assert journey.due == start + SECOND
    assert len(journey.run_to(start + SECOND)) == 10


def test_a_chat_that_must_wait_holds_nobody_up(journey: Journey) -> None:
    """A letter of another chat goes out although more urgent ones are held back by the pace."""
    noor, now = journey.settle("kitchen:noor"), journey.clock.now()
    put(journey.store, *(answer_letter(1, Said(f"{n}"), now, f"a{n}") for n in range(3)))
    put(journey.store, file_letter(noor, b"png", "plan.png", "The plan", now, "file"))
    journey.tick()
    assert [message.address for message in journey.messenger.messages[-2:]] == [ADA, "kitchen:noor"]


# ---------------------------------------------------------------- quiet


def test_quiet_holds_back_what_can_wait_and_nothing_else(journey: Journey) -> None:
    """Closing words and timers come through; the rest comes in one message when the quiet is over."""
    journey.run_to("2026-03-16 07:05")
    journey.say("timer 20 min for the eggs")
    journey.say("quiet until 21:30")
    journey.run_to("2026-03-16 07:06")
    heard = said(journey.run_to("2026-03-16 21:29"))
    assert heard == [
        "Mon 16 07:25 Eggs: time is up",
        "Mon 16 21:05 By 22:05 at the latest: Salt and jar the radishes",
    ]
    assert journey.run_to("2026-03-16 22:00") == [], "what the last word said already is not said again"


def test_after_quiet_what_is_left_is_one_message(journey: Journey) -> None:
    """Not a burst of all that was held back, and not as if we had been away."""
    journey.run_to("2026-03-16 07:05")
    journey.say("quiet until 12:00")
    journey.run_to("2026-03-16 07:06")
    (message,) = journey.run_to("2026-03-16 12:30")
    assert message.clock == "Mon 16 12:00"
    assert "away" not in message.text and "Salt and jar the radishes" in message.heading


def test_quiet_that_is_taken_back_lets_everything_through(journey: Journey) -> None:
    """What was held back is not bound to the hour that was asked for first."""
    journey.run_to("2026-03-16 07:05")
    journey.say("quiet until 12:00")
    journey.run_to("2026-03-16 07:06")
    assert journey.run_to("2026-03-16 07:20") == []
    with journey.store() as uow:
        chat = uow.chats.get(1)
        chat.quiet_until = None
        uow.chats.save(chat)
        uow.commit()
    assert "Salt and jar the radishes" in journey.run_to("2026-03-16 07:21")[0].heading


# ---------------------------------------------------------------- no longer of use


def test_a_nudge_overtaken_between_its_due_time_and_its_turn_is_not_sent(journey: Journey) -> None:
    """Held back for some minutes, and the timetable changed meanwhile: the cook never hears of it."""
    journey.run_to("2026-03-16 07:11")
    fail(journey, TryLater(5 * MINUTE, "flood"))
    journey.run_to(SALTING)
    journey.give(data=Deed(Verb.DONE, 1, 0).encode())
    assert said(journey.run_to("2026-03-16 09:00"), "start/now") == []


def test_a_nudge_that_lost_its_use_while_it_waited_becomes_obsolete(tmp_path: Path) -> None:
    """A day's card is of no use in the afternoon, however long it could not be sent."""
    with Journey.in_use(sunday(), NOON, EVENING, tmp_path / "kitchen.sqlite3") as journey:
        journey.down_until("2026-03-16 14:00")
        heard = journey.run_to("2026-03-16 14:01")
        assert not any("Today" in message.heading for message in heard)
        assert journey.stored("day/-/heads-up/0/20260315T2300") == "obsolete"


def test_a_plan_that_is_over_is_not_spoken_of(journey: Journey) -> None:
    """Stopped between a nudge's due time and its turn, the plan says no more."""
    journey.run_to("2026-03-16 07:14")
    row = journey.plan()
    with journey.store() as uow:
        uow.plans.save(replace(row, status=PlanStatus.STOPPED), row.revision)
        uow.commit()
    assert journey.run_to("2026-03-17 07:00") == []


def test_a_timer_that_goes_off_late_says_when_it_should_have(journey: Journey) -> None:
    """Three hours after the eggs, the cook is told when they were done."""
    now = journey.clock.now()
    put(journey.store, timer_letter(1, "eggs", now, now + 10 * MINUTE, "timer/1"))
    put(journey.store, timer_letter(1, "", now, now + 20 * MINUTE, "timer/2"))
    journey.down_until("2026-03-16 01:10")
    assert [message.text for message in journey.run_to("2026-03-16 01:11")] == [
        "Eggs, due Sun 22:10: time is up",
        "Timer, due Sun 22:20: time is up",
    ]


# ---------------------------------------------------------------- claims


def test_a_letter_another_worker_has_is_left_to_it(journey: Journey) -> None:
    """Until its lease runs out; then it may or may not have arrived, and is repeated."""
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    with journey.store() as uow:
        (letter,) = uow.outbox.due(journey.clock.now())
        uow.outbox.claim(letter.id or 0, "another", journey.clock.now(), 5 * MINUTE)
        uow.commit()
    assert journey.run_to("2026-03-15 22:04") == []
    assert [message.text for message in journey.run_to("2026-03-15 22:06")] == ["(repeat) Salted"]


def test_a_worker_whose_lease_ran_out_does_not_overwrite_what_came_of_it(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """Slow, and overtaken by another worker: its own outcome is not stored."""

    def slow(address: str, letter: Letter) -> SendError | None:
        journey.messenger.trouble = lambda address, letter: None
        with journey.store() as uow:
            later = journey.clock.advance(timedelta(minutes=5))
            uow.outbox.claim(letter.id or 0, "another", later, 5 * MINUTE)
            uow.commit()
        return None

    journey.messenger.trouble = slow
    put(journey.store, answer_letter(1, Said("Salted"), journey.clock.now(), "a"))
    journey.tick()
    assert "taken over by another worker" in caplog.text
    with journey.store() as uow:
        assert [letter.key for letter in uow.outbox.history(1, journey.clock.now() - MINUTE)] == []


class WordsThatFail(Wording):
    """Cannot say anything about beginning a step."""

    def nudge(self, nudge: Nudge, view: View, consequence: Consequence | None = None) -> Said:
        if nudge.about is About.START:
            raise ZeroDivisionError("no words")
        return super().nudge(nudge, view, consequence)


def test_a_message_that_cannot_be_put_into_words_holds_nobody_up(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """It is set aside and told plainly; everything else goes out as it should."""
    dispatcher = journey.worker.dispatcher
    assert isinstance(dispatcher, Dispatcher)
    dispatcher.words = WordsThatFail()
    journey.run_to("2026-03-16 07:14")
    put(
        journey.store,
        answer_letter(1, Said("Hello", (Button("Yes", "keep:1"),)), journey.clock.now() + MINUTE, "a"),
    )
    heard = journey.run_to("2026-03-16 07:16")
    assert [message.heading for message in heard] == ["Hello", "Salt and jar the radishes"]
    assert "could not be put into words" in caplog.text


def test_nudges_put_twice_are_owed_once(journey: Journey) -> None:
    """What was sent keeps its key: owing the same timetable again sends nothing again."""
    journey.run_to("2026-03-16 07:16")
    view = journey.view()
    with journey.store() as uow:
        replace_nudges(uow, view, Policy())
        uow.commit()
    assert said(journey.run_to("2026-03-16 07:30")) == []


def test_what_is_no_longer_owed_leaves_the_outbox_at_once(journey: Journey) -> None:
    """Done, a step has no nudge left waiting, not even one that would be found overtaken at its turn."""
    journey.run_to(SALTING)
    with journey.store() as uow:
        before = [letter for letter in uow.outbox.pending(1) if letter.step == 0]
    assert {letter.stage for letter in before} >= {Stage.WAITING, Stage.CLOSING}
    journey.press("Done")
    with journey.store() as uow:
        after = [letter for letter in uow.outbox.pending(1) if letter.step == 0]
    assert {letter.kind for letter in after} == {Kind.UNBUTTON}
