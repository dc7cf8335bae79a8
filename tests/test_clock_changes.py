"""The weekends on which the clocks change, from plan file to `check --json`: time that passes, clocks that show.

The changes are those of the IANA time zone database (2026b): Paris on 25 October 2026 at 03:00 back to 02:00 and
on 28 March 2027 from 02:00 to 03:00; New York on 1 November 2026 and 14 March 2027 at the same hours of its own;
Sydney on 4 April 2027 at 03:00 back to 02:00 and on 3 October 2027 from 02:00 to 03:00.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.main import main
from tests.plan_texts import fits, text, unfit
from tests.plans_for_tests import PARIS

NEW_YORK, SYDNEY = "America/New_York", "Australia/Sydney"
PARIS_BACK, PARIS_ON = "2026-10-25", "2027-03-28"

BEANS = "Beans\n name: Soak the beans, unattended: 12 h\n name: Boil the beans, nearby: 1 h"
"""Boiled from 09:00 for the table at 10:00; soaked for twelve hours of the night before."""


@pytest.mark.parametrize(
    ("zone", "sunday", "from_", "to"),
    [
        (PARIS, PARIS_BACK, "2026-10-24T22:00:00+02:00", "2026-10-25T09:00:00+01:00"),
        (PARIS, PARIS_ON, "2027-03-27T20:00:00+01:00", "2027-03-28T09:00:00+02:00"),
        (NEW_YORK, "2026-11-01", "2026-10-31T22:00:00-04:00", "2026-11-01T09:00:00-05:00"),
        (NEW_YORK, "2027-03-14", "2027-03-13T20:00:00-05:00", "2027-03-14T09:00:00-04:00"),
        (SYDNEY, "2027-04-04", "2027-04-03T22:00:00+11:00", "2027-04-04T09:00:00+10:00"),
        (SYDNEY, "2027-10-03", "2027-10-02T20:00:00+10:00", "2027-10-03T09:00:00+11:00"),
    ],
)
def test_a_soak_of_twelve_hours_is_twelve_hours(
    zone: str, sunday: str, from_: str, to: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Between the clocks' times lie eleven hours where they go back, thirteen where they go forward."""
    (tmp_path / "plan.yaml").write_text(text("", BEANS, serve=f"{sunday} 10:00", zone=zone))
    now = f"{from_[:10]} 08:00"
    assert main(["check", str(tmp_path / "plan.yaml"), "--now", now, "--json"]) == 0
    soak, boil = json.loads(capsys.readouterr().out)["steps"]
    assert (soak["start"], soak["end"]) == (from_, to)
    assert (boil["start"], boil["end"][:16]) == (to, f"{sunday}T10:00")


@pytest.mark.parametrize("sunday", ["2026-10-18", PARIS_BACK, "2027-03-21", PARIS_ON])
def test_hands_on_work_keeps_to_the_clock_by_which_cooks_get_up(sunday: str) -> None:
    """Up at seven by the clock of that very morning, whatever the night did: shaping for 30 min is over at half
    past seven at the earliest.
    """
    rolls = "Rolls\n name: Shape the rolls, hands-on: 30 min"
    kitchen, day = "awake: 07:00-22:30", sunday[-2:]
    at_once = fits(text(kitchen, rolls, serve=f"{sunday} 07:30"), f"{sunday} 00:30")
    assert at_once.when("Shape the rolls") == f"Sun {day} 07:00 to Sun {day} 07:30"
    assert unfit(text(kitchen, rolls, serve=f"{sunday} 07:25"), f"{sunday} 00:30")


NIGHT = "awake: 00:00-24:00"
RISE = "Dough\n name: Dough rises, unattended: 6 h, tend: {name: Fold, every: 2 h, hands-on: 2 min}"
"""Someone is up all night; the dough is folded after two and after four hours."""


@pytest.mark.parametrize(
    ("serve", "rises", "folds"),
    [
        # 23:00 is 21:00 in UTC; four hours on it is one there, when the clock shows two for the second time.
        (
            f"{PARIS_BACK} 04:00",
            "Sat 24 23:00 to Sun 25 04:00",
            ["2026-10-25 01:00 CEST", "2026-10-25 02:00 CET"],
        ),
        # 22:00 is 21:00 in UTC; four hours on it is one there, when the clock goes from two to three.
        (
            f"{PARIS_ON} 05:00",
            "Sat 27 22:00 to Sun 28 05:00",
            ["2027-03-28 00:00 CET", "2027-03-28 03:00 CEST"],
        ),
    ],
)
def test_touches_come_by_the_time_that_has_passed(serve: str, rises: str, folds: list[str]) -> None:
    """Every two hours of real time, in the night on which an hour comes twice or not at all."""
    found = fits(text(NIGHT, RISE, serve=serve), f"{serve[:8]}20 09:00")
    assert found.when("Dough rises") == rises
    assert [found.named(touch.at) for touch in found.table.touches] == folds


CURE = "Ham\n name: Ham cures, unattended: {}, tend: {{name: Turn, every: 16 h, hands-on: 5 min}}"


@pytest.mark.parametrize(
    ("sunday", "lasts", "turned"),
    [
        ("2026-10-18", "23 h", ("Sun 18 07:00", None)),
        (PARIS_BACK, "24 h", ("Sun 25 02:00", "everyone is asleep")),
        ("2027-03-21", "24 h", ("Sun 21 02:00", "everyone is asleep")),
        (PARIS_ON, "23 h", ("Sun 28 07:00", None)),
    ],
)
def test_a_touch_in_the_night_has_its_leave_in_real_time(
    sunday: str, lasts: str, turned: tuple[str, str | None]
) -> None:
    """Turned after 16 h, with 4 h of leave, by who sleeps from 22:00 to 07:00. Begun on Saturday at 11:00 that is
    03:00 of an ordinary night, four hours before seven; but 02:00, five before, when the clock goes back. Begun
    at 10:00 it is 02:00 of an ordinary night, and 03:00 when the clock goes forward.
    """
    found = fits(
        text("awake: 07:00-22:00", CURE.format(lasts), serve=f"{sunday} 10:00"), f"{sunday[:8]}10 09:00"
    )
    assert found.touches() == [turned]


def test_an_hour_that_the_clock_skips_is_nobody_s(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Who gets up at 02:30 gets up at 03:30 on that one day, as the clock then shows (RFC 5545, section 3.3.5);
    a meal at 02:30 is refused, in the file and on the command line, and so is a trip that begins then.
    """
    bread = "Bread\n name: Shape the bread, hands-on: 30 min"
    early = "awake: 02:30-22:00"
    found = fits(text(early, bread, serve=f"{PARIS_ON} 04:00"), "2027-03-20 09:00")
    assert found.when("Shape the bread") == "Sun 28 03:30 to Sun 28 04:00"
    assert unfit(text(early, bread, serve=f"{PARIS_ON} 03:55"), "2027-03-20 09:00")
    fits(text(early, bread, serve="2027-03-27 03:00"), "2027-03-20 09:00")
    wrong = [
        text(early, bread, serve=f"{PARIS_ON} 02:30"),
        text(f"away: {PARIS_ON} 02:30 - {PARIS_ON} 09:00", bread, serve=f"{PARIS_ON} 12:00"),
    ]
    for plan_file in wrong:
        (tmp_path / "plan.yaml").write_text(plan_file)
        assert main(["check", str(tmp_path / "plan.yaml")]) == 2
        assert "Europe/Paris skip as they go forward" in capsys.readouterr().err
    (tmp_path / "plan.yaml").write_text(text("", bread))
    assert main(["check", str(tmp_path / "plan.yaml"), "--serve", f"{PARIS_ON} 02:30"]) == 2
    assert "no such hour in Europe/Paris" in capsys.readouterr().err


@pytest.mark.parametrize(("serve", "hours"), [(f"{PARIS_BACK} 10:00", 25), (f"{PARIS_ON} 10:00", 23)])
def test_a_day_of_another_length_counts_its_own_hours(serve: str, hours: int) -> None:
    """From ten to ten is 25 hours where the clock goes back and 23 where it goes forward: one hour less fits
    between, and one more does not, for a cook who is there only from ten to half past and takes up to a day.
    """
    kitchen = "awake: 09:30-10:30"
    stock = "Stock\n name: Stock stands, unattended: {} h"
    day_before = f"{serve[:8]}{int(serve[8:10]) - 1:02} 09:00"
    found = fits(text(kitchen, stock.format(hours), serve=serve), day_before)
    assert found.when("Stock stands").split(" to ")[0].endswith("10:00")
    assert unfit(text(kitchen, stock.format(hours - 1), serve=serve), day_before)
    assert unfit(text(kitchen, stock.format(hours + 1), serve=serve), day_before)
