"""When a step is, and why it is then: every figure from the plan or the timetable."""

from __future__ import annotations

from bot.wording.begin import how
from bot.wording.course import course
from bot.wording.facts import Facts
from bot.wording.ferment import salt_line
from bot.wording.lines import message, short, some
from bot.wording.running import which_touch
from bot.wording.why import Why
from scheduler import words
from scheduler.domain.plan import MINUTE
from scheduler.domain.progress import State
from scheduler.domain.timetable import Slot, Touch
from scheduler.service.answers import Said, WhenIs, WhyIs
from scheduler.service.deeds import Verb


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
            facts.running(number),
            f"Under way since {since}.",
            course(facts, number),
            salt_line(facts, number),
            buttons=buttons,
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
    left = _touches_left(facts, number)
    if not left:
        return message(f"{name}: no more, it is over", buttons=[facts.button("What's next", Verb.NEXT)])
    first = left[0]
    return message(
        f"{name}: next {facts.at(first.at)}",
        f"{which_touch(facts, number, first.occurrence)}, during {facts.quoted(number)}.",
        *some([f"Then {facts.brief(touch.at)}" for touch in left[1:]], 4),
        buttons=[facts.button("What's next", Verb.NEXT)],
    )


def _touches_left(facts: Facts, number: int) -> list[Touch]:
    """The touches of a step that were not done yet, in their order."""
    return [
        touch
        for touch in facts.view.timetable.touches
        if touch.step == number and (number, touch.occurrence) not in facts.view.progress.touched
    ]


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
    """How late and how early it could be, and why; and why it lies where it does."""
    facts, number = Facts(answer.view), answer.target.step
    slot = facts.slot(number)
    if answer.target.tend:
        return _why_touched(facts, number)
    if slot is None or answer.reasons is None:
        return _when_step(facts, number)
    buttons = [facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)]
    if answer.reasons.state is State.RUNNING:
        lines = [course(facts, number), *Why(facts.plan, answer.reasons, facts.now).brief()]
        return message(f"{facts.titled(number)}, since {facts.brief(slot.start)}", *lines, buttons=buttons)
    lines = Why(facts.plan, answer.reasons, slot.start).brief()
    heading = f"{facts.titled(number)}, {facts.at(slot.start)}"
    if not lines:
        return message(heading, how(facts, number), facts.room(number), buttons=buttons)
    return message(f"{heading}, because:", *lines, buttons=buttons)


def _why_touched(facts: Facts, number: int) -> Said:
    """A touch falls due so often from when its step begins, and moves to when somebody can see to it."""
    tend, slot, left = facts.step(number).tend, facts.slot(number), _touches_left(facts, number)
    if tend is None or slot is None or not left:
        return _when_touched(facts, number)
    touch, began = left[0], facts.state(number) is State.RUNNING
    since = f"since {facts.brief(slot.start)}" if began else f"from {facts.brief(slot.start)}"
    moved = touch.at - touch.due >= MINUTE or touch.due - touch.at >= MINUTE
    return message(
        f"{short(tend.name)}, {facts.at(touch.at)}, because:",
        f"It is to be done every {words.length(tend.every)} while {facts.quoted(number)} goes on, {since}.",
        f"Due {facts.brief(touch.due)}: moved to when somebody is up, at home and free." if moved else "",
        f"No better moment is near enough: {touch.trouble}." if touch.trouble else "",
        buttons=[facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)],
    )
