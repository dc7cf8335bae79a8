"""What every store owes its outbox: letters put once, claimed by one, and what was sent remembered."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from scheduler.domain.stages import About, Stage
from scheduler.ports import Store
from scheduler.records import Button, Kind, Letter, LetterState
from tests.stores import DONE, HOUR, MINUTE, NOW, EveryStore, a_chat, a_letter, a_plan, keys, put, send

NAIVE = NOW.replace(tzinfo=None)


def due(store: Store, at: datetime = NOW) -> list[Letter]:
    with store() as unit:
        return unit.outbox.due(at)


def claim(store: Store, letter: int, token: str = "one", at: datetime = NOW) -> Letter | None:
    with store() as unit:
        taken = unit.outbox.claim(letter, token, at, MINUTE)
        unit.commit()
    return taken


def finish(store: Store, letter: Letter | None, **outcome: object) -> bool:
    assert letter is not None
    for name, value in outcome.items():
        setattr(letter, name, value)
    with store() as unit:
        stored = unit.outbox.finish(letter)
        unit.commit()
    return stored


class TestPut(EveryStore):
    def test_a_letter_comes_back_whole(self, store: Store) -> None:
        """Every field survives: words, buttons, facts, the bytes of a file, times to the microsecond."""
        chat = a_chat(store)
        plan = a_plan(store, chat)
        whole = Letter(
            chat=chat,
            kind=Kind.FILE,
            due=NOW + timedelta(microseconds=1),
            key=f"{plan}/picture",
            stage=Stage.HEADS_UP,
            about=About.TEND,
            subject=NOW + HOUR,
            expires=NOW + 2 * HOUR,
            plan=plan,
            step=4,
            occurrence=2,
            revision=3,
            text="Vent the lid\nüber Nacht · 夜",
            buttons=(Button("Done", "done:4"), Button("Später", "ü" * 32)),
            facts={"amounts": [["salt", "22.5 g"]], "left": None, "sure": True},
            file=bytes(range(256)),
            file_name="timetable.png",
            priority=2,
            not_before=NOW + MINUTE,
            attempts=1,
            error="the network was down",
        )
        put(store, whole)
        with store() as unit:
            assert unit.outbox.pending(plan) == [replace(whole, id=1)]

    def test_a_key_is_stored_once_for_each_chat(self, store: Store) -> None:
        """Putting a key again changes the one letter that waits; another chat has keys of its own."""
        ours, theirs = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        put(store, a_letter(ours, "k", text="first"), a_letter(ours, "k", text="twin"))
        put(store, a_letter(ours, "k", text="second"), a_letter(theirs, "k", text="theirs"))
        assert [letter.text for letter in due(store)] == ["second", "theirs"]

    def test_a_waiting_letter_becomes_the_new_one_and_waits_as_it_had_to(self, store: Store) -> None:
        """A new due time takes the place of the old; what a transport asked to wait for still holds."""
        chat = a_chat(store)
        put(store, a_letter(chat, "k"))
        waits = NOW + 5 * HOUR
        assert finish(store, claim(store, 1), state=LetterState.PENDING, not_before=waits)
        put(store, a_letter(chat, "k", NOW + HOUR))
        with store() as unit:
            assert unit.outbox.due(NOW + 2 * HOUR) == []
            (letter,) = unit.outbox.due(waits)
        assert (letter.due, letter.not_before, letter.attempts) == (NOW + HOUR, waits, 1)

    def test_a_sent_letter_is_never_owed_again(self, store: Store) -> None:
        """Putting the key of a letter that went out, or died, does not bring it back."""
        chat = a_chat(store)
        put(store, a_letter(chat, "sent"), a_letter(chat, "dead"))
        send(store, 1)
        assert finish(store, claim(store, 2), state=LetterState.DEAD, error="refused")
        put(store, a_letter(chat, "sent"), a_letter(chat, "dead"))
        assert due(store) == []

    def test_an_obsolete_letter_is_revived_as_the_new_one(self, store: Store) -> None:
        """It becomes the letter put, pending, under the id it had."""
        chat = a_chat(store)
        plan = a_plan(store, chat)
        put(store, a_letter(chat, "k", plan=plan, facts={"old": 1}))
        with store() as unit:
            assert unit.outbox.obsolete(plan) == 1
            new = a_letter(chat, "k", NOW + HOUR, plan=plan, revision=2, facts={"new": 2})
            unit.outbox.put([replace(new, state=LetterState.OBSOLETE)])
            assert unit.outbox.pending(plan) == [replace(new, id=1)]

    def test_what_cannot_be_stored_is_refused_whole(self, store: Store) -> None:
        """Naive times, long button data, an unknown chat or plan: ValueError, and none of the put is kept."""
        chat, fits = a_chat(store), Button("Done", "d" * 64)
        for wrong in (
            a_letter(chat, "x", NAIVE),
            a_letter(chat, "x", buttons=(fits, Button("Done", "ü" * 33))),
            a_letter(chat, "x", facts={"at": NOW}),
            a_letter(chat, "x", state=LetterState.SENDING),
            a_letter(77, "x"),
            a_letter(chat, "x", plan=77),
        ):
            with store() as unit:
                with pytest.raises(ValueError):
                    unit.outbox.put([a_letter(chat, "fine", buttons=(fits,)), wrong])
                unit.commit()
        assert due(store) == []


class TestObsolete(EveryStore):
    def test_only_unclaimed_nudges_of_the_plan_are_given_up(self, store: Store) -> None:
        """Answers, letters of other plans, those being sent, uncertain or sent, and those kept stay."""
        chat = a_chat(store)
        plan, other = a_plan(store, chat), a_plan(store, chat)
        put(store, *(a_letter(chat, name, plan=plan) for name in ("sending", "uncertain", "sent")))
        claim(store, 1)
        finish(store, claim(store, 2), state=LetterState.UNCERTAIN)
        send(store, 3)
        put(
            store,
            *(a_letter(chat, name, plan=plan) for name in ("kept", "given up", "given up too")),
            a_letter(chat, "answer", plan=plan, kind=Kind.ANSWER),
            a_letter(chat, "other", plan=other),
            a_letter(chat, "no plan"),
        )
        with store() as unit:
            assert unit.outbox.obsolete(plan, keep=["kept", "unheard of"]) == 2
            assert keys(unit.outbox.pending(plan)) == ["kept", "answer"]
            assert unit.outbox.obsolete(plan, keep=["kept"]) == 0
            unit.commit()
        assert keys(due(store)) == ["uncertain", "kept", "answer", "other", "no plan"]

    def test_a_nudge_to_be_tried_again_can_be_given_up(self, store: Store) -> None:
        """One that came back undelivered is unclaimed, and goes with the rest."""
        chat = a_chat(store)
        plan = a_plan(store, chat)
        put(store, a_letter(chat, "k", plan=plan))
        finish(store, claim(store, 1), state=LetterState.PENDING, not_before=NOW + HOUR)
        with store() as unit:
            assert unit.outbox.obsolete(plan) == 1

    def test_pending_letters_come_by_due_time(self, store: Store) -> None:
        """pending lists a plan's unclaimed letters of every kind, by due time, then id."""
        chat = a_chat(store)
        plan = a_plan(store, chat)
        times = {"late": HOUR, "early": -HOUR, "now": 0 * HOUR, "now too": 0 * HOUR}
        put(store, *(a_letter(chat, key, NOW + by, plan=plan) for key, by in times.items()))
        with store() as unit:
            assert keys(unit.outbox.pending(plan)) == ["early", "now", "now too", "late"]
            assert unit.outbox.pending(99) == []


class TestDue(EveryStore):
    def test_the_most_urgent_comes_first(self, store: Store) -> None:
        """By priority, then due, then id; nothing before its time."""
        chat = a_chat(store)
        put(
            store,
            a_letter(chat, "calm", NOW - HOUR, priority=9),
            a_letter(chat, "second", NOW, priority=1),
            a_letter(chat, "third", NOW, priority=1),
            a_letter(chat, "first", NOW - MINUTE, priority=1),
            a_letter(chat, "future", NOW + timedelta(microseconds=1), priority=0),
        )
        assert keys(due(store)) == ["first", "second", "third", "calm"]

    def test_a_letter_held_back_waits_for_its_time(self, store: Store) -> None:
        """not_before holds a due letter back to the moment, pending or uncertain."""
        chat = a_chat(store)
        put(store, a_letter(chat, "held", not_before=NOW + MINUTE), a_letter(chat, "again"))
        finish(store, claim(store, 2), state=LetterState.UNCERTAIN, not_before=NOW + MINUTE)
        assert due(store, NOW + MINUTE - timedelta(microseconds=1)) == []
        states = [letter.state for letter in due(store, NOW + MINUTE)]
        assert states == [LetterState.PENDING, LetterState.UNCERTAIN]

    def test_a_lease_that_ran_out_leaves_the_letter_uncertain(self, store: Store) -> None:
        """While the lease lasts nobody is offered it; at its end it is offered as uncertain."""
        put(store, a_letter(a_chat(store), "k"))
        claim(store, 1)
        assert due(store, NOW + MINUTE - timedelta(microseconds=1)) == []
        offered = due(store, NOW + MINUTE)
        assert [(letter.state, letter.attempts) for letter in offered] == [(LetterState.UNCERTAIN, 1)]
        assert offered[0].claim is None and offered[0].lease is None

    def test_the_next_moment_is_told(self, store: Store) -> None:
        """next_due is the earliest due time, not_before or end of a lease that is still to come."""
        chat = a_chat(store)

        def next_due(after: datetime) -> datetime | None:
            with store() as unit:
                return unit.outbox.next_due(after)

        assert next_due(NOW) is None
        put(
            store,
            a_letter(chat, "claimed"),
            a_letter(chat, "held", NOW, not_before=NOW + 2 * HOUR),
            a_letter(chat, "not held", NOW + 3 * HOUR, not_before=NOW),
            a_letter(chat, "sent", NOW + 4 * HOUR),
        )
        send(store, 4)
        claim(store, 1)
        moments = [NOW - HOUR, NOW, NOW + MINUTE, NOW + 2 * HOUR, NOW + 3 * HOUR]
        expected = [NOW + MINUTE, NOW + MINUTE, NOW + 2 * HOUR, NOW + 3 * HOUR, None]
        assert [next_due(moment) for moment in moments] == expected


class TestClaims(EveryStore):
    def test_a_letter_is_claimed_by_one(self, store: Store) -> None:
        """The first claim gets it, `sending` with one attempt more; a second gets None."""
        put(store, a_letter(a_chat(store), "k"))
        taken = claim(store, 1, "one")
        assert taken is not None
        assert (taken.state, taken.attempts, taken.claim) == (LetterState.SENDING, 1, "one")
        assert taken.lease == NOW + MINUTE
        assert claim(store, 1, "two", NOW + MINUTE - timedelta(microseconds=1)) is None

    def test_a_claim_can_be_taken_over_when_its_lease_is_over(self, store: Store) -> None:
        """The new holder finishes it, the old one no longer can."""
        put(store, a_letter(a_chat(store), "k"))
        old = claim(store, 1, "old")
        new = claim(store, 1, "new", NOW + MINUTE)
        assert new is not None and new.attempts == 2
        assert not finish(store, old, state=LetterState.DEAD)
        assert finish(store, new, state=LetterState.SENT, sent=NOW + MINUTE, receipt="r1")
        with store() as unit:
            found = unit.outbox.by_receipt(1, "r1")
        assert found is not None and found.state is LetterState.SENT

    def test_a_slow_holder_may_still_finish(self, store: Store) -> None:
        """A lease that ran out takes nothing from its holder until somebody else claims."""
        put(store, a_letter(a_chat(store), "k"))
        slow = claim(store, 1)
        assert keys(due(store, NOW + HOUR)) == ["k"]
        assert finish(store, slow, state=LetterState.SENT, sent=NOW + HOUR)
        assert due(store, NOW + HOUR) == []

    def test_what_is_no_longer_owed_is_not_claimed(self, store: Store) -> None:
        """Sent, dead and obsolete letters, and those that never were, give None."""
        chat = a_chat(store)
        plan = a_plan(store, chat)
        put(store, *(a_letter(chat, name, plan=plan) for name in ("sent", "dead", "obsolete")))
        send(store, 1)
        finish(store, claim(store, 2), state=LetterState.DEAD)
        with store() as unit:
            unit.outbox.obsolete(plan)
            unit.commit()
        assert [claim(store, letter) for letter in (1, 2, 3, 4)] == [None] * 4

    def test_finishing_stores_how_it_came_out_and_no_more(self, store: Store) -> None:
        """State, times, receipt, error, words, buttons and attempts are stored; what it is about is not."""
        put(store, a_letter(a_chat(store), "k", facts={"kept": 1}))
        words = {"text": "Salt the turnips", "buttons": (DONE,), "error": "slow", "receipt": "r9"}
        outcome = {"state": LetterState.PENDING, "not_before": NOW + MINUTE, "attempts": 0, **words}
        assert finish(store, claim(store, 1), **outcome, key="other", facts={})
        (found,) = due(store, NOW + MINUTE)
        assert {name: getattr(found, name) for name in outcome} == outcome
        assert (found.key, found.facts) == ("k", {"kept": 1})
        assert found.claim is None and found.lease is None

    def test_a_wrong_or_used_token_stores_nothing(self, store: Store) -> None:
        """finish is False without the claim's token, a second time, and for an unknown letter."""
        put(store, a_letter(a_chat(store), "k"))
        taken = claim(store, 1, "mine")
        assert taken is not None
        sent = replace(taken, state=LetterState.SENT, sent=NOW, receipt="r1")
        for wrong in ({"claim": "theirs"}, {"claim": None}, {"id": 99}, {"id": None}):
            assert not finish(store, replace(sent, **wrong))
        with store() as unit:
            assert unit.outbox.by_receipt(1, "r1") is None
        assert finish(store, sent)
        assert not finish(store, replace(sent, state=LetterState.PENDING))
        assert due(store) == []

    def test_what_makes_no_sense_is_refused(self, store: Store) -> None:
        """No token, no lease, a naive time, finishing as `sending`: ValueError."""
        put(store, a_letter(a_chat(store), "k"))
        for token, at, lease in (("", NOW, MINUTE), ("one", NOW, 0 * MINUTE), ("one", NAIVE, MINUTE)):
            with pytest.raises(ValueError), store() as unit:
                unit.outbox.claim(1, token, at, lease)
        with pytest.raises(ValueError):
            finish(store, claim(store, 1), state=LetterState.SENDING)
        for ask in ("due", "next_due", "sent_since"):
            with pytest.raises(ValueError), store() as unit:
                getattr(unit.outbox, ask)(NAIVE)
        with pytest.raises(ValueError), store() as unit:
            unit.outbox.history(1, NAIVE)
