"""The answer to how long the middle of a piece takes, in words and as data."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.sums.told import Told, WrongFigure
from bot.wording.lines import capital
from scheduler import heat_words, words
from scheduler.domain.heats import heated
from scheduler.domain.kitchen.core import Core
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.heat.heating import WITHIN_C, Heated, Medium, NeverHot, TooCold, met_after
from scheduler.domain.kitchen.heat.reductions import Reduction, asked

FRIDGE = "4 C"
"""How warm food is taken to be where nobody says: 5 C or below is the rule for a fridge (FDA Food Code 3-501.16)."""

A_MINUTE = timedelta(minutes=1)

MOST_WARNINGS = 2
"""Warnings that are told in the chat; the command line has them all."""


def told(core: Core, by: Medium, lasted: timedelta | None, unsaid: bool = False) -> Told:
    """How long it takes, and with `lasted` what is met by then. `unsaid`: nobody said how warm it starts."""
    _check(core)
    given = _given(core, by)
    try:
        heat = heated(core, by)
    except TooCold as error:
        return _refused(str(error), given)
    except NeverHot as error:
        raise WrongFigure(str(error)) from error
    facts = {**given, "refused": False, **_worked_out(heat)}
    besides, at_least = _besides(core, heat, unsaid), f"At least {_piece(core, by, heat)}"
    brief = (*_meets(core, heat)[:1], _counted(core, unsaid), *heat.warnings[:MOST_WARNINGS], DEFERRAL)
    if lasted is None:
        lines = (_middle(core, heat), *_meets(core, heat), *_explained(core), *besides)
        return Told(at_least, lines, facts, brief=brief)
    met, unmet = _after(core, by, lasted)
    facts |= {"for_min": lasted / A_MINUTE, "met_by_then": _named(met), "not_met_by_then": _named(unmet)}
    also = [f"Met by then: {heat_words.limits(met)}."] if met and (unmet or lasted < heat.heats) else []
    lines = (*also, f"{at_least}.", _middle(core, heat), *_explained(core), *besides)
    return Told(
        _by_then(core, heat, lasted, met, unmet), lines, facts, brief=(*also, f"{at_least}.", *brief[1:])
    )


def _refused(because: str, given: dict[str, Any]) -> Told:
    facts = {**given, "refused": True, "because": because}
    return Told(f"Refused: {because}", (DEFERRAL,), facts, refused=True)


def _after(core: Core, by: Medium, lasted: timedelta) -> tuple[tuple[Reduction, ...], tuple[Reduction, ...]]:
    """The reductions that are met after so long, and those that are not."""
    met = met_after(core, by, lasted) if lasted else ()
    return met, tuple(each for each in asked(core.food) if each not in met)


def _check(core: Core) -> None:
    if core.start_c >= core.at_c:
        raise WrongFigure(f"expected a start colder than {core.at_c:g} C, what the middle is to reach")


# ---------------------------------------------------------------- in words


def _piece(core: Core, by: Medium, heat: Heated) -> str:
    piece = f"a {core.thickness_mm:g} mm {core.shape} from {core.start_c:g} C"
    return f"{words.length(heat.shortest)} for {piece}, in {_where(core, by)}"


def _where(core: Core, by: Medium) -> str:
    heated_by = f"{'an' if by.name[:1] in 'aeiou' else 'a'} {by.name} at {by.at_c:g} C"
    return heated_by if by.at_c == core.at_c else f"{heated_by}, to {core.at_c:g} C"


def _middle(core: Core, heat: Heated) -> str:
    return f"Its middle is within {WITHIN_C:g} C of {core.at_c:g} C after {words.length(heat.heats)}."


def _meets(core: Core, heat: Heated) -> list[str]:
    after, wanted = f"After {words.length(heat.pasteurised)}", asked(core.food)
    met = [f"{after} it has met {heat_words.limits(wanted)}."] if wanted else []
    return [*met, *heat_words.besides(core, heat)]


def _explained(core: Core) -> list[str]:
    """What "7-log" means, of the greatest that is asked for."""
    wanted = asked(core.food)
    if not wanted:
        return []
    most = max(each.log10 for each in wanted)
    return [f"{most:g}-log: of {10 ** round(most):,} bacteria about one is left.".replace(",", " ")]


def _counted(core: Core, unsaid: bool) -> str:
    """What was taken for granted, in one line."""
    food = f"Counted as {core.food}" if core.food else "Counted as the strictest, as no food was named"
    return f"{food}{f', from the fridge ({FRIDGE})' if unsaid else ''}."


def _by_then(
    core: Core, heat: Heated, lasted: timedelta, met: tuple[Reduction, ...], unmet: tuple[Reduction, ...]
) -> str:
    """The answer to "is that enough": what was not met, else what was."""
    after = f"After {words.length(lasted)}"
    if unmet:
        return f"{after}, not met: {heat_words.limits(unmet)}"
    if lasted < heat.heats:
        return f"{after}, the middle is not yet at {core.at_c:g} C"
    return f"{after}, met: {heat_words.limits(met)}" if met else f"{after}, its middle is at {core.at_c:g} C"


def _besides(core: Core, heat: Heated, unsaid: bool) -> list[str]:
    food = f"Counted as {core.food}." if core.food else capital(heat_words.UNSAID)
    fridge = f"Counted from the fridge, {FRIDGE}, as nothing else was said."
    return [food, *([fridge] if unsaid else []), *heat.warnings, DEFERRAL]


# ---------------------------------------------------------------- as data


def _given(core: Core, by: Medium) -> dict[str, Any]:
    return {
        "shape": str(core.shape),
        "thickness_mm": core.thickness_mm,
        "at_c": core.at_c,
        "start_c": core.start_c,
        "food": None if core.food is None else str(core.food),
        "heated_by": by.name,
        "heated_by_c": by.at_c,
    }


def _worked_out(heat: Heated) -> dict[str, Any]:
    return {
        "heats_min": heat.heats / A_MINUTE,
        "pasteurised_min": heat.pasteurised / A_MINUTE,
        "shortest_min": heat.shortest / A_MINUTE,
        "met": _named(heat.met),
        "warnings": list(heat.warnings),
    }


def _named(reductions: tuple[Reduction, ...]) -> list[dict[str, Any]]:
    return [
        {"name": each.name, "organism": each.organism, "log10": each.log10, "source": str(each.source)}
        for each in reductions
    ]
