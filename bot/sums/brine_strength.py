"""How strong a brine is that was measured: by its gravity, its degrees Salometer, or what a litre holds."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from typing import Any

from bot.sums.told import Told, WrongFigure
from scheduler.domain.kitchen import brine
from scheduler.domain.kitchen.amounts import plain

HUNDREDTH = Decimal("0.01")

MEASURED: dict[str, Callable[[Decimal], Decimal]] = {
    "--gravity": lambda read: brine.percent_from_specific_gravity(read / 1000 if read > 100 else read),
    "--salometer": brine.percent_from_salometer,
    "--grams-per-litre": brine.percent_from_grams_per_litre,
}
"""What was measured, and the percent by weight that it shows; a gravity of 1036 is one of 1.036."""


def answered(option: str, given: str) -> Told:
    """WrongFigure for what no brine has."""
    try:
        read = Decimal(given.strip().replace(",", "."))
        percent = MEASURED[option](read)
    except (ValueError, InvalidOperation) as error:
        told = str(error) if isinstance(error, ValueError) else f"expected a number, found {given!r}"
        raise WrongFigure(f"{option} {given}: {told}") from error
    gravity = plain(brine.specific_gravity(percent).quantize(Decimal("0.0001")))
    degrees, litre = brine.salometer_degrees(percent), brine.grams_per_litre(percent)
    return Told(
        f"A brine of {_short(percent)} % salt by weight",
        (
            f"That is {_short(of_water(percent))} % of the water's weight, and {_short(litre)} g of salt in a litre.",
            f"Gravity {gravity} at 20 C ({brine.TABLE}).",
            f"{_short(degrees)} degrees Salometer ({brine.SALOMETER}).",
        ),
        _facts(percent),
    )


def of_water(percent: Decimal) -> Decimal:
    """The same as a percent of the water's weight."""
    return percent * 100 / (100 - percent)


def _short(figure: Decimal) -> str:
    return plain(figure.quantize(HUNDREDTH))


def _facts(percent: Decimal) -> dict[str, Any]:
    return {
        "percent_by_weight": float(round(percent, 4)),
        "percent_of_water": float(round(of_water(percent), 4)),
        "grams_per_litre": float(round(brine.grams_per_litre(percent), 3)),
        "density_kg_m3_at_20_c": float(round(brine.density_kg_m3(percent), 2)),
        "specific_gravity": float(round(brine.specific_gravity(percent), 5)),
        "salometer_degrees": float(round(brine.salometer_degrees(percent), 2)),
        "refused": False,
    }
