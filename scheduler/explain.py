"""Why no timetable fits: the least set of facts in conflict, in the plan's own words, and a way out.

The set is minimal: with any one of its facts left out, the others would no longer stand in the way (though
facts outside the set still may: there can be two conflicts at once). It is found by dividing the facts and
testing halves against each other (QuickXplain: Junker, "Preferred explanations and relaxations
for over-constrained problems", AAAI 2004).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.fact_words import in_words as in_words
from scheduler.fact_words import reasons
from scheduler.facts import Fact, FactKind, facts_of
from scheduler.remedies import Remedy as Remedy
from scheduler.remedies import first_after as first_after
from scheduler.remedies import serving_at as serving_at
from scheduler.solver import Task, Verdict, fits, solve

GAVE_UP = "no timetable was found in the time allowed, nor shown to be impossible"


@dataclass(frozen=True)
class Misfit:
    """Why nothing fits, and what would.

    `because` tells `facts` in their order; steps that follow one another at once share a sentence.
    """

    serve: datetime
    because: tuple[str, ...]
    facts: tuple[Fact, ...]
    remedies: tuple[Remedy, ...] = ()
    proven: bool = True


def misfit(task: Task, proven: bool = True) -> Misfit:
    """Explain a task for which nothing fits, or (not `proven`) for which nothing was found in time."""
    if not proven:
        return Misfit(task.serve, (GAVE_UP,), (), _another_hour(task, ()), proven=False)
    facts = conflict(task)
    return Misfit(
        task.serve,
        reasons(facts, task),
        facts,
        _another_hour(task, facts),
    )


def conflict(task: Task) -> tuple[Fact, ...]:
    """A minimal set of facts that cannot all hold; empty when leaving all of them out does not help.

    Of several such sets the search prefers what comes first. That nothing can begin before now comes last: it would
    bring in parts of the meal that only begin early and have nothing to do with what stands in the way.
    """
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
    now_last = sorted(every, key=lambda fact: fact.kind is FactKind.NOW)
    found = divide([], False, now_last)
    return tuple(fact for fact in every if fact in found)


def _another_hour(task: Task, facts: Sequence[Fact]) -> tuple[Remedy, ...]:
    # From now on, where the hour asked for is long past.
    until = max(task.serve, task.now) + task.plan.horizon()
    later = solve(replace(task, latest_serve=until, previous=None))
    if not later.fits or later.serve is None:
        return ()
    return (serving_at(later.serve, task.plan, first_after(facts)),)
