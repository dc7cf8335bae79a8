"""What is published for a middle that is hot already, and how strong a measured brine is: on both ways in."""

from __future__ import annotations

import json

import pytest

from bot.cli import FITS, MISFIT, WRONG
from scheduler.domain.kitchen.hazards import DEFERRAL
from tests.cli_kit import Captured, command_line
from tests.talk_kit import Talk, on

NOW = on(5, "20:00")


@pytest.mark.parametrize(
    ("at", "food", "seconds", "source"),
    [
        # Food Code 3-401.11(B)(2), read in state adoptions; FSIS poultry tables at 12 % fat, read in a copy.
        ("60 C", "meat", 720, "FDA Food Code 2013"),
        ("140 F", "meat", 720, "FDA Food Code 2013"),
        ("54.4 C", "meat", 6720, "FDA Food Code 2013"),
        ("61.5 C", "meat", 480, "FDA Food Code 2013"),
        ("60 C", "poultry", 2100, "USDA FSIS poultry tables"),
        ("70 C", "poultry", 40.9, "USDA FSIS poultry tables"),
        # Food Code 2017, from memory: 17 s at 68 C.
        ("68 C", "ground", 17, "FDA Food Code 2017"),
        ("63 C", "fish", 15, "FDA Food Code 2013"),
    ],
)
def test_the_first_hold_is_the_published_one(
    capsys: Captured, at: str, food: str, seconds: float, source: str
) -> None:
    """By the next lower row of the table that is most asked for."""
    assert command_line(NOW)("core", "--at", at, "--food", food, "--json") == FITS
    first = json.loads(capsys.readouterr().out)["holds"][0]
    assert first["hold_s"] == seconds and first["source"].startswith(source)


def test_below_every_table_it_is_refused(capsys: Captured) -> None:
    """Exit 1, with where the tables begin."""
    assert command_line(NOW)("core", "--at", "54 C", "--food", "poultry") == MISFIT
    shown = capsys.readouterr().out
    assert shown.startswith("Refused: no time is published") and DEFERRAL in shown


@pytest.mark.parametrize(
    ("said", "answer"),
    [
        ("how long must chicken be held at 62 C", "With its middle at 62 C for poultry, held: 19 min 48 s"),
        (
            "how long should a beef roast be held at 60 degrees?",
            "With its middle at 60 C for meat, held: 12 min",
        ),
        ("how long to hold pork at 145 F", ""),
    ],
)
def test_the_chat_answers_the_same(said: str, answer: str) -> None:
    """In few lines, with the sources and the deferral."""
    told = Talk(NOW).say(said)
    assert told.startswith(answer) and (
        not answer or (told.endswith(DEFERRAL) and len(told.splitlines()) <= 7)
    )


@pytest.mark.parametrize(
    ("option", "read", "percent"),
    [
        # Aqueous NaCl at 20 C: 1034.0 kg/m3 at 5 %, 1070.7 at 10 % (CRC Handbook, read in a copy); water 998.2.
        ("--gravity", "1.03586", 5),
        ("--gravity", "1035.86", 5),
        ("--gravity", "1,07263", 10),
        ("--grams-per-litre", "51.70", 5),
        ("--grams-per-litre", "107.07", 10),
        # 100 degrees are 26.395 % (definition, read).
        ("--salometer", "20", 5.279),
    ],
)
def test_a_measured_brine_is_as_strong_as_the_tables_say(
    capsys: Captured, option: str, read: str, percent: float
) -> None:
    """Within a thousandth of the strength."""
    assert command_line(NOW)("salt", option, read, "--json") == FITS
    facts = json.loads(capsys.readouterr().out)
    assert facts["percent_by_weight"] == pytest.approx(percent, rel=1e-3)
    assert facts["percent_of_water"] == pytest.approx(100 * percent / (100 - percent), rel=1e-3)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--gravity", "0.9"), "lighter than water"),
        (("--gravity", "1.3"), "more salt than cold water takes up"),
        (("--salometer", "thick"), "expected a number"),
        (("--salometer", "-3"), "no less than no salt"),
        (("--grams-per-litre", "900"), "more salt than cold water takes up"),
        (("--gravity", "1.03", "--percent", "5"), "stands by itself"),
    ],
)
def test_what_no_brine_reads_is_refused(capsys: Captured, options: tuple[str, ...], said: str) -> None:
    """Exit 2, with the reason."""
    assert command_line(NOW)("salt", *options) == WRONG
    assert said in capsys.readouterr().err
