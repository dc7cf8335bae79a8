"""When a step is, and why it is then: every figure from the plan or the timetable."""

from __future__ import annotations

from datetime import datetime, timedelta

from bot.wording.begin import how
from bot.wording.course import course
from bot.wording.facts import Facts
from bot.wording.lines import message, short, some
from bot.wording.running import which_touch
from scheduler import words
from scheduler.domain.plan import MINUTE, Link
from scheduler.domain.presence import Presence, holding
from scheduler.domain.progress import State
from scheduler.domain.timetable import Slot
from scheduler.records import Button
from scheduler.service.answers import Said, WhenIs, WhyIs
from scheduler.service.deeds import Verb

MARGIN = timedelta(days=2)
MOST_REASONS = 3


def when_is(answer: WhenIs) -> Said:
    """When a step, a touch or a whole part of the meal is."""
    facts, target = Facts(answer.view), answer.target
    if target.tend:
        return _when_touched(facts, target.step)
    return _when_whole(facts, target.step) if target.whole else _when_step(facts, target.step)


def _when_step(facts: Facts, number: int) -> Said:
    slot, standing = facts.slot(number), facts.view.progress.of(number)
    buttons = [facts.why(number, "Why then"), facts.button("What's next", Verb.NEXT)]
    if standing.state is State.DROPPED or slot is None:
        return message(f"{facts.titled(number)}: left out of this meal", buttons=buttons[1:])
    if standing.state is State.DONE:
        ended = facts.when(standing.ended or slot.end)
        return message(f"{facts.titled(number)}: over since {ended}", buttons=buttons[1:])
    if standing.state is State.RUNNING:
        since = facts.when(standing.started or slot.start)
        return message(
            facts.running(number), f"Under way since {since}.", course(facts, number), buttons=buttons
        )
    return message(
        f"{facts.titled(number)}: {facts.at(slot.start)}",
        how(facts, number),
        _window(facts, slot),
        buttons=buttons,
    )


def _window(facts: Facts, slot: Slot) -> str:
    """Between which moments it may begin."""
    first, last = slot.earliest, max(slot.latest, slot.last_call)
    if last - first < MINUTE:
        return "There is no room to move it."
    return f"It may begin {facts.between(first, last)}."


def _when_touched(facts: Facts, number: int) -> Said:
    tend = facts.step(number).tend
    name = short(tend.name if tend else facts.step(number).name)
    left = [
        touch
        for touch in facts.view.timetable.touches
        if touch.step == number and (number, touch.occurrence) not in facts.view.progress.touched
    ]
    if not left:
        return message(f"{name}: no more, it is over", buttons=[facts.button("What's next", Verb.NEXT)])
    first = left[0]
    return message(
        f"{name}: next {facts.at(first.at)}",
        f"{which_touch(facts, number, first.occurrence)}, during {facts.quoted(number)}.",
        *some([f"Then {facts.brief(touch.at)}" for touch in left[1:]], 4),
        buttons=[facts.button("What's next", Verb.NEXT)],
    )


def _when_whole(facts: Facts, number: int) -> Said:
    """A part of the meal: its steps that are not over, with their times."""
    numbers = [step.number for step in facts.plan.steps if step.component == facts.step(number).component]
    left = [slot for slot in map(facts.slot, numbers) if slot and facts.state(slot.step) is not State.DONE]
    lines = [_of_whole(facts, slot) for slot in left]
    heading = f"{facts.component(number)}: {'what is left of it' if left else 'nothing is left to do'}"
    buttons = [facts.why(left[0].step, "Why then")] if left else []
    return message(heading, *some(lines, 8), buttons=[*buttons, facts.button("What's next", Verb.NEXT)])


def _of_whole(facts: Facts, slot: Slot) -> str:
    if facts.state(slot.step) is State.RUNNING:
        return f"Running: {short(facts.step(slot.step).name, 40)}, until {facts.brief(slot.end)}"
    return f"{facts.brief(slot.start)} {short(facts.step(slot.step).name, 40)}"


# ---------------------------------------------------------------- why


def why_is(answer: WhyIs) -> Said:
    """The chain of reasons from a step to the table."""
    facts, number = Facts(answer.view), answer.target.step
    slot = facts.slot(number)
    if slot is None or facts.state(number) in (State.DONE, State.DROPPED):
        return _when_step(facts, number)
    return message(
        f"{facts.titled(number)}, {_since(facts, slot)}, because:",
        _before(facts, number),
        *_reasons(facts, slot),
        _latest(facts, slot),
        _hours(facts, slot),
        buttons=_why_buttons(facts, number),
    )


def _since(facts: Facts, slot: Slot) -> str:
    running = facts.state(slot.step) is State.RUNNING
    return f"since {facts.brief(slot.start)}" if running else facts.at(slot.start)


def _before(facts: Facts, number: int) -> str:
    """What has to be over before it can begin: the last of that to end."""
    found = [
        before
        for link in facts.links
        if link.after == number and (before := facts.slot(link.before)) is not None
    ]
    if not found:
        return ""
    last = max(found, key=lambda before: (before.end, before.step))
    over = "has been over since" if facts.state(last.step) is State.DONE else "ends"
    return f"- It comes after {facts.quoted(last.step, number)}, which {over} {facts.brief(last.end)}."


def _why_buttons(facts: Facts, number: int) -> list[Button]:
    return [facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)]


def _reasons(facts: Facts, slot: Slot) -> list[str]:
    """What the step feeds and when that must begin, link by link, until the table is reached."""
    lines: list[str] = []
    here: Slot | None = slot
    while here is not None and len(lines) < MOST_REASONS:
        link, after = _binding(facts, here)
        lines.append(_reason(facts, here, link, after, slot.step))
        here = after
    if here is not None:
        lines.append(f"- and so on, to the table {facts.at(facts.view.serve)}.")
    return lines


def _binding(facts: Facts, slot: Slot) -> tuple[Link | None, Slot | None]:
    """The link out of a step that leaves it the least time, and the step it leads to (None: the table)."""
    found: list[tuple[datetime, int, Link, Slot | None]] = []
    for link in facts.links:
        after = None if link.after is None else facts.slot(link.after)
        if link.before == slot.step and (link.after is None or after is not None):
            begins = facts.view.serve if after is None else after.start
            found.append((begins - link.shortest, link.after or 0, link, after))
    if not found:
        return None, None
    _, _, link, after = min(found, key=lambda each: each[:2])
    return link, after


def _reason(facts: Facts, slot: Slot, link: Link | None, after: Slot | None, beside: int) -> str:
    """ "- “Bake the loaf” takes 50 min, until 11:50; “Cool the loaf” follows at once."."""
    lasts = f"takes {_lasts(facts, slot)}, until {facts.brief(slot.end)}"
    ran = f"- {facts.quoted(slot.step, beside)} {lasts}"
    if link is None:
        return f"{ran}."
    keeps = f", and may wait {words.length(link.longest)}" if link.longest else ""
    if after is None:
        return f"{ran}{keeps}, for the table {facts.at(facts.view.serve)}."
    name = facts.quoted(after.step, beside)
    if link.tied:
        return f"{ran}; {name} follows at once."
    least = f", at least {words.length(link.shortest)} later" if link.shortest else ""
    return f"{ran}{keeps}; {name} begins {facts.brief(after.start)}{least}."


def _lasts(facts: Facts, slot: Slot) -> str:
    """ "17 h (12 h to 18 h)": what it is given, and what it may take where that is a choice."""
    lasting, given = facts.step(slot.step).range, words.length(slot.end - slot.start)
    choice = lasting.longest != lasting.shortest and slot.end - slot.start != lasting.shortest
    return f"{given} ({words.span(lasting)})" if choice else given


def _latest(facts: Facts, slot: Slot) -> str:
    """How late it could begin, if that is later than planned."""
    if facts.state(slot.step) is not State.WAITING:
        return ""
    if slot.last_call - slot.start < MINUTE:
        return "Begun later, the plan has to change."
    return f"Begun after {facts.when(slot.last_call)}, the plan has to change."


def _hours(facts: Facts, slot: Slot) -> str:
    """The end of the cooks' day, where that is what the last call is about."""
    if facts.state(slot.step) is not State.WAITING:
        return ""
    step, last = facts.step(slot.step), max(slot.last_call, slot.start)
    home = Presence(facts.plan, last - MARGIN, last + MARGIN).someone(step)
    stretch = holding(home, last)
    over = last + (slot.end - slot.start if facts.is_hands_on(slot.step) else step.grain)
    if stretch is None or stretch[1] > over + step.grain:
        return ""
    who = step.cook or (facts.plan.kitchen.cooks[0].name if len(facts.plan.kitchen.cooks) == 1 else "nobody")
    there = (
        f"{short(who, 20)} is up and at home only" if who != "nobody" else "Someone is up and at home only"
    )
    return f"{there} until {facts.when(stretch[1])}."
