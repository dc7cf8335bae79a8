"""What is answered about salt: so much for a percent, or the percent of so much, judged by the kind of ferment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from bot.sums.told import Told
from bot.wording import amounts
from scheduler.domain.kitchen import brine
from scheduler.domain.kitchen.amounts import Amount, as_measured, plain, unit_named
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.salt import (
    ANY,
    BRINE,
    Convention,
    Judged,
    Kind,
    Packed,
    Verdict,
    Way,
    judged,
    minimum_told,
    percent_told,
)
from scheduler.domain.kitchen.shares import WAYS, percents, salt_g, to_weigh

THOUSAND = Decimal(1000)
OWN_WATER = "That is more salt than the water by itself takes up: the rest dissolves in the vegetables' own."
NAMES = {Convention.OF_PRODUCE: "produce", Convention.OF_WATER: "water", Convention.EQUILIBRIUM: "both"}


@dataclass(frozen=True, slots=True)
class Question:
    """`packed` is what is salted; then either `percent` counted in `way`, or `salt` grams that are there.

    `way` None: as the kind is usually counted. `thing` is what the cook calls the produce. `kind` None: no kind of
    ferment was named; `vegetable` False then rules out that it is one.
    """

    packed: Packed
    percent: Decimal | None = None
    way: Way | None = None
    salt: Decimal | None = None
    kind: Kind | None = None
    thing: str = ""
    vegetable: bool = True


def answered(asked: Question) -> Told:
    """The answer; a brine stronger than water takes up, and salt below a published minimum, are refused."""
    if asked.salt is not None:
        return _told(asked, asked.salt, _found(asked, asked.salt), [])
    way, percent, source = _wanted(asked)
    if not asked.packed.base_g(way.convention):
        return _no_base(asked, way)
    grams = salt_g(percent, way, asked.packed)
    lines = [source] if source else _otherwise(asked, way, percent)
    return _told(asked, grams, _heading(asked, grams, way, percent), lines)


def brine_answered(made: Amount, percent: Decimal, way: Way, kind: Kind | None) -> Told:
    """Salt and water for so much finished brine, by weight, or by volume at 20 C."""
    strength = percent if way.salt_included else percent * 100 / (100 + percent)
    try:
        density = brine.density_kg_m3(strength)
    except brine.TooStrong as error:
        return _too_strong(str(error))
    whole = made.grams if made.millilitres is None else made.millilitres * density / THOUSAND
    if whole is None:
        raise ValueError("brine is made by weight or by volume")
    grams = whole * strength / 100
    much = f"{plain(as_measured(made.quantity, made.unit))} {unit_named(made.quantity, made.unit)}"
    heading = f"Salt: {weight(grams)} in {weight(whole - grams)} of water, for {much} of brine at {_of(percent, way)}"
    asked = Question(Packed(water_g=whole - grams), kind=kind, vegetable=kind is not None)
    return _told(asked, grams, heading, [])


def weight(grams: Decimal, least: Decimal = Decimal(0)) -> str:
    """ "23 g", "1.2 kg": as a scale shows it, and never below the least."""
    return amounts.weight(to_weigh(grams, least))


# ---------------------------------------------------------------- how it is put


def _wanted(asked: Question) -> tuple[Way, Decimal, str]:
    """The way of counting, the percent, and where the percent comes from when it was not given."""
    kind = asked.kind or ANY
    if asked.percent is not None:
        return asked.way or _plain_way(asked.packed, kind), asked.percent, ""
    usual = kind.usual
    way = kind.way_for(asked.packed)
    source = f"No percent was given: this is the middle of the usual {usual} for {kind} ({usual.source})."
    return way, usual.middle, source


def _plain_way(packed: Packed, kind: Kind = ANY) -> Way:
    """Where it was not said of what: of all there is, and for what is salted by its brine of that."""
    if packed.water_g and kind.usual.way == BRINE:
        return BRINE
    if not packed.water_g:
        return Way(Convention.OF_PRODUCE)
    return Way(Convention.EQUILIBRIUM if packed.produce_g else Convention.OF_WATER)


def _no_base(asked: Question, way: Way) -> Told:
    missing = "water goes over them" if way.convention is Convention.OF_WATER else "the vegetables weigh"
    kind = (
        f"{asked.kind} are salted by their brine"
        if asked.kind and way == BRINE
        else f"it is a percent of {way}"
    )
    usual = (
        f"Usual for {asked.kind}: {asked.kind.usual} of {way} ({asked.kind.usual.source})."
        if asked.kind
        else ""
    )
    return Told(f"Say how much {missing}: {kind}", (usual,) if usual else (), {"salt_g": None})


def _heading(asked: Question, grams: Decimal, way: Way, percent: Decimal) -> str:
    least = _least(asked)
    return f"Salt: {weight(grams, least)} for {_what(asked)} ({_of(percent, way)})"


def _found(asked: Question, grams: Decimal) -> str:
    way = asked.way or (asked.kind or ANY).way_for(asked.packed)
    if not asked.packed.base_g(way.convention) or not asked.packed.produce_g:
        way = asked.way or _plain_way(asked.packed)
    share = percents(grams, asked.packed)[way]
    return f"{weight(grams)} of salt is {_of(share, way)}, for {_what(asked)}"


def _what(asked: Question) -> str:
    """ "850 g of turnips and 500 g of water"."""
    packed, parts = asked.packed, []
    if packed.produce_g:
        parts.append(
            f"{weight(packed.produce_g)} of {asked.thing or (str(asked.kind) if asked.kind else 'produce')}"
        )
    if packed.water_g:
        parts.append(f"{weight(packed.water_g)} of water")
    return " and ".join(parts)


def _of(percent: Decimal, way: Way) -> str:
    return f"{percent_told(percent)} % of {way}"


def _otherwise(asked: Question, way: Way, percent: Decimal) -> list[str]:
    """What the same percent would come to counted in the other ways: they are easily confused."""
    told = salt_g(percent, way, asked.packed)
    found = {
        other: grams
        for other in WAYS
        if not other.salt_included and asked.packed.base_g(other.convention)
        if (grams := salt_g(percent, other, asked.packed)) != told
    }
    if not (asked.packed.produce_g and asked.packed.water_g):
        found = {other: grams for other, grams in found.items() if other.convention is way.convention}
    named = [f"{_of(percent, other)} would be {weight(grams)}" for other, grams in found.items()]
    return [f"Not the same: {'; '.join(named)}."] if named else []


def _least(asked: Question) -> Decimal:
    return (asked.kind.least_g(asked.packed) if asked.kind else None) or Decimal(0)


# ---------------------------------------------------------------- told


def _told(asked: Question, grams: Decimal, heading: str, lines: list[str]) -> Told:
    shares, found = percents(grams, asked.packed), _judged(asked, grams)
    refused = found is not None and asked.kind is not None and found.verdict is Verdict.BELOW_MINIMUM
    told = f"Too little salt: {str(found).rstrip('.')}" if refused else heading
    usual = found is not None and found.verdict is Verdict.USUAL
    verdict = (
        []
        if usual and asked.percent is None and asked.salt is None
        else _verdict_lines(asked, found, refused)
    )
    try:
        strength = list(_brine_line(grams, asked.packed))
    except brine.TooStrong as error:
        if _poured(asked):
            return _too_strong(str(error))
        strength = [OWN_WATER]
    also = _shares_line(shares, found.verdict if refused and found else Verdict.USUAL)
    caution = bool(verdict) and not usual
    every = [*([] if refused else lines), *also, *strength, *verdict, *([DEFERRAL] if caution else [])]
    return Told(told, tuple(every), _facts(asked, grams, shares, found, refused), refused)


def _poured(asked: Question) -> bool:
    """Whether the salt has to dissolve in the water before it meets the vegetables."""
    way = asked.way or (asked.kind or ANY).way_for(asked.packed)
    return not asked.packed.produce_g or way.convention is Convention.OF_WATER


def _judged(asked: Question, grams: Decimal) -> Judged | None:
    return judged(asked.kind or ANY, grams, asked.packed) if asked.vegetable else None


def _verdict_lines(asked: Question, found: Judged | None, refused: bool) -> list[str]:
    if found is None:
        return []
    if refused:
        least = _least(asked)
        return [f"At least {weight(least, least)} for {_what(asked)}."]
    if asked.kind is not None:
        return [str(found)]
    if found.verdict is Verdict.BELOW_MINIMUM and found.minimum is not None:
        least_told = minimum_told(found.kind, found.minimum)
        return [f"For a ferment of vegetables that is too little: below {least_told}."]
    return []


def _shares_line(shares: dict[Way, Decimal], verdict: Verdict) -> list[str]:
    """The percent in every convention there is, by itself and with the salt counted in; rounded as the verdict is."""
    every = [each for each in Convention if Way(each) in shares]
    if len(every) < len(Convention):  # produce or water alone: both together is no other thing
        every = every[:1]
    told = [_share(shares, each, verdict) for each in every]
    return [f"That is {', '.join(told)}."]


def _share(shares: dict[Way, Decimal], each: Convention, verdict: Verdict) -> str:
    included = percent_told(shares[Way(each, salt_included=True)], verdict)
    return (
        f"{percent_told(shares[Way(each)], verdict)} % of {each.told} ({included} % with the salt counted in)"
    )


def _brine_line(grams: Decimal, packed: Packed) -> Iterator[str]:
    """How strong the salt makes the water by itself. TooStrong where it cannot all dissolve."""
    if not packed.water_g:
        return
    strength = percents(grams, packed)[BRINE]
    density = brine.density_kg_m3(strength) / THOUSAND
    yield (
        f"As a brine by itself: {percent_told(strength)} % by weight, {density:.3f} kg a litre at 20 C, "
        f"{brine.grams_per_litre(strength):.0f} g a litre, {brine.salometer_degrees(strength):.0f} degrees Salometer "
        f"({brine.TABLE})."
    )


def _too_strong(why: str) -> Told:
    return Told(
        f"Too much salt: {why}", (f"By {brine.TABLE}.",), {"salt_g": None, "refused": True}, refused=True
    )


def _facts(
    asked: Question, grams: Decimal, shares: dict[Way, Decimal], found: Judged | None, refused: bool
) -> dict[str, Any]:
    """The same as plain data; what is refused has no weight to go by, only the least."""
    kind, least = asked.kind, _least(asked)
    return {
        "salt_g": None if refused and asked.salt is None else _figure(grams),
        "weigh_g": None if refused and asked.salt is None else float(to_weigh(grams, least)),
        "produce_g": _figure(asked.packed.produce_g),
        "water_g": _figure(asked.packed.water_g),
        "percent": {
            f"of_{NAMES[way.convention]}{'_salt_included' if way.salt_included else ''}": _figure(share)
            for way, share in shares.items()
        },
        "brine": _brine_facts(shares.get(BRINE)),
        "kind": None if kind is None else kind.name,
        "verdict": None if found is None or kind is None else found.verdict.value,
        "usual_percent": None if kind is None else [float(kind.usual.lowest), float(kind.usual.highest)],
        "usual_source": None if kind is None else str(kind.usual.source),
        "least_g": _figure(least) if least else None,
        "minimum_percent": float(found.minimum.percent) if found and kind and found.minimum else None,
        "minimum_source": str(found.minimum.source) if found and kind and found.minimum else None,
        "refused": refused,
    }


def _brine_facts(strength: Decimal | None) -> dict[str, float] | None:
    if strength is None or round(strength, 9) > brine.STRONGEST_PERCENT:
        return None
    return {
        "percent_by_weight": _figure(strength),
        "density_kg_m3_at_20_c": _figure(brine.density_kg_m3(strength)),
        "grams_per_litre": _figure(brine.grams_per_litre(strength)),
        "salometer_degrees": _figure(brine.salometer_degrees(strength)),
    }


def _figure(number: Decimal) -> float:
    """As data: to a millionth, as nothing is weighed."""
    return round(float(number), 6)
