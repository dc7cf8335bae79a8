"""One amount: for more or fewer, by weight, or in another measure."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from bot.sums.told import Told, WrongFigure
from bot.wording.amounts import fine_scale, quantity, weight
from bot.wording.lines import capital
from scheduler.domain.kitchen.amounts import (
    GRAMS_PER,
    MILLILITRES_PER,
    Amount,
    as_measured,
    as_weighed,
    plain,
    unit_named,
)
from scheduler.domain.kitchen.crystals import HOME, is_salt
from scheduler.domain.kitchen.densities import Density, nearly
from scheduler.domain.kitchen.sources import How
from scheduler.domain.kitchen.weighing import SPAN_SOURCE, span_told, unweighed, weighed_by
from scheduler.domain.scaling import times
from scheduler.planfile.figures import Quantity

WEIGH = "For a level measure that is not packed down. A scale is surer."
WEIGH_SALT = "Salt by the spoon differs from box to box by a tenth and more. A scale is surer."
NAME_THE_CRYSTAL = (
    "For one figure name the crystal: table, canning, coarse sea, pressed coarse or large flake salt."
)
MOST_NAMED = 4


def for_others(given: Quantity, name: str, before: Decimal, after: Decimal) -> Told:
    """As much for `after` as this is for `before`; by weight too where the food is named and known."""
    first = _amount(given, name)
    then = times(first, before, after)
    heading = f"{_called(given, name)} for {plain(before)} is {quantity(then)} for {plain(after)}"
    served = {"from_serves": float(before), "to_serves": float(after), "factor": float(after / before)}
    facts = served | as_facts(then)
    if not name or then.millilitres is None:
        return Told(heading, _some(fine_scale([then])), facts)
    try:
        weight_too = _weight_told(then, name)
    except WrongFigure as error:
        return Told(heading, (f"{error}.",), facts)
    return Told(heading, (weight_too.heading, *weight_too.lines), facts | weight_too.facts)


def weighed(given: Quantity, name: str) -> Told:
    """A volume of something by weight; a weight in grams, a volume in millilitres where nothing is named."""
    amount = _amount(given, name)
    if name and amount.millilitres is not None:
        return _weight_told(amount, name, _called(given, name))
    if amount.counted:
        raise WrongFigure(f"{_called(given, name)}: expected a weight or a volume, such as 3 lb or 2 cups")
    grams = amount.grams
    shown = f"{plain(as_weighed(_volume(amount)))} ml" if grams is None else f"{plain(as_weighed(grams))} g"
    return Told(f"{_called(given, name)} is {shown}", _some(fine_scale([amount])), as_facts(amount))


def in_unit(given: Quantity, name: str, unit: str) -> Told:
    """An amount in another unit of GRAMS_PER or MILLILITRES_PER, through its density where it has to be."""
    amount = _amount(given, name)
    to_weight = unit in GRAMS_PER
    if amount.counted or (amount.grams is None) is not to_weight:
        return _same_kind(given, amount, unit)
    if not name:
        raise WrongFigure("Of what? A cup of flour and a cup of honey weigh different things")
    if to_weight:
        told = _weight_told(amount, name, _called(given, name))
        if told.refused or unit == "g":
            return told
        grams = Decimal(str(told.facts["grams"]))
        return Told(f"{_called(given, name)} is {_in(grams / GRAMS_PER[unit], unit)}", told.lines, told.facts)
    return _volume_told(given, amount, name, unit)


def _same_kind(given: Quantity, amount: Amount, unit: str) -> Told:
    factor = GRAMS_PER.get(unit) or MILLILITRES_PER[unit]
    base = amount.grams if unit in GRAMS_PER else amount.millilitres
    if base is None:
        raise WrongFigure(f"{_called(given, amount.name)}: expected a weight or a volume")
    shown = _in(base / factor, unit)
    return Told(f"{_called(given, amount.name)} is {shown}", (), as_facts(amount))


def _volume_told(given: Quantity, amount: Amount, name: str, unit: str) -> Told:
    density = weighed_by(Amount(name, Decimal(1), unit))
    if density is None or amount.grams is None:
        raise _unknown(name)
    volume = amount.grams / density.grams_per_ml
    facts = {"of": name, "millilitres": float(volume), **_weight_facts(amount.grams)}
    told = f"{_called(given, name)} is {_in(volume / MILLILITRES_PER[unit], unit)}"
    return Told(told, (f"{capital(str(density))}.", WEIGH), facts | _source(density))


def _weight_told(amount: Amount, name: str, called: str = "") -> Told:
    """The weight of a volume, or why there is none."""
    called = (
        called
        or f"{quantity(Amount('', amount.quantity, amount.unit, as_written=amount.as_written))} of {name}"
    )
    volume, density, span = _volume(amount), weighed_by(amount), unweighed(amount)
    if density is None and span is not None:
        facts: dict[str, Any] = {"of": name, "millilitres": float(volume), "grams": None}
        facts |= {"grams_lowest": float(span[0]), "grams_highest": float(span[1]), "source": SPAN_SOURCE}
        heading = f"{called} weighs {span_told(span)}, by its crystals: weigh it"
        return Told(heading, (f"From {SPAN_SOURCE}.", NAME_THE_CRYSTAL), facts, refused=True)
    if density is None:
        raise _unknown(name)
    grams = density.weight(volume)
    facts = {"of": name, "millilitres": float(volume), **_weight_facts(grams), **_source(density)}
    lines = (f"{capital(str(density))}.", _salt_lines(density, span) if span is not None else WEIGH)
    fine = fine_scale([Amount(name, grams, "g")])
    return Told(f"{called} is {weight(grams)}", (*lines, *_some(fine)), facts)


def _salt_lines(density: Density, span: tuple[Decimal, Decimal]) -> str:
    good = " That is good to 10 %." if density.source is HOME else ""
    return f"Of any crystal it would weigh {span_told(span)}.{good} {WEIGH_SALT}"


def _unknown(name: str) -> WrongFigure:
    names = nearly(name)[:MOST_NAMED]
    if is_salt(name):
        return WrongFigure(f"A weight of salt has no volume: it turns on the crystals. {NAME_THE_CRYSTAL}")
    full = f": say which, such as {' or '.join(names)}" if names else ""
    return WrongFigure(f"I know no weight for a volume of “{name}”{full}")


def as_facts(amount: Amount) -> dict[str, Any]:
    """An amount as plain data: exactly, and as it is weighed or measured out."""
    if amount.grams is not None:
        return _weight_facts(amount.grams)
    if amount.millilitres is not None:
        volume = amount.millilitres
        return {"millilitres": float(volume), "millilitres_as_measured": float(as_weighed(volume))}
    return {"count": float(as_measured(amount.quantity, "")), "counted": amount.unit}


def _weight_facts(grams: Decimal) -> dict[str, Any]:
    return {"grams": float(grams), "grams_as_weighed": float(as_weighed(grams))}


def _source(density: Density) -> dict[str, Any]:
    return {
        "density_of": density.name,
        "grams_per_ml": round(float(density.grams_per_ml), 4),
        "source": str(density.source),
        "from_memory": density.source.how is How.FROM_MEMORY,
    }


def _amount(given: Quantity, name: str) -> Amount:
    return Amount(name, given.number, given.unit)


def _volume(amount: Amount) -> Decimal:
    return amount.millilitres or Decimal(0)


def _called(given: Quantity, name: str) -> str:
    """ "2 cups of flour"."""
    said = given.written or f"{plain(given.number)} {unit_named(given.number, given.unit)}".strip()
    return f"{said} of {name}" if name else said


def _in(number: Decimal, unit: str) -> str:
    return quantity(Amount("", number, unit, as_written=Decimal(0)))


def _some(*lines: str) -> tuple[str, ...]:
    return tuple(line for line in lines if line)
