"""The steps that heat something right through: by what, how long that takes, and what it meets."""

from __future__ import annotations

from datetime import timedelta
from functools import lru_cache

from scheduler.domain.kitchen.core import Core
from scheduler.domain.kitchen.heat import heating
from scheduler.domain.kitchen.heat.heating import Heated, Medium
from scheduler.domain.kitchen.heat.reductions import Reduction, asked
from scheduler.domain.plan import NO_TIME, Step

BACK = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 30, 60))
"""How much less is tried, to find what a time is for: it may have been rounded up by a quarter of an hour."""

heated = lru_cache(maxsize=256)(heating.heated)
"""As `heating.heated`, worked out once for each piece."""


def medium(core: Core, oven: float | None, at: float | None) -> Medium:
    """What heats it: the oven where there is one, else the bath, at its own temperature or the core's."""
    if oven is not None:
        return heating.oven(oven)
    return heating.water_bath(core.at_c if at is None else at)


def medium_of(step: Step) -> Medium | None:
    """What heats a step's core; None where it has none."""
    return None if step.core is None else medium(step.core, step.oven, step.at)


def heat_of(step: Step) -> Heated | None:
    """How long a step's core takes; None where it has none."""
    by = medium_of(step)
    return None if step.core is None or by is None else heated(step.core, by)


def met_in(step: Step, lasted: timedelta) -> tuple[Reduction, ...]:
    """The published reductions that a step's core has met when it has lasted so long."""
    by = medium_of(step)
    if step.core is None or by is None or lasted <= NO_TIME:
        return ()
    return heating.met_after(step.core, by, lasted)


def unmet_in(step: Step, lasted: timedelta) -> tuple[Reduction, ...]:
    """Those asked for that it has not met then."""
    if step.core is None:
        return ()
    met = met_in(step, lasted)
    return tuple(each for each in asked(step.core.food) if each not in met)


def last_met(step: Step) -> tuple[Reduction, ...]:
    """The reductions that say how long it takes; none where reaching the temperature takes longest."""
    heat = heat_of(step)
    if heat is None or heat.pasteurised <= heat.heats:
        return ()
    return next((unmet for back in BACK if (unmet := unmet_in(step, heat.pasteurised - back))), ())


def sums_up(step: Step) -> bool:
    """Whether the shortest the step may last is what its core takes, and not something the plan says."""
    heat = heat_of(step)
    return heat is not None and step.range.shortest == heat.shortest
