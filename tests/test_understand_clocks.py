"""What is said of food out of temperature control, and what only sounds like it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from phrases_never import NEVER
from phrases_own import PHRASES
from sample_plan import NOW, PLAN, ZONE, context, labels, target

from bot.understand import MARKS, understand
from scheduler.commands import Command, Context, Understood
from scheduler.domain.clocks import Act, OfClock
from scheduler.domain.hours import local
from scheduler.domain.kitchen.holding import Kind
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.progress import fold
from scheduler.domain.stages import About

HOUR = timedelta(hours=1)


def no_plan() -> Context:
    return Context(NOW, ZONE)


def chilling(about: About | None = None) -> Context:
    """The custard was taken from the oven two hours ago and chills; it cools by a clock of its own."""
    begun = Mark(
        MarkKind.STARTED, NOW - 2 * HOUR, NOW - 2 * HOUR, "b", target(PLAN, "Chill the custard").step
    )
    return context(standing=fold(PLAN, [begun], NOW), about=about)


def pork_out() -> Context:
    """The pork was roasted long ago, and is out since an hour ago, as the cook said."""
    step = target(PLAN, "Roast the pork").step
    done = Mark(MarkKind.DONE, NOW - 5 * HOUR, NOW - 5 * HOUR, "d", step)
    text = OfClock(Act.START, 1, Kind.OUT).as_text()
    out = Mark(MarkKind.CLOCK, NOW - HOUR, NOW - HOUR, "c", step, text=text)
    return context(standing=fold(PLAN, [done, out], NOW))


def at(found: Understood) -> str:
    return "" if found.at is None else f"{local(found.at, ZONE):%H:%M}"


# ---------------------------------------------------------------- starting one


@pytest.mark.parametrize(
    ("text", "detail", "when"),
    [
        ("start the clock for the duck", "start out duck", ""),
        ("Start a clock for my soup please", "start out soup", ""),
        ("start the rice clock", "start out rice", ""),
        ("clock for the stew", "start out stew", ""),
        ("the duck is out", "start out duck", ""),
        ("the duck's out of the fridge since 2", "start out duck", "14:00"),
        ("took the soup off at 2", "start cooling soup", "14:00"),
        ("took the stew off the heat 20 minutes ago", "start cooling stew", "18:45"),
        ("rice is cooling since 14:10", "start cooling rice", "14:10"),
        ("the stock is off the stove", "start cooling stock", ""),
        ("the potato salad is out on the table", "start out potato salad", ""),
    ],
)
def test_food_that_is_no_step_of_the_plan(text: str, detail: str, when: str) -> None:
    """With a plan or without, the clock is started of what was named, and from when."""
    for where in (no_plan(), context()):
        found = understand(text, where)
        assert (found.command, found.detail, at(found)) == (Command.CLOCK, detail, when)


def test_food_of_the_plan_is_known_by_its_step() -> None:
    """ "Start the clock for the pork" names the part of the meal that the pork is."""
    found = understand("start the clock for the pork", context())
    assert PLAN.steps[found.steps[0].step].component == "Pork belly"
    found = understand("chickpeas are cooling since 14:10", context())
    assert (found.command, at(found)) == (Command.CLOCK, "14:10")


@pytest.mark.parametrize(
    "text", ["the pork is out", "took the chickpeas off at 2", "custard is out", "rye's out of the oven"]
)
def test_what_marks_a_step_stays_a_mark(text: str) -> None:
    """Out of the oven or off the heat is done, where a step of the plan can be meant that is not over."""
    found = understand(text, context())
    assert (found.command, found.sure) == (Command.DONE, True)


def test_what_is_over_already_is_out() -> None:
    """Once the roast is marked done, "the pork is out" cannot mean the oven."""
    step = target(PLAN, "Roast the pork").step
    done = fold(PLAN, [Mark(MarkKind.DONE, NOW - HOUR, NOW - HOUR, "d", step)], NOW)
    found = understand("the pork is out", context(standing=done))
    assert (found.command, found.detail) == (Command.CLOCK, "start out pork")


# ---------------------------------------------------------------- of one that runs


@pytest.mark.parametrize(
    ("text", "detail"),
    [
        ("how long has the custard been cooling", "ask custard"),
        ("how long has the custard been out", "ask custard"),
        ("how long left to cool", "ask"),
        ("how long left", "ask"),
        ("custard is at 30 degrees", "reading 30 custard"),
        ("the custard's down to 68 F now", "reading 20 custard"),
        ("the custard is cold", "cold custard"),
        ("it is cold now", "cold"),
        ("stop the clock", "stop"),
        ("stop the custard clock", "stop custard"),
        ("the custard is eaten", "eaten custard"),
        ("it is eaten", "eaten"),
        ("what's the rule", "rule"),
    ],
)
def test_of_a_clock_that_runs(text: str, detail: str) -> None:
    """What is asked, measured and said to be over, of the food named or of whatever cools."""
    found = understand(text, chilling())
    assert (found.command, found.detail) == (Command.CLOCK, detail)


def test_back_in_the_fridge() -> None:
    """What was out is put back: named or not."""
    assert understand("back in the fridge", pork_out()).detail == "fridge"
    assert understand("the duck is in the fridge", no_plan()).detail == "fridge duck"
    assert understand("put the soup back in the fridge", no_plan()).detail == "fridge soup"


def test_a_step_that_stands_in_the_fridge_is_begun_all_the_same() -> None:
    """ "The pork is in the fridge", with its cure to begin, begins it; the clock follows from that."""
    found = understand("the pork is in the fridge", context())
    assert (found.command, labels(found)) == (Command.STARTED, ["Cure in the fridge"])


# ---------------------------------------------------------------- in answer to a message about one


@pytest.mark.parametrize(
    ("text", "detail"),
    [
        ("30", "reading 30.0"),
        ("it's 28 degrees", "reading 28.0"),
        ("about 50 F", "reading 10.0"),
        ("still warm", "warm"),
        ("not yet", "warm"),
        ("no", "warm"),
        ("what is the rule?", "rule"),
        ("in 30 minutes", "later"),
        ("remind me in 10 min", "later"),
        ("later", "later"),
        ("cold now", "cold"),
    ],
)
def test_answers_to_a_message_about_a_clock(text: str, detail: str) -> None:
    """They are about the clock, and snooze, mark or deny no step."""
    found = understand(text, chilling(About.CLOCK))
    assert (found.command, found.detail) == (Command.CLOCK, detail)


def test_until_when_it_was_put_off() -> None:
    """The moment named comes with it; what is to be made of it is for the clock to say."""
    assert understand("in 30 minutes", chilling(About.CLOCK)).until == NOW + timedelta(minutes=30)


def test_a_bare_done_after_it_marks_no_step() -> None:
    """Nobody can tell what is done: the message was about food, not about a step."""
    found = understand("done", chilling(About.CLOCK))
    assert not (found.command in MARKS and found.sure)


# ---------------------------------------------------------------- what is none


@pytest.mark.parametrize(
    ("text", "command"),
    [
        ("the duck sat out for three hours", Command.SAFETY),
        ("the pork sat out for three hours", Command.SAFETY),
        ("left the pork out overnight", Command.SAFETY),
        ("how long has the pork been out", Command.SAFETY),
        ("kitchen is at 24 degrees", Command.NOTE),
        ("sauerkraut pH 3.9", Command.NOTE),
        ("stop", Command.STOP),
        ("timer 10 min rice", Command.TIMER),
        ("the cat is out", Command.UNCLEAR),
        ("we are out", Command.UNCLEAR),
        ("took the bins out", Command.UNCLEAR),
    ],
)
def test_what_only_sounds_like_it(text: str, command: Command) -> None:
    """Where no clock runs, these are what they always were."""
    assert understand(text, context()).command is command


def test_none_of_the_other_phrases_speaks_of_a_clock() -> None:
    """Of all that cooks say of the plan, only what is listed as such is taken for a clock."""
    own = [row for row in PHRASES if row[2] == "clock"]
    taken = [row for row in PHRASES if understand(row[1], context(row[0])).command is Command.CLOCK]
    assert taken == own
    assert len(own) >= 12
    never = [text for text in NEVER if understand(text, context()).command is Command.CLOCK]
    assert never == []


@given(st.sampled_from([row for row in PHRASES if row[2] in ("done", "started", "skip")]))
@settings(max_examples=60, deadline=None)
def test_marks_are_marks_also_while_a_clock_runs(row: tuple[str, str, str, str, str]) -> None:
    """What marks a step for certain with no clock running does so with one."""
    before, after = understand(row[1], context(row[0])), understand(row[1], chilling())
    if before.sure and before.command in MARKS and not row[0]:
        assert after.command is not Command.CLOCK
