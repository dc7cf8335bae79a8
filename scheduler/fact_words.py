"""The facts that can stand in each other's way, as a cook would say them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from scheduler import hour_words, words
from scheduler.domain.heats import sums_up
from scheduler.domain.hours import Dated, Interval, without
from scheduler.domain.plan import Attention, Cook, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.progress import State
from scheduler.facts import Fact, FactKind
from scheduler.heat_words import wanted_for
from scheduler.planfile.kitchen import ONE_COOK
from scheduler.reach import reach
from scheduler.solver import Task

MOST_NAMED = 3
"""How many steps, or times of absence, are told one by one. Of more steps the first and the last are named;
instead of more absences the hours are told as they are written.
"""


def reasons(facts: Iterable[Fact], task: Task) -> tuple[str, ...]:
    """Facts in their order, one sentence each; steps that have to follow one another at once share one."""
    told: list[str] = []
    chain: list[int] = []
    for fact in facts:
        at_once = _at_once(fact, task.plan)
        if chain and not (at_once and fact.step == chain[-1]):
            told.append(_one_after_another(chain, task.plan))
            chain = []
        if at_once and fact.step is not None and fact.other is not None:
            chain += [fact.other] if chain else [fact.step, fact.other]
        else:
            told.append(in_words(fact, task))
    return (*told, _one_after_another(chain, task.plan)) if chain else tuple(told)


def _at_once(fact: Fact, plan: Plan) -> bool:
    if fact.kind is not FactKind.KEEPS or fact.step is None or fact.other is None:
        return False
    return plan.steps[fact.step].keeps is None and plan.steps[fact.other].wait is None


def _one_after_another(chain: list[int], plan: Plan) -> str:
    names = [f"“{plan.steps[number].name}”" for number in chain]
    if len(names) == 2:
        return f"{names[1]} has to follow {names[0]} at once"
    if len(names) > MOST_NAMED:
        return f"the {len(names)} steps from {names[0]} to {names[-1]} have to follow one another at once"
    return f"{words.listed(names)} have to follow one another at once"


def in_words(fact: Fact, task: Task) -> str:
    """One fact as a cook would say it."""
    plan = task.plan
    if fact.step is not None:
        return _of_step(fact, plan.steps[fact.step], task)
    if fact.kind is FactKind.COOK:
        return f"{named(str(fact.name))} can do only one hands-on thing at a time"
    if fact.kind is FactKind.GEAR:
        return _gear(str(fact.name), plan)
    if fact.kind is FactKind.SERVE:
        return f"the meal is at {words.day_and_clock(task.serve, plan.zone)}"
    return f"it is {words.day_and_clock(task.now, plan.zone)}, and nothing can begin earlier"


def named(cook: str) -> str:
    """A cook without a name of their own is the one spoken to."""
    return "you" if cook == ONE_COOK else cook


def _gear(name: str, plan: Plan) -> str:
    count = plan.kitchen.gear[name]
    said = f"there {'is' if count == 1 else 'are'} only {words.counted(count, name)}"
    if name != "oven":
        return said
    return f"{said}; {'it' if count == 1 else 'each'} holds one temperature at a time"


def _of_step(fact: Fact, step: Step, task: Task) -> str:
    match fact.kind:
        case FactKind.LENGTH:
            return _length(step, task)
        case FactKind.KEEPS:
            return _keeps(fact, step, task.plan)
        case FactKind.ONLY:
            return _only(step)
        case FactKind.PUT_OFF:
            until = task.progress.of(step.number).not_before
            return f"“{step.name}” was put off" + (
                f" until {words.day_and_clock(until, task.plan.zone)}" if until else ""
            )
    return f"{_need(step)}, and {_absence(step, task)}"


def _length(step: Step, task: Task) -> str:
    if task.progress.state(step.number) is State.RUNNING:
        return f"“{step.name}” has begun and is not over yet"
    shortest = words.length(step.range.planned()[0])
    if step.range.by_nature:
        return f"“{step.name}” may take {shortest} until {step.range.until}"
    wanted = f", for {wanted_for(step)}" if sums_up(step) else ""
    return f"“{step.name}” takes at least {shortest}{wanted}"


def _keeps(fact: Fact, step: Step, plan: Plan) -> str:
    if fact.other is None:
        most = f"wait {words.length(step.keeps)} at most" if step.keeps else "not wait"
        return f"“{step.name}” may {most} for the meal"
    after = plan.steps[fact.other]
    if step.keeps is None and after.wait is None:
        return f"“{after.name}” has to follow “{step.name}” at once"
    limit = plan.link(step, after).longest
    return f"“{after.name}” has to follow “{step.name}” within {words.length(limit or step.fresh_for)}"


def _only(step: Step) -> str:
    """ "may only be done Tue to Sat, between 09:00 and 18:00"; of a wait, when it may be begun."""
    done = "done" if step.attention is Attention.HANDS_ON else "begun"
    on = [f"on {hour_words.days(step.on)}"] if step.on else []
    between = [f"in the hours {hour_words.spans(step.between)}"] if step.between else []
    return f"“{step.name}” may only be {done} {', '.join(on + between)}"


# ---------------------------------------------------------------- hours


def _need(step: Step) -> str:
    """What a step asks of the people in the house."""
    shortest = words.length(step.range.planned()[0])
    if step.attention is Attention.HANDS_ON:
        return f"“{step.name}” needs free hands for {shortest}"
    if step.attention is Attention.NEARBY:
        return f"“{step.name}” needs someone at home for {shortest}"
    if step.fresh_for:
        return f"“{step.name}” has to be begun by someone"
    return f"“{step.name}” needs someone when it begins and when it ends"


def _absence(step: Step, task: Task) -> str:
    """ "Ada is out until Thu 10 Dec 17:45": when none of its cooks is there, where the step could be.

    Who only lends a hand for some hours is not named: they are not out, they are not expected.
    """
    cooks = task.plan.cooks_of(step)
    first, last = reach(task.plan, task.progress, task.now, task.serve).get(
        step.number, (task.now, task.serve)
    )
    first, last = min(first, last), max(first, last)
    day = timedelta(days=1)
    presence = Presence(task.plan, first - day, last + day)
    out = without(_together(presence.awake(cook.name) for cook in cooks), presence.someone(step))
    asleep = without([(first - day, last + day)], _together(presence.awake(cook.name) for cook in cooks))
    found = [("out", piece) for piece in out] + [("asleep", piece) for piece in asleep]
    told = sorted(
        ((why, piece) for why, piece in found if piece[0] <= last and piece[1] >= first),
        key=lambda each: each[1],
    )
    usual = [cook for cook in cooks if not all(isinstance(span, Dated) for span in cook.awake)] or cooks
    who = words.listed([named(cook.name) for cook in usual])
    are = "are" if len(usual) > 1 or who == "you" else "is"
    if not told or len(told) > MOST_NAMED:
        return "; ".join(_hours(cook, task.plan) for cook in cooks)
    when = [f"{why} {hour_words.stretch(piece, task.plan.zone, task.now)}" for why, piece in told]
    return f"{who} {are} {words.listed(when)}"


def _together(many: Iterable[tuple[Interval, ...]]) -> list[Interval]:
    return [piece for pieces in many for piece in pieces]


def _hours(cook: Cook, plan: Plan) -> str:
    """ "Ada is up 07:00 to 22:30 and out Mon to Fri 08:30 to 17:45"."""
    who = named(cook.name)
    away = f" and out {hour_words.spans(cook.away)}" if cook.away else ""
    return f"{who} {'are' if who == 'you' else 'is'} up {hour_words.spans(cook.awake)}{away}"
