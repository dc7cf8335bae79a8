"""What a plan's beans deserve a word about: long soaks, short ones, a boil that nothing says."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler import words
from scheduler.domain.kitchen.hazards.beans import (
    BOIL,
    COLD_SOAK,
    COOKS,
    COUNCIL,
    GROWERS,
    HOT_SOAK,
    KWOFIE,
    LONG_SOAK,
    SOAK,
    UPTAKE_HOURS,
    names_beans,
    soaked_g,
    takes_up_in_h,
)
from scheduler.domain.kitchen.hazards.kidney import Course
from scheduler.domain.kitchen.hazards.stepwords import says_boil
from scheduler.domain.kitchen.hazards.table import BAD_BUG_BOOK
from scheduler.domain.plan import Step


def remarks_on_beans(course: Course) -> Iterator[str]:
    """Remarks on the beans of one component, for whoever checks the plan."""
    for step in course.soaking:
        if step.range.longest is None or step.range.longest > LONG_SOAK:
            yield _too_long(step)
            yield _uptake(step)
    if course.kidney:
        yield from _of_kidney_beans(course)
    elif course.soaking and course.soaked_for < COLD_SOAK:
        yield _short(course.soaking[0])
        yield _uptake(course.soaking[0])


def _too_long(step: Step) -> str:
    return (
        f"“{step.name}” may go beyond {words.length(LONG_SOAK)}, from where growers speak of over-soaking ({GROWERS}); "
        f"cooks say at least {words.length(LONG_SOAK)} ({COOKS})."
    )


def _short(step: Step) -> str:
    hot = f"{words.length(HOT_SOAK[0])} to {words.length(HOT_SOAK[1])}"
    return (
        f"“{step.name}” may be shorter than the {words.length(COLD_SOAK)} that a cold soak takes ({COUNCIL}); "
        f"boiled for 2 min first, beans stand {hot} (Nebraska Dry Bean Commission)."
    )


def _uptake(step: Step) -> str:
    """How long beans take at the soak's own temperature, or else at the lowest that was measured."""
    coldest, warmest = UPTAKE_HOURS[0][0], UPTAKE_HOURS[-1][0]
    at = step.at if step.at is not None and coldest <= step.at <= warmest else coldest
    dry_g = float(sum(amount.grams or 0 for amount in step.amounts if names_beans(amount.name)))
    heavier = f"; {dry_g:.0f} g then weigh about {soaked_g(dry_g) / 1000:.1f} kg" if dry_g else ""
    return f"At {at:g} C beans take up all they will in about {takes_up_in_h(at):.0f} h{heavier} ({KWOFIE})."


def _of_kidney_beans(course: Course) -> Iterator[str]:
    gate = course.gate
    if gate is None or not says_boil(gate):
        named = f"“{(gate or course.heated[-1]).name}”" if gate or course.heated else "the plan"
        yield (
            f"Nothing says that the kidney beans boil: make sure that {named} keeps them boiling for "
            f"{words.length(BOIL)} in fresh water, unless they were cooked before ({BAD_BUG_BOOK})."
        )
    if course.dry and not course.soaking:
        yield f"Nothing soaks the kidney beans: at least {words.length(SOAK)} is published ({BAD_BUG_BOOK})."
