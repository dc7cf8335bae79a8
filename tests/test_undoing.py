"""Serving hours tried and moved, and what can be taken back."""

from __future__ import annotations

from scheduler.domain.marks import MarkKind
from scheduler.planners import Here
from scheduler.service.acting import Said, another_hour
from scheduler.service.answers import HourFits, HourMoved, NoFit, Refused, Undone
from scheduler.service.deeds import Deed, Verb
from scheduler.service.undoing import redo, undo
from tests.acting_kit import SERVE, done, of, said, salted
from tests.talk_kit import on


def test_another_hour_is_only_tried_until_it_is_agreed() -> None:
    """Tried, it names what would move; agreed, it leaves a mark that can be taken back."""
    view = salted()
    deed = Deed(Verb.SERVE, 1, at=on(9, "20:30"))
    tried = another_hour(view, deed, said(view), Here(), agreed=False)
    assert isinstance(tried.answer, HourFits) and tried.view is view and not tried.save
    moved = another_hour(view, deed, said(view), Here(), agreed=True)
    assert isinstance(moved.answer, HourMoved) and moved.view.serve == on(9, "20:30")
    assert [mark.kind for mark in moved.marks] == [MarkKind.MOVED]
    back = undo(moved.view, Said("undo"), Here())
    assert isinstance(back.answer, Undone) and back.view.serve == SERVE
    assert redo(back.view, Said("redo"), Here()).view.serve == on(9, "20:30")


def test_an_hour_in_the_past_is_a_misfit() -> None:
    """Nothing can be on the table yesterday."""
    view = salted()
    result = another_hour(view, Deed(Verb.SERVE, 1, at=on(5, "12:00")), said(view), Here(), agreed=True)
    assert isinstance(result.answer, NoFit) and result.view is view


def test_redo_only_follows_an_undo() -> None:
    """Once something else was said, there is nothing to put in again."""
    view = undo(done(salted(), of(Verb.SKIP, "Whisk the flan")), Said("u"), Here()).view
    assert isinstance(redo(view, Said("r"), Here()).answer, Undone)
    other = done(view, of(Verb.SKIP, "Whisk the flan"))
    assert isinstance(redo(other, Said("r"), Here()).answer, Refused)
