"""What is still to buy, by the day on which to buy it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta

from bot.wording.amounts import as_bought
from bot.wording.facts import Facts
from bot.wording.lines import capital, message, short, some
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.plan import Plan
from scheduler.domain.shopping import Outing, Trip, trips
from scheduler.service.answers import Said, Shopping
from scheduler.service.deeds import Verb

MOST_LINES = 12
PER_LINE = 3


def shopping(answer: Shopping) -> Said:
    """What the steps still to begin need, on the days on which to buy it; of one day where one is named."""
    facts = Facts(answer.view)
    day = _day_meant(facts, answer.detail)
    every = trips(facts.plan, answer.view.upcoming(), facts.now)
    found = [trip for trip in every if day in (None, trip.day)]
    what = f"on {words.date_name(day)}" if day else f"for {short(facts.plan.title, 40)}"
    buttons = [facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)]
    if not found:
        return message(f"Nothing is left to buy {what}", _otherwise(every), buttons=buttons)
    lines = [line for trip in found for line in _of(trip, facts, len(found) > 1)]
    return message(
        f"To have or to buy {what}", *some(lines, MOST_LINES, "- and {} lines more"), buttons=buttons
    )


def _otherwise(every: list[Trip]) -> str:
    if not every:
        return ""
    return f"There is something to buy on {words.listed([words.date_name(trip.day) for trip in every[:4]])}."


def _of(trip: Trip, facts: Facts, several: bool) -> Iterable[str]:
    """The day and who is out then anyway, and what to bring; in fewer lines where there are several days."""
    out = "" if trip.outing is None else f", {out_anyway(trip.outing, facts.plan)}"
    if several or out:
        yield f"{capital(words.date_name(trip.day))}{out}:"
    items = [f"{short(item.amount.name, 40)} {as_bought(item.amount)}" for item in trip.items]
    together = PER_LINE if several or len(items) > MOST_LINES else 1
    for number in range(0, len(items), together):
        yield f"- {', '.join(items[number : number + together])}"


def out_anyway(outing: Outing, plan: Plan) -> str:
    """ "when Ada is out until 17:45"; with one cook, "when you are out until 17:45"."""
    who = "you are" if len(plan.kitchen.cooks) == 1 else f"{outing.cook} is"
    return f"when {who} out until {words.clock(outing.end, plan.zone)}"


def _day_meant(facts: Facts, detail: str) -> date | None:
    """The next such weekday, today or tomorrow, where one was named."""
    today = hours.local(facts.now, facts.zone).date()
    for word in re.findall(r"[a-z]{3,}", detail.casefold()):
        if word in ("today", "tomorrow"):
            return today + timedelta(days=word == "tomorrow")
        names = [name.casefold() for name in words.LONG_DAYS]
        found = next((number for number, name in enumerate(names) if name.startswith(word)), None)
        if found is not None:
            return today + timedelta(days=(found - today.weekday()) % 7)
    return None
