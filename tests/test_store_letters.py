"""What every store remembers of letters: those sent, their buttons, and timers still to go off."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from scheduler.domain.stages import About
from scheduler.ports import Store
from scheduler.records import Kind
from tests.stores import DONE, HOUR, MINUTE, NOW, EveryStore, a_chat, a_letter, a_plan, keys, put, send


class TestWhatWasSent(EveryStore):
    def test_times_of_sending_are_told_by_chat_or_for_all(self, store: Store) -> None:
        """sent_since lists them in order, from the moment named on."""
        ours, theirs = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        put(store, *(a_letter(chat, key) for chat in (ours, theirs) for key in ("a", "b")))
        for letter, at in ((1, NOW + HOUR), (2, NOW), (3, NOW + MINUTE)):
            send(store, letter, at)
        with store() as unit:
            assert unit.outbox.sent_since(NOW) == [NOW, NOW + MINUTE, NOW + HOUR]
            assert unit.outbox.sent_since(NOW + timedelta(microseconds=1), ours) == [NOW + HOUR]
            assert unit.outbox.sent_since(NOW, 99) == []

    def test_history_is_what_the_chat_was_sent_oldest_first(self, store: Store) -> None:
        """By time of sending, from the moment named on, without what has not gone out."""
        chat, other = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        put(store, *(a_letter(chat, key) for key in "abcd"), a_letter(other, "e"))
        for letter, at in ((1, NOW + HOUR), (2, NOW + MINUTE), (3, NOW - MINUTE), (5, NOW)):
            send(store, letter, at)
        with store() as unit:
            assert keys(unit.outbox.history(chat, NOW)) == ["b", "a"]

    def test_a_receipt_finds_its_message(self, store: Store) -> None:
        """In its own chat, and never the letter that took the buttons off it."""
        chat, other = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        put(store, a_letter(chat, "k"), a_letter(chat, "off", kind=Kind.UNBUTTON, receipt="r1"))
        send(store, 1, receipt="r1")
        send(store, 2, receipt="r1")
        with store() as unit:
            found = unit.outbox.by_receipt(chat, "r1")
            assert found is not None and found.key == "k"
            assert unit.outbox.by_receipt(other, "r1") is None
            assert unit.outbox.by_receipt(chat, "r2") is None

    def test_the_latest_nudge_is_about_a_step(self, store: Store) -> None:
        """The last one sent, by time and then id; answers, the day card and unsent ones do not count."""
        chat = a_chat(store)
        put(
            store,
            a_letter(chat, "early", step=1),
            a_letter(chat, "last", step=2),
            a_letter(chat, "same time", step=3),
            a_letter(chat, "day card"),
            a_letter(chat, "answer", step=4, kind=Kind.ANSWER),
            a_letter(chat, "unsent", step=5),
        )
        with store() as unit:
            assert unit.outbox.latest_nudge(chat) is None
        for letter, at in ((3, NOW), (2, NOW), (1, NOW - HOUR), (4, NOW + HOUR), (5, NOW + HOUR)):
            send(store, letter, at)
        with store() as unit:
            found = unit.outbox.latest_nudge(chat)
        assert found is not None and found.key == "same time"

    def test_letters_keep_their_buttons_until_these_are_forgotten(self, store: Store) -> None:
        """Sent letters about the step with buttons, until the buttons of their receipt are forgotten."""
        chat, other = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        plan = a_plan(store, chat)
        put(
            store,
            *(a_letter(chat, key, plan=plan, step=3) for key in ("one", "two", "bare", "unsent")),
            a_letter(chat, "other step", plan=plan, step=4),
        )
        for letter, buttons in ((1, (DONE,)), (2, (DONE,)), (3, ()), (5, (DONE,))):
            send(store, letter, receipt=f"r{letter}", buttons=buttons)
        with store() as unit:
            assert keys(unit.outbox.with_buttons(plan, 3)) == ["one", "two"]
            assert unit.outbox.with_buttons(plan, 3)[0].buttons == (DONE,)
            unit.outbox.forget_buttons(other, "r2")
            unit.outbox.forget_buttons(chat, "r1")
            unit.commit()
        with store() as unit:
            assert keys(unit.outbox.with_buttons(plan, 3)) == ["two"]
            forgotten = unit.outbox.by_receipt(chat, "r1")
            assert forgotten is not None and forgotten.buttons == ()


class TestTimers(EveryStore):
    def test_timers_are_told_by_due_time_until_they_go_off(self, store: Store) -> None:
        """The chat's pending nudges about a timer; not other nudges, other chats' or those claimed."""
        chat, other = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        timer: dict[str, Any] = {"about": About.TIMER, "expires": datetime.max.replace(tzinfo=UTC)}
        put(
            store,
            a_letter(chat, "late", NOW + HOUR, **timer),
            a_letter(chat, "claimed", **timer),
            a_letter(chat, "early", NOW + MINUTE, **timer),
            a_letter(chat, "no timer", about=About.START),
            a_letter(chat, "no nudge", kind=Kind.ANSWER, about=About.TIMER),
            a_letter(other, "theirs", **timer),
        )
        with store() as unit:
            unit.outbox.claim(2, "one", NOW, MINUTE)
            unit.commit()
        with store() as unit:
            assert keys(unit.outbox.timers(chat)) == ["early", "late"]

    def test_one_pending_letter_can_be_withdrawn(self, store: Store) -> None:
        """It becomes obsolete, once; what is claimed, sent or not stored cannot be withdrawn."""
        chat = a_chat(store)
        put(store, *(a_letter(chat, key) for key in ("wanted", "withdrawn", "claimed")))
        with store() as unit:
            wanted, withdrawn, claimed = unit.outbox.due(NOW)
            unit.outbox.claim(3, "one", NOW, MINUTE)
            assert unit.outbox.withdraw(withdrawn)
            tried = (withdrawn, claimed, replace(wanted, id=99), replace(wanted, id=None))
            assert [unit.outbox.withdraw(letter) for letter in tried] == [False] * 4
            unit.commit()
        with store() as unit:
            assert keys(unit.outbox.due(NOW)) == ["wanted"]
