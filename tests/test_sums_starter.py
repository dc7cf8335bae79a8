"""`crockbell starter`, and the same questions in plain words."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from bot import main as composition
from bot.cli import FITS, MISFIT, WRONG, run
from bot.wiring import Wiring
from tests.fakes import FakeClock
from tests.starter_plans import LOAF, on_day

NOW = on_day(8, "20:00")
RULE = (
    "By the rule of thumb that 1:1:1 is ripe in 4 h to 6 h and 1:5:5 in 8 h to 12 h at 24 C "
    "(common practice, from memory)."
)
FED_TWICE = "A starter out of the fridge is usually fed twice before a bake (common practice, from memory)."
Asked = Callable[..., list[str]]
Captured = pytest.CaptureFixture[str]


def code_of(*options: str) -> int:
    """The exit code of `crockbell starter` with those options."""
    wiring = Wiring(FakeClock(NOW), composition.open_store, composition.make_worker, composition.open_planner)
    try:
        return run(("starter", *options), lambda: wiring)
    except SystemExit as end:
        return int(end.code or 0)


@pytest.fixture
def asked(capsys: Captured) -> Asked:
    """The lines that `crockbell starter` prints."""

    def ask(*options: str, code: int = FITS) -> list[str]:
        assert code_of(*options) == code
        return capsys.readouterr().out.splitlines()

    return ask


@pytest.fixture
def facts(capsys: Captured) -> Callable[..., dict[str, Any]]:
    """What it prints with --json."""

    def ask(*options: str) -> dict[str, Any]:
        assert code_of(*options, "--json") == FITS
        found: dict[str, Any] = json.loads(capsys.readouterr().out)
        return found

    return ask


# ---------------------------------------------------------------- what to mix


def test_what_to_mix(asked: Asked) -> None:
    """SF-1 (worked out): 220 g at 1:5:5."""
    lines = asked("--want", "220 g", "--ratio", "1:5:5")
    assert lines == [
        "20 g starter, 100 g flour, 100 g water: 220 g of starter",
        "Hydration 100 % when fed.",
        FED_TWICE,
    ]


def test_two_feeds(asked: Asked) -> None:
    """From 5 g it takes two: both are told."""
    lines = asked("--want", "220 g", "--ratio", "1:5:5", "--have", "5 g")
    assert lines[:3] == [
        "Two feeds: 5 g to 55 g to 220 g of starter",
        "Feed 1: 5 g starter, 25 g flour, 25 g water.",
        "Feed 2: 55 g starter, 83 g flour, 82 g water.",
    ]


def test_a_hydration_instead_of_a_ratio(facts: Callable[..., dict[str, Any]]) -> None:
    """All of 5 g made into 220 g at 80 %; the parts sum to it (worked out)."""
    found = facts("--want", "220 g", "--have", "5 g", "--hydration", "80 %")
    assert found["mix"] == {"starter_g": 5.0, "flour_g": 119.7, "water_g": 95.3, "total_g": 220.0}
    assert found["hydration_percent"] == 80.0


def test_a_ratio_at_another_hydration(facts: Callable[..., dict[str, Any]]) -> None:
    """SF-2 (worked out): 20 g of starter at 100 % and 100 g of flour take 78 g of water for 80 %."""
    found = facts("--want", "198 g", "--ratio", "20:100:100", "--hydration", "80")
    assert found["mix"] == {"starter_g": 20.0, "flour_g": 100.0, "water_g": 78.0, "total_g": 198.0}
    stiff = facts("--want", "220 g", "--ratio", "1:5:5", "--starter-hydration", "50")
    assert stiff["hydration_percent"] == pytest.approx(94.1, abs=0.1)


# ---------------------------------------------------------------- when it is ripe


def test_when_it_is_ripe(asked: Asked) -> None:
    """A range, what is usual, and where it comes from."""
    lines = asked("--ratio", "1:5:5", "--at", "24 C")
    assert lines[:2] == ["Fed 1:5:5: ripe in 8 h to 13 h 10 min at 24 C, as a rule 10 h 15 min", RULE]
    assert "Rosso et al." in lines[2] and "from memory" in lines[2]


def test_own_times_as_options(facts: Callable[..., dict[str, Any]]) -> None:
    """`--took`, as often as wanted, of the feed that is asked about or of one it names."""
    own = facts("--ratio", "1:1:1", "--at", "22 C", "--took", "5 h 30 min at 22 C")["ripe"]
    assert (own["usually_min"], own["own_times"]) == (330, 1)
    other = facts("--ratio", "1:5:5", "--at", "22 C", "--took", "1:1:1 5 h 30 min at 22 C")["ripe"]
    assert other["factor"] == own["factor"]
    two = facts("--ratio", "1:1:1", "--at", "22 C", "--took", "5 h at 22 C", "--took", "6 h at 72 F")["ripe"]
    assert two["own_times"] == 2


def test_facts_have_units_and_sources(facts: Callable[..., dict[str, Any]]) -> None:
    """SF-3 (worked out): 3.46 doublings; and that it is from memory."""
    found = facts("--want", "220 g", "--ratio", "1:5:5", "--at", "24 C")
    ripe = found["ripe"]
    assert (ripe["doublings"], ripe["at_c"], ripe["factor"], ripe["from_memory"]) == (3.46, 24.0, 1.0, True)
    assert ripe["shortest_min"] <= 8 * 60 and ripe["longest_min"] >= 12 * 60
    assert ripe["source"].startswith("common practice") and ripe["source"].endswith("from memory")


def test_two_feeds_are_timed_one_by_one(asked: Asked) -> None:
    """Each by its own ratio."""
    lines = asked("--want", "220 g", "--ratio", "1:5:5", "--have", "5 g", "--at", "24 C")
    assert [line.split(":  ")[0][:14] for line in lines if line.startswith("Fed ")] == [
        "Fed 1:5:5: rip",
        "Fed 1:1.5:1.5:",
    ]


@pytest.mark.parametrize(
    ("at", "limit"), [("4 C", "above 8 C only"), ("40 C", "below 35 C only"), ("10 C", "a week")]
)
def test_where_nothing_grows_there_is_no_time(asked: Asked, at: str, limit: str) -> None:
    """Exit 1 and a plain reason."""
    assert limit in asked("--ratio", "1:5:5", "--at", at, code=MISFIT)[0]


# ---------------------------------------------------------------- the loaf


def test_what_a_loaf_comes_to(asked: Asked) -> None:
    """660 g of water to 900 g of flour, 16 g of salt (worked out); RT-07: 2 % is usual (from memory)."""
    options = ("--loaf-flour", "800 g", "--loaf-water", "560 g", "--loaf-salt", "2 %", "--starter", "200 g")
    assert asked(*options) == [
        "Hydration 73.3 %, salt 1.78 % of all the flour",
        "660 g of water to 900 g of flour, those in 200 g of starter at 100 % counted in.",
        "16 g of salt; 2 % of all the flour, which is usual (common practice, from memory), would be 18 g.",
    ]


def test_everything_at_once(facts: Callable[..., dict[str, Any]]) -> None:
    """What to mix, when it is ripe, and the loaf."""
    found = facts(
        "--want", "200 g", "--ratio", "1:2:2", "--at", "22 C", "--loaf-flour", "1 kg", "--starter", "200 g"
    )
    assert found["mix"]["starter_g"] == 40.0 and found["ripe"]["at_c"] == 22.0
    assert found["loaf"]["flour_g"] == 1100.0


@pytest.mark.parametrize(
    "options",
    [
        (),
        ("--want", "220 g"),
        ("--want", "a lot", "--ratio", "1:5:5"),
        ("--want", "220 ml", "--ratio", "1:5:5"),
        ("--want", "220 g", "--ratio", "1:5"),
        ("--want", "220 g", "--ratio", "1:5:5", "--hydration", "wet"),
        ("--want", "220 g", "--ratio", "1:5:5", "--hydration", "5"),
        ("--want", "5 g", "--have", "5 g"),
        ("--want", "0.1 g", "--ratio", "1:100:100"),
        ("--at", "22 C"),
        ("--ratio", "1:5:5", "--at", "warm"),
        ("--ratio", "1:900:900", "--at", "22 C"),
        ("--ratio", "1:5:5", "--at", "22 C", "--took", "a night"),
        ("--ratio", "1:5:5", "--at", "22 C", "--took", "0 h at 22 C"),
        ("--loaf-flour", "3 cups"),
    ],
)
def test_wrong_figures_are_refused(capsys: Captured, options: tuple[str, ...]) -> None:
    """Exit 2, nothing printed as an answer, and what was expected."""
    assert code_of(*options) == WRONG
    printed = capsys.readouterr()
    assert not printed.out and printed.err.strip()


# ---------------------------------------------------------------- in check


def test_check_tells_of_the_loaf(capsys: Captured, tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """In its text and as data, with the starter counted in; not where no dough has a starter."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "loaf.yaml").write_text(LOAF)
    wiring = Wiring(FakeClock(NOW), composition.open_store, composition.make_worker, composition.open_planner)
    assert run(("check", "loaf.yaml"), lambda: wiring) == FITS
    assert (
        "\nWith the starter counted in\n  Loaf: hydration 73 %, salt 1.8 % of all the flour\n"
        in capsys.readouterr().out
    )
    assert run(("check", "loaf.yaml", "--json"), lambda: wiring) == FITS
    (dough,) = json.loads(capsys.readouterr().out)["doughs"]
    assert (dough["component"], dough["flour_g"], dough["salt_percent"]) == ("Loaf", 890.0, 1.8)
