"""Nudges about steps that are under way: ending them, and looking at those that nature ends."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import takewhile

from scheduler.domain.nudges.hours import next_in
from scheduler.domain.nudges.ladder import Matter, ladder, repeats, said_again
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy, clamp
from scheduler.domain.plan import MINUTE, Attention, Range, Step
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.domain.timetable import Slot, next_mark


def endings(outlook: Outlook) -> Iterator[Nudge]:
    """END nudges of running steps that need a hand to end.

    What stands on the fire is to be taken off at its end; work of the hands is asked after once it should
    be over. Neither is said where the next step of the component is asked for at that moment anyway.
    """
    for step, slot in outlook.running:
        hands = step.attention is Attention.HANDS_ON
        pot = step.attention is Attention.NEARBY and not step.range.by_nature
        if (hands or pot) and not outlook.handed_over(step, slot):
            yield from _ending(outlook, step, slot, hands)


def _ending(outlook: Outlook, step: Step, slot: Slot, hands: bool) -> Iterator[Nudge]:
    policy = outlook.policy
    end = next_mark(outlook.progress.of(step.number).expected or slot.end, MINUTE)
    matter = _matter(outlook, step, About.END, first=end, shut=None, useful=end + policy.end_useful)
    pause = policy.still_at_it if hands else policy.take_off
    dues = said_again(matter, (pause, 3 * pause), None, policy.end_repeats)
    if not hands:
        yield matter.nudge(Stage.NOW, end, matter.useful)
    yield from repeats(matter, dues, max([matter.useful, *(due + policy.end_useful for due in dues)]))


def looks(outlook: Outlook) -> Iterator[Nudge]:
    """LOOK nudges of running steps that nature ends, from the shortest time on, or from when the cook said.

    Work of the hands has none: whoever does it is looking.
    """
    for step, slot in outlook.running:
        if step.range.by_nature and step.attention is not Attention.HANDS_ON:
            yield from _looking(outlook, step, slot)


def _looking(outlook: Outlook, step: Step, slot: Slot) -> Iterator[Nudge]:
    standing, policy = outlook.progress.of(step.number), outlook.policy
    started = standing.started or slot.start
    subject = next_mark(standing.expected or started + step.range.shortest, MINUTE)
    longest = step.range.longest
    shut = None if longest is None else next_mark(started + longest, MINUTE)
    gap = look_gap(step, policy)
    useful = max(outlook.timetable.serve, subject + policy.missed_useful)
    matter = _matter(outlook, step, About.LOOK, subject, shut, useful, apart=max(policy.apart, gap / 2))
    span = shut - subject if shut else max(2 * _spread(step.range), 4 * gap)
    offsets = takewhile(lambda offset: offset <= span, (gap * count for count in range(1, MOST_LOOKS)))
    yield from ladder(matter, offsets, policy, most=None)


MOST_LOOKS = 60
"""A ferment looked at once a day for two months has been looked at enough."""


def look_gap(step: Step, policy: Policy) -> timedelta:
    """How far apart the looks at what nature ends come: a quarter of its range, within reason."""
    nearby = step.attention is not Attention.UNATTENDED
    least = policy.look_nearby if nearby else policy.look_unattended
    return clamp(_spread(step.range) / 4, least, policy.look_most)


def _spread(lasting: Range) -> timedelta:
    """How much longer than its shortest a step may take."""
    return (lasting.longest or lasting.usually or lasting.shortest) - lasting.shortest


def _matter(
    outlook: Outlook,
    step: Step,
    about: About,
    first: datetime,
    shut: datetime | None,
    useful: datetime,
    apart: timedelta | None = None,
) -> Matter:
    hours = outlook.hours(step)
    moved = first if hours is None or about is About.END else next_in(hours, first) or first
    return Matter(
        about,
        step.number,
        subject=first,
        first=moved,
        shut=shut,
        useful=max(useful, moved),
        apart=apart or outlook.policy.apart,
        home=hours,
        awake=None if hours is None else outlook.waking.awake(step),
    )
