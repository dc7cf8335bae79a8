"""What heating something right through comes to, in words: times, and the published reductions by name."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from scheduler import words
from scheduler.domain.heats import heat_of, last_met, unmet_in
from scheduler.domain.kitchen.core import Core
from scheduler.domain.kitchen.hazards.stepwords import soaks
from scheduler.domain.kitchen.hazards.table import BAD_BUG_BOOK
from scheduler.domain.kitchen.heat.heating import Heated
from scheduler.domain.kitchen.heat.reductions import Reduction, asked
from scheduler.domain.kitchen.sources import How, Source
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.plan import Step

UNSAID = (
    "which kind of food it is was not said (meat, poultry, ground, fish or plant), so the strictest counts."
)

MOST_TABLES = 2
"""Tables of holding times that are told of in one line."""


def source_named(source: Source) -> str:
    """The name alone, short enough for a phone; what was not read says so."""
    return f"{source.name}, {source.how}" if source.how is How.FROM_MEMORY else source.name


def strictest(met: Iterable[Reduction]) -> list[Reduction]:
    """The greatest reduction of each organism, the greatest first."""
    greatest: dict[str, Reduction] = {}
    for each in sorted(met, key=lambda reduction: -reduction.log10):
        greatest.setdefault(each.organism, each)
    return list(greatest.values())


def limits(met: Iterable[Reduction]) -> str:
    """ "7-log Salmonella (USDA FSIS poultry tables), 6-log Listeria (...)": each source is named once."""
    by_source: dict[str, list[str]] = {}
    for each in strictest(met):
        by_source.setdefault(source_named(each.source), []).append(each.name.partition(", ")[0])
    return ", ".join(f"{words.listed(names)} ({source})" for source, names in by_source.items())


def of_step(step: Step) -> list[str]:
    """ "Middle at 60 C after 1 h 50 min; at least 3 h 5 min for 7-log Salmonella (...).", and which tables that
    meets besides; nothing for a step without a core.
    """
    heat = heat_of(step)
    return [] if step.core is None or heat is None else worked_out(step.core, heat)


def worked_out(core: Core, heat: Heated) -> list[str]:
    """The same for a core."""
    middle, wanted = f"Middle at {degrees(core.at_c)} after {words.length(heat.heats)}", asked(core.food)
    if not wanted:
        return [f"{middle}.", *besides(core, heat)]
    if heat.shortest == heat.heats:
        return [f"{middle}; that meets {limits(wanted)}.", *besides(core, heat)]
    return [f"{middle}; at least {words.length(heat.shortest)} for {limits(wanted)}.", *besides(core, heat)]


def besides(core: Core, heat: Heated) -> list[str]:
    """The tables of holding times that are met too, for which nothing was lengthened."""
    more = [each for each in heat.met if each not in asked(core.food)]
    return [f"Met then too: {limits(strictest(more)[:MOST_TABLES])}."] if more else []


def wanted_for(step: Step) -> str:
    """What the shortest length of a step waits for: "7-log Salmonella (...)", or "its middle to reach 60 C"."""
    if step.core is None:
        return _published(step)
    heat = heat_of(step)
    return "" if heat is None else ruled_by(step.core, heat, last_met(step))


def ruled_by(core: Core, heat: Heated, last: Iterable[Reduction]) -> str:
    """What takes longest: the reductions that are met `last`, or reaching the temperature."""
    return limits(last) if heat.pasteurised > heat.heats else f"its middle to reach {degrees(core.at_c)}"


def still_for(step: Step, lasted: timedelta) -> str:
    """What a step that has lasted so long has not met; where that is none, its middle is not hot yet."""
    if step.core is None:
        return _published(step)
    unmet = strictest(unmet_in(step, lasted))
    if unmet:
        return limits(unmet[:1])
    return f"its middle to reach {degrees(step.core.at_c)}"


def _published(step: Step) -> str:
    """What a step without a core has its floor for: "the published boil of kidney beans (FDA Bad Bug Book ...)"."""
    if step.floor is None:
        return ""
    return f"the published {'soak' if soaks(step) else 'boil'} of kidney beans ({BAD_BUG_BOOK})"


def had(step: Step, lasted: timedelta, what: str = "It") -> str:
    """ "It has had 3 h: that meets 7-log Salmonella (...)." or "..., not enough yet for 7-log Salmonella (...)."."""
    if step.core is None or not asked(step.core.food):
        return ""
    ran, unmet = f"{what} has had {words.length(lasted)}", unmet_in(step, lasted)
    if unmet:
        return f"{ran}, not enough yet for {limits(unmet)}."
    return f"{ran}: that meets {limits(asked(step.core.food))}."
