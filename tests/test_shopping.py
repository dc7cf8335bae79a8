"""What to buy, by day."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.shopping import as_json, as_text, trips
from bot.wording.shopping import shopping
from scheduler.domain.hours import Dated, local
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.totals import to_buy, totals
from scheduler.domain.plan import Plan
from scheduler.domain.shopping import trips as trips_of
from scheduler.domain.timetable import Slot, Timetable
from scheduler.planfile import read
from scheduler.planning import time_out
from scheduler.service.answers import Shopping
from tests.talk_kit import SUPPER, on, with_supper

TEXT = """\
crockbell: 1
title: Pancakes and stew
serve: 2026-05-09 19:30
zone: Europe/Lisbon
components:
  - name: Stew
    steps:
      - name: Salt the meat
        hands-on: 10 min
        buy: 2 d before
        amounts: {beef: 1.2 kg, salt: 1 % of beef}
        keeps: 2 d
      - name: Simmer the stew
        nearby: 2 h
        amounts: {water: 1 L, Salt: 5 g, stock: 500 ml, bay leaves: 2}
        keeps: 1 h
  - name: Pancakes
    steps:
      - name: Fry the pancakes
        hands-on: 30 min
        amounts: {flour: 300 g, milk: 0.5 L, eggs: 3, bay leaves: 2 pieces}
        keeps: 30 min
"""
PLAN = read(TEXT, zone="Europe/Lisbon")


def timetable() -> Timetable:
    found = time_out(PLAN, PLAN.serve or on(9, "19:30"), on(4, "09:00"))
    assert isinstance(found, Timetable)
    return found


def test_everything_is_bought_in_time_and_nothing_twice() -> None:
    """On a day of its own before its step, or so long before as the step says; nothing that is at hand."""
    found = trips(PLAN, timetable(), on(4, "09:00"))
    assert [trip.day for trip in found] == sorted(trip.day for trip in found)
    names = [item.amount.name for trip in found for item in trip.items]
    assert "water" not in names and {"beef", "flour", "eggs", "stock"} <= set(names)
    starts = {
        slot.step: slot.start - (PLAN.steps[slot.step].buy or timedelta(0)) for slot in timetable().slots
    }
    for trip in found:
        assert all(on(trip.day.day, "00:00") < starts[step] for item in trip.items for step in item.steps)


def test_what_is_wanted_on_one_day_is_added_up() -> None:
    """By name whatever its capitals, where the units go together; counted things of two kinds stay apart."""
    late = trips(PLAN, timetable(), on(9, "08:00"))
    assert [trip.day for trip in late] == [date(2026, 5, 9)]
    found = {(item.amount.name, item.amount.unit): item for item in late[0].items}
    assert found["stock", "ml"].amount.quantity == 500 and found["milk", "ml"].amount.quantity == 500
    assert found["bay leaves", ""].amount.quantity == 2 and found["bay leaves", "pieces"].amount.quantity == 2
    assert [PLAN.steps[step].name for step in found["eggs", ""].steps] == ["Fry the pancakes"]


def test_shares_are_added_in_grams() -> None:
    """One per cent of 1.2 kg and five grams are seventeen."""
    amounts = [amount for step in PLAN.steps for amount in step.amounts]
    salt = next(amount for amount in totals(amounts) if amount.name.casefold() == "salt")
    assert (salt.quantity, salt.unit) == (Decimal(17), "g")


def test_chat_and_command_line_add_up_alike() -> None:
    """One place for the sums: what the chat lists is what the list of all the amounts comes to."""
    view = with_supper(on(5, "20:00")).view()
    said = shopping(Shopping(view, "")).text
    needed = totals(amount for step in view.plan.steps for amount in step.amounts)
    assert all(amount.name in said for amount in needed)
    listed = [item.amount for trip in trips(view.plan, view.timetable, view.now) for item in trip.items]
    assert {(a.name, a.quantity, a.unit) for a in totals(listed)} == {
        (a.name, a.quantity, a.unit) for a in needed
    }


def test_as_text_and_as_json() -> None:
    """Text as it would be read out, JSON with ISO dates and exact figures."""
    found = trips(PLAN, timetable(), on(4, "09:00"))
    lines = list(as_text(found, PLAN))
    assert any(line.strip().startswith("On ") for line in lines)
    assert "- beef, 1.2 kg (for: Salt the meat)" in lines
    days = json.loads(json.dumps(as_json(found, PLAN)))
    beef = next(item for day in days for item in day["items"] if item["name"] == "beef")
    salted = next(slot for slot in timetable().slots if PLAN.steps[slot.step].name == "Salt the meat")
    wanted = datetime.fromisoformat(beef.pop("wanted"))
    assert beef == {"name": "beef", "quantity": "1200", "unit": "g", "for": ["Salt the meat"]}
    assert wanted == salted.start and wanted.utcoffset() == timedelta(hours=1)
    assert all(date.fromisoformat(day["by"]) for day in days)


def test_a_plan_without_amounts_says_so() -> None:
    """An empty list says that it is empty."""
    assert list(as_text([], PLAN)) == ["The plan names no amounts."]
    assert totals([Amount("Water", Decimal(3), "L")]) == []


# ---------------------------------------------------------------- days on which somebody is out anyway

OUT = read(
    TEXT.replace(
        "components:", "kitchen:\n  cooks: {Ines: {away: [mon-fri 09:00-17:00]}, Rui: {}}\ncomponents:", 1
    ),
    zone="Europe/Lisbon",
)
"""Friday the 8th is the last day on which Ines is out before the dinner on Saturday."""


def slots_of(plan: Plan, starts: dict[str, datetime]) -> list[Slot]:
    """Slots placed by hand, of an hour each."""
    by_name = {step.name: step.number for step in plan.steps}
    return [
        Slot(by_name[name], start, start + timedelta(hours=1), start, start, start)
        for name, start in starts.items()
    ]


STARTS = {
    "Salt the meat": on(7, "18:00"),
    "Simmer the stew": on(9, "16:00"),
    "Fry the pancakes": on(9, "19:00"),
}


def test_each_thing_is_bought_on_the_last_day_somebody_is_out_anyway() -> None:
    """Two days before Thursday evening is Tuesday's way home; what Saturday needs comes home on Friday."""
    found = trips_of(OUT, slots_of(OUT, STARTS), on(4, "08:00"))
    days = {item.amount.name: trip.day for trip in found for item in trip.items}
    assert days["beef"] == date(2026, 5, 5) and days["flour"] == days["stock"] == date(2026, 5, 8)
    friday = next(trip for trip in found if trip.day == date(2026, 5, 8))
    assert friday.outing is not None and friday.outing.cook == "Ines"
    assert friday.outing.end == on(8, "17:00")


def test_what_only_the_last_hour_needs_comes_last() -> None:
    """On one trip, in the order in which the steps begin."""
    (friday,) = [t for t in trips_of(OUT, slots_of(OUT, STARTS), on(4, "08:00")) if t.day == date(2026, 5, 8)]
    assert [item.amount.name for item in friday.items][-4:] == ["flour", "milk", "eggs", "bay leaves"]
    assert [item.wanted for item in friday.items] == sorted(item.wanted for item in friday.items)


def test_a_way_home_that_is_too_late_or_too_long_ago_is_no_use() -> None:
    """Home at 17:00 is too late for 16:00 on that day, and Friday is too long before Tuesday evening."""
    same_day = {"Fry the pancakes": on(7, "16:00")}
    assert [trip.day for trip in trips_of(OUT, slots_of(OUT, same_day), on(4, "08:00"))] == [date(2026, 5, 6)]
    monday = {"Fry the pancakes": on(11, "16:59")}
    (trip,) = trips_of(OUT, slots_of(OUT, monday), on(4, "08:00"))
    assert trip.day == date(2026, 5, 8) and trip.outing is not None
    week_off = replace(OUT.kitchen.cooks[0], home=(Dated(datetime(2026, 5, 7), datetime(2026, 5, 12)),))
    at_home = replace(OUT, kitchen=replace(OUT.kitchen, cooks=(week_off, *OUT.kitchen.cooks[1:])))
    (trip,) = trips_of(at_home, slots_of(at_home, monday), on(4, "08:00"))
    assert trip.day == date(2026, 5, 11) and trip.outing is None


def test_an_outing_that_is_over_does_not_count() -> None:
    """On Friday evening the shop is a trip of its own, and what was wanted yesterday is bought today."""
    late = trips_of(OUT, slots_of(OUT, STARTS), on(8, "17:00"))
    assert [(trip.day, trip.outing) for trip in late] == [(date(2026, 5, 8), None), (date(2026, 5, 9), None)]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 6 * 24 * 4), min_size=3, max_size=3),
    st.integers(0, 6 * 24),
    st.sampled_from([OUT, PLAN]),
)
def test_nothing_is_bought_too_late_twice_or_not_at_all(quarters: list[int], hour: int, plan: Plan) -> None:
    """Whatever the hours: every amount on one trip, none after the day it is wanted on, none before today."""
    now = on(3, "00:00") + timedelta(hours=hour)
    starts = {name: now + timedelta(minutes=15 * n) for name, n in zip(STARTS, quarters, strict=True)}
    slots = slots_of(plan, starts)
    found = trips_of(plan, slots, now)
    bought = sorted((item.amount.name, step) for trip in found for item in trip.items for step in item.steps)
    wanted = {(each.name, slot.step) for slot in slots for each in to_buy(plan.steps[slot.step].amounts)}
    assert {(name.casefold(), step) for name, step in bought} == {(n.casefold(), step) for n, step in wanted}
    assert len(bought) == len(set(bought))
    today = local(now, plan.zone).date()
    for trip in found:
        assert today <= trip.day <= min(local(item.wanted, plan.zone).date() for item in trip.items)
        assert trip.outing is None or trip.outing.end <= min(item.wanted for item in trip.items)


def test_the_chat_tells_the_shopping_by_day_and_who_is_out() -> None:
    """On Wednesday evening: what is left, under Friday, when Ines is out; of Monday it says when there is something."""
    talk = with_supper(
        on(5, "20:00"), SUPPER.replace("  awake:", "  away: [mon-fri 09:00-17:30]\n  awake:", 1)
    )
    said = shopping(Shopping(talk.view(), "")).text
    assert "when you are out until 17:30" in said
    monday = shopping(Shopping(talk.view(), "monday")).text
    assert (
        monday.startswith("Nothing is left to buy on Mon 11 May") and "There is something to buy on" in monday
    )


def test_salt_given_by_volume_is_bought_with_what_it_may_weigh() -> None:
    """A tablespoon of flakes is half as heavy as one of table salt."""
    spoons = SUPPER.replace("salt: 2 % of radishes", "salt: 1 tbsp")
    assert "salt 15 ml (8.3 g to 19 g by its crystals)" in with_supper(on(5, "20:00"), spoons).say("shopping")
