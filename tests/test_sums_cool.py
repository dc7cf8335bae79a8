"""`crockbell cool`, and the same asked in plain words."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from bot.config import HOLDING
from bot.main import main
from bot.sums import Here, by_words
from bot.understand import understand
from scheduler.commands import Command, Context
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.rules import FOOD_CODE, RULES

NOW = ("--zone", "Europe/Paris", "--now", "2026-11-25 15:10")
CODE = ("--rules", "food-code-2013")
HERE = Here(datetime(2026, 11, 25, 14, 30, tzinfo=UTC), "Europe/London", FOOD_CODE)

Cool = Callable[..., tuple[int, str]]


@pytest.fixture
def cool(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Cool:
    """Runs the command; its exit code, and what it printed or what was wrong."""
    monkeypatch.delenv(HOLDING, raising=False)

    def run(*options: str) -> tuple[int, str]:
        code = main(("cool", *options))
        printed = capsys.readouterr()
        return code, printed.err if code == 2 else printed.out

    return run


def facts(printed: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(printed)
    return read


def clocks(told: dict[str, Any]) -> list[tuple[str, float | None]]:
    return [(limit["at"][11:16], limit["to_c"]) for limit in told["limits"]]


# ---------------------------------------------------------------- cooling


def test_the_bare_question_is_answered_with_both_stages(cool: Cool) -> None:
    """57 C to 21 C within 2 h, to 5 C within 6 h in all (Food Code 3-501.14), as moments of the day."""
    code, said = cool("--since", "14:00", *NOW, *CODE)
    lines = said.splitlines()
    assert (code, lines[0]) == (0, "In the middle 21 C by 16:00 and 5 C by 20:00, counted from 14:00.")
    assert "57 C to 21 C within 2 h, to 5 C within 6 h in all (FDA Food Code 2013, 3-501.14)." in lines
    assert lines[-1] == DEFERRAL


def test_by_default_fsis_counts_too(cool: Cool) -> None:
    """The stricter: the limits of both, in order of the day."""
    code, said = cool("--since", "14:00", *NOW, "--json")
    assert code == 0
    assert clocks(facts(said)) == [("15:30", 26.7), ("16:00", 21.0), ("20:00", 5.0), ("20:30", 4.4)]


def test_no_moment_named_no_moment_told(cool: Cool) -> None:
    """Without --since the rules alone."""
    code, said = cool(*NOW, *CODE)
    assert (code, said.splitlines()[0]) == (
        0,
        "57 C to 21 C within 2 h, to 5 C within 6 h in all (FDA Food Code 2013, 3-501.14).",
    )
    assert facts(cool(*NOW, *CODE, "--json")[1])["figures"]["cold_c"] == 5.0


def test_readings_move_the_limits_and_make_a_forecast(cool: Cool) -> None:
    """57 C at 14:20 starts it; 44 C at 15:00: Newton's law with 4 C around it, marked as a forecast."""
    asked = ("--since", "14:00", *NOW, *CODE, "--reading", "14:20 57 C", "--reading", "15:00 44 C")
    code, said = cool(*asked, "--around", "4 C")
    assert said.startswith("In the middle 21 C by 16:20 and 5 C by 20:20, counted from 14:00.")
    assert code == 0 and "no promise: 21 C at 17:02, 42 min after the limit with 4 C around it." in said
    assert "Shallow pans, an ice bath" in said
    found = facts(cool(*asked, "--json")[1])["forecast"]
    assert [(each["around_c"], (each["at"] or "")[11:16]) for each in found] == [
        (4.0, "17:02"),
        (20.0, "19:54"),
    ]


def test_a_reading_may_be_in_fahrenheit(cool: Cool) -> None:
    """135 F is 57.2 C."""
    found = facts(cool("--since", "14:00", *NOW, "--reading", "14:30 135 F", "--json")[1])
    assert found["readings"][0]["celsius"] == pytest.approx(57.22, abs=0.01)


def test_a_limit_that_was_passed_is_named_and_ends_with_one(cool: Cool) -> None:
    """Still 30 C after two hours: missed; the rule, its source, what it says then, and what is still to come."""
    late = ("--zone", "Europe/Paris", "--now", "2026-11-25 16:10", *CODE)
    code, said = cool("--since", "14:00", *late, "--reading", "14:00 57", "--reading", "16:05 30")
    assert code == 1 and said.startswith("Past the limit: 21 C or below in the middle by 16:00 was not met.")
    assert "reheat every part to 74 C for 15 s" in said and "Still to come: 5 C by 20:00." in said
    code, unread = cool("--since", "14:00", *late)
    assert code == 1 and "no reading shows that it was" in unread.splitlines()[0]


def test_every_stage_met(cool: Cool) -> None:
    """Nothing more is said than that the limits were met, and by which rules."""
    evening = ("--zone", "Europe/Paris", "--now", "2026-11-25 21:00", *CODE)
    code, said = cool("--since", "14:00", *evening, "--reading", "15:30 20 C", "--reading", "19:00 4 C")
    assert (code, said.splitlines()[0]) == (0, "By these readings every limit on cooling was met.")
    assert "FDA Food Code 2013" in said and "safe" not in said


def test_food_made_at_room_temperature_has_four_hours(cool: Cool) -> None:
    """Food Code 3-501.14(B)."""
    assert cool("--since", "14:00", "--kind", "ambient", *NOW)[1].startswith("In the middle 5 C by 18:00,")


# ---------------------------------------------------------------- standing out


def test_out_for_three_hours(cool: Cool) -> None:
    """Past what FSIS tells people at home (from memory), within the Food Code's four hours (3-501.19)."""
    code, said = cool("--kind", "out", "--since", "12:10", *NOW)
    lines = said.splitlines()
    assert (code, lines[0]) == (1, "Out for 3 h: past the limit of 14:10, by 1 h.")
    assert "FSIS advice to people at home, from memory" in lines[1] and "over since 14:10" in lines[1]
    assert "FDA Food Code 2013, 3-501.19" in lines[2] and "eaten or thrown away by 16:10, in 1 h" in lines[2]
    assert cool("--kind", "out", "--since", "12:10", *NOW, *CODE)[0] == 0


def test_out_of_the_cold_until_it_gets_warm(cool: Cool) -> None:
    """Six hours by 3-501.19(C), over at once above 21 C."""
    asked = ("--kind", "out-cold", "--since", "12:00", *NOW, *CODE)
    assert cool(*asked)[1].startswith("Eaten or thrown away by 18:00, counted from 12:00.")
    assert cool(*asked, "--reading", "14:00 22 C")[0] == 1


def test_how_food_is_heated_up_again(cool: Cool) -> None:
    """Food Code 3-403.11: 74 C for 15 s within 2 h; 2 min covered by microwave; 57 C for what a plant packed."""
    code, said = cool("--kind", "reheat", *NOW, *CODE)
    assert code == 0 and all(
        figure in said for figure in ("74 C for 15 s, within 2 h", "covered for 2 min", "57 C")
    )
    assert said.count("FDA Food Code 2013, 3-403.11") == 3


# ---------------------------------------------------------------- what was given


def test_a_time_of_day_is_the_last_such_time(cool: Cool) -> None:
    """Half past eleven at night, asked at one, was yesterday; a date and time is that one."""
    early = ("--zone", "Europe/Paris", "--now", "2026-11-25 01:00", "--json")
    assert facts(cool("--since", "23:30", *early)[1])["since"] == "2026-11-24T23:30:00+01:00"
    assert facts(cool("--since", "2026-11-26 09:00", *early)[1])["since"] == "2026-11-26T09:00:00+01:00"


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--since", "25:00"), "--since '25:00': expected a time such as 14:00"),
        (("--since", "14:00", "--reading", "warm"), "--reading 'warm': expected a time and a temperature"),
        (("--since", "14:00", "--reading", "2026-11-25 15:20 30 C"), "after the present"),
        (("--since", "14:00", "--reading", "13:00 30 C"), "a reading before --since"),
        (("--reading", "15:00 30 C"), "--reading needs --since"),
        (("--since", "14:00", "--around", "cold"), "--around 'cold': expected a temperature such as 4 C"),
        (("--rules", "grandmother"), "expected one of stricter, food-code-2013"),
    ],
)
def test_what_cannot_be_used_is_exit_two(cool: Cool, options: tuple[str, ...], says: str) -> None:
    """What was given, and what was expected."""
    code, said = cool(*options, *NOW)
    assert code == 2 and says in said


def test_an_hour_that_the_clocks_leave_out_is_refused(cool: Cool) -> None:
    """Half past two does not exist in Paris on the last Sunday of March."""
    code, said = cool("--since", "02:30", "--zone", "Europe/Paris", "--now", "2026-03-29 06:00")
    assert code == 2 and "there is no such hour in Europe/Paris" in said


def test_the_rules_are_listed_with_their_figures(cool: Cool) -> None:
    """Every set by name; as JSON each with how it is known."""
    assert all(f"\n{name}: " in cool("--list-rules", *NOW)[1] for name in RULES)
    listed = facts(cool("--list-rules", "--json", *NOW)[1])["rules"]
    assert list(listed) == list(RULES) and listed["food-code-2022"]["how"] == "from memory"
    assert listed["food-code-2013"]["reheat_within_minutes"] == 120


def test_the_setting_chooses_the_rules_and_the_option_wins(
    cool: Cool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """CROCKBELL_RULES, in any case; a name that is none is told with those there are."""
    monkeypatch.setenv(HOLDING, "FSIS-Appendix-B-1999")
    asked = ("--since", "14:00", *NOW, "--json")
    assert clocks(facts(cool(*asked)[1])) == [("15:30", 26.7), ("20:30", 4.4)]
    assert clocks(facts(cool(*asked, *CODE)[1])) == [("16:00", 21.0), ("20:00", 5.0)]
    monkeypatch.setenv(HOLDING, "mine")
    code, said = cool(*asked)
    assert code == 2 and "CROCKBELL_RULES is 'mine'; expected one of stricter" in said


# ---------------------------------------------------------------- in plain words


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        ("it took 3 hours to cool from 60 to 21", "Past the limit, unless it was met: 21 C or below"),
        ("the stew cooled from 150 F to 72 F in 3 hours", "Past the limit: 21 C or below in the middle by"),
        ("it took 90 minutes to cool from 60 C to 20 C", "In the middle 5 C by 19:00, counted from 13:00."),
    ],
)
def test_how_long_it_took_is_held_against_the_limits(said: str, heading: str) -> None:
    """Measured hot at the one end and cooler now: 21 C is due within two hours, 5 C within six (3-501.14)."""
    told = by_words("cool", said, None, HERE)
    assert told is not None and told.heading.startswith(heading) and told.lines[-1] == DEFERRAL


@pytest.mark.parametrize(
    ("said", "heading"),
    [
        ("how long can the duck stay out", "Out for at most 4 h (FDA Food Code 2013, 3-501.19"),
        ("How long can I leave the custard out?", "Out for at most 4 h (FDA Food Code 2013, 3-501.19"),
        ("how long is it ok to leave chicken on the counter", "Out for at most 4 h"),
        ("how long can the duck stay out if I took it out at noon?", "Eaten or thrown away by 16:00"),
        (
            "when does the soup have to be cold if I took it off at 2",
            "In the middle 21 C by 16:00 and 5 C by 20:00,",
        ),
        (
            "when does the soup have to be cold if I take it off at 4",
            "In the middle 21 C by 18:00 and 5 C by 22:00,",
        ),
        ("by when must the stock be cold", "57 C to 21 C within 2 h, to 5 C within 6 h in all"),
        ("how fast must rice cool", "57 C to 21 C within 2 h, to 5 C within 6 h in all"),
        ("how quickly does the stock have to cool down", "57 C to 21 C within 2 h"),
        ("how hot must I reheat the stew", "Reheat every part to 74 C for 15 s, within 2 h from the cold"),
        ("to what temperature should it be reheated", "Reheat every part to 74 C for 15 s"),
    ],
)
def test_asked_in_plain_words(said: str, heading: str) -> None:
    """Asked at half past two in London; understood as this sum, and answered as the command would."""
    told = by_words("cool", said, None, HERE)
    assert told is not None and told.heading.startswith(heading) and told.lines[-1] == DEFERRAL
    understood = understand(said, Context(HERE.now, HERE.zone))
    assert (understood.command, understood.detail) == (Command.SUM, "cool")


@pytest.mark.parametrize(
    "said",
    [
        "how long does the loaf cool",
        "when do I cool the stock",
        "the duck sat out three hours",
        "how long does the dough rest",
        "when is the loaf out of the oven",
        "how much salt for 850 g of turnips",
        "I cooled the soup",
        "when do I reheat the stew",
        "how long until supper",
    ],
)
def test_other_questions_are_left_alone(said: str) -> None:
    """What asks for a step of the plan, or reports something, is no question about the rules."""
    assert by_words("cool", said, None, HERE) is None
