"""`crockbell scale`, and `--serves` beside the other commands: what they print, and their exit codes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from bot.cli import FITS, MISFIT, WRONG
from tests.cli_kit import Captured, Run, command_line
from tests.talk_kit import SUPPER, on

NOW = ("--now", "2026-05-05 20:00")
FOR_FOUR = SUPPER.replace("title: Supper for four\n", "title: Supper\nserves: 4\n")


@pytest.fixture
def crockbell(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Runs a command line in a directory that holds a supper for four and one that serves nobody in particular."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "supper.yaml").write_text(FOR_FOUR)
    (tmp_path / "any.yaml").write_text(SUPPER)
    return command_line(on(5, "20:00"))


def printed(capsys: Captured) -> Any:
    return json.loads(capsys.readouterr().out)


# ---------------------------------------------------------------- a whole plan


def test_a_plan_by_component_and_step(crockbell: Run, capsys: Captured) -> None:
    """Every amount for twelve, and what they come to in all."""
    assert crockbell("scale", "supper.yaml", "--serves", "12") == FITS
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Supper: the amounts for 12 instead of 4"
    assert "Pickle:" in lines and "Flan:" in lines and "Table:" not in lines
    assert "  Salt the radishes: radishes 1500 g, salt 30 g (2 % of the radishes' weight)" in lines
    assert "  Whisk the flan: milk 1500 ml, eggs 12" in lines
    assert "In all: radishes 1.5 kg, salt 30 g, beans 1.2 kg, milk 1.5 L and eggs 12" in lines
    assert lines[-1].startswith("No time changes.")


def test_a_plan_as_json(crockbell: Run, capsys: Captured) -> None:
    """The same with units in the keys, rounded and exact."""
    assert crockbell("scale", "supper.yaml", "--serves", "5", "--json") == FITS
    found = printed(capsys)
    assert (found["title"], found["serves"], found["serves_as_written"]) == ("Supper", 5, 4)
    salt = found["steps"][0]["amounts"][1]
    assert (salt["name"], salt["grams"], salt["grams_as_weighed"], salt["percent"]) == (
        "salt",
        12.5,
        13.0,
        2.0,
    )
    eggs = next(each for each in found["totals"] if each["name"] == "eggs")
    assert (eggs["count"], eggs["counted"]) == (5.0, "")
    milk = next(each for each in found["totals"] if each["name"] == "milk")
    assert milk["millilitres"] == 625.0


def test_a_plan_as_it_is_written(crockbell: Run, capsys: Captured) -> None:
    """Without a number nothing is scaled, and nothing is said of what scaling changes."""
    assert crockbell("scale", "any.yaml") == FITS
    out = capsys.readouterr().out
    assert out.startswith("Supper for four: the amounts as they are written") and "No time changes" not in out


@pytest.mark.parametrize(
    "arguments",
    [
        ("any.yaml", "--serves", "12"),
        ("supper.yaml", "--serves", "none"),
        ("supper.yaml", "--serves", "0"),
        ("supper.yaml", "--serves", "2.5"),
        ("supper.yaml", "--of", "flour"),
        ("supper.yaml", "--from", "8", "--to", "12"),
        ("900 g", "--serves", "12"),
        ("900 g", "--from", "8"),
        ("900 g", "--from", "8", "--to", "many"),
        ("900 g", "--from", "0", "--to", "8"),
        ("2.5 % of flour", "--from", "8", "--to", "12"),
        ("3 eggs",),
        ("2 cups", "--of", "brown sugar"),
        ("2 cups", "--of", "moon dust"),
        ("no such plan",),
        ("0/0 cups",),
    ],
)
def test_what_cannot_be_scaled(crockbell: Run, capsys: Captured, arguments: tuple[str, ...]) -> None:
    """Exit 2, and a line that says what was expected."""
    assert crockbell("scale", *arguments) == WRONG
    captured = capsys.readouterr()
    assert captured.out == "" and captured.err.strip()


def test_a_broken_plan_is_told_line_by_line(crockbell: Run, capsys: Captured, tmp_path: Path) -> None:
    """As `check` would."""
    (tmp_path / "bad.yaml").write_text(FOR_FOUR.replace("500 ml", "some"))
    assert crockbell("scale", "bad.yaml") == WRONG
    assert "bad.yaml: line " in capsys.readouterr().err


# ---------------------------------------------------------------- one amount


@pytest.mark.parametrize(
    ("arguments", "heading"),
    [
        (("900 g", "--from", "8", "--to", "12"), "900 g for 8 is 1350 g for 12"),
        (("3", "--from", "8", "--to", "12"), "3 for 8 is 4.5, so 4 or 5 for 12"),
        (("2 tsp", "--from", "8", "--to", "12"), "2 tsp for 8 is 3 tsp for 12"),
        (("2 cups", "--of", "wheat flour"), "2 cups of wheat flour is 250 g"),
        (("1/2 cup", "--of", "honey"), "0.5 cup of honey is 170 g"),
        (("1 quart", "--of", "milk"), "1 quart of milk is 976 g"),
        (("3 lb",), "3 lb is 1361 g"),
        (("1 pint",), "1 pint is 473 ml"),
        (("1 tbsp", "--of", "coarse sea salt"), "1 tbsp of coarse sea salt is 17 g"),
    ],
)
def test_one_amount(crockbell: Run, capsys: Captured, arguments: tuple[str, ...], heading: str) -> None:
    """Scaled, or turned into weight: the answer is the first line."""
    assert crockbell("scale", *arguments) == FITS
    assert capsys.readouterr().out.splitlines()[0] == heading


def test_a_volume_as_json(crockbell: Run, capsys: Captured) -> None:
    """Grams and millilitres, and by what figure of whom."""
    assert crockbell("scale", "2 cups", "--of", "wheat flour", "--json") == FITS
    found = printed(capsys)
    assert (found["grams"], round(found["millilitres"], 3)) == (250.0, 473.176)
    assert found["source"] == "USDA SR28, NDB 20081" and found["from_memory"] is False


def test_scaled_and_weighed(crockbell: Run, capsys: Captured) -> None:
    """Both at once: two cups for eight are three for twelve, and weigh 375 g."""
    assert crockbell("scale", "2 cups", "--of", "flour", "--from", "8", "--to", "12", "--json") == FITS
    found = printed(capsys)
    assert (found["grams"], found["factor"], found["from_serves"], found["to_serves"]) == (
        375.0,
        1.5,
        8.0,
        12.0,
    )
    assert crockbell("scale", "2 cups", "--of", "moon dust", "--from", "8", "--to", "12") == FITS
    assert "I know no weight" in capsys.readouterr().out.splitlines()[1]


def test_a_figure_of_the_table_comes_out_exactly(crockbell: Run, capsys: Captured) -> None:
    """USDA SR28, read in a copy: a tablespoon of olive oil is 13.5 g, shown as a scale would, 14 g."""
    assert crockbell("scale", "1 tbsp", "--of", "olive oil", "--json") == FITS
    found = printed(capsys)
    assert (found["grams"], found["grams_as_weighed"]) == (13.5, 14.0)


def test_salt_by_the_spoon_gets_a_range_and_no_weight(crockbell: Run, capsys: Captured) -> None:
    """No single figure is told for a crystal that was not named: exit 1, the range, and to weigh it."""
    assert crockbell("scale", "2 tbsp", "--of", "salt") == MISFIT
    out = capsys.readouterr().out
    assert "17 g to 38 g" in out and "weigh it" in out and "Name" not in out.splitlines()[0]
    assert crockbell("scale", "2 tbsp", "--of", "salt", "--json") == MISFIT
    found = printed(capsys)
    assert found["grams"] is None
    assert (round(found["grams_lowest"], 1), round(found["grams_highest"], 1)) == (16.6, 38.0)


# ---------------------------------------------------------------- --serves


def test_shopping_for_more(crockbell: Run, capsys: Captured) -> None:
    """Twice as many at the table, twice as much to buy."""
    assert crockbell("shop", "supper.yaml", "--serves", "8", *NOW) == FITS
    out = capsys.readouterr().out
    assert "radishes, 1 kg" in out and "eggs, 8" in out


def test_checking_for_more_gives_the_same_timetable(crockbell: Run, capsys: Captured) -> None:
    """Amounts are no part of it."""
    assert crockbell("check", "supper.yaml", "--json", *NOW) == FITS
    plain = printed(capsys)
    assert crockbell("check", "supper.yaml", "--serves", "8", "--json", *NOW) == FITS
    assert printed(capsys)["steps"] == plain["steps"]


def test_a_calendar_for_more(crockbell: Run, capsys: Captured, tmp_path: Path) -> None:
    """Its events carry the scaled amounts."""
    assert crockbell("calendar", "supper.yaml", "--serves", "8", "-o", "out.ics", *NOW) == FITS
    assert "radishes 1000 g" in (tmp_path / "out.ics").read_text().replace("\r\n ", "")


def test_a_rehearsal_for_more(crockbell: Run, capsys: Captured) -> None:
    """The cook says it before the plan is used, and the messages have the new amounts."""
    assert crockbell("rehearse", "supper.yaml", "--serves", "6") == FITS
    out = capsys.readouterr().out
    assert "there will be 6 of us" in out and "adishes 750 g" in out and "adishes 500 g" not in out


@pytest.mark.parametrize("command", ["check", "shop", "rehearse", "why"])
def test_a_plan_that_serves_nobody_in_particular(crockbell: Run, capsys: Captured, command: str) -> None:
    """Exit 2, and what is missing in it; the same for a number that is none."""
    step = ("Soak the beans",) if command == "why" else ()
    assert crockbell(command, "any.yaml", *step, "--serves", "8", *NOW) == WRONG
    assert "does not say how many it serves" in capsys.readouterr().err
    assert crockbell(command, "supper.yaml", *step, "--serves", "a few", *NOW) == WRONG
    assert "--serves 'a few': expected" in capsys.readouterr().err
