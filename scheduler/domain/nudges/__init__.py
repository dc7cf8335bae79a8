"""Which messages are owed to the cook, and when.

Everything is worked out afresh from the plan, the timetable and what was said, and nothing depends on how
much time has passed, so the same moment of the same timetable always gives the same nudges. What was
done, dropped or moved since is simply no longer among them.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from scheduler.domain.nudges.begin import beginnings, evenings, shopping, warnings
from scheduler.domain.nudges.clocks import food_out
from scheduler.domain.nudges.day import cards
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.nudges.running import endings, looks
from scheduler.domain.nudges.touches import touches
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Timetable

__all__ = ["Nudge", "Policy", "owed"]

HELD_BACK = (About.START, About.EARLY, About.TEND)
"""What is not said of a step while one that it follows should have been begun and was not."""


def owed(
    plan: Plan, timetable: Timetable, progress: Progress, policy: Policy, now: datetime
) -> tuple[Nudge, ...]:
    """The nudges owed from `now` on, by due time, overdue ones that still have their use included.

    All instants are aware UTC ones on whole minutes. The nudges of the whole timetable ahead are given;
    those about ending and looking only of steps that are under way. Those about food out of temperature control are
    held back by nothing, not even the end of the meal.
    """
    outlook = Outlook(plan, timetable, progress, policy, now)
    said = [*beginnings(outlook), *endings(outlook), *looks(outlook), *touches(outlook), *shopping(outlook)]
    kept = [nudge for nudge in said if _still_owed(outlook, nudge)]
    day_cards = {card.key: card for card in cards(outlook, _events(said))}
    live = {card.key for card in cards(outlook, _events(kept))}
    spoken = [*outlook.planned_moments, *(card.due for card in day_cards.values())]
    ahead = [*evenings(outlook), *warnings(outlook, spoken)]
    kept += [nudge for nudge in ahead if _still_owed(outlook, nudge)]
    kept += [card for key, card in day_cards.items() if key in live]
    kept += food_out(outlook)
    return tuple(sorted((nudge for nudge in kept if nudge.expires > now), key=_order))


def _still_owed(outlook: Outlook, nudge: Nudge) -> bool:
    """Not held up by a step that was never begun, and not after the meal, the table's own apart."""
    if nudge.about in HELD_BACK and nudge.step in outlook.held_up:
        return False
    late = nudge.due - outlook.timetable.serve
    if late.total_seconds() <= 0:
        return True
    return nudge.step in outlook.at_the_table and late <= outlook.policy.after_table


def _events(nudges: Sequence[Nudge]) -> list[tuple[datetime, bool]]:
    """The moments a day's card counts (starts, touches, looks and shopping), and whether one is worth a card.

    A day with nothing but touches has none: each touch says all there is to say.
    """
    return [
        (nudge.due, nudge.about is not About.TEND)
        for nudge in nudges
        if nudge.about in (About.START, About.TEND, About.LOOK, About.BUY)
        and (nudge.stage in (Stage.NOW, Stage.HEADS_UP) or nudge.about is About.LOOK)
    ]


def _order(nudge: Nudge) -> tuple[datetime, bool, str]:
    return nudge.due, nudge.stage is not Stage.HEADS_UP, nudge.key
