"""The SQLite store and the fake one give the same answers to the same requests, whatever their order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from scheduler.domain.stages import About
from scheduler.ports import UnitOfWork
from scheduler.records import Kind, Letter, LetterState
from storage.engine import open_store
from tests.fakes import FakeStore
from tests.stores import DONE, MINUTE, NOW, a_chat, a_letter, a_plan

CHATS = (1, 2)
moments = st.integers(0, 6).map(lambda n: NOW + n * MINUTE)
keys = st.sampled_from(["a", "b", "c", "d"])
receipts = st.none() | st.sampled_from(["r1", "r2"])
letters = st.builds(
    a_letter,
    chat=st.sampled_from((*CHATS, 3)),
    key=keys,
    due=moments,
    kind=st.sampled_from(Kind),
    plan=st.none() | st.sampled_from([1, 2, 3]),
    step=st.none() | st.integers(0, 1),
    about=st.none() | st.sampled_from([About.START, About.TIMER]),
    state=st.sampled_from(LetterState),
    priority=st.integers(1, 2),
    not_before=st.none() | moments,
    sent=st.none() | moments,
    receipt=receipts,
    buttons=st.sampled_from([(), (DONE,)]),
)


class Agreement(RuleBasedStateMachine):
    """Every request goes to both stores, each in a unit of work of its own."""

    @initialize()
    def furnish(self) -> None:
        self.stores = (open_store(None), FakeStore())
        self.claims: list[Letter] = []
        for store in self.stores:
            for address in ("telegram:1", "telegram:2"):
                a_plan(store, a_chat(store, address))

    def teardown(self) -> None:
        for store in getattr(self, "stores", ()):
            store.close()

    def same(self, ask: Callable[[UnitOfWork], Any]) -> Any:
        ours, theirs = (self.answer(store, ask) for store in self.stores)
        assert ours == theirs
        return ours

    @staticmethod
    def answer(store: Callable[[], UnitOfWork], ask: Callable[[UnitOfWork], Any]) -> Any:
        with store() as unit:
            try:
                found = ask(unit)
            except ValueError:
                found = ValueError
            unit.commit()
        return found

    @rule(batch=st.lists(letters, max_size=4))
    def put(self, batch: list[Letter]) -> None:
        self.same(lambda unit: unit.outbox.put(batch))

    @rule(plan=st.integers(1, 2), keep=st.lists(keys, max_size=2))
    def obsolete(self, plan: int, keep: list[str]) -> None:
        self.same(lambda unit: unit.outbox.obsolete(plan, keep))

    @rule(letter=st.integers(1, 5), at=moments, lease=st.integers(1, 3))
    def claim(self, letter: int, at: Any, lease: int) -> None:
        token = f"token {len(self.claims)}"
        taken = self.same(lambda unit: unit.outbox.claim(letter, token, at, lease * MINUTE))
        self.claims += [taken] if taken else []

    @rule(pick=st.integers(0, 9), outcome=letters)
    def finish(self, pick: int, outcome: Letter) -> None:
        if self.claims:
            claimed = self.claims[pick % len(self.claims)]
            done = replace(outcome, id=claimed.id, claim=claimed.claim, chat=claimed.chat)
            self.same(lambda unit: unit.outbox.finish(done))

    @rule(number=st.integers(1, 5))
    def withdraw(self, number: int) -> None:
        self.same(lambda unit: unit.outbox.withdraw(a_letter(1, "any", id=number)))

    @rule(chat=st.sampled_from(CHATS), receipt=st.sampled_from(["r1", "r2"]))
    def forget_buttons(self, chat: int, receipt: str) -> None:
        self.same(lambda unit: unit.outbox.forget_buttons(chat, receipt))

    @rule(at=moments)
    def ask_what_is_due(self, at: Any) -> None:
        self.same(lambda unit: (unit.outbox.due(at), unit.outbox.next_due(at)))

    @rule(since=moments, chat=st.sampled_from(CHATS), receipt=st.sampled_from(["r1", "r2"]))
    def ask_what_was_sent(self, since: Any, chat: int, receipt: str) -> None:
        self.same(
            lambda unit: (
                unit.outbox.sent_since(since),
                unit.outbox.sent_since(since, chat),
                unit.outbox.history(chat, since),
                unit.outbox.by_receipt(chat, receipt),
                unit.outbox.latest_nudge(chat),
            )
        )

    @invariant()
    def they_hold_the_same(self) -> None:
        if not hasattr(self, "stores"):
            return
        self.same(
            lambda unit: [
                (
                    unit.outbox.pending(plan),
                    unit.outbox.timers(plan),
                    [unit.outbox.with_buttons(plan, step) for step in (0, 1)],
                )
                for plan in (1, 2)  # and chats, which have the same numbers
            ]
        )
        self.same(lambda unit: unit.outbox.due(NOW + timedelta(days=1)))


TestAgreement = Agreement.TestCase
TestAgreement.settings = settings(max_examples=15, stateful_step_count=15, deadline=None)
