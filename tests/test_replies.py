"""Updates from the inbox: each is taken once, and one that cannot be handled blocks nobody."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from scheduler.ports import Stale, Store, Unauthorised, UnitOfWork
from scheduler.records import Chat, Incoming
from scheduler.service.deeds import Deed, Verb
from scheduler.service.replies import GIVE_UP, MANY, PATIENCE, TRIES, Inbound, Think
from scheduler.service.turn import Turn
from tests.journey_kit import ADA, Journey
from tests.journey_plans import overnight
from tests.stores import rows

FAILED = "Please say that again"
NOOR = "kitchen:noor"


@pytest.fixture
def journey(tmp_path: Path) -> Iterator[Journey]:
    """Just after dough and beans were asked for."""
    path = tmp_path / "kitchen.sqlite3"
    with Journey.in_use(overnight(), "2026-03-21 12:00", "2026-03-21 21:06", path) as made:
        yield made


def inbound(journey: Journey) -> Inbound:
    made = journey.worker.inbound
    assert isinstance(made, Inbound)
    return made


def states(journey: Journey) -> list[str]:
    """The last three updates, oldest first."""
    return [state for (state,) in rows(str(journey.path), "SELECT state FROM inbox ORDER BY id")][-3:]


def thinking(journey: Journey, think: Think) -> None:
    """Have something else do the thinking."""
    inbound(journey).think = think


def test_an_update_that_comes_twice_is_applied_once(journey: Journey) -> None:
    """Under the same number, before or after it was handled, it is one update."""
    data = Deed(Verb.START, 1, journey.step("Soak the beans")).encode()
    for _ in range(2):
        journey.give(update=77, data=data)
    journey.tick()
    journey.give(update=77, data=data)
    journey.run_to("2026-03-21 21:07")
    assert [mark.kind for mark in journey.marks()] == ["started"]
    assert sum("Started: Soak" in message.text for message in journey.heard()) == 1


def test_an_update_that_cannot_be_read_blocks_nobody(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """It is set aside, logged, and the next one is answered."""
    journey.give(colour="green")
    journey.say("what's next")
    assert states(journey)[-2:] == ["dead", "done"]
    assert "cannot be read" in caplog.text
    assert not any(FAILED in message.text for message in journey.heard())


def test_an_update_that_breaks_our_thinking_is_set_aside_and_owned_up_to(
    journey: Journey, caplog: pytest.LogCaptureFixture
) -> None:
    """The cook is asked to say it again, nothing is changed, and the next one is answered."""
    really = inbound(journey).think

    def think(chat: Chat, incoming: Incoming, document: bytes | None, batch: str) -> Turn:
        if incoming.text == "poison":
            raise ZeroDivisionError("broken")
        return really(chat, incoming, document, batch)

    thinking(journey, think)
    journey.give(text="poison")
    journey.say("what's next")
    heard = [message.heading for message in journey.run_to("2026-03-21 21:07")]
    assert states(journey)[-2:] == ["dead", "done"]
    assert FAILED in [message.heading for message in journey.heard()]
    assert heard and "ZeroDivisionError" in caplog.text
    assert journey.marks() == []


def test_a_plan_that_keeps_moving_is_thought_about_some_times(journey: Journey) -> None:
    """A turn based on an older revision is thought out again; never finding rest, it is set aside."""
    thoughts = 0

    def think(chat: Chat, incoming: Incoming, document: bytes | None, batch: str) -> Turn:
        nonlocal thoughts
        thoughts += 1
        turn = Turn(chat)
        if thoughts < 3 or incoming.text == "never":
            turn.change(stale)
        return turn

    def stale(uow: UnitOfWork) -> None:
        raise Stale("moved")

    thinking(journey, think)
    journey.say("at last")
    assert thoughts == 3 and states(journey)[-1] == "done"
    thoughts = 0
    journey.say("never")
    assert thoughts == TRIES and states(journey)[-1] == "dead"


class BusyStore(Store):
    """Another program has the database."""

    def __call__(self) -> UnitOfWork:
        raise TimeoutError("in use")


def test_a_busy_database_sets_no_update_aside(journey: Journey) -> None:
    """The pass fails; at the next one the update is still there, and is handled."""
    inbox, store = inbound(journey), journey.store
    really = inbox.think

    def think(chat: Chat, incoming: Incoming, document: bytes | None, batch: str) -> Turn:
        inbox.store = BusyStore()
        return really(chat, incoming, document, batch)

    thinking(journey, think)
    journey.give(data=Deed(Verb.START, 1, journey.step("Soak the beans")).encode())
    with pytest.raises(TimeoutError):
        journey.tick()
    assert states(journey)[-1] == "new"
    inbox.store, inbox.think = store, really
    journey.tick()
    assert states(journey)[-1] == "done" and len(journey.marks()) == 1


def test_a_database_that_is_busy_for_a_moment_sets_no_update_aside_either(journey: Journey) -> None:
    """Busy while we thought, and free again by the time it could be buried: it is not."""
    inbox = inbound(journey)
    really = inbox.think

    def think(chat: Chat, incoming: Incoming, document: bytes | None, batch: str) -> Turn:
        inbox.think = really
        raise TimeoutError("in use")

    thinking(journey, think)
    journey.give(data=Deed(Verb.START, 1, journey.step("Soak the beans")).encode())
    with pytest.raises(TimeoutError):
        journey.tick()
    journey.tick()
    assert states(journey)[-1] == "done" and len(journey.marks()) == 1


# ---------------------------------------------------------------- documents


def test_a_file_that_cannot_be_fetched_yet_is_tried_again_at_growing_distances(journey: Journey) -> None:
    """Also after a restart; other updates are answered meanwhile; in the end the plan arrives."""
    journey.messenger.unreachable = True
    start = journey.clock.now()
    journey.send_plan(overnight("2026-03-25 13:00", "Second table"))
    assert journey.due == start + PATIENCE
    journey.say("what's next")
    assert states(journey)[-2:] == ["new", "done"]
    journey.restart()
    journey.run_to(start + timedelta(minutes=5))
    assert rows(str(journey.path), "SELECT attempts FROM inbox WHERE state = 'new'") == [(4,)]
    journey.messenger.unreachable = False
    heard = journey.run_to(start + timedelta(minutes=10))
    assert any("Second table fits" in message.text for message in heard)


def test_a_file_that_never_arrives_is_given_up_and_said_so(journey: Journey) -> None:
    """After a day of trying the cook is told, once, and nothing is tried any more."""
    journey.messenger.unreachable = True
    journey.send_plan(overnight("2026-03-25 13:00", "Second table"))
    journey.run_to(journey.clock.now() + GIVE_UP + timedelta(hours=1))
    assert states(journey)[-1] == "dead"
    assert sum("That file did not reach me" in message.text for message in journey.heard()) == 1


def test_a_file_that_is_refused_is_said_so_at_once(journey: Journey) -> None:
    """Too large, or gone: the cook learns that it did not arrive, and what would."""
    journey.give(document=["plan.yaml", "no such file"])
    journey.run_to("2026-03-21 21:07")
    assert "256 KiB" in journey.heard()[-1].text
    assert states(journey)[-1] == "dead"


def test_a_token_refused_while_taking_an_update_stops_the_service_and_keeps_it(journey: Journey) -> None:
    """With a good token the update is handled after all."""
    journey.messenger.refused = True
    journey.give(text="what's next", press="p1")
    with pytest.raises(Unauthorised):
        journey.tick()
    assert states(journey)[-1] == "new"
    journey.messenger.refused = False
    journey.tick()
    assert states(journey)[-1] == "done" and journey.messenger.acknowledged == ["p1"]


def test_many_updates_at_once_are_all_taken_in_order(journey: Journey) -> None:
    """More than are read at a time, from two cooks: each is answered, the oldest first."""
    for number in range(MANY + 20):
        journey.give(NOOR if number % 2 else ADA, text="hello")
    journey.tick()
    assert rows(str(journey.path), "SELECT count(*) FROM inbox WHERE state = 'new'") == [(0,)]
    answers = rows(str(journey.path), "SELECT key FROM outbox WHERE key LIKE 'answer/kitchen/%' ORDER BY id")
    numbers = [int(key.split("/")[2]) for (key,) in answers]
    assert numbers == sorted(numbers) and len(numbers) >= MANY + 20
