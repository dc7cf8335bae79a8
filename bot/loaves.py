"""The doughs of a plan as `check` tells them: water and salt with the starter counted in."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from scheduler import words
from scheduler.domain.kitchen.amounts import as_weighed, plain
from scheduler.domain.kitchen.loaf import Loaf, loaves
from scheduler.domain.plan import Plan

TENTH, HUNDREDTH = Decimal("0.1"), Decimal("0.01")


def percent(share: Decimal, step: Decimal = TENTH) -> str:
    """ "73.3 %", without zeros at the end."""
    return f"{plain((share * 100).quantize(step))} %"


def grams(weight: Decimal) -> str:
    """ "560 g", as a kitchen scale shows it."""
    return f"{plain(as_weighed(weight))} g"


def hydration(loaf: Loaf) -> str:
    """ "hydration 73.3 %"."""
    return f"hydration {percent(loaf.hydration)}"


def salt(loaf: Loaf) -> str:
    """ "salt 1.78 % of all the flour"; nothing where no salt is weighed."""
    if not loaf.salt_g:
        return ""
    return f"salt {percent(loaf.salt_share, HUNDREDTH)} of all the flour"


def water_line(loaf: Loaf) -> str:
    """How the hydration comes about, in grams."""
    water = f"{grams(loaf.all_water_g)} of water to {grams(loaf.all_flour_g)} of flour"
    if not loaf.starter_g:
        return f"{water}."
    taken = ", taken to have as much water as flour" if loaf.assumed else ""
    own = "" if loaf.assumed else f" at {percent(loaf.starter_hydration)}"
    return f"{water}, those in {grams(loaf.starter_g)} of starter{own} counted in{taken}."


def salt_line(loaf: Loaf) -> str:
    """The salt as against what is usual."""
    if not loaf.salt_g:
        return ""
    usual = f"2 % of all the flour, which is usual (common practice, from memory), would be {grams(loaf.usual_salt_g)}"
    return f"{grams(loaf.salt_g)} of salt; {usual}."


def uncounted_line(loaf: Loaf) -> str:
    """What is not in the sum, for want of a weight."""
    return (
        f"Not counted, for want of a weight: {words.listed(list(loaf.uncounted))}." if loaf.uncounted else ""
    )


def as_text(plan: Plan) -> Iterator[str]:
    """Nothing for a plan without a dough that has a starter in it."""
    found = [loaf for loaf in loaves(plan) if loaf.starter_g]
    if found:
        yield "\nWith the starter counted in"
    for loaf in found:
        yield f"  {loaf.name}: {', '.join(filter(None, (hydration(loaf), salt(loaf))))}"


def as_json(plan: Plan) -> list[dict[str, Any]]:
    """Weights in grams, shares in percent."""
    return [{"component": loaf.name, **facts(loaf)} for loaf in loaves(plan)]


def facts(loaf: Loaf) -> dict[str, Any]:
    """The same of one dough as plain data."""
    return {
        "flour_g": float(as_weighed(loaf.all_flour_g)),
        "water_g": float(as_weighed(loaf.all_water_g)),
        "salt_g": float(as_weighed(loaf.salt_g)),
        "starter_g": float(as_weighed(loaf.starter_g)),
        "starter_hydration_percent": float((loaf.starter_hydration * 100).quantize(TENTH)),
        "hydration_percent": float((loaf.hydration * 100).quantize(HUNDREDTH)),
        "salt_percent": float((loaf.salt_share * 100).quantize(HUNDREDTH)),
        "not_counted": list(loaf.uncounted),
    }
