"""What binds the steps that are left to one another, and which of them cannot keep to marks of the clock."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, NO_TIME, Link, Plan, Step


def live_links(plan: Plan, dropped: frozenset[int]) -> tuple[Link, ...]:
    """The links between the steps still part of the meal.

    Where a step is left out its component closes up: what it came after is followed by the next step of its
    component, and what came after it follows the step before it. What is then last in its component and has
    nothing after it goes to the table.
    """
    if not dropped:
        return plan.links
    found = {(link.before, link.after): link for link in plan.links if _whole(link, dropped)}
    for link in plan.links:
        if link.after is not None and not _whole(link, dropped):
            before, after = _kept_before(plan, link.before, dropped), _kept_after(plan, link.after, dropped)
            if before is not None and after is not None:
                found.setdefault((before.number, after.number), _closed_up(before, after))
    return (*found.values(), *_to_the_table(plan, dropped, {link.before for link in found.values()}))


def _whole(link: Link, dropped: frozenset[int]) -> bool:
    return link.before not in dropped and link.after not in dropped


def _kept_before(plan: Plan, number: int, dropped: frozenset[int]) -> Step | None:
    """The step itself, or else the nearest one before it in its component that is left."""
    steps = _component(plan, number)
    return next(
        (step for step in reversed(steps) if step.number <= number and step.number not in dropped), None
    )


def _kept_after(plan: Plan, number: int, dropped: frozenset[int]) -> Step | None:
    steps = _component(plan, number)
    return next((step for step in steps if step.number >= number and step.number not in dropped), None)


def _component(plan: Plan, number: int) -> tuple[Step, ...]:
    parts = (component.steps for component in plan.components)
    return next(steps for steps in parts if steps[0].number <= number <= steps[-1].number)


def _closed_up(before: Step, after: Step) -> Link:
    """The link between two steps that were not neighbours; a wait wins over what keeps too briefly for it."""
    if after.wait and before.keeps is not None and before.keeps < after.wait[0]:
        return Link(before.number, after.number, after.wait[0], after.wait[0])
    return Plan.link(before, after)


def _to_the_table(plan: Plan, dropped: frozenset[int], followed: set[int]) -> Iterable[Link]:
    for component in plan.components:
        last = _kept_before(plan, component.steps[-1].number, dropped)
        if last is not None and last.number not in followed:
            yield Link(last.number, None, NO_TIME, last.fresh_for)


def off_mark(plan: Plan, links: Iterable[Link], begun: Collection[int] = ()) -> frozenset[int]:
    """Steps not begun whose start may miss its five-minute mark of the clock.

    Where neither a step's length nor the gap after it leaves room to reach a mark, two steps move as one.
    Then the real end of a step begun carries the next one off the mark; so does a length that is not a
    multiple of five minutes; and a step held from behind (by the serving hour, or by one that others carry
    off) has no mark to choose.
    """
    stiff = [link for link in links if _stiff(plan, link, link.before in begun)]
    missed: set[int] = set()
    while True:
        found = missed | (_held(plan, stiff, missed) - set(begun))
        for number in plan.order:
            if any(_carries_off(plan, link, begun, found) for link in stiff if link.after == number):
                found.add(number)
        found -= set(begun)
        if found == missed:
            return frozenset(missed)
        missed = found


def _stiff(plan: Plan, link: Link, begun: bool) -> bool:
    """Whether a length and the gap after it leave less room than it takes to reach a mark."""
    shortest, longest = plan.steps[link.before].range.planned()
    if link.longest is None or (longest is None and not begun):
        return False
    choice = NO_TIME if begun or longest is None else longest - shortest
    return choice + link.longest - link.shortest < FIVE_MINUTES - MINUTE


def _held(plan: Plan, stiff: list[Link], missed: set[int]) -> set[int]:
    """Steps that cannot choose their start because of what comes after them."""
    into = [link.after for link in stiff]
    held: set[int] = set()
    for number in reversed(plan.order):
        after = [link.after for link in stiff if link.before == number]
        if any(a is None or a in held or (a in missed and into.count(a) > 1) for a in after):
            held.add(number)
    return held


def _carries_off(plan: Plan, link: Link, begun: Collection[int], missed: set[int]) -> bool:
    if link.before in begun or link.before in missed:
        return True
    length = plan.steps[link.before].range.planned()[0] + link.shortest
    return length % FIVE_MINUTES != NO_TIME
