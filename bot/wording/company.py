"""More or fewer at the table: what is left as it is, what the next steps take, and what to look at."""

from __future__ import annotations

from bot.wording.amounts import amounts_listed, fine_scale
from bot.wording.facts import Facts
from bot.wording.lines import message, quoted, short, some
from scheduler import words
from scheduler.domain.plan import Step
from scheduler.domain.progress import State
from scheduler.records import Button, PlanStatus
from scheduler.service.answers import Said, ServesChanged
from scheduler.service.deeds import Verb
from scheduler.service.served import begun_for
from scheduler.service.view import View

LOOK_AT = "No time changes. Look at how thick it lies, the size of the pot and the room in the oven."
MOST_STEPS = 3
UNDER_WAY = {State.DONE: "Done", State.RUNNING: "Begun"}


def serves_changed(answer: ServesChanged) -> Said:
    """The new amounts of what is to come; of what is done or begun only that it was for as many as before."""
    facts, now = Facts(answer.view), answer.view.plan.serves
    coming = _coming(facts)
    steps = [_step(facts, step) for step in coming]
    listed = some(steps, MOST_STEPS, "and {} more steps") if steps else ["No amounts are still to come."]
    little = fine_scale(amount for step in coming for amount in step.amounts)
    of = f"{short(facts.plan.title, 40)}: now" if answer.others else "Now"
    left = words.listed([quoted(title, 40) for title in answer.others[:3]])
    return message(
        f"{of} for {now} instead of {answer.before.plan.serves}",
        f"{left} {'stays as it is' if len(answer.others) == 1 else 'stay as they are'}." if left else "",
        *_begun(facts, answer.before),
        *listed,
        little,
        LOOK_AT if steps else "",
        *_cores(facts),
        buttons=_buttons(facts),
    )


def _begun(facts: Facts, before: View) -> list[str]:
    """ "Done already for 8, and left so: “Salt the turnips”."; of what was begun when still others were to come too."""
    groups: dict[tuple[str, int | None], list[str]] = {}
    for step in facts.plan.steps:
        told = UNDER_WAY.get(facts.state(step.number))
        if told is not None and step.amounts:
            number = begun_for(before, step.number) or before.plan.serves
            groups.setdefault((told, number), []).append(facts.quoted(step.number))
    return [
        f"{told} already for {number}, and left so: {words.listed(some(names, 3, '{} more'))}."
        for (told, number), names in groups.items()
    ]


def _coming(facts: Facts) -> list[Step]:
    """The steps that take amounts and are still to be begun, in order of their start where they have one."""
    left = [step for step in facts.plan.steps if step.amounts and facts.state(step.number) is State.WAITING]
    table = facts.view.row.timetable
    starts = {} if table is None else {slot.step: slot.start for slot in table.slots}
    return sorted(left, key=lambda step: (starts.get(step.number, facts.view.serve), step.number))


def _step(facts: Facts, step: Step) -> str:
    table = facts.view.row.timetable
    slot = None if table is None else table.slot(step.number)
    when = "" if slot is None else f", {facts.brief(slot.start)}"
    return f"{facts.titled(step.number)}{when}: {amounts_listed(step.amounts)}"


def _cores(facts: Facts) -> list[str]:
    """A length that was worked out from a thickness holds for that thickness, however many there are."""
    left = [step for step in facts.plan.steps if step.core is not None]
    waiting = [step for step in left if facts.state(step.number) is State.WAITING]
    return [
        f"{quoted(step.name, 40)} is reckoned for {step.core.thickness_mm:g} mm: thicker takes longer."
        for step in waiting[:1]
        if step.core is not None
    ]


def _buttons(facts: Facts) -> list[Button]:
    if facts.view.row.status is not PlanStatus.DRAFT:
        return [facts.button("What's next", Verb.NEXT), facts.button("Undo", Verb.UNDO)]
    if facts.view.row.timetable is None:
        return []
    return [facts.button("Use this plan", Verb.USE), facts.button("Not this one", Verb.DISCARD)]
