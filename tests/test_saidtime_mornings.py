"""Times said about mornings: an alarm earlier than usual, a meal that is a breakfast."""

from __future__ import annotations

from sample_plan import build
from test_saidtime import LONDON, THURSDAY, at, said

from bot.understanding import instants
from scheduler.changes import Change, ChangeKind, changed


def test_an_earlier_alarm_counts_as_waking() -> None:
    """A plan that somebody gets up early for: until then it is quiet, and no longer."""
    alarm = Change(
        ChangeKind.ALARM,
        build().kitchen.cooks[0].name,
        at(LONDON, 2027, 3, 12, 5, 45),
        at(LONDON, 2027, 3, 12, 6, 30),
    )
    plan, evening = changed(build(), [alarm]), at(LONDON, *THURSDAY, 22, 0)
    assert instants.next_waking(plan, evening, LONDON) == alarm.start
    assert instants.future(said("at 5:50"), evening, plan, LONDON) == at(LONDON, 2027, 3, 12, 5, 50)


def test_a_breakfast_stays_in_the_morning() -> None:
    """Another hour of a meal planned for the morning is the one nearest to it."""
    now, serve = at(LONDON, *THURSDAY, 22, 0), at(LONDON, 2027, 3, 12, 8, 0)
    assert instants.serving(said("serve at 9"), serve, now, LONDON) == at(LONDON, 2027, 3, 12, 9, 0)
    assert instants.serving(said("dinner at 9"), serve, now, LONDON) == at(LONDON, 2027, 3, 12, 21, 0)
