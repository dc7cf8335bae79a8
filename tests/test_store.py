"""What every store owes: units of work, chats, marks, the inbox. Plans and letters have their own files."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from threading import Thread

import pytest

from scheduler.domain.progress import Mark, MarkKind
from scheduler.ports import Store
from scheduler.records import Chat, ChatStage, ReceivedState
from tests.stores import (
    HOUR,
    IMPATIENT,
    MINUTE,
    NOW,
    EveryStore,
    a_chat,
    a_plan,
    an_update,
    open_kind,
)

NAIVE = NOW.replace(tzinfo=None)


class TestUnitOfWork(EveryStore):
    def test_nothing_is_kept_without_commit(self, store: Store) -> None:
        """Leaving a unit of work without commit, quietly or by an error, keeps nothing."""
        with store() as unit:
            unit.chats.save(Chat("terminal:quiet"))
        with pytest.raises(ZeroDivisionError), store() as unit:
            unit.chats.save(Chat("terminal:error"))
            raise ZeroDivisionError
        with store() as unit:
            assert unit.chats.at("terminal:quiet") is None
            assert unit.chats.at("terminal:error") is None

    def test_it_sees_its_own_writes_and_the_next_one_sees_them_too(self, store: Store) -> None:
        """What is written can be read at once, and by the next unit of work after commit."""
        with store() as unit:
            saved = unit.chats.save(Chat("terminal:here"))
            assert unit.chats.at("terminal:here") == saved
            unit.commit()
        with store() as unit:
            assert unit.chats.at("terminal:here") == saved

    def test_it_is_over_after_commit_and_is_entered_once(self, store: Store) -> None:
        """One unit of work is one transaction: later use and a second entry are refused."""
        unit = store()
        with pytest.raises(RuntimeError):
            unit.chats.at("terminal:here")
        with unit:
            unit.commit()
            with pytest.raises(RuntimeError):
                unit.chats.at("terminal:here")
            with pytest.raises(RuntimeError):
                unit.commit()
        with pytest.raises(RuntimeError), unit:
            unit.commit()

    def test_two_threads_never_lose_an_update(self, store: Store) -> None:
        """Reading, adding one and writing back in two threads counts every addition."""
        chat, rounds = a_chat(store), 15

        def add_ones() -> None:
            for _ in range(rounds):
                with store() as unit:
                    row = unit.chats.get(chat)
                    row.question = {"count": (row.question or {"count": 0})["count"] + 1}
                    unit.chats.save(row)
                    unit.commit()

        threads = [Thread(target=add_ones) for _ in range(2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        with store() as unit:
            assert unit.chats.get(chat).question == {"count": 2 * rounds}

    def test_a_writer_that_waits_too_long_gives_up(self, kind: str, tmp_path: Path) -> None:
        """A second unit of work raises TimeoutError while the first lasts, and works once it has ended."""
        store = open_kind(kind, tmp_path, IMPATIENT)
        with store() as first:
            first.chats.save(Chat("terminal:first"))
            with pytest.raises(TimeoutError), store():
                raise AssertionError("two writers at once")
            first.commit()
        with store() as unit:
            assert unit.chats.at("terminal:first") is not None
        store.close()


class TestChats(EveryStore):
    def test_a_chat_comes_back_as_it_was_saved(self, store: Store) -> None:
        """Every field of a chat survives, inserted or updated."""
        with store() as unit:
            chat = unit.chats.save(Chat("telegram:-4711", group=True))
            assert chat == Chat("telegram:-4711", id=chat.id, group=True)
            fuller = replace(
                chat,
                address="telegram:-100",
                stage=ChatStage.HOURS,
                zone="Asia/Kolkata",
                awake="06:00-22:00",
                question={"ask": "when", "choices": ["19:00", None, 3]},
                quiet_until=NOW + timedelta(microseconds=1),
                barred="blocked",
            )
            assert unit.chats.save(fuller) == fuller
            unit.commit()
        with store() as unit:
            assert unit.chats.get(chat.id or 0) == fuller
            assert unit.chats.at("telegram:-4711") is None

    def test_an_address_belongs_to_one_chat(self, store: Store) -> None:
        """A second chat at an address is refused, whether it is new or moves there."""
        a_chat(store, "telegram:1")
        other = a_chat(store, "telegram:2")
        for second in (Chat("telegram:1"), Chat("telegram:1", id=other)):
            with store() as unit:
                with pytest.raises(ValueError):
                    unit.chats.save(second)
                assert unit.chats.get(other).address == "telegram:2"

    def test_a_chat_that_is_not_there_is_said_so(self, store: Store) -> None:
        """get and save raise LookupError for an unknown id; at gives None."""
        with store() as unit:
            assert unit.chats.at("telegram:9") is None
            with pytest.raises(LookupError):
                unit.chats.get(9)
            with pytest.raises(LookupError):
                unit.chats.save(Chat("telegram:9", id=9))

    def test_what_the_caller_changes_afterwards_stays_the_callers(self, store: Store) -> None:
        """A record handed in or out shares nothing with the store."""
        with store() as unit:
            question = {"ask": ["when"]}
            saved = unit.chats.save(Chat("telegram:1", question=question))
            question["ask"].append("where")
            assert saved.question is not None
            saved.question["ask"].append("why")
            assert unit.chats.get(saved.id or 0).question == {"ask": ["when"]}

    def test_what_is_no_instant_or_no_json_is_refused(self, store: Store) -> None:
        """A naive time, and a time inside JSON, raise ValueError."""
        for wrong in (Chat("telegram:1", quiet_until=NAIVE), Chat("telegram:1", question={"at": NOW})):
            with pytest.raises(ValueError), store() as unit:
                unit.chats.save(wrong)


class TestMarks(EveryStore):
    def test_marks_come_back_in_the_order_they_were_said(self, store: Store) -> None:
        """Whole marks, by when they were said and, said at once, in the order they were added."""
        plan, other = a_plan(store, a_chat(store)), a_plan(store, a_chat(store, "telegram:1"))
        first = Mark(MarkKind.NOTE, NOW - HOUR, NOW, "b1", by="Noor", text="the stove is out\nof gas")
        later = Mark(MarkKind.LATER, NOW, NOW + MINUTE, "b2", step=3, occurrence=2, until=NOW + HOUR)
        undone = Mark(MarkKind.UNDONE, NOW, NOW + MINUTE, "b3", undoes="b2")
        with store() as unit:
            unit.marks.add(plan, [later, undone])
            unit.marks.add(plan, [first])
            unit.marks.add(other, [])
            unit.commit()
        with store() as unit:
            assert unit.marks.of(plan) == [first, later, undone]
            assert unit.marks.of(other) == []

    def test_a_mark_needs_a_plan_and_aware_times(self, store: Store) -> None:
        """Marks of an unknown plan and marks with a naive time raise ValueError."""
        plan = a_plan(store, a_chat(store))
        for about, number in ((NOW, 77), (NAIVE, plan)):
            good, wrong = (Mark(MarkKind.DONE, at, NOW, "b", step=1) for at in (NOW, about))
            with store() as unit:
                with pytest.raises(ValueError):
                    unit.marks.add(number, [good, wrong])
                assert unit.marks.of(number) == []


class TestInbox(EveryStore):
    def test_an_update_is_taken_once(self, store: Store) -> None:
        """Taking the same updates again stores nothing, counts nothing and changes nothing."""
        with store() as unit:
            assert unit.inbox.take([an_update(5), an_update(6), an_update(5)]) == 2
            changed = an_update(5, payload={"text": "late"})
            assert unit.inbox.take([changed, an_update(5, source="terminal")]) == 1
            assert unit.inbox.take([]) == 0
            kept = [(row.source, row.update, row.payload["text"]) for row in unit.inbox.new(NOW)]
        assert kept == [("telegram", 5, "done"), ("telegram", 6, "done"), ("terminal", 5, "done")]

    def test_new_updates_come_oldest_first_when_their_time_has_come(self, store: Store) -> None:
        """Handled ones, and those held back, are left out; the limit cuts the youngest off."""
        with store() as unit:
            unit.inbox.take([an_update(1), an_update(2, received=NOW - HOUR), an_update(3)])
            second, first, third = unit.inbox.new(NOW)
            assert [second.update, first.update, third.update] == [2, 1, 3]
            unit.inbox.save(replace(first, state=ReceivedState.DONE))
            held = replace(second, attempts=2, not_before=NOW + MINUTE, error="not yet")
            unit.inbox.save(held)
            assert unit.inbox.new(NOW) == [third]
            assert unit.inbox.new(NOW + MINUTE) == [held, third]
            assert unit.inbox.new(NOW + MINUTE, limit=1) == [held]

    def test_the_offset_is_the_highest_number_ever_stored(self, store: Store) -> None:
        """By source, whatever became of the update; None for a source never heard."""
        with store() as unit:
            unit.inbox.take([an_update(8), an_update(7), an_update(99, source="terminal")])
            unit.inbox.save(replace(unit.inbox.new(NOW)[0], state=ReceivedState.DEAD))
            assert unit.inbox.offset("telegram") == 8
            assert unit.inbox.offset("terminal") == 99
            assert unit.inbox.offset("letter") is None

    def test_what_cannot_be_stored_is_refused(self, store: Store) -> None:
        """An unknown update raises LookupError; naive times raise ValueError."""
        with pytest.raises(LookupError), store() as unit:
            unit.inbox.save(an_update(1, id=12))
        with pytest.raises(ValueError), store() as unit:
            unit.inbox.take([an_update(1, received=NAIVE)])
        with pytest.raises(ValueError), store() as unit:
            unit.inbox.new(NAIVE)
