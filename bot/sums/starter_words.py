"""Questions about starters and doughs in plain words. Reports ("fed the starter at 8:40") are none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from bot.sums.numbers import in_figures, tenths
from bot.sums.told import Told, WrongFigure
from scheduler.domain.kitchen.amounts import GRAMS_PER, UNITS
from scheduler.domain.kitchen.starter import Feed, feeds, mixed
from scheduler.domain.plan import Plan

if TYPE_CHECKING:
    from scheduler.domain.kitchen.loaf import Loaf

LONGEST = 300
"""Characters that are read."""

GRAMS = {written: GRAMS_PER[unit] for written, unit in UNITS.items() if unit in GRAMS_PER}
"""Of each way a weight is written."""

ASKING = re.compile(
    r"^\W*(?:(?:ok|okay|so|and|hey|hi|hello|please|can|could|you|tell|me|crockbell)\W+)*"
    r"(?:(?:how|when|what|whats)\b|if i feed\b.*\b(?:when|how long)\b|i(?: have| got)+ [^.;?]*[,.;]\s*how\b)"
)
STARTER = re.compile(r"\b(?:starter|levain|leaven|sourdough)\b")
_PART = r"(\d{1,3}(?:\.\d{1,2})?)"
RATIO = re.compile(rf"(?<![\d:.-]){_PART}\s*(?::|to|-)\s*{_PART}\s*(?::|to|-)\s*{_PART}(?![\d:-]|\.\d)")
_WEIGHED = rf"(?<![\d.:])(\d{{1,5}}(?:\.\d{{1,4}})?)\s*({'|'.join(sorted(GRAMS, key=len, reverse=True))})\b"
WEIGHT = re.compile(_WEIGHED)
IN_DOUGH = re.compile(
    rf"{_WEIGHED}(?: of)?(?: (?!and\b)[a-z]+){{0,2}}? (flour|water|starter|levain|leaven|sourdough|salt)\b"
)
HAVING = re.compile(r"\b(?:from|have|got|with|of my|using|feed|feeding)\s+(?:only |just |about |my |the )*$")
BUILDING = re.compile(r"\b(?:feed|build|make|mix|get|need|want|grow|much|weigh)\b")
RIPENING = re.compile(r"\b(?:ripe|ripen|ready|take|takes|peak|peaks|long|rise|double|doubled)\b")
DEGREES = re.compile(
    r"(?<![\d.:])(\d{1,3}(?:\.\d)?)\s*(?:°\s*|degrees?\s*|deg\s*)?(c|celsius|f|fahrenheit)\b"
)
BARE = re.compile(
    r"(?:\bat\s+(1[5-9]|[2-4]\d)(?!\s*(?:g|kg|%|:|\d|am|pm|o'clock|oclock))\b|(\d{1,2})\s*(?:°|degrees?|deg\b))"
)
"""A bare number is a temperature from 15 on: below that it is an hour."""

IN_THE_COLD, FRIDGE_C = re.compile(r"\bin (?:the |a |my )?(?:fridge|refrigerator)\b"), 4.0
"""A fridge (the Food Code has 5 C or below, read)."""

A_DOUGH = re.compile(r"\b(?:dough|loaf|loaves|bread|breads|bake)\b")
OF_WATER = re.compile(r"\bhydration\b|\bhow wet\b")
OF_SALT = re.compile(r"\bhow (?:much|many percent) salt (?:is|there is|does)\b|\bhow salty\b")

USUAL_C = (20.0, 24.0, 28.0)
"""Told where nobody says how warm it stands (our choice)."""


def answer(said: str, plan: Plan | None) -> Told | None:
    """What is asked; None for words that ask something else."""
    if len(said) > LONGEST:
        return None
    text = in_figures(said)
    if not ASKING.match(text):
        return None
    ratio = RATIO.search(text)
    try:
        if ratio is not None and STARTER.search(text):
            return _of_a_feed(text, ratio, plan)
        return _of_a_dough(text, plan)
    except WrongFigure as error:
        reason = str(error)
        return Told(reason[:1].upper() + reason[1:])


def _of_a_feed(text: str, ratio: re.Match[str], plan: Plan | None) -> Told | None:
    from bot.sums import feeding

    rest = f"{text[: ratio.start()]} {text[ratio.end() :]}"
    have, want = _weights(rest)
    if (have is want is None or not BUILDING.search(rest)) and not RIPENING.search(rest):
        return None
    try:
        feed = Feed(*(Decimal(part) for part in ratio.groups()))
        want = have * feed.growth if want is None and have is not None else want
        mixes = () if want is None else (mixed(feed, want),) if have is None else feeds(have, want, feed)
    except ValueError as error:
        raise WrongFigure(f"That cannot be fed: {error}") from error
    fed = [mix.feed for mix in mixes] if len(mixes) > 1 else [feed]
    told = [feeding.mixing(mixes)] if mixes else []
    if not mixes or RIPENING.search(rest) or _degrees(rest) is not None:
        told += [feeding.ripening(fed, at_c) for at_c in _temperatures(rest, plan)]
    return feeding.together([*_once(told)])


def _once(told: list[Told]) -> Iterator[Told]:
    """Where several temperatures are told, the sources once, after the last."""
    for place, each in enumerate(told):
        again = place + 1 < len(told) and "ripe" in each.facts
        yield Told(each.heading, (), each.facts, each.refused) if again else each


def _weights(text: str) -> tuple[Decimal | None, Decimal | None]:
    """What there is and what is wanted, in grams."""
    have = want = None
    for found in WEIGHT.finditer(text):
        grams = tenths(Decimal(found[1]) * GRAMS[found[2]])
        if HAVING.search(text[: found.start()]):
            have = grams
        else:
            want = grams
    return have, want


def _temperatures(text: str, plan: Plan | None) -> tuple[float, ...]:
    """The one that is named, else the one that the plan ripens a starter at, else some that kitchens have."""
    said = _degrees(text)
    planned = next((step.ripens.at_c for step in plan.steps if step.ripens), None) if plan else None
    if said is not None:
        return (said,)
    return USUAL_C if planned is None else (planned,)


def _degrees(text: str) -> float | None:
    """Degrees Celsius."""
    if found := DEGREES.search(text):
        degrees = float(found[1])
        return round((degrees - 32) * 5 / 9, 1) if found[2].startswith("f") else degrees
    found = BARE.search(text)
    if found is not None:
        return float(found[1] or found[2])
    return FRIDGE_C if IN_THE_COLD.search(text) else None


def _of_a_dough(text: str, plan: Plan | None) -> Told | None:
    """The doughs of the plan, or the one that is named."""
    if OF_WATER.search(text) and (loaf := _loaf_in(text)) is not None:
        from bot.sums import feeding

        return feeding.of_loaf(loaf)
    water = bool(OF_WATER.search(text)) and not STARTER.search(text)
    if plan is None or not (water or (OF_SALT.search(text) and A_DOUGH.search(text))):
        return None
    from bot.sums import feeding
    from scheduler.domain.kitchen.loaf import loaves

    found = loaves(plan)
    named = [loaf for loaf in found if _named(loaf.name, text)]
    if not named and not re.search(rf"\bhydration\b|{A_DOUGH.pattern}", text):
        return None
    told = [feeding.of_loaf(loaf, of_salt=not water) for loaf in named or found]
    return feeding.together(told) if told else None


def _loaf_in(text: str) -> Loaf | None:
    """The dough whose flour and water are weighed in the question itself."""
    from scheduler.domain.kitchen.loaf import Loaf

    nothing = Decimal(0)
    found = {what: Decimal(number) * GRAMS[unit] for number, unit, what in IN_DOUGH.findall(text)}
    flour, water, salt = (found.pop(what, nothing) for what in ("flour", "water", "salt"))
    return Loaf("", flour, water, salt, sum(found.values(), nothing)) if flour and water else None


def _named(name: str, text: str) -> bool:
    """Whether a word of its name is said that is not every dough's."""
    own = [word for word in re.findall(r"\w+", name.casefold()) if not A_DOUGH.fullmatch(word)]
    return any(re.search(rf"\b{word}\b", text) for word in own if len(word) > 2)
