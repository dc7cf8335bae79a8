"""Hours wished for a meal: how they read, and which quarter hours they come to."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from scheduler.domain.hours import DAY, Dated, Weekly, local
from scheduler.domain.wanted import ANY_HOUR, EVERY_DAY, MEALTIMES, QUARTER, Wanted, on_any_day
from scheduler.planfile.text import TextError
from scheduler.planfile.wanted import wanted
from tests.plans_for_tests import PARIS, at, component, cook, plan, step

SAT, SUN = 5, 6
MEAL = plan(component("Soup", step("Stir", hands_on="10 min")))
LUNCH, SUPPER = (time(12), time(14)), (time(18), time(21))


def weekly(*days: int, clocks: tuple[time, time]) -> Weekly:
    return Weekly(frozenset(days), *clocks)


# ---------------------------------------------------------------- reading


def test_days_and_hours_read_as_the_issue_has_them() -> None:
    """Either day, either meal."""
    found = wanted("sat or sun, 12:00-14:00 or 18:00-21:00")
    assert found == Wanted(said=(weekly(SAT, SUN, clocks=LUNCH), weekly(SAT, SUN, clocks=SUPPER)))


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("Saturday OR  sunday,12:00-14:00", "sat or sun, 12:00-14:00"),
        ("sat, sun 12:00 \u2013 14:00", "sat or sun, 12:00-14:00"),
        ("on saturdays and sundays, 12:00 to 14:00", "sat or sun, 12:00-14:00"),
        ("weekend, 12:00-14:00", "sat-sun, 12:00-14:00"),
        ("weekdays 18:00-21:00", "mon to fri, 18:00-21:00"),
        ("fri-mon, 18:00-21:00", "fri, sat, sun or mon, 18:00-21:00"),
        ("sat or sun evening", "sat or sun, 18:00-21:00"),
        ("sunday lunch or supper", "sun, 12:00-14:00 or 18:00-21:00"),
        ("18:00-21:00", "mon-sun, 18:00-21:00"),
        ("2026-12-24 to 2026-12-26, 12:00-14:00", "2026-12-24, 2026-12-25 or 2026-12-26, 12:00-14:00"),
        ("2026-12-24-2026-12-25", "2026-12-24 or 2026-12-25"),
    ],
)
def test_the_same_wish_in_other_words(text: str, same: str) -> None:
    """Names cut or whole, ranges, sets of days, meals, joined by commas or by words."""
    found, meant = wanted(text), wanted(same)
    span = at("2026-12-01 00:00"), at("2026-12-31 00:00")
    assert found.windows(MEAL, *span) == meant.windows(MEAL, *span) != ()


def test_new_days_after_hours_begin_anew() -> None:
    """Lunch on one day, supper on the other."""
    found = wanted("sat 12:00-14:00 or sun 18:00-21:00")
    assert found == Wanted(said=(weekly(SAT, clocks=LUNCH), weekly(SUN, clocks=SUPPER)))


def test_days_alone_mean_hours_at_which_someone_is_there() -> None:
    """Whatever hours the caller means by that; hours that were said are taken at their word."""
    assert wanted("sat") == Wanted(at_home=(weekly(SAT, clocks=ANY_HOUR[0]),))
    assert wanted("sat", MEALTIMES) == Wanted(at_home=tuple(weekly(SAT, clocks=each) for each in MEALTIMES))
    assert wanted("03:00-04:00") == Wanted(said=(Weekly(EVERY_DAY, time(3), time(4)),))


def test_a_date_may_run_past_midnight() -> None:
    """An end not after its start is on the next day."""
    (span,) = wanted("2026-12-31, 22:00-01:00").said
    assert span == Dated(datetime(2026, 12, 31, 22), datetime(2027, 1, 1, 1))


@pytest.mark.parametrize(
    ("text", "expected", "found"),
    [
        ("", "days, hours or both, such as sat or sun", "nothing"),
        (" or , ", "days, hours or both", "nothing"),
        ("caturday, 12:00-14:00", "days, hours or both", "'caturday'"),
        ("sat, 12-14", "days, hours or both", "'12-14'"),
        ("sat 19:30", "days, hours or both", "'19:30'"),
        ("12:00-14:00 or 18:00-21:00, sat", "the days first, then the hours", None),
        ("sat, 25:00-26:00", "hours such as", None),
        ("sat, 12:00-12:00", "an end other than the start", None),
        ("2026-02-30", "a date that exists", None),
        ("2026-12-26 to 2026-12-24", "the earlier date first", None),
        ("2026-01-01 to 2199-01-01", "at most 366 days", None),
        ("sat " * 200, "at most 400 characters", "800 characters"),
    ],
)
def test_what_does_not_read_is_told_with_what_was_expected(
    text: str, expected: str, found: str | None
) -> None:
    """And with what was found instead, where that is not plain."""
    with pytest.raises(TextError) as error:
        wanted(text)
    assert error.value.expected.startswith(expected)
    assert found is None or error.value.found == found


WORDS = st.sampled_from(
    ["sat", "mon-fri", "weekend", "or", ",", "12:00-14:00", "23:00-01:00", "2026-12-12", "to", "-",
     "evening", "x", "24:00"]
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.lists(WORDS, max_size=7).map(" ".join), st.text(max_size=30)))
@example("sat - or")
def test_any_text_reads_or_is_refused(text: str) -> None:
    """Nothing else is raised; what reads has hours in it."""
    try:
        found = wanted(text)
    except TextError:
        return
    assert found.said or found.at_home


# ---------------------------------------------------------------- quarter hours


def clocks(found: tuple[tuple[datetime, datetime], ...], zone: str = PARIS) -> list[tuple[str, str]]:
    return [(f"{local(a, zone):%a %H:%M}", f"{local(b, zone):%a %H:%M}") for a, b in found]


def test_windows_hold_both_their_ends_and_nothing_gone_by() -> None:
    """Quarter hours only, from the present on, in order."""
    wish = wanted("sat or sun, 12:05-14:00 or 18:00-20:59 or 13:20-13:25")
    found = wish.windows(MEAL, at("2026-12-12 12:31"), at("2026-12-13 23:00"))
    assert clocks(found) == [
        ("Sat 12:45", "Sat 14:00"), ("Sat 18:00", "Sat 20:45"), ("Sun 12:15", "Sun 14:00"), ("Sun 18:00", "Sun 20:45"),
    ]  # fmt: skip
    assert wanted("sat 13:20-13:25").windows(MEAL, at("2026-12-12 00:00"), at("2026-12-20 00:00")) == ()


def test_hours_run_over_midnight() -> None:
    """Friday night into Saturday."""
    found = wanted("fri, 22:00-01:00").windows(MEAL, at("2026-12-10 00:00"), at("2026-12-14 00:00"))
    assert clocks(found) == [("Fri 22:00", "Sat 01:00")]


def test_hours_nobody_named_keep_to_waking_hours_at_home() -> None:
    """From six to midnight at most, and a quarter of an hour before bedtime or leaving at the latest."""
    cooks = [cook("Ada", ["05:00-22:30"], ["mon-fri 08:30-17:45"]), cook("Noor", ["18:00-01:00"])]
    made = plan(component("Soup", step("Stir", hands_on="10 min")), cooks=cooks)
    found = on_any_day(ANY_HOUR).windows(made, at("2026-12-10 00:00"), at("2026-12-11 00:00"))
    assert clocks(found) == [("Thu 06:00", "Thu 08:15"), ("Thu 17:45", "Fri 00:00")]


@pytest.mark.parametrize(
    ("day", "hours"),
    [("2026-10-25", 4), ("2027-03-28", 2), ("2026-11-01", 3)],
    ids=["back", "forward", "neither"],
)
def test_windows_on_clock_change_days_are_elapsed_time(day: str, hours: int) -> None:
    """From one to four by the clock in Paris is four hours when the clocks go back, two when they go forward."""
    begins = at(f"{day} 00:00")
    ((first, last),) = wanted(f"{day}, 01:00-04:00").windows(MEAL, begins, begins + 2 * DAY)
    assert last - first == timedelta(hours=hours)
    assert clocks(((first, last),)) == [
        (f"{date.fromisoformat(day):%a} 01:00", f"{date.fromisoformat(day):%a} 04:00")
    ]
    assert (last - first) % QUARTER == timedelta(0)
