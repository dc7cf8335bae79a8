"""What every store owes plans: revisions, the timetable in force, and timetables whole."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.changes import Change, ChangeKind
from scheduler.domain.timetable import Slot, Timetable, Touch, in_order
from scheduler.ports import Stale, Store
from scheduler.records import PlanStatus
from tests.stores import HOUR, KINDS, NOW, EveryStore, a_chat, a_plan, a_plan_row, a_timetable, open_kind

LATE_NIGHT = Change(ChangeKind.BED, "Noël", NOW + 10 * HOUR, NOW + 11 * HOUR)
ONE_MORE = Change(ChangeKind.GEAR, gear="burner")
NAIVE = NOW.replace(tzinfo=None)


class TestPlans(EveryStore):
    def test_a_plan_without_a_timetable_has_none(self, store: Store) -> None:
        """add gives the row an id and get returns it whole, with timetable None."""
        chat = a_chat(store)
        with store() as unit:
            added = unit.plans.add(a_plan_row(chat))
            assert added == a_plan_row(chat, id=added.id)
            assert unit.plans.get(added.id or 0) == added
            assert unit.plans.get(99) is None

    def test_each_save_is_a_new_revision(self, store: Store) -> None:
        """save stores status, serving hour and timetable as the next revision, and get returns those."""
        chat = a_chat(store)
        plan = a_plan(store, chat, status=PlanStatus.DRAFT)
        for revision in range(3):
            table = a_timetable(NOW + revision * HOUR, proven=revision == 1)
            with store() as unit:
                row = unit.plans.get(plan)
                assert row is not None
                row.status, row.serve, row.timetable = PlanStatus.PAUSED, table.serve, table
                saved = unit.plans.save(row, based_on=revision)
                assert saved == replace(row, revision=revision + 1)
                unit.commit()
            with store() as unit:
                assert unit.plans.get(plan) == saved

    def test_changes_of_the_kitchen_are_kept_with_the_revision(self, store: Store) -> None:
        """save stores what was changed, in order, whole; another save replaces all of it."""
        plan = a_plan(store, a_chat(store), changes=(LATE_NIGHT,))
        with store() as unit:
            row = unit.plans.get(plan)
            assert row is not None and row.changes == (LATE_NIGHT,)
            for revision, changes in enumerate([(LATE_NIGHT, ONE_MORE, ONE_MORE), ()]):
                saved = unit.plans.save(replace(row, changes=changes), based_on=revision)
                assert saved.changes == changes and unit.plans.get(plan) == saved
            assert [other.changes for other in unit.plans.of_chat(row.chat)] == [()]

    def test_a_revision_saved_without_a_timetable_has_none(self, store: Store) -> None:
        """The timetable in force is the one of the latest revision, also when that is none."""
        plan = a_plan(store, a_chat(store), timetable=a_timetable())
        with store() as unit:
            row = unit.plans.get(plan)
            assert row is not None and row.timetable == a_timetable()
            unit.plans.save(replace(row, timetable=None), based_on=0)
            again = unit.plans.get(plan)
            assert again is not None and again.timetable is None

    def test_work_based_on_an_old_revision_is_stale(self, store: Store) -> None:
        """save with another revision than the stored one raises Stale and changes nothing."""
        plan = a_plan(store, a_chat(store))
        with store() as unit:
            row = unit.plans.get(plan)
            assert row is not None
            current = unit.plans.save(replace(row, timetable=a_timetable()), based_on=0)
            for wrong in (0, 2):
                with pytest.raises(Stale):
                    unit.plans.save(replace(row, status=PlanStatus.STOPPED), based_on=wrong)
            assert unit.plans.get(plan) == current

    def test_plans_are_listed_by_chat_and_by_status(self, store: Store) -> None:
        """of_chat lists a chat's plans newest first, of the statuses named; served_before those under way."""
        ours, theirs = a_chat(store, "telegram:1"), a_chat(store, "telegram:2")
        old = a_plan(store, ours, created=NOW - HOUR, timetable=a_timetable())
        new = a_plan(store, ours, created=NOW + HOUR, status=PlanStatus.PAUSED)
        middle = a_plan(store, ours)
        other = a_plan(store, theirs)
        with store() as unit:
            assert [row.id for row in unit.plans.of_chat(ours)] == [new, middle, old]
            assert [row.id for row in unit.plans.of_chat(ours, PlanStatus.ACTIVE)] == [middle, old]
            assert unit.plans.of_chat(ours, PlanStatus.STOPPED, PlanStatus.DRAFT) == []
            assert unit.plans.of_chat(99) == []
            over = unit.plans.get(old)
            assert over is not None
            later = over.serve + HOUR
            assert [row.id for row in unit.plans.served_before(later)] == [old, middle, other]
            assert unit.plans.served_before(later)[0].timetable == a_timetable()
            assert unit.plans.served_before(over.serve) == []

    def test_what_cannot_be_stored_is_refused(self, store: Store) -> None:
        """A plan of no chat, one stored already, naive times, a step with two slots: all of it or nothing."""
        chat, table = a_chat(store), a_timetable()
        naive = replace(table, serve=NAIVE)
        doubled = replace(table, slots=(*table.slots, table.slots[0]))
        for wrong in (
            a_plan_row(77),
            a_plan_row(chat, id=1),
            a_plan_row(chat, created=NAIVE),
            a_plan_row(chat, timetable=naive),
            a_plan_row(chat, timetable=doubled),
        ):
            with store() as unit:
                with pytest.raises(ValueError):
                    unit.plans.add(wrong)
                unit.commit()
        with store() as unit:
            assert unit.plans.of_chat(chat) == []
            with pytest.raises(LookupError):
                unit.plans.save(a_plan_row(chat, id=1), based_on=0)

    def test_a_save_that_is_refused_leaves_the_plan_as_it_was(self, store: Store) -> None:
        """A timetable that cannot be stored raises ValueError, and the revision in force stays."""
        plan, table = a_plan(store, a_chat(store)), a_timetable()
        doubled = replace(table, touches=(*table.touches, table.touches[0]))
        with store() as unit:
            before = unit.plans.get(plan)
            assert before is not None
            with pytest.raises(ValueError):
                unit.plans.save(replace(before, status=PlanStatus.PAUSED, timetable=doubled), based_on=0)
            unit.commit()
        with store() as unit:
            assert unit.plans.get(plan) == before


CENTURY = timedelta(days=36525)
instants = st.datetimes(NAIVE - CENTURY, NAIVE + CENTURY, timezones=st.just(UTC))
names = st.none() | st.text(st.characters(codec="utf-8"), max_size=8)


@st.composite
def timetables(draw: st.DrawFn) -> Timetable:
    steps = draw(st.lists(st.integers(0, 499), unique=True, max_size=6))
    times = st.tuples(instants, instants, instants, instants, instants)
    slots = [Slot(step, *draw(times), draw(names)) for step in steps]
    keys = draw(st.lists(st.tuples(st.integers(0, 499), st.integers(1, 99)), unique=True, max_size=6))
    touches = [Touch(*key, draw(instants), draw(instants), draw(names)) for key in keys]
    return Timetable(draw(instants), in_order(slots), tuple(touches), draw(st.booleans()))


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=12, deadline=None)
@given(table=timetables())
def test_any_timetable_comes_back_as_it_was(
    kind: str, tmp_path_factory: pytest.TempPathFactory, table: Timetable
) -> None:
    """Slots in order of start, touches, serving hour and `proven` survive, to the microsecond."""
    store = open_kind(kind, tmp_path_factory.mktemp("store"))
    plan = a_plan(store, a_chat(store), timetable=table)
    with store() as unit:
        row = unit.plans.get(plan)
        assert row is not None and row.timetable == table
    store.close()
