"""`crockbell why`, which step is meant, and a clause for each kind of reason."""

from __future__ import annotations

import json

import pytest

from bot.cli import FITS, MISFIT, WRONG
from bot.reasoned import NotOneStep, step_named
from tests.cli_kit import Captured, Run, command_line
from tests.plans_for_tests import at, component, plan, step
from tests.reasons_kit import BUNDLED

RYE = "rye-and-beet-supper"
NOW = ("--now", "2027-01-20 09:00")


@pytest.fixture
def crockbell() -> Run:
    """Runs a command line at a fixed time."""
    return command_line(at("2027-01-20 09:00"))


# ---------------------------------------------------------------- the command


def test_why_prints_the_step_and_its_chain(crockbell: Run, capsys: Captured) -> None:
    """Exit 0: the step with its time, why no later, why no earlier, why then."""
    assert crockbell("why", RYE, "steam the buckwheat", *NOW) == FITS
    heading, *told = capsys.readouterr().out.splitlines()
    assert heading.startswith("Steam the buckwheat (Buckwheat): Sat 20 Feb 1")
    slicing = "“Slice the loaf, lay out the trout, plate the short ribs”"
    assert told[:10] == [
        "",
        "No later than 18:10, because",
        "- it takes 30 min",
        f"- {slicing} takes 20 min and has to begin by 18:40",
        "- the meal is at 19:00",
        "",
        "No earlier than 17:35, because",
        f"- {slicing} has to follow it within 30 min and cannot begin before 18:35",
        f"- {slicing} may wait 5 min for the meal at 19:00",
        "",
    ]
    assert told[10].startswith("Planned for ") and told[11] == "- it follows “Toast the buckwheat” at once"


def test_why_as_json_has_the_numbers_of_each_reason(crockbell: Run, capsys: Captured) -> None:
    """One object: times with their offset, each reason with its fact, its text and its numbers."""
    assert crockbell("why", RYE, "Buckwheat / Steam", "--json", *NOW) == FITS
    found = json.loads(capsys.readouterr().out)
    assert (found["component"], found["step"]) == ("Buckwheat", "Steam the buckwheat")
    assert found["latest"] == "2027-02-20T18:10:00+01:00" >= found["start"] >= found["earliest"]
    assert found["earliest"] == "2027-02-20T17:35:00+01:00" and found["end"] > found["start"]
    first, second, last = found["no_later_because"]
    assert (first["fact"], first["minutes"], first["needed"]) == ("length", 30, True)
    assert (second["by"], second["at"]) == ("2027-02-20T18:40:00+01:00", "2027-02-20T19:00:00+01:00")
    assert (last["fact"], last["text"]) == ("serve", "the meal is at 19:00")
    assert found["planned_because"][0]["fact"] == "follows"
    assert all(each["text"] for each in found["no_earlier_because"])


def test_why_of_a_plan_that_does_not_fit_is_why_it_does_not(crockbell: Run, capsys: Captured) -> None:
    """Exit 1, with what `check` says; as JSON too."""
    late = ("--now", "2027-02-20 09:00")
    assert crockbell("why", RYE, "strain", *late) == MISFIT
    assert "These cannot all be true:" in capsys.readouterr().out
    assert crockbell("why", RYE, "strain", "--json", *late) == MISFIT
    assert json.loads(capsys.readouterr().out)["status"] == "misfit"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("banana",), "has no step 'banana'"),
        (("trout",), "Salted trout / Rest the trout"),
        ((), "STEP"),
        (("strain", "--now", "soon"), "--now 'soon'"),
    ],
    ids=["unknown", "several", "none", "bad time"],
)
def test_a_step_that_is_not_clear_is_exit_2(
    crockbell: Run, capsys: Captured, arguments: tuple[str, ...], said: str
) -> None:
    """The steps it may be are listed; nothing is guessed."""
    assert crockbell("why", RYE, *arguments) == WRONG
    out = capsys.readouterr()
    assert out.out == "" and said in out.err


# ---------------------------------------------------------------- which step


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Bake the rye loaf", "Bake the rye loaf"),
        ("BAKE THE  RYE LOAF", "Bake the rye loaf"),
        ("rye loaf / bake the rye loaf", "Bake the rye loaf"),
        ("Rye loaf / Bake", "Bake the rye loaf"),
        ("strain", "Strain and bottle the beet drink"),
        ("toasting the buckwheat", "Toast the buckwheat"),
        ("braise", "Braise the short ribs"),
        ("horseradish", "Grate the horseradish into the cream"),
        ("salt the trout", "Salt the trout"),
    ],
)
def test_a_step_is_found_by_name_beginning_or_words(text: str, name: str) -> None:
    """In any case, with its component before a stroke, by its beginning, or as a cook would say it."""
    assert step_named(BUNDLED[RYE], text, at("2027-01-20 09:00")).name == name


def test_what_names_no_step_or_several_lists_them() -> None:
    """Nearly the name: the nearest; several: those; nothing like it: all."""
    made, now = BUNDLED[RYE], at("2027-01-20 09:00")
    with pytest.raises(NotOneStep, match="Rye loaf / Loaf proves") as near:
        step_named(made, "Loafprovs", now)
    assert "Beet drink" not in str(near.value)
    with pytest.raises(NotOneStep, match="may mean several steps:\n  Rye loaf / Feed the rye starter"):
        step_named(made, "starter", now)
    with pytest.raises(NotOneStep) as none:
        step_named(made, "zzz", now)
    assert str(none.value).count("\n") == len(made.steps)


def test_two_steps_of_one_name_are_told_apart_by_their_components() -> None:
    """The name alone is not enough; with its component it is."""
    made = plan(
        component("Pickle", step("Wash the jar", hands_on="5 min", keeps="1 d")),
        component("Jam", step("Wash the jar", hands_on="5 min", keeps="1 d")),
    )
    with pytest.raises(NotOneStep, match="Pickle / Wash the jar\n  Jam / Wash the jar"):
        step_named(made, "wash the jar", at("2027-01-20 09:00"))
    assert step_named(made, "jam / wash the jar", at("2027-01-20 09:00")).number == 1
