"""Messages about what to beware of: short, the caution with its source, the deferral last."""

from __future__ import annotations

import pytest

from bot.wording import Wording
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.progress import State
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.service.answers import Caution, Said
from scheduler.service.deeds import Verb
from scheduler.service.view import View
from tests.hazard_plans import CHILLI, HEAD, STOCK, part, step_of
from tests.limits_kit import BOILING, COOLING, MINUTE, at, boiling, fresh, of, refused, taken

OIL = part(
    "Garlic oil", "name: Cook garlic in oil, nearby: 1 h, oven: 110 C, keeps: 3 d, amounts: {garlic: 80 g}"
)
FRIED = part(
    "Potatoes",
    "name: Fry the potatoes, hands-on: 20 min, gear: [fryer], keeps: 10 min, caution: Mind the cat.",
)
TURNIPS = part(
    "Turnips",
    "name: Salt them and seal the jar, hands-on: 10 min, amounts: {turnips: 900 g, salt: 2.5 % of turnips}",
    "name: Turnips ferment, unattended: 6 h to 8 h, keeps: 9 h, ferment: vegetables",
)
EVERYTHING = HEAD + CHILLI + STOCK + OIL + FRIED + TURNIPS


def begun(name: str, stage: Stage = Stage.NOW) -> Said:
    """What is said when a step is to begin."""
    view = fresh(EVERYTHING)
    slot = view.timetable.slot(step_of(view.plan, name).number)
    assert slot is not None
    nudge = Nudge(About.START, stage, slot.start, slot.end, slot.start, slot.step, 0)
    return Wording().nudge(nudge, at(view, slot.start))


def cautions_in(said: Said) -> list[str]:
    return [line for line in said.text.split("\n") if line.startswith("Caution: ")]


@pytest.mark.parametrize("stage", [Stage.NOW, Stage.WAITING, Stage.CLOSING, Stage.MISSED])
@pytest.mark.parametrize(
    ("name", "sources"),
    [
        (BOILING, ["(FDA Bad Bug Book, 2nd ed.)"]),
        (COOLING, ["(FDA Food Code 3-501.14)"]),
        ("Cook garlic in oil", ["(National Center for Home Food Preservation, from memory)"]),
        ("Fry the potatoes", ["Mind the cat.", "(US Fire Administration, from memory)"]),
        ("Turnips ferment", ["21 CFR 114.3)", "(common practice, no source)"]),
        ("Simmer the chilli", []),
        ("Rest in the fridge", []),
    ],
)
def test_a_step_that_begins_brings_its_cautions(name: str, sources: list[str], stage: Stage) -> None:
    """Written first, two at most, each with its source, the deferral last, and nothing to scroll."""
    said = begun(name, stage)
    found = cautions_in(said)
    assert len(found) == len(sources)
    assert all(source in line for source, line in zip(sources, found, strict=True))
    assert (DEFERRAL in said.text) == bool(sources)
    assert not sources or said.text.endswith(DEFERRAL)
    assert len(said.text) <= 700 and len(said.text.split("\n")) <= 9


def test_nobody_is_offered_more_time_over_what_time_makes_worse() -> None:
    """More time for the boil, none for the cooling, though no caution is written on either."""

    def labels(view: View, name: str) -> list[str]:
        slot = view.timetable.slot(step_of(view.plan, name).number)
        assert slot is not None
        over = Nudge(About.END, Stage.NOW, slot.end, slot.end, slot.end, slot.step)
        return [button.label for button in Wording().nudge(over, at(view, slot.end)).buttons]

    view = fresh(EVERYTHING)
    assert any("more" in label for label in labels(boiling(view, 30 * MINUTE), BOILING))
    cooling = view.timetable.slot(step_of(view.plan, COOLING).number)
    assert cooling is not None
    started = taken(at(view, cooling.start), of(view, Verb.START, COOLING)).view
    assert started.progress.state(cooling.step) is State.RUNNING
    assert not any("more" in label for label in labels(started, COOLING))


def test_a_refusal_says_why_on_lines_of_its_own() -> None:
    """The thing itself first, then the caution and the deferral whole."""
    view = fresh()
    lines = Wording().answer(refused(view, of(view, Verb.SKIP, BOILING))).text.split("\n")
    assert lines[0] == "“Boil the kidney beans” cannot be left out while the rest is kept."
    assert lines[1].endswith("(FDA Bad Bug Book, 2nd ed.).") and lines[2] == DEFERRAL


def test_a_question_about_a_step_is_answered_from_what_it_is() -> None:
    """Beans that carry no written caution are answered with their published limit."""
    text = Wording().answer(Caution(fresh(), "is the bean chilli all right")).text
    assert "(FDA Bad Bug Book, 2nd ed.)" in text and text.endswith(DEFERRAL)
