"""What a picture says is what the timetable says."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta

import pytest

from bot.picture import draw, paint
from bot.picture.facts import Scene
from bot.picture.layout import DENSITIES, drawn, lay_out
from bot.picture.shapes import (
    TALLEST,
    Density,
)
from scheduler.domain.hours import Weekly
from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable
from tests.picture_kit import PNG, extents, overlap, said, scene, sheet, words
from tests.sample_plans import clock_change, one_hour, small, two_cooks, two_weeks, weekday
from tests.sample_timetables import D1, EVERY_DAY, Draft, H, N, U, cook, plan_of, timetable_of


def test_the_legend_explains_the_signs_in_words() -> None:
    """Each sign that is in the picture is explained, and none that is not."""
    everything = said(sheet("two_weeks"))
    for meaning in ("hands-on: takes a cook", "nearby: someone awake and at home", "a short touch"):
        assert meaning in everything
    assert "unattended: looks after itself" in everything
    assert "everyone asleep" not in everything
    assert "unattended" not in said(sheet("small"))
    assert "everyone asleep" in said(sheet("clock_change"))
    assert "nobody at home" in said(sheet("weekday"))


def test_what_keeps_is_shown_until_it_is_used() -> None:
    """A jar ready two days early is drawn as keeping until the table, and the legend says what that is."""
    drafts = [Draft("Pack the jar", H, 20), Draft("Jar sours", U, 5 * D1, keeps=4 * D1)]
    plan = plan_of("Pickle", "2026-12-12 19:30", "Europe/Paris", {"Pickle": drafts})
    laid = timetable_of(plan)
    early = timedelta(days=2)
    slots = tuple(replace(slot, start=slot.start - early, end=slot.end - early) for slot in laid.slots)
    shown = Scene(plan, replace(laid, slots=slots))
    assert shown.used(slots[1]) == plan.serve
    assert shown.used(slots[0]) is None
    assert "ready, keeps until it is used" in said(lay_out(shown, paint.measure))


def test_every_step_of_the_last_day_has_its_name_hour_and_length() -> None:
    """Rows of the last day name the step, its local start and how long it takes."""
    everything = said(sheet("two_weeks"))
    assert "13:50 Drain the beans · 5 min" in everything
    assert "13:55 Simmer the beans · about 1 h 45 min" in everything
    assert "until 13:50 Soak the beans" in everything
    assert "Break the crust: 17:25, 18:05, 18:45" in everything
    assert "19:30 at the table" in everything


def test_the_days_before_say_when_to_begin() -> None:
    """The list under a component gives date, hour, name and length of what begins before the last day."""
    texts = [shape.text for shape in words(sheet("two_weeks"))]
    start = texts.index("Wed 2 Dec")
    assert texts[start + 1 : start + 4] == ["12:25", "30 min", "Salt and pack the cabbage"]
    assert texts[start + 4 : start + 6] == ["12:55", "about 10 d"]


def test_times_are_those_of_the_plans_zone() -> None:
    """In Kolkata, five and a half hours ahead of UTC, a breakfast at 05:30 UTC is served at 11:00."""
    everything = said(sheet("two_cooks"))
    assert two_cooks().serve == datetime(2026, 12, 6, 5, 30, tzinfo=UTC)
    assert "11:00 at the table" in everything
    assert "All times are local to Asia/Kolkata." in everything
    assert "Dev, 15 min hands-on" in everything


def test_a_clock_change_is_told_and_takes_an_hour_out_of_the_scale() -> None:
    """The night of 29 March 2026 in Paris has no two o'clock, and hours keep their true width."""
    assert "The clocks go forward 1 h on Sunday 29 Mar." in said(sheet("clock_change"))
    texts = {shape.text: shape.x for shape in words(sheet("clock_change"))}
    assert "02:00" not in texts
    two_hours = texts["22:00"] - texts["20:00"]
    assert texts["04:00"] - texts["Sun 29"] == pytest.approx(1.5 * two_hours)


def test_clocks_that_go_back_are_told() -> None:
    """New York goes back on 1 November 2026 (IANA time zone database), in the middle of this wait."""
    drafts = [Draft("Salt", H, 10), Draft("Cure", U, 4 * D1)]
    plan = plan_of("Cure", "2026-11-03 18:00", "America/New_York", {"Cure": drafts})
    assert "The clocks go back 1 h on Sunday 1 Nov." in said(lay_out(scene(plan), paint.measure))


def test_now_is_marked() -> None:
    """The present moment is named on the clock of the last day, and its date in the heading."""
    plan = two_weeks()
    now = datetime(2026, 12, 12, 12, 30, tzinfo=UTC)
    assert "now" not in said(sheet("two_weeks")).split("\n")
    marked = lay_out(scene(plan, now), paint.measure)
    assert said(marked).split("\n").count("now") == 2  # on the clock and in the legend
    assert "As of Sat 12 Dec 13:30." in said(marked)


@pytest.mark.parametrize("minutes", [0, 3, 20, 60])
def test_now_never_runs_into_the_serving_hour(minutes: int) -> None:
    """Close to the serving hour, the word "now" gives way to the left; before the meal begins it is not
    there.
    """
    plan = one_hour()
    now = timetable_of(plan).serve - timedelta(minutes=minutes)
    boxes = list(extents(lay_out(scene(plan, now), paint.measure)))
    assert [text for text, _ in boxes].count("now") == (0 if minutes == 60 else 2)
    assert not any(overlap(a[1], b[1]) for a, b in itertools.combinations(boxes, 2))


def test_a_meal_within_a_day_has_one_panel() -> None:
    """What is over within hours is drawn over hours alone."""
    assert "The days before" not in said(sheet("small"))
    assert "The days before" in said(sheet("two_weeks"))


@pytest.mark.parametrize(
    ("plan", "split"),
    [
        (small(), "2026-12-12T11:45+01:00"),  # one panel: the quarter of an hour before the first step
        (one_hour(), "2026-12-09T18:25-05:00"),
        (two_weeks(), "2026-12-12T10:00+01:00"),  # the hour before the first thing that happens that day
        (clock_change(), "2026-03-28T17:00+01:00"),  # breakfast: back to the waking of the day before
        (weekday(), "2026-12-10T08:00+00:00"),
    ],
)
def test_the_last_day_begins_where_it_gets_busy(plan: Plan, split: str) -> None:
    """The second panel begins on a mark of the local clock before the first event after waking."""
    assert scene(plan).split == datetime.fromisoformat(split)


def test_a_supper_past_midnight_keeps_the_day_before_it() -> None:
    """A meal at half past midnight has its last day from the waking before, not from midnight."""
    late = (cook("Ada", awake=(8, 2)),)
    drafts = [Draft("Knead", H, 20), Draft("Rise", U, 2 * D1), Draft("Bake", N, 60), Draft("Slice", H, 10)]
    plan = plan_of("Midnight", "2027-01-01 00:30", "Europe/Paris", {"Loaf": drafts}, late)
    shown = scene(plan)
    assert shown.split == datetime(2026, 12, 31, 22, 15, tzinfo=UTC)
    assert [shown.step(slot).name for slot in shown.last_day] == ["Rise", "Bake", "Slice"]


def test_a_kitchen_that_never_sleeps_has_no_night() -> None:
    """Cooks awake around the clock give no waking to begin at: the last day is the last 24 hours at most."""
    always = (cook("Ada"), replace(cook("Noor"), awake=(Weekly(EVERY_DAY, time(0), time(0)),)))
    drafts = [Draft("Salt", H, 20), Draft("Cure", U, 3 * D1)]
    plan = plan_of("Cure", "2026-12-12 19:30", "Europe/Paris", {"Cure": drafts}, always)
    shown = scene(plan)
    assert shown.serve - timedelta(hours=25) < shown.split < shown.serve
    assert shown.asleep(plan.kitchen.cooks, shown.split) == ()


def test_nothing_left_to_do_is_said() -> None:
    """A timetable without steps is a small picture that says so."""
    plan = small()
    empty = Timetable(timetable_of(plan).serve, ())
    assert "Nothing is left to do for this meal." in said(lay_out(Scene(plan, empty), paint.measure))
    assert draw(plan, empty).startswith(PNG)


def test_a_step_that_runs_past_the_hour_is_drawn_to_its_end() -> None:
    """When the kitchen runs late, the hours go on after the serving line."""
    plan = small()
    timetable = timetable_of(plan)
    late = replace(timetable, serve=timetable.serve - timedelta(minutes=15))
    shown = Scene(plan, late)
    assert shown.until == timetable.serve
    laid_out = lay_out(shown, paint.measure)
    assert "12:45 at the table" in said(laid_out)
    boxes = list(extents(laid_out))
    assert not any(overlap(a[1], b[1]) for a, b in itertools.combinations(boxes, 2))


@pytest.mark.parametrize("density", DENSITIES)
def test_every_density_keeps_texts_apart(density: Density) -> None:
    """However tightly a plan is drawn, no text runs into another, and each step of the day is there once."""
    laid_out = drawn(scene(two_cooks()), density, paint.measure)
    assert not any(overlap(a[1], b[1]) for a, b in itertools.combinations(extents(laid_out), 2))
    assert said(laid_out).count("Boil the toor dal") == 1


def test_tighter_densities_take_less_height() -> None:
    """Densities are tried from the roomiest, so that a picture is only as tight as its height asks for."""
    heights = [drawn(scene(two_weeks()), density, paint.measure).height for density in DENSITIES]
    assert heights == sorted(heights, reverse=True)
    assert sheet("two_weeks").height == next(height for height in heights if height <= TALLEST)
