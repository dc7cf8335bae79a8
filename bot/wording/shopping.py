"""What is still to buy: the amounts of the steps to come, added up by name."""

from __future__ import annotations

import re
from datetime import date, timedelta

from bot.wording.amounts import as_bought
from bot.wording.facts import Facts
from bot.wording.lines import message, short, some
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.kitchen.amounts import Amount
from scheduler.domain.kitchen.totals import totals as totals
from scheduler.service.answers import Said, Shopping
from scheduler.service.deeds import Verb

MOST_LINES = 12
PER_LINE = 3


def shopping(answer: Shopping) -> Said:
    """The amounts of the steps still to begin, added up by name."""
    facts = Facts(answer.view)
    day = _day_meant(facts, answer.detail)
    slots = [
        slot
        for slot in answer.view.upcoming()
        if day is None or hours.local(slot.start, facts.zone).date() == day
    ]
    needed = totals(amount for slot in slots for amount in facts.step(slot.step).amounts)
    what = f"for {words.date_name(day)}" if day else f"for {short(facts.plan.title, 40)}"
    buttons = [facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)]
    if not needed:
        return message(f"Nothing is left to buy {what}", buttons=buttons)
    only = "For what begins on that day:" if day else ""
    return message(f"To have or to buy {what}", only, *_list(needed), buttons=buttons)


def _list(needed: list[Amount]) -> list[str]:
    lines = [f"{short(amount.name, 40)} {as_bought(amount)}" for amount in needed]
    if len(lines) > MOST_LINES:
        lines = [", ".join(lines[n : n + PER_LINE]) for n in range(0, len(lines), PER_LINE)]
    return some([f"- {line}" for line in lines], MOST_LINES, "- and {} lines more")


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
