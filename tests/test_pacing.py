"""How fast messages may go out, and what holds them back."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.records import Chat
from scheduler.service.pacing import (
    LONGEST_BACKOFF,
    MINUTE,
    ONE_CHAT,
    ONE_GROUP,
    OVERALL,
    SECOND,
    Holds,
    Pace,
    Paces,
)
from tests.fakes import FakeStore
from tests.stores import NOW, a_chat, a_letter, put, send

ASKED = st.lists(st.integers(0, 200), min_size=1, max_size=60).map(sorted)
"""Seconds at which messages are wanted to go."""


def test_the_limits_are_the_published_ones() -> None:
    """Source: Telegram Bots FAQ, "My bot is hitting limits, how do I avoid this?"."""
    assert (OVERALL.count, OVERALL.within) == (30, SECOND)
    assert (ONE_CHAT.count, ONE_CHAT.within) == (1, SECOND)
    assert (ONE_GROUP.count, ONE_GROUP.within) == (20, MINUTE)


@given(wanted=ASKED, pace=st.sampled_from([OVERALL, ONE_CHAT, ONE_GROUP, Pace(3, timedelta(seconds=7))]))
@settings(max_examples=60)
def test_no_stretch_ever_holds_more_than_the_limit(wanted: list[int], pace: Pace) -> None:
    """Whenever messages are asked for, those sent when the pace says so keep to it, in every stretch."""
    sent: list[datetime] = []
    for second in wanted:
        asked = max(NOW + second * SECOND, sent[-1] if sent else NOW)
        at = pace.free_at(sent, asked)
        assert pace.free_at(sent, at) == at, "a message asked for when it may go does go"
        sent.append(at)
    for first in sent:
        assert sum(first <= at < first + pace.within for at in sent) <= pace.count


@given(wanted=ASKED)
@settings(max_examples=30)
def test_nobody_waits_longer_than_the_limit_asks(wanted: list[int]) -> None:
    """A message goes at once unless as many as are allowed went in the stretch before it."""
    pace, sent = ONE_GROUP, list[datetime]()
    for second in wanted:
        asked = max(NOW + second * SECOND, sent[-1] if sent else NOW)
        at = pace.free_at(sent, asked)
        if at > asked:
            just_before = at - timedelta(microseconds=1)
            assert sum(just_before - pace.within < other <= just_before for other in sent) == pace.count
        sent.append(at)


def test_a_hold_grows_with_each_refusal_and_is_lifted_by_a_success() -> None:
    """What was asked for is honoured, our own pause doubles up to ten minutes, and starts anew after one."""
    holds = Holds()
    waits = [holds.put_off(1, NOW, SECOND) - NOW for _ in range(12)]
    assert waits[:4] == [2 * SECOND, 4 * SECOND, 8 * SECOND, 16 * SECOND]
    assert waits[-1] == LONGEST_BACKOFF == max(waits)
    assert holds.until(1, NOW) == NOW + LONGEST_BACKOFF
    assert holds.until(2, NOW) == NOW, "another chat is free"
    assert holds.until(1, NOW + timedelta(hours=1)) == NOW + timedelta(hours=1)
    holds.lift(1)
    assert holds.until(1, NOW) == NOW
    assert holds.put_off(1, NOW, timedelta(hours=2)) == NOW + timedelta(hours=2)


def test_each_kind_of_chat_has_its_own_pace() -> None:
    """One a second to a person, twenty a minute to a group, thirty a second to all together."""
    store = FakeStore()
    person, group = a_chat(store, "kitchen:ada"), a_chat(store, "kitchen:group")
    put(store, *(a_letter(group, f"g{number}") for number in range(20)))
    put(store, a_letter(person, "p"))
    for number in range(20):
        send(store, number + 1, NOW + number * SECOND)
    now = NOW + 30 * SECOND
    with store() as uow:
        paces = Paces(uow.outbox, Holds(), now)
        assert paces.free_at(Chat("kitchen:ada", id=person)) == now
        assert paces.free_at(Chat("kitchen:group", id=group, group=True)) == NOW + MINUTE
        assert Paces(uow.outbox, Holds(), now).free_at(Chat("kitchen:group", id=group)) == now
        with pytest.raises(ValueError, match="never stored"):
            paces.free_at(Chat("kitchen:new"))


def test_thirty_a_second_is_for_all_chats_together() -> None:
    """The thirty-first message of one second waits for the next, whichever chat it is for."""
    store = FakeStore()
    chats = [a_chat(store, f"kitchen:{number}") for number in range(31)]
    put(store, *(a_letter(chat, "x") for chat in chats))
    for number in range(30):
        send(store, number + 1, NOW)
    with store() as uow:
        free = Counter(Paces(uow.outbox, Holds(), NOW).free_at(Chat("", id=chat)) for chat in chats)
    assert free == {NOW + SECOND: 31}
