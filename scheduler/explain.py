"""Why no timetable fits: the least set of facts in conflict, in the plan's own words, and a way out.

The set is minimal: with any one of its facts left out, something would fit. It is found by dividing the
facts and testing halves against each other (QuickXplain: Junker, "Preferred explanations and relaxations
for over-constrained problems", AAAI 2004).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler import words
from scheduler.domain.plan import Attention, Plan, Step
from scheduler.domain.progress import State
from scheduler.facts import Fact, FactKind, facts_of
from scheduler.solver import Task, Verdict, fits, solve

GAVE_UP = "no timetable was found in the time allowed, nor shown to be impossible"


@dataclass(frozen=True)
class Remedy:
    """A change that was solved and does fit."""

    change: str
    serve: datetime


@dataclass(frozen=True)
class Misfit:
    """Why nothing fits, and what would."""

    serve: datetime
    because: tuple[str, ...]
    facts: tuple[Fact, ...]
    remedies: tuple[Remedy, ...] = ()
    proven: bool = True


def misfit(task: Task, proven: bool = True) -> Misfit:
    """Explain a task for which nothing fits, or (not `proven`) for which nothing was found in time."""
    if not proven:
        return Misfit(task.serve, (GAVE_UP,), (), _another_hour(task), proven=False)
    facts = conflict(task)
    return Misfit(
        task.serve,
        tuple(in_words(fact, task) for fact in facts),
        facts,
        _another_hour(task),
    )


def conflict(task: Task) -> tuple[Fact, ...]:
    """A minimal set of facts that cannot all hold; empty when leaving all of them out does not help."""
    every = facts_of(task.plan, task.progress)

    def holds(kept: Sequence[Fact]) -> bool:
        relaxed = replace(task, dropped=frozenset(every) - frozenset(kept))
        return fits(relaxed) is not Verdict.INFEASIBLE

    def divide(background: list[Fact], grew: bool, facts: Sequence[Fact]) -> list[Fact]:
        if grew and not holds(background):
            return []
        if len(facts) == 1:
            return list(facts)
        left, right = facts[: len(facts) // 2], facts[len(facts) // 2 :]
        from_right = divide([*background, *left], bool(left), right)
        return divide([*background, *from_right], bool(from_right), left) + from_right

    if not every or not holds([]):
        return ()
    found = divide([], False, every)
    return tuple(fact for fact in every if fact in found)


def _another_hour(task: Task) -> tuple[Remedy, ...]:
    later = solve(replace(task, latest_serve=task.serve + task.plan.horizon(), previous=None))
    if not later.fits or later.serve is None:
        return ()
    return (serving_at(later.serve, task.plan),)


def serving_at(serve: datetime, plan: Plan) -> Remedy:
    when = words.day_and_clock(serve, plan.zone)
    return Remedy(f"Serve at {when}, the earliest hour that fits", serve)


def in_words(fact: Fact, task: Task) -> str:
    """One fact as a cook would say it."""
    plan = task.plan
    if fact.step is not None:
        return _of_step(fact, plan.steps[fact.step], task)
    if fact.kind is FactKind.COOK:
        return f"{fact.name} can do only one hands-on thing at a time"
    if fact.kind is FactKind.GEAR:
        name = str(fact.name)
        holds = "; an oven holds one temperature at a time" if name == "oven" else ""
        return f"there is only {words.counted(plan.kitchen.gear[name], name)}{holds}"
    if fact.kind is FactKind.SERVE:
        return f"the meal is at {words.day_and_clock(task.serve, plan.zone)}"
    return f"it is {words.day_and_clock(task.now, plan.zone)}, and nothing can begin earlier"


def _of_step(fact: Fact, step: Step, task: Task) -> str:
    if fact.kind is FactKind.LENGTH:
        return _length(step, task)
    if fact.kind is FactKind.KEEPS:
        return _keeps(fact, step, task.plan)
    if fact.kind is FactKind.ONLY:
        return f"“{step.name}” may only be done on the days and in the hours it names"
    if fact.kind is FactKind.PUT_OFF:
        return f"“{step.name}” was put off"
    who = words.listed([cook.name for cook in task.plan.cooks_of(step)])
    if step.attention is Attention.UNATTENDED:
        return f"“{step.name}” has to be begun while {who} is awake and at home"
    need = "free hands" if step.attention is Attention.HANDS_ON else "someone"
    return f"“{step.name}” needs {need} awake and at home for {words.length(step.range.planned()[0])} ({who})"


def _length(step: Step, task: Task) -> str:
    if task.progress.state(step.number) is State.RUNNING:
        return f"“{step.name}” has begun and is not over yet"
    shortest = words.length(step.range.planned()[0])
    if step.range.by_nature:
        return f"“{step.name}” may take {shortest} until {step.range.until}"
    return f"“{step.name}” takes at least {shortest}"


def _keeps(fact: Fact, step: Step, plan: Plan) -> str:
    after = plan.steps[fact.other] if fact.other is not None else None
    name = "the meal" if after is None else f"“{after.name}”"
    if step.keeps is None and (after is None or after.wait is None):
        return f"{name} has to follow “{step.name}” at once"
    limit = plan.link(step, after).longest if after is not None else step.keeps
    return f"{name} has to follow “{step.name}” within {words.length(limit or step.fresh_for)}"
