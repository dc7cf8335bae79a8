"""Plan files in a few lines, timed from their text, and what came of them in the words of a clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain import hours
from scheduler.domain.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.progress import Progress
from scheduler.domain.timetable import Slot, Timetable
from scheduler.explain import Misfit
from scheduler.planfile import read
from scheduler.planning import time_out
from tests.plans_for_tests import PARIS, at, number_of

SERVE = "2026-12-12 19:30"
"""A Saturday evening in Paris, where nothing else is said."""


def text(kitchen: str, *components: str, serve: str = SERVE, zone: str = PARIS) -> str:
    """A plan file. `kitchen` is what its braces hold. A component is its name, and on each line below that what
    the braces of a step hold: "Loaf\\n name: Bake, nearby: 1 h"; "optional" after the name makes it so.
    """
    kitchen = kitchen or "cooks: 1"
    head = ["crockbell: 1", "title: A meal", f"serve: {serve}", f"zone: {zone}", f"kitchen: {{{kitchen}}}"]
    return "\n".join([*head, "components:", *map(_component, components)]) + "\n"


def _component(written: str) -> str:
    name, *steps = written.strip().splitlines()
    optional = ["    optional: true"] if name.endswith(", optional") else []
    lines = [f"  - name: {name.removesuffix(', optional')}", *optional, "    steps:"]
    return "\n".join([*lines, *(f"      - {{{line.strip()}}}" for line in steps)])


@dataclass(frozen=True)
class Timed:
    """A plan with the timetable that was found for it, which the verifier accepted."""

    plan: Plan
    table: Timetable

    def slot(self, name: str) -> Slot:
        found = self.table.slot(number_of(self.plan, name))
        assert found is not None, f"{name} has no time"
        return found

    def when(self, name: str) -> str:
        """From when to when a step runs: "Sat 12 19:00 to Sat 12 19:30"."""
        return f"{self.clock(self.slot(name).start)} to {self.clock(self.slot(name).end)}"

    def window(self, name: str) -> str:
        """The same of its earliest and latest start."""
        return f"{self.clock(self.slot(name).earliest)} to {self.clock(self.slot(name).latest)}"

    def clock(self, moment: datetime) -> str:
        return f"{hours.local(moment, self.plan.zone):%a %d %H:%M}"

    def named(self, moment: datetime) -> str:
        """A moment with the name its clock goes by: "2026-10-25 02:00 CET"."""
        return f"{hours.local(moment, self.plan.zone):%Y-%m-%d %H:%M %Z}"

    def touches(self) -> list[tuple[str, str | None]]:
        """When each touch falls, and what troubles it."""
        return [(self.clock(touch.at), touch.trouble) for touch in self.table.touches]


def timed(plan_file: str, now: str, progress: Progress | None = None) -> Timed | Misfit:
    """What planning says of a plan file at a local moment."""
    plan = read(plan_file, zone=PARIS)
    assert plan.serve is not None
    moment = at(now, plan.zone)
    found = time_out(plan, plan.serve, moment, progress)
    if isinstance(found, Misfit):
        return found
    assert not check(plan, found, moment, progress)
    return Timed(plan, found)


def fits(plan_file: str, now: str, progress: Progress | None = None) -> Timed:
    found = timed(plan_file, now, progress)
    assert isinstance(found, Timed), found.because
    return found


def unfit(plan_file: str, now: str) -> tuple[str, ...]:
    """Why nothing fits, which was proven."""
    found = timed(plan_file, now)
    assert isinstance(found, Misfit), [found.when(step.name) for step in found.plan.steps]
    assert found.proven
    return found.because
