"""What to buy, by day."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal

from bot.shopping import as_json, as_text, trips
from bot.wording.shopping import shopping
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.totals import totals
from scheduler.domain.timetable import Timetable
from scheduler.planfile import read
from scheduler.planning import time_out
from scheduler.service.answers import Shopping
from tests.talk_kit import on, with_supper

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
    """The day before its step, or so long before as the step says; nothing that comes from the tap."""
    found = trips(PLAN, timetable(), on(4, "09:00"))
    assert [trip.day for trip in found] == sorted(trip.day for trip in found)
    names = [item.amount.name for trip in found for item in trip.items]
    assert "water" not in names and {"beef", "flour", "eggs", "stock"} <= set(names)
    slots = {PLAN.steps[slot.step].name: slot.start.date() for slot in timetable().slots}
    for trip in found:
        assert all(trip.day < slots[step] for item in trip.items for step in item.steps)


def test_what_is_wanted_on_one_day_is_added_up() -> None:
    """By name whatever its capitals, where the units go together; counted things of two kinds stay apart."""
    late = trips(PLAN, timetable(), on(9, "08:00"))
    assert [trip.day for trip in late] == [date(2026, 5, 9)]
    found = {(item.amount.name, item.amount.unit): item for item in late[0].items}
    assert found["stock", "ml"].amount.quantity == 500 and found["milk", "ml"].amount.quantity == 500
    assert found["bay leaves", ""].amount.quantity == 2 and found["bay leaves", "pieces"].amount.quantity == 2
    assert found["eggs", ""].steps == ("Fry the pancakes",)


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
    lines = list(as_text(found))
    assert any(line.strip().startswith("By the end of ") for line in lines)
    assert "- beef, 1.2 kg (for: Salt the meat)" in lines
    days = json.loads(json.dumps(as_json(found)))
    beef = next(item for day in days for item in day["items"] if item["name"] == "beef")
    assert beef == {"name": "beef", "quantity": "1200", "unit": "g", "for": ["Salt the meat"]}
    assert all(date.fromisoformat(day["by"]) for day in days)


def test_a_plan_without_amounts_says_so() -> None:
    """An empty list says that it is empty."""
    assert list(as_text([])) == ["The plan names no amounts."]
    assert totals([Amount("Water", Decimal(3), "L")]) == []
