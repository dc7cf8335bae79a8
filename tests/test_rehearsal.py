"""A whole meal in simulated time, by each kind of cook."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from bot import main as composition
from bot.cli import FITS, MISFIT, run
from tests.talk_kit import SUPPER

Rehearse = Callable[..., tuple[int, str]]
LIVED: dict[tuple[str, ...], tuple[int, str]] = {}
"""What was rehearsed already: the same options give the same rehearsal, as the first test shows."""

KEYS = {"at", "from", "stage", "step", "text", "buttons"}
STAGES = {None, "heads-up", "now", "waiting", "closing", "missed"}


@pytest.fixture
def rehearse(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Rehearse:
    """Runs `crockbell rehearse supper.yaml` with more options; the exit code and what was printed."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "supper.yaml").write_text(SUPPER)

    def run_it(*options: str, plan: str = "supper.yaml", anew: bool = False) -> tuple[int, str]:
        if anew or (plan, *options) not in LIVED:
            code = run(["rehearse", plan, *options], composition.wiring)
            LIVED[plan, *options] = code, capsys.readouterr().out
        return LIVED[plan, *options]

    return run_it


def lines_of(shown: str) -> list[dict[str, object]]:
    return [json.loads(line) for line in shown.splitlines()]


@pytest.mark.parametrize("cook", ["on-time", "late", "silent"])
def test_every_line_is_one_object_in_order_of_time(rehearse: Rehearse, cook: str) -> None:
    """The keys of the design's section 7, instants with offset, the same twice over; it ends."""
    code, shown = rehearse("--json", "--cook", cook)
    assert (code, shown) == rehearse("--json", "--cook", cook, anew=True) and code == FITS
    lines = lines_of(shown)
    assert all(line.keys() == KEYS and line["stage"] in STAGES for line in lines)
    times = [datetime.fromisoformat(str(line["at"])) for line in lines]
    assert times == sorted(times) and all(time.utcoffset() is not None for time in times)


def test_an_on_time_cook_eats_on_time(rehearse: Rehearse) -> None:
    """Every step is done, nothing is missed, and the last word is about the table."""
    _, shown = rehearse("--json", "--cook", "on-time")
    lines = lines_of(shown)
    assert "To the table" in str(lines[-1]["text"]) and str(lines[-1]["at"]).startswith("2026-05-09T19:30")
    assert not [
        line for line in lines if line["stage"] in ("missed", "waiting") and "look" not in str(line["text"])
    ]
    assert {line["from"] for line in lines} == {"crockbell", "Cook"}


def test_a_late_cook_still_eats(rehearse: Rehearse) -> None:
    """Reminded, moved, and at the table in the end."""
    _, shown = rehearse("--json", "--cook", "late")
    lines = lines_of(shown)
    assert "To the table" in str(lines[-1]["text"])
    assert any("Moved: " in str(line["text"]) for line in lines)


def test_a_silent_cook_is_told_and_then_left_alone(rehearse: Rehearse) -> None:
    """Nothing but the plan is ever said by the cook; each thing is told to its last word, and it ends."""
    _, shown = rehearse("--json", "--cook", "silent")
    lines = lines_of(shown)
    assert [line["text"] for line in lines if line["from"] == "Cook"] == ["(sends the plan)", "Use this plan"]
    assert any(line["stage"] == "missed" for line in lines)
    assert str(lines[-1]["at"]) < "2026-05-10"


def test_as_a_chat_it_reads_like_one(rehearse: Rehearse) -> None:
    """Days, times, who speaks, buttons below."""
    code, shown = rehearse()
    assert code == FITS and "\n---- Wed 6 May ----\n" in shown
    assert "19:00  Salt the radishes (Pickle)\n" in shown and "19:15  > Cook: Done\n" in shown
    assert "        [Use this plan]  [Not this one]\n" in shown


def test_another_hour_and_another_present(rehearse: Rehearse) -> None:
    """`--serve` asks for that hour in the chat, `--now` is when the plan is sent."""
    options = ("--serve", "2026-05-10 13:00", "--now", "2026-05-06 12:00", "--json")
    code, shown = rehearse(*options)
    lines = lines_of(shown)
    assert code == FITS and str(lines[0]["at"]) == "2026-05-06T12:00:00+01:00"
    assert any("Serve at Sun 10 May 13:00" in str(line["text"]) for line in lines)
    assert str(lines[-1]["at"]).startswith("2026-05-10T13:00")


def test_a_plan_without_its_hour_is_given_one(rehearse: Rehearse) -> None:
    """As the cook would name it when asked."""
    Path("hourless.yaml").write_text(SUPPER.replace("serve: 2026-05-09 19:30\n", ""))
    code, shown = rehearse("--serve", "2026-05-09 19:30", plan="hourless.yaml")
    assert code == FITS and "Say when it is to be on the table" in shown and "To the table" in shown


def test_a_plan_that_does_not_fit_says_why(rehearse: Rehearse) -> None:
    """Exit 1 after the answer a cook would get."""
    code, shown = rehearse("--now", "2026-05-08 20:00")
    assert code == MISFIT and "cannot be served on Sat 9 May at 19:30" in shown
    assert "the earliest hour that fits" in shown and "is in use" not in shown


@pytest.mark.slow
@pytest.mark.parametrize("cook", ["on-time", "late", "silent"])
@pytest.mark.parametrize("plan", ["rye-and-beet-supper", "terrace-lunch"])
def test_the_bundled_plans_are_lived_through(rehearse: Rehearse, plan: str, cook: str) -> None:
    """By every kind of cook, the same twice over; on time, the last step ends at the serving hour."""
    code, shown = rehearse("--json", "--cook", cook, plan=plan)
    assert code == FITS and rehearse("--json", "--cook", cook, plan=plan, anew=True) == (code, shown)
    last = lines_of(shown)[-1]
    if cook == "on-time":
        assert str(last["at"])[11:16] in ("19:00", "13:30") and "To the table" in str(last["text"])
