"""Ways out as buttons: what each carries and says, and where there are more of them than buttons."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.wording import Wording
from bot.wording.ways import label
from scheduler.change_words import offer
from scheduler.changes import Change, ChangeKind
from scheduler.explain import Misfit
from scheduler.remedies import Remedy
from scheduler.service import ways
from scheduler.service.answers import NoFit
from scheduler.service.deeds import Deed, Verb
from scheduler.service.view import read_plan
from tests.talk_kit import on
from tests.test_conversation_ways import BREAKFAST

PLAN = read_plan(BREAKFAST, "Europe/Lisbon", "07:00-23:00")
HOUR = timedelta(hours=1)
NINE = on(9, "09:00")
CHANGES = (
    Change(ChangeKind.BED, "Cook", on(8, "22:30"), on(8, "23:15")),
    Change(ChangeKind.ALARM, "Cook", on(9, "06:15"), on(9, "07:00")),
    Change(ChangeKind.OFF, "Cook", NINE, NINE + HOUR),
    Change(ChangeKind.HELPER, None, NINE, NINE + HOUR),
    Change(ChangeKind.GEAR, gear="oven"),
    Change(ChangeKind.SKIP, step=2),
    Change(ChangeKind.LEAVE_OUT, step=0),
    Change(ChangeKind.HOUR, serve=NINE),
)


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_travels_in_a_button(change: Change) -> None:
    """Whole, in 64 bytes, with numbers as large as they come; an hour travels as a serving hour does."""
    remedy = Remedy("", change.serve or NINE, change)
    data = ways.deed_of(remedy, PLAN, 10**9, 10**6).encode()
    assert len(data.encode()) <= 64
    deed = Deed.decode(data)
    if change.kind is ChangeKind.HOUR:
        assert (deed.verb, deed.at) == (Verb.SERVE, NINE)
    else:
        assert ways.change_of(deed, PLAN) == change and deed.occurrence == 10**6
        assert len(label(change, PLAN)) <= 24


def test_more_ways_than_buttons_are_reached_by_a_button() -> None:
    """Five ways are listed; two, more, and leaving it are buttons; the second message has the other three."""
    remedies = tuple(Remedy(offer(change, PLAN), NINE, change) for change in CHANGES[:5])
    misfit = Misfit(NINE, ("it is late",), (), remedies)
    first = NoFit(3, PLAN, misfit, NINE - HOUR, revision=4)
    said = Wording().answer(first)
    assert [line[:2] for line in said.text.splitlines()[-5:]] == ["1.", "2.", "3.", "4.", "5."]
    assert [b.label for b in said.buttons] == [
        "Bed 45 min later",
        "Up 45 min earlier",
        "More ways",
        "Not this plan",
    ]
    more = Deed.decode(said.buttons[2].data)
    assert (more.verb, more.minutes) == (Verb.WAYS, 2)
    rest = Wording().answer(replace(first, shown=more.minutes or 0))
    assert [b.label for b in rest.buttons] == [
        "Home Sat 09:00-10:00", "Help Sat 09:00-10:00", "One more oven", "Not this plan"
    ]  # fmt: skip
    assert [line[:2] for line in rest.text.splitlines()[1:]] == ["3.", "4.", "5."]
