"""The ways out of a plan that does not fit, as a list and as buttons."""

from __future__ import annotations

from bot.wording.days import coming
from bot.wording.facts import Facts
from bot.wording.hours import hour_buttons, moved_lines
from bot.wording.lines import MOST_BUTTONS, button, message, short
from scheduler import words
from scheduler.changes import Change, ChangeKind
from scheduler.domain.plan import Plan
from scheduler.explain import Misfit
from scheduler.records import Button
from scheduler.remedies import Remedy
from scheduler.service import ways
from scheduler.service.answers import ChangeMade, NoFit, Said
from scheduler.service.deeds import Deed, Verb


def listed(answer: NoFit) -> list[str]:
    """ "Any one of these would do:" and every way out not shown before, numbered; nothing where it is one hour."""
    if not several(answer.misfit):
        return []
    if len(answer.misfit.remedies) == 1:
        return [f"What would do: {short(answer.misfit.remedies[0].change, 120)}."]
    lines = [
        f"{number}. {short(remedy.change, 120)}"
        for number, remedy in enumerate(answer.misfit.remedies, start=1)
        if number > answer.shown
    ]
    return ["Any one of these would do:", *lines]


def several(misfit: Misfit) -> bool:
    """Whether there is more to offer than another hour."""
    return len(misfit.remedies) > 1 or any(not remedy.moves_the_hour for remedy in misfit.remedies)


def buttons(answer: NoFit, last: Button) -> list[Button]:
    """One for each way out, as many as there is room for; then one for the others, and `last`."""
    left = answer.misfit.remedies[answer.shown :]
    room = MOST_BUTTONS - 1
    if len(left) <= room:
        return [*(_way(remedy, answer) for remedy in left), last]
    shown = left[: room - 1]
    more = Deed(Verb.WAYS, answer.plan_id, minutes=answer.shown + len(shown))
    return [*(_way(remedy, answer) for remedy in shown), button("More ways", more), last]


def _way(remedy: Remedy, answer: NoFit) -> Button:
    if remedy.what is None or remedy.moves_the_hour:
        alone = Misfit(answer.misfit.serve, (), (), (remedy,))
        return hour_buttons(alone, answer.plan_id, answer.plan.zone)[0]
    deed = ways.deed_of(remedy, answer.plan, answer.plan_id, answer.revision)
    return button(label(remedy.what, answer.plan), deed)


def label(change: Change, plan: Plan) -> str:
    """What a change's button says: "Bed 45 min later", "Help Sat 18:00-19:00"."""
    match change.kind:
        case ChangeKind.GEAR:
            return f"One more {change.gear}"
        case ChangeKind.SKIP:
            return f"Leave out {plan.steps[change.step or 0].name}"
        case ChangeKind.LEAVE_OUT:
            return f"Leave out {plan.steps[change.step or 0].component}"
    if change.start is None or change.end is None:
        raise ValueError(f"no stretch: {change}")
    by = words.length(change.end - change.start)
    if change.kind is ChangeKind.BED:
        return f"Bed {by} later"
    if change.kind is ChangeKind.ALARM:
        return f"Up {by} earlier"
    first, last = words.clock(change.start, plan.zone), words.clock(change.end, plan.zone)
    day = words.day(change.start, plan.zone).split()[0]
    return f"{'Help' if change.kind is ChangeKind.HELPER else 'Home'} {day} {first}-{last}"


def change_made(answer: ChangeMade) -> Said:
    """What the plan counts on now, what moves for it, and what comes next."""
    facts = Facts(answer.view)
    return message(
        f"Good: {facts.when(answer.view.serve)} holds again",
        f"I count on {answer.what}.",
        *moved_lines(facts, answer.moved),
        coming(facts),
        buttons=[
            facts.button("What's next", Verb.NEXT),
            facts.button("The whole plan", Verb.PLAN),
            facts.button("Undo", Verb.UNDO),
        ],
    )
