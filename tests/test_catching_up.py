"""After a gap: what was held up is judged by its use and told in one message to each chat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from scheduler.domain.stages import About, Stage
from scheduler.ports import SendError, TryLater, Uncertain
from scheduler.records import Chat, Kind, Letter
from scheduler.service.answers import Said
from scheduler.service.catching_up import GAP, Owed, held_since, in_short, together, was_overtaken
from scheduler.service.letters import OWED_SINCE, answer_letter
from scheduler.service.quiet import asleep_until, quiet_until
from tests.journey_kit import ADA, Journey
from tests.journey_messages import said
from tests.journey_plans import overnight
from tests.plans_for_tests import at, component, plan, step
from tests.stores import NOW, put

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
NOOR = "kitchen:noor"


@pytest.fixture
def journey(tmp_path: Path) -> Iterator[Journey]:
    """The evening before a busy night: beans are due at eight, dough at nine."""
    path = tmp_path / "kitchen.sqlite3"
    with Journey.in_use(overnight(), "2026-03-20 12:00", "2026-03-20 12:01", path) as made:
        yield made


def nudge(
    number: int, due: int, about: About = About.START, stage: Stage = Stage.NOW, step: int = 0
) -> Letter:
    """A letter due so many minutes ago; its subject is when it was due."""
    at = NOW - due * MINUTE
    return Letter(
        1, Kind.NUDGE, at, f"{number}", stage, about, at, NOW + HOUR, number, plan=1, step=step
    )  # fmt: skip


# ---------------------------------------------------------------- what goes together


def test_on_an_ordinary_day_every_nudge_is_a_message_of_its_own() -> None:
    """Three things due within some minutes are three messages, each with its buttons."""
    letters = [nudge(1, 0), nudge(2, 3), nudge(3, 20)]
    assert together(letters, NOW) == [[letter] for letter in letters]
    assert timedelta(minutes=20) == GAP


def test_one_late_nudge_takes_the_others_of_its_chat_with_it() -> None:
    """In the place of the first; answers, files, timers and other chats stay as they are."""
    early, late, other = nudge(1, 0), nudge(2, 21), replace(nudge(3, 0), chat=2)
    answer, timer = answer_letter(1, Said("Yes"), NOW, "a"), replace(nudge(4, 90), about=About.TIMER)
    found = together([answer, early, other, late, timer], NOW)
    assert found == [[answer], [early, late], [other], [timer]]


def test_of_several_words_about_one_thing_the_last_is_told() -> None:
    """ "Now", "still waiting" and "by ten at the latest" are one matter; another step is another."""
    words = [
        Owed(nudge(1, 60)),
        Owed(nudge(2, 40, stage=Stage.WAITING)),
        Owed(nudge(3, 30, step=5)),
        Owed(nudge(4, 10, stage=Stage.CLOSING)),
    ]
    assert [each.letter.id for each in in_short(words)] == [4, 3]


def test_cards_and_announcements_give_way_but_never_to_nothing() -> None:
    """The day's card says nothing that a catch-up message does not; alone it is still of use."""
    card, ahead = Owed(nudge(1, 60, About.DAY, Stage.HEADS_UP)), Owed(nudge(2, 30, stage=Stage.HEADS_UP))
    shopping = Owed(nudge(3, 30, About.BUY, Stage.HEADS_UP))
    assert in_short([card, ahead, shopping]) == [shopping]
    assert in_short([card, ahead]) == [ahead]
    assert in_short([card]) == [card]


def test_who_held_it_up_is_known() -> None:
    """We are to blame for what could have been said; not for a plan used late, nor for quiet asked for."""
    chat, quiet = Chat(ADA, id=1), Chat(ADA, id=1, quiet_until=NOW - MINUTE)
    late, soon = nudge(1, 60), nudge(2, 5)
    assert held_since([soon, late], chat, NOW) == late.due
    assert held_since([soon], chat, NOW) is None
    begun = replace(late, facts={OWED_SINCE: (NOW - MINUTE).isoformat()})
    assert held_since([begun], chat, NOW) is None
    assert held_since([late], quiet, NOW) is None
    assert held_since([nudge(3, 60, stage=Stage.CLOSING)], quiet, NOW) is not None


def test_a_word_is_overtaken_by_a_later_one_about_the_same_thing_only() -> None:
    """The same step begun, of the same plan, at the same moment: then the later word said it all."""
    held, later = nudge(1, 60), replace(nudge(2, 30), subject=nudge(1, 60).subject)
    assert was_overtaken(held, [later])
    assert not was_overtaken(later, [held])
    assert not was_overtaken(held, [held])
    for other in (
        replace(later, step=3),
        replace(later, plan=2),
        replace(later, about=About.LOOK),
        replace(later, subject=NOW),
        replace(later, kind=Kind.ANSWER),
    ):
        assert not was_overtaken(held, [other])


@pytest.mark.parametrize(
    ("about", "stage", "lasts", "spared"),
    [
        (About.START, Stage.NOW, 120, True),
        (About.START, Stage.NOW, 30, False),
        (About.START, Stage.WAITING, 30, True),
        (About.START, Stage.HEADS_UP, 30, True),
        (About.START, Stage.CLOSING, 120, False),
        (About.START, Stage.MISSED, 120, False),
        (About.DAY, Stage.HEADS_UP, 30, True),
        (About.BUY, Stage.HEADS_UP, 30, False),
        (About.TEND, Stage.NOW, 30, False),
        (About.TEND, Stage.NOW, 120, True),
        (About.END, Stage.NOW, 120, False),
        (About.TIMER, Stage.NOW, 120, False),
    ],
)
def test_quiet_spares_what_is_not_lost_by_waiting(
    about: About, stage: Stage, lasts: int, spared: bool
) -> None:
    """A pot to take off, a timer, a last word, and what would be past when the quiet is over come through."""
    letter = replace(nudge(1, 0, about, stage), expires=NOW + lasts * MINUTE)
    chat = Chat(ADA, id=1, quiet_until=NOW + HOUR)
    assert (quiet_until(chat, letter) == NOW + HOUR) is spared
    assert quiet_until(Chat(ADA, id=1), letter) is None


# ---------------------------------------------------------------- in the whole machine


def busy_evening(journey: Journey) -> None:
    """Down from a quarter to eight on Saturday until ten: dough and beans fell due meanwhile."""
    journey.run_to("2026-03-21 19:45")
    journey.down_until("2026-03-21 22:00")


def test_after_hours_of_downtime_there_is_one_message(journey: Journey) -> None:
    """It names what is to be done and since when we were away; nothing of it is said again."""
    busy_evening(journey)
    (message,) = journey.run_to("2026-03-21 22:02")
    assert message.heading == "While I was away (since 20:00), this fell due"
    assert "Soak the beans, planned for 20:00" in message.text
    assert "Mix the dough" in message.text and "planned for 21:00" in message.text
    assert all("away" not in each.text for each in journey.run_to("2026-03-21 23:00"))


def test_the_message_stands_for_its_most_pressing_nudge(journey: Journey) -> None:
    """Its button, and a plain "started", mean that step; once it is begun the message loses its buttons."""
    busy_evening(journey)
    (message,) = journey.run_to("2026-03-21 22:02")
    assert "The buttons are for: Soak the beans" in message.text
    assert message.letter.step == journey.step("Soak the beans")
    journey.say("started")
    assert [(mark.step, mark.kind) for mark in journey.marks()] == [(message.letter.step, "started")]
    journey.run_to("2026-03-21 22:03")
    assert message.receipt in [
        letter.receipt for _, letter in journey.messenger.sent if letter.kind is Kind.UNBUTTON
    ]


def test_what_is_the_only_thing_left_is_said_in_its_own_words(journey: Journey) -> None:
    """One nudge that is still of use needs no other message than its own."""
    journey.run_to("2026-03-21 20:59")
    journey.down_until("2026-03-21 21:03")
    assert said(journey.run_to("2026-03-21 21:03")) == ["Sat 21 21:03 Mix the dough (Rye loaf)"]


def test_what_was_told_before_the_gap_is_not_told_after_it(journey: Journey) -> None:
    """Asked at eight to soak and at nine to mix, the cook is reminded after the gap, not asked for the first time."""
    journey.run_to("2026-03-21 21:10")
    journey.down_until("2026-03-21 21:52")
    (message,) = journey.run_to("2026-03-21 21:52")
    assert message.letter.stage is Stage.CLOSING
    assert message.heading == "While I was away (since 21:20), this fell due"


def test_back_in_the_middle_of_the_night_nobody_is_woken(journey: Journey) -> None:
    """The message waits for the morning; then it says what can no longer hold, and what would."""
    journey.run_to("2026-03-21 19:45")
    journey.down_until("2026-03-22 03:00")
    (message,) = journey.run_to("2026-03-22 07:01")
    assert message.clock == "Sun 22 07:00"
    assert message.heading == "While I was away (since Sat 20:00), this fell due"
    assert "Soak the beans, planned for Sat 20:00. It was not begun." in message.text
    assert "13:00 cannot hold: “Soak the beans” was not begun." in message.text
    assert message.labels[0].startswith("Serve ")


def test_what_the_plan_puts_in_the_night_is_said_in_the_night() -> None:
    """Held up or not, a pot on the fire at two is asked after at two: somebody is up for it."""
    sleeper = plan(component("Stock", step("Simmer", nearby="8 h")))
    evening, night = at("2026-03-20 21:00"), at("2026-03-21 02:00")
    late = replace(nudge(1, 0), due=evening)
    assert asleep_until(sleeper, late, night) == at("2026-03-21 07:00")
    assert asleep_until(sleeper, late, evening + HOUR) is None
    assert asleep_until(sleeper, replace(late, due=night - HOUR), night) is None


def test_nothing_stale_is_told(journey: Journey) -> None:
    """Back two days after the meal there is nothing to say, and the plan ends by itself."""
    journey.run_to("2026-03-21 19:45")
    journey.down_until("2026-03-24 13:00")
    assert journey.run_to("2026-03-24 14:00") == []
    assert journey.plan().status == "finished"


def test_each_chat_gets_its_own(journey: Journey) -> None:
    """Two cooks with a plan each: one message to each of them."""
    journey.settle(NOOR)
    journey.use(overnight(), NOOR)
    busy_evening(journey)
    heard = journey.run_to("2026-03-21 22:02")
    assert sorted(message.address for message in heard) == [ADA, NOOR]
    assert {message.heading for message in heard} == {"While I was away (since 20:00), this fell due"}


def test_two_plans_in_one_chat_are_caught_up_with_together(journey: Journey) -> None:
    """One message a chat, whatever it is about."""
    journey.use(overnight(title="Second table"))
    busy_evening(journey)
    (message,) = journey.run_to("2026-03-21 22:02")
    assert message.text.count("Soak the beans, planned for") == 2


def test_a_plan_used_late_says_at_once_what_is_due_and_blames_nobody() -> None:
    """What was overdue from the first is one message, and we were not away."""
    mixing, soaking = "        hands-on: 15 min\n", "        unattended: 12 h to 14 h\n"
    shopping = overnight().replace(mixing, f"{mixing}        buy: 6 h before\n")
    shopping = shopping.replace(soaking, f"{soaking}        buy: 6 h before\n")
    with Journey("2026-03-21 11:00") as journey:
        journey.settle()
        journey.use(shopping)
        heard = [each for each in journey.run_to("2026-03-21 11:02") if each.letter.kind is Kind.NUDGE]
    assert [message.heading for message in heard] == ["This is due already"]
    assert [line[:18] for line in heard[0].text.splitlines()[1:3]] == [
        "- Buy for “Soak th",
        "- Buy for “Mix the",
    ]
    assert "away" not in heard[0].text


# ---------------------------------------------------------------- without a network


def test_hours_without_a_network_end_in_one_message(journey: Journey) -> None:
    """Whatever was tried and put back meanwhile, the cook gets one message, and nothing twice."""
    journey.run_to("2026-03-21 19:50")
    journey.messenger.trouble = lambda address, letter: TryLater(MINUTE / 12, "no network")
    assert journey.run_to("2026-03-21 22:00") == []
    journey.messenger.trouble = lambda address, letter: None
    (message,) = journey.run_to("2026-03-21 22:10")
    assert message.heading == "While I was away (since 20:00), this fell due"
    assert len({letter.key for _, letter in journey.messenger.sent}) == len(journey.messenger.sent)


def test_a_catch_up_that_may_not_have_arrived_is_repeated_as_one(journey: Journey) -> None:
    """Marked as a repeat, with all it told; its parts do not go out one by one."""
    busy_evening(journey)
    errors: list[SendError] = [Uncertain("timed out")]
    journey.messenger.trouble = lambda address, letter: errors.pop() if errors else None
    (message,) = journey.run_to("2026-03-21 22:02")
    assert message.text.startswith("(repeat) While I was away (since 20:00), this fell due")
    assert "Soak the beans" in message.text and "Mix the dough" in message.text


def test_answers_are_not_lost_in_a_catch_up(journey: Journey) -> None:
    """What the cook asked is answered besides, first."""
    journey.run_to("2026-03-21 19:50")
    put(journey.store, answer_letter(1, Said("As you asked"), journey.clock.now() + MINUTE, "a"))
    journey.down_until("2026-03-21 22:00")
    heard = [message.heading for message in journey.run_to("2026-03-21 22:02")]
    assert heard == ["As you asked", "While I was away (since 20:00), this fell due"]
