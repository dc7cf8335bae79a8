"""Every message: its limits, its buttons, its language, whatever the names in a plan look like."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.wording import ANSWERS, NUDGES, Wording
from bot.wording.amounts import amount_line, amounts_line, equipment, volume, weight
from bot.wording.lines import LABEL, MOST_BUTTONS, one_line, short, some
from scheduler import words
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.plan import Component, Plan, Step
from scheduler.domain.stages import About, Stage
from scheduler.service.answers import Answer, CatchUp, Said
from scheduler.service.deeds import Deed
from tests.wording_gallery import LISTS, gallery
from tests.wording_kitchen import ZONE, Kitchen, day, nudge, supper

MESSAGES = gallery(Kitchen())

# fmt: off
OURS = {
    "revision", "slot", "slots", "misfit", "nudge", "nudges", "outbox", "inbox", "deed", "deeds",
    "component", "components", "attention", "unattended", "hands-on", "solver", "timetable",
    "occurrence", "remedy", "remedies", "letter", "ladder", "draft", "snooze", "enum", "none", "null",
    "utc",
}
# fmt: on
"""Words of ours that nobody in a kitchen uses."""


@pytest.mark.parametrize("name", MESSAGES)
def test_a_message_needs_no_scrolling(name: str) -> None:
    """At most 9 lines and 700 characters, or for a list 14 lines and 1000 characters."""
    text = MESSAGES[name].text
    is_list = name.split()[0] in LISTS or name in LISTS
    lines = 14 if is_list else 11 if name == "taken many" else 9
    assert len(text.split("\n")) <= lines
    assert len(text) <= (1000 if is_list else 700)
    assert all(line.strip() == line and line for line in text.split("\n"))


@pytest.mark.parametrize("name", MESSAGES)
def test_its_buttons_are_few_short_and_ours(name: str) -> None:
    """At most four buttons, labels of 24 characters, data within 64 bytes that reads back to the deed."""
    buttons = MESSAGES[name].buttons
    assert len(buttons) <= MOST_BUTTONS
    assert len({button.label for button in buttons}) == len(buttons)
    for button in buttons:
        assert 0 < len(button.label) <= LABEL
        assert len(button.data.encode()) <= 64
        assert Deed.decode(button.data).encode() == button.data


@pytest.mark.parametrize("name", MESSAGES)
def test_it_is_plain_and_calm(name: str) -> None:
    """No exclamation marks, no words of ours, no emoji, no claim that anything is safe."""
    said = MESSAGES[name]
    everything = "\n".join([said.text, *(button.label for button in said.buttons)])
    assert "!" not in everything
    assert not re.search(r"\bsafe", everything, re.IGNORECASE)
    assert not re.search(r"[\U0001F000-\U0001FAFF\u2600-\u27BF]", everything)
    found = OURS & set(re.findall(r"[a-z-]+", everything.casefold()))
    assert not found, found
    assert not re.search(r"  |\.\.|,,|,\.|;\.|: \.|\bat on\b|\bon on\b", everything)


def test_every_answer_and_nudge_has_words() -> None:
    """No kind of answer, and no kind of nudge, is left without words."""
    assert set(get_args(Answer)) == {*ANSWERS, CatchUp}
    assert {*NUDGES, About.START, About.TIMER, About.CLOCK} == set(About)


def test_the_same_facts_give_the_same_words() -> None:
    """Putting things into words depends on nothing but what is put."""
    assert gallery(Kitchen()) == MESSAGES


def test_a_timer_is_no_nudge_about_a_plan() -> None:
    """A timer's words come from its label; asked for as a nudge it is refused by name."""
    with pytest.raises(ValueError, match="timer"):
        Wording().nudge(nudge(About.TIMER, Stage.NOW, None, "11-20 20:00"), Kitchen().view("11-20 20:00"))


# ---------------------------------------------------------------- names


def renamed(name: Callable[[str], str]) -> Plan:
    """The supper with every text of its own put through `name`."""
    made = supper()
    parts = tuple(
        Component(name(part.name), tuple(_renamed(step, name) for step in part.steps))
        for part in made.components
    )
    return replace(made, title=name(made.title), components=parts)


def _renamed(step: Step, name: Callable[[str], str]) -> Step:
    return replace(
        step,
        name=name(step.name),
        component=name(step.component),
        caution=name(step.caution) if step.caution else None,
        range=replace(step.range, until=name(step.range.until)) if step.range.until else step.range,
        tend=replace(step.tend, name=name(step.tend.name)) if step.tend else None,
        amounts=tuple(_renamed_amount(amount, name) for amount in step.amounts),
    )


def _renamed_amount(amount: Amount, name: Callable[[str], str]) -> Amount:
    unit = name(amount.unit) if amount.unit in ("bunch",) else amount.unit
    return replace(amount, name=name(amount.name), of=tuple(map(name, amount.of)), unit=unit)


def _within_limits(said: dict[str, Said]) -> None:
    for name, message in said.items():
        lines = message.text.split("\n")
        assert len(message.text) <= 2500, name
        assert len(lines) <= 16, name
        assert all(len(line) <= 240 and line.strip() for line in lines), name
        assert all(0 < len(button.label) <= LABEL for button in message.buttons), name


@pytest.mark.slow
@given(st.lists(st.text(), min_size=1, max_size=7))
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
def test_names_of_any_characters_break_nothing(names: list[str]) -> None:
    """Whatever a plan calls things, every message is made and keeps its limits."""
    chosen: dict[str, str] = {}

    def name(old: str) -> str:
        return chosen.setdefault(old, names[len(chosen) % len(names)])

    _within_limits(gallery(Kitchen(renamed(name))))


@pytest.mark.parametrize(
    "long", ["w" * 500, "long name " * 60, "a\u0301" * 200, "<b>&amp; " * 40, "\u202e\n\x00\ud800"]
)
def test_names_that_are_too_long_are_shortened(long: str) -> None:
    """A name longer than a line, or of marks and controls, is cut with an ellipsis and shown on one line."""
    said = gallery(Kitchen(renamed(lambda old: long)))
    _within_limits(said)
    assert all("\x00" not in each.text and "\u202e" not in each.text for each in said.values())


def test_what_comes_from_a_plan_is_not_escaped() -> None:
    """Escaping is the transport's: a name is shown as the cook wrote it."""
    said = gallery(Kitchen(renamed(lambda old: f"{old} & <co>")))
    assert "Soak the chickpeas & <co>" in said["now Soak the chickpeas"].text


@given(st.text(), st.integers(2, 40))
@settings(max_examples=100)
def test_shortening_keeps_to_one_line_and_its_length(text: str, most: int) -> None:
    """A shortened text is one line, never empty, never too long, and untouched where it fitted."""
    cut = short(text, most)
    assert 0 < len(cut) <= most and "\n" not in cut
    assert cut == one_line(text) or cut.endswith("…")


def test_a_list_says_how_much_it_leaves_out() -> None:
    """The last of the lines counts what the others do not show."""
    assert some("abc", 3) == ["a", "b", "c"]
    assert some("abcd", 3) == ["a", "b", "and 2 more"]


# ---------------------------------------------------------------- times


def test_times_are_those_of_the_plans_zone() -> None:
    """The same moments in a kitchen in Kolkata are four and a half hours later on its clock (in November)."""
    there = Kitchen(replace(supper(), zone="Asia/Kolkata"))
    name = "Salt and pack the carrots"
    said = Wording().nudge(
        nudge(About.START, Stage.NOW, name, "11-10 18:00"), there.view("11-10 18:00", unsaid=[name])
    )
    assert "on Fri 20 Nov at 22:50" in said.text
    assert "until 02:40 tomorrow" in said.text


def test_times_as_they_are_said() -> None:
    """Today, tomorrow, this week and later each have their own way, in sentences and in lists."""
    now = day("11-20 12:00")
    moments = [
        day(text) for text in ("11-19 09:05", "11-20 22:40", "11-21 09:00", "11-24 09:00", "12-24 19:30")
    ]
    assert [words.at_time(moment, ZONE, now) for moment in moments] == [
        "at 09:05 yesterday",
        "at 22:40",
        "at 09:00 tomorrow",
        "on Tuesday at 09:00",
        "on Thu 24 Dec at 19:30",
    ]
    assert [words.brief(moment, ZONE, now) for moment in moments] == [
        "Thu 09:05",
        "22:40",
        "Sat 09:00",
        "Tue 09:00",
        "Thu 24 Dec 19:30",
    ]


def test_a_weekday_in_a_list_is_never_two_days_at_once() -> None:
    """Six days ahead, or back, the date is given: the bare weekday could be taken for the nearer one."""
    now = day("11-20 12:00")
    assert words.brief(day("11-26 09:00"), ZONE, now) == "Thu 26 Nov 09:00"
    assert words.brief(day("11-14 09:00"), ZONE, now) == "Sat 14 Nov 09:00"


@pytest.mark.parametrize(
    ("number", "said"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (11, "11th"), (22, "22nd"), (113, "113th")]
)
def test_numbers_in_order(number: int, said: str) -> None:
    """First, second, third, and the teens."""
    assert words.ordinal(number) == said


def test_amounts_are_those_of_a_kitchen_scale() -> None:
    """A percentage is shown in grams with what it is a percentage of; tenths only below ten grams."""
    salt = Amount("salt", Decimal("2.5"), "%", ("turnips",), Decimal("22.5"))
    assert amount_line(salt) == "salt 23 g (2.5 % of the turnips' weight)"
    assert amount_line(replace(salt, worked=None)) == "salt 2.5 % of the turnips' weight"
    assert amount_line(Amount("eggs", Decimal(3))) == "eggs 3"
    assert [weight(Decimal(text)) for text in ("4.25", "9.96", "999.6", "1250")] == [
        "4.3 g",
        "10 g",
        "1 kg",
        "1.25 kg",
    ]
    assert volume(Decimal("1500")) == "1.5 L"


def test_what_a_step_needs_is_named_once() -> None:
    """The oven with its heat, the temperature it stands at, and gear by count, whatever it is called."""
    baking = supper().steps[0]
    assert equipment(baking) == ""
    dressed = replace(baking, oven=180, at=4.5, gear=("oven", "burner", "burner", "big\npot"))
    assert equipment(dressed) == "Oven at 180 C; at 4.5 C; needs 2 burners, big pot."


def test_many_amounts_are_counted_rather_than_listed() -> None:
    """A long list of amounts ends in how many it leaves out."""
    said = amounts_line(Amount(f"spice {n}", Decimal(n), "g") for n in range(1, 13))
    assert said.startswith("Spice 1 1 g, spice 2 2 g") and said.endswith(", and 5 more.")
    assert amounts_line([]) == ""
