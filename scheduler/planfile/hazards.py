"""The hard limits of a plan file: kidney beans that never boil, garlic in oil that is kept, curing salt by percent.

What crosses a published limit refuses the file. What a source only advises, or what sources conflict about, is a
remark. Steps that a limit stands on get it as their `floor`, so that nothing makes them shorter later on.

A boil of kidney beans that is written shorter than 30 min is refused rather than made longer: the cook wrote a time,
and Crockbell invents none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

from scheduler.domain.kitchen.hazards.alive import uses_nitrite
from scheduler.domain.kitchen.hazards.beans import BOIL, SOAK
from scheduler.domain.kitchen.hazards.kidney import Course, courses
from scheduler.domain.kitchen.hazards.oils import is_kept, stands_for, stretch
from scheduler.domain.kitchen.hazards.stepwords import heats, is_work
from scheduler.domain.kitchen.hazards.table import BAD_BUG_BOOK, OIL_KEEPS
from scheduler.domain.kitchen.limits_published import COLD_C, HOT_C
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.plan import NO_TIME, Component, Plan, Step
from scheduler.domain.scaling import with_step
from scheduler.planfile.beans import remarks_on_beans
from scheduler.planfile.outline import Entry
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import written

_BOILED = f"a boil of at least {written(BOIL)} in fresh water before anything cooler ({BAD_BUG_BOOK})"
_LONGEST_TAKEN = (
    f"at least {written(BOIL)} ({BAD_BUG_BOOK}; British advice of 10 min and Bender & Reaidi's 20 min are shorter, "
    "so the longest is taken)"
)
_SOAKED = (
    f"at least {written(SOAK)} in all ({BAD_BUG_BOOK}; a hot soak of 1 h to 4 h is published for other beans)"
)
_COOKED_BEFORE = "or 'tinned' or 'cooked' beside their name"
_TESTED_RECIPE = (
    "its weight by the tested recipe of its maker: nitrite is not worked out here (limits: 21 CFR 172.175)"
)
_OIL = "National Center for Home Food Preservation, from memory; other sources go up to 10 days"


def within_limits(sheet: Sheet, outline: list[Entry], plan: Plan) -> Plan:
    """The plan with its floors and remarks; what crosses a hard limit is noted on the sheet."""
    check = _Check(sheet, outline)
    found = courses(plan.components)
    for course in found:
        if course.kidney:
            check.boiled(course)
            check.soaked(course)
    for part in plan.components:
        check.in_oil(part)
    for step in plan.steps:
        check.nitrite(step)
    remarks = tuple(remark for course in found for remark in remarks_on_beans(course))
    return replace(_with_floors(plan, found), remarks=(*plan.remarks, *remarks))


def _with_floors(plan: Plan, found: tuple[Course, ...]) -> Plan:
    for step, least in (pair for course in found if course.kidney for pair in _floors(course)):
        plan = with_step(plan, replace(step, floor=max(least, step.floor or NO_TIME)))
    return plan


def _floors(course: Course) -> Iterator[tuple[Step, timedelta]]:
    if course.gate is not None:
        yield course.gate, BOIL
    yield from ((step, SOAK) for step in course.soaking if step.range.shortest >= SOAK)


@dataclass(frozen=True, slots=True)
class _Check:
    sheet: Sheet
    outline: list[Entry]

    def _refuse(self, step: Step, key: str, expected: str, found: str) -> None:
        self.sheet.forbid((*self.outline[step.number].path, key), expected, found)

    # ------------------------------------------------------------ kidney beans

    def boiled(self, course: Course) -> None:
        """At least one boil that is long enough, and none where nothing but less is written."""
        if course.gate is not None:
            return
        if course.boiled:
            step = max(course.boiled, key=lambda each: each.range.shortest)
            found = f"kidney beans boiled from {written(step.range.shortest)}"
            self._refuse(step, step.attention.value, _LONGEST_TAKEN, found)
        elif course.never_boil:
            for step in course.never_boil:
                found = (
                    "kidney beans that stay below boiling (at 80 C they may be five times as toxic as raw)"
                )
                self._refuse(step, "name", f"{_BOILED}, {_COOKED_BEFORE}", found)
        elif course.dry:
            step = course.heated[-1] if course.heated else course.steps[-1]
            self._refuse(
                step, "name", f"{_BOILED}, {_COOKED_BEFORE}", "kidney beans that nothing boils so long"
            )

    def soaked(self, course: Course) -> None:
        if course.soaking and course.soaked_for < SOAK:
            step = course.soaking[0]
            found = f"kidney beans soaked from {written(course.soaked_for)}"
            self._refuse(step, step.attention.value, _SOAKED, found)

    # ------------------------------------------------------------ garlic in oil

    def in_oil(self, part: Component) -> None:
        """Kept for no longer than is published, and cold."""
        made = next((step for step in part.steps if is_kept(step, (part,))), None)
        if made is None:
            return
        stands = stands_for(made, (part,))
        if stands is None or stands > OIL_KEEPS:
            self._kept_too_long(made, part, stands)
        for step in stretch(made, (part,)):
            if step.at is not None and COLD_C < step.at < HOT_C and not is_work(step):
                expected = f"{degrees(COLD_C)} or below ({_OIL})"
                self._refuse(step, "at", expected, f"garlic or herbs in oil at {degrees(step.at)}")

    def _kept_too_long(self, made: Step, part: Component, stands: timedelta | None) -> None:
        standing = [step for step in stretch(made, (part,)) if not (step is made and heats(step))]
        step = max((made, *standing), key=lambda each: _may_stand(each, made))
        by_keeping = step.fresh_for >= _own_length(step, made)
        key = "keeps" if by_keeping else step.attention.value
        how_long = "without a longest time" if stands is None else f"for up to {written(stands)} in all"
        expected = f"at most {written(OIL_KEEPS)} in all, cold ({_OIL})"
        self._refuse(step, key, expected, f"garlic or herbs in oil kept {how_long}")

    # ------------------------------------------------------------ curing salt

    def nitrite(self, step: Step) -> None:
        """No sum is done with curing salt: its weight is taken from its maker's tested recipe."""
        for amount in step.amounts:
            if amount.unit == "%" and uses_nitrite(amount.name):
                path = (*self.outline[step.number].path, "amounts", amount.name)
                self.sheet.forbid(path, _TESTED_RECIPE, "curing salt by percent")


def _own_length(step: Step, made: Step) -> timedelta:
    """How long a step itself may last with the oil standing; what heats it does not count."""
    if step is made and heats(step):
        return NO_TIME
    return timedelta.max if step.range.longest is None else step.range.longest


def _may_stand(step: Step, made: Step) -> timedelta:
    return max(step.fresh_for, _own_length(step, made))
