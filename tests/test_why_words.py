"""Every kind of reason in words, and the reasons of a step put together."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from bot.wording.why import Why
from scheduler.domain.plan import Plan
from scheduler.domain.progress import State
from scheduler.facts import Fact, FactKind
from scheduler.reasons import Because, Reason, Reasons
from tests.plans_for_tests import at, component, cook, number_of, plan, step

# ---------------------------------------------------------------- a clause for each kind

MADE = plan(
    component(
        "Beans",
        step("Soak the beans", unattended="12 h to 18 h"),
        step("Simmer the beans", nearby="1 h to 1 h 45 min", until="tender", gear=["casserole"], keeps="1 h"),
        step("Season the beans", hands_on="5 min", between=["08:00-12:00"], on=[5]),
    ),
    component("Pie", step("Bake the pie", nearby="1 h", oven=180, keeps="2 h")),
    component("Bread", step("Bake the bread", nearby="50 min", oven=240, keeps="1 h")),
    cooks=[cook("Ada")],
    gear={"casserole": 1, "oven": 1},
    serve="2026-12-12 19:30",
)
TWO = replace(MADE, kitchen=replace(MADE.kitchen, cooks=(cook("Ada"), cook("Noor"))))
START = at("2026-12-12 13:35")
SOAK, SIMMER, SEASON = (number_of(MADE, f"{verb} the beans") for verb in ("Soak", "Simmer", "Season"))
PIE = number_of(MADE, "Bake the pie")


def day(text: str) -> datetime:
    return at(f"2026-12-{text}")


NIGHT = Reason(Because.HOURS, step=SIMMER, since=day("11 22:30"), until=day("12 07:00"), asleep=True)
FACT = (Fact(FactKind.COOK, name="Ada"),)


def clause(reason: Reason, later: bool, made: Plan = MADE, about: int = SIMMER) -> str:
    """The clause of one reason for a step at 13:35 on a Saturday."""
    found = Reasons(about, State.WAITING, START, START, START, at("2026-12-12 12:10"))
    found = replace(found, no_later=(reason,)) if later else replace(found, no_earlier=(reason,))
    return Why(made, found, START).clause(reason)


@pytest.mark.parametrize(
    ("reason", "later", "about", "expected"),
    [
        (Reason(Because.LENGTH, step=SIMMER), True, SIMMER, "it may take 1 h 45 min"),
        (
            Reason(Because.LENGTH, step=SIMMER, by=day("12 13:40")),
            True,
            SOAK,
            "“Simmer the beans” may take 1 h 45 min and has to begin by 13:40",
        ),
        (
            Reason(Because.LENGTH, step=SOAK, by=day("12 05:45"), end=True),
            False,
            SIMMER,
            "“Soak the beans” takes at least 12 h and cannot be over before 05:45",
        ),
        (
            Reason(Because.LENGTH, step=SOAK, by=day("12 12:10"), end=True),
            False,
            SIMMER,
            "“Soak the beans” takes at least 12 h and cannot be over sooner",
        ),
        (
            Reason(Because.LONGEST, step=SOAK, length=timedelta(hours=18)),
            True,
            SIMMER,
            "“Soak the beans” takes 18 h at most",
        ),
        (
            Reason(Because.KEEPS, step=SIMMER, other=SEASON, length=timedelta(hours=1), at=day("12 15:00")),
            False,
            SIMMER,
            "“Season the beans” has to follow it within 1 h and cannot begin before 15:00",
        ),
        (
            Reason(Because.KEEPS, step=SOAK, other=SIMMER, length=timedelta(0)),
            True,
            SIMMER,
            "it has to follow “Soak the beans” at once",
        ),
        (
            Reason(Because.KEEPS, step=SEASON, length=timedelta(minutes=5), at=day("12 19:30")),
            False,
            SIMMER,
            "“Season the beans” may wait 5 min for the meal at 19:30",
        ),
        (
            Reason(Because.WAIT, step=SOAK, other=SIMMER, length=timedelta(minutes=30)),
            True,
            SOAK,
            "“Simmer the beans” begins at least 30 min after it",
        ),
        (Reason(Because.SERVE, at=day("12 19:30")), True, SIMMER, "the meal is at 19:30"),
        (Reason(Because.NOW, by=day("10 09:00")), False, SIMMER, "it is Thu 09:00 now"),
        (Reason(Because.NOW, by=day("12 12:10")), False, SIMMER, "that is now"),
        (
            replace(NIGHT, by=day("11 20:45")),
            True,
            SIMMER,
            "you are asleep from Fri 22:30 to 07:00",
        ),
        (
            Reason(Because.HOURS, step=SOAK, by=day("11 08:25"), since=day("11 08:30"), until=day("11 17:45")),
            True,
            SIMMER,
            "you are out from Fri 08:30 to 17:45, so “Soak the beans” has to begin by Fri 08:25",
        ),
        (
            Reason(Because.HOURS, step=SOAK, by=day("11 08:29"), since=day("11 08:30"), until=day("11 17:45")),
            True,
            SIMMER,
            "you are out from Fri 08:30 to 17:45, so “Soak the beans” has to begin before that",
        ),
        (
            Reason(Because.HOURS, step=SOAK, by=day("11 17:45"), since=day("11 08:30"), until=day("11 17:45")),
            False,
            SIMMER,
            "you are out until Fri 17:45, so “Soak the beans” cannot begin sooner",
        ),
        (
            Reason(Because.ONLY, step=SEASON),
            True,
            SEASON,
            "it may only be done between 08:00 and 12:00 and on Sat",
        ),
        (
            Reason(Because.PUT_OFF, step=SIMMER, by=day("12 14:00")),
            False,
            SIMMER,
            "it was put off until 14:00",
        ),
        (
            Reason(Because.BEGUN, step=SOAK, by=day("12 13:15"), end=True),
            False,
            SIMMER,
            "“Soak the beans” ends at 13:15",
        ),
        (
            Reason(Because.OVER, step=SOAK, by=day("12 13:15"), end=True),
            False,
            SIMMER,
            "“Soak the beans” was over at 13:15",
        ),
        (
            Reason(Because.COOK, FACT, step=SEASON, name="Ada", since=day("12 15:00"), until=day("12 15:05")),
            True,
            SIMMER,
            "you have one pair of hands, which “Season the beans” has from 15:00 to 15:05",
        ),
        (
            Reason(Because.GEAR, FACT, step=SIMMER, name="casserole", since=day("12 10:25"), until=day("12 12:10")),
            False,
            SEASON,
            "there is only 1 casserole, which “Simmer the beans” has from 10:25 to 12:10",
        ),
        (
            Reason(Because.GEAR, step=PIE, name="oven", since=day("12 12:00"), until=day("12 13:00")),
            False,
            SIMMER,
            "the oven is at 180 C for “Bake the pie” until 13:00",
        ),
        (
            Reason(Because.GEAR, step=SIMMER, name="casserole", since=day("12 15:00"), until=day("12 16:45")),
            True,
            SOAK,
            "the only casserole is in use for “Simmer the beans” from 15:00",
        ),
        (
            Reason(Because.FRESH, step=SIMMER, other=SEASON, at=day("12 15:25"), length=timedelta(hours=1)),
            False,
            SIMMER,
            "earlier, what it makes would only wait longer for “Season the beans” at 15:25, and freshness comes first",
        ),
        (
            Reason(Because.FRESH, step=SOAK),
            False,
            SIMMER,
            "earlier, “Soak the beans” would only go on for longer, and freshness comes first",
        ),
        (
            Reason(Because.FOLLOWS, step=SOAK, other=SIMMER),
            False,
            SIMMER,
            "it follows “Soak the beans” at once",
        ),
        (Reason(Because.ROOM, length=timedelta(minutes=25)), True, SIMMER, "that leaves 25 min in hand"),
    ],
)  # fmt: skip
def test_a_clause_says_its_reason_with_its_numbers(
    reason: Reason, later: bool, about: int, expected: str
) -> None:
    """In the plan's words, small at its beginning, for a cook alone in the kitchen."""
    assert clause(reason, later, about=about) == expected


def test_gear_there_is_two_of_is_told_in_the_plural() -> None:
    """With two casseroles it is one of them that another step has."""
    pair = replace(MADE, kitchen=replace(MADE.kitchen, gear={"casserole": 2, "oven": 1}))
    used = Reason(
        Because.GEAR, FACT, step=SIMMER, name="casserole", since=day("12 10:25"), until=day("12 12:10")
    )
    assert clause(used, False, pair, SEASON) == (
        "there are only 2 casseroles, one of which “Simmer the beans” has from 10:25 to 12:10"
    )


def test_every_kind_of_reason_has_a_clause() -> None:
    """None is left without words."""
    for because in Because:
        assert clause(Reason(because, step=SOAK, other=SIMMER), later=True)


def test_with_two_cooks_nobody_is_called_you() -> None:
    """Both asleep, both out, or the hands of one of them."""
    out = replace(NIGHT, asleep=False)
    hands = Reason(Because.COOK, step=SEASON, name="Ada", since=day("12 15:00"), until=day("12 15:05"))
    assert clause(NIGHT, True, TWO) == "everyone is asleep from Fri 22:30 to 07:00"
    assert clause(out, True, TWO).startswith("nobody is up and at home from")
    assert clause(hands, True, TWO) == "Ada’s hands are with “Season the beans” from 15:00"


# ---------------------------------------------------------------- put together


def test_a_long_chain_is_cut_for_a_phone_and_told_in_full_elsewhere() -> None:
    """The first links, how many more, and the meal; the shared casserole before any of them."""
    lengths = [Reason(Because.LENGTH, FACT, step=n, by=day("12 13:35")) for n in range(len(MADE.steps))]
    casserole = Reason(Because.GEAR, FACT, step=SIMMER, name="casserole", since=START, until=day("12 15:00"))
    chain = (*lengths, casserole, Reason(Because.SERVE, FACT, at=day("12 19:30")))
    found = Reasons(SOAK, State.WAITING, START, START, START, START, no_later=chain)
    told = Why(MADE, found, START)
    assert told.brief() == [
        "No later than 13:35: it takes at least 12 h; there is only 1 casserole, which “Simmer the beans” has from "
        "13:35 to 15:00; then 3 more steps; the meal is at 19:30."
    ]
    assert sum(line.startswith("- ") for line in told.full()) == len(chain)


def test_many_steps_that_follow_at_once_are_told_by_their_ends() -> None:
    """Five steps tied to one another: the first, the last and how many."""
    tied = tuple(Reason(Because.KEEPS, FACT, step=n, other=n + 1, length=timedelta(0)) for n in range(4))
    found = Reasons(0, State.WAITING, START, START, START, START, no_later=tied)
    assert Why(MADE, found, START).brief() == [
        "No later than 13:35: the 5 steps from “Soak the beans” to “Bake the bread” follow one another at once."
    ]


def test_facts_that_stand_for_themselves_are_told_together() -> None:
    """One night for two steps is one clause; so are three steps that follow one another at once."""
    night = [
        Reason(Because.HOURS, FACT, step=n, since=day("11 22:30"), until=day("12 07:00"), asleep=True)
        for n in (SOAK, SIMMER)
    ]
    tied = [Reason(Because.KEEPS, FACT, step=n, other=n + 1, length=timedelta(0)) for n in (SOAK, SIMMER)]
    found = Reasons(SEASON, State.WAITING, START, START, START, START, no_later=(*night, *reversed(tied)))
    assert Why(MADE, found, START).full()[2:] == [
        "- you are asleep from Fri 22:30 to 07:00, and “Soak the beans” and “Simmer the beans” need you there",
        "- “Soak the beans”, “Simmer the beans” and “Season the beans” follow one another at once",
    ]
