"""Questions about salt in plain words: what is asked, or that it is something else."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field, replace
from decimal import Decimal

from bot.sums.numbers import in_figures, measured
from bot.sums.salt_answers import Question, answered, brine_answered, weight
from bot.sums.told import Told
from bot.wording.lines import capital
from scheduler.domain.fermenting import OTHER_BASE, VEGETABLES, Batch, batches
from scheduler.domain.kitchen.amounts import UNITS, Amount
from scheduler.domain.kitchen.brine import water_g
from scheduler.domain.kitchen.crystals import is_salt
from scheduler.domain.kitchen.hazards import DEFERRAL, named
from scheduler.domain.kitchen.hazards.foodwords import MEAT
from scheduler.domain.kitchen.salt import ANY, BRINE, Convention, Kind, Packed, Verdict, Way, kind_named_in
from scheduler.domain.plan import Plan
from scheduler.units import OTHERS
from scheduler.words import listed

LONGEST = 300
"""Characters that are read."""

_UNIT = "|".join(sorted(map(re.escape, (*UNITS, *OTHERS)), key=len, reverse=True))
_NO_THING = (
    "and|with|without|plus|at|to|in|for|by|per|is|are|was|were|of|into|on|please|thanks|how|what|as|needs?|takes?|do"
    "|does|did|should|would|will|i|we|you|have|has|enough|then|when|so|if|gets?|goes|weighs?"
)
"""Words that are no part of what a weight is of."""

_VESSEL = re.compile(r"\b(?:jars?|crocks?|tubs?|pots?|bags?|bowls?|buckets?)\b")
_PERCENT = re.compile(r"(\d{1,3}(?:\.\d{1,3})?) ?(?:%|per ?cent\b)")
_MEASURE = re.compile(
    rf"(?<![\d./])(\d{{1,6}}(?:\.\d{{1,4}})?) ?({_UNIT})\b(?: of)?(?: (?:the|my|some))?"
    rf"((?: (?!(?:{_NO_THING})\b)[a-z]+){{0,3}})"
)
_HOW_MUCH = re.compile(
    r"how (?:much|many (?:grams|g) of) (?:(?P<crystal>\w+) )?salt\b|what (?:weight|amount|quantity) of salt\b"
    r"|^(?:the )?salt (?:needed )?for\b|\bhow much (?:\w+ )?salt\b"
)
_HOW_SALTY = re.compile(
    r"\b(?:what|which|how many|how much)\b.*\bper ?cent(?:age)?\b|\bhow (?:strong|salty)\b"
)
_ENOUGH = re.compile(r"^(?:is|are|would|will)\b.*\benough\b")
_REPORT = re.compile(r"\b(?:was|were)\b")
_OF_PLAN = re.compile(
    r"^(?:and |so |ok )?(?:how salty (?:is|are)(.*)|(?:is|are|was) (?:that|this|it|there|they) enough salt(.*)"
    r"|enough salt(.*)|(?:do|does|did|has|have)(.*) (?:have |has |got |get )?enough salt"
    r"|(?:is|are)(.*) salty enough)$"
)
_EMPTY = re.compile(
    r"\b(?:it|they|that|this|them|there|the|my|our|jars?|in|for|i|we|now|really|ferment|put|use[d]?)\b"
)
_CURING = re.compile(
    r"\b(?:(?:curing|cure|nitrite|(?<!himalayan )pink|prague) salts?|(?:nitrit|nitrat)es?|saltpet(?:re|er)"
    r"|prague powder|cure (?:no |number )?[12])\b"
)
_WITH_SALT = re.compile(r"\bw ?/ ?w\b", re.IGNORECASE)
_INCLUDED = re.compile(r"\bsalt (?:included|counted in)|\bincluding (?:the )?salt|\bw ?/ ?w\b")
_OF = r"(?:(?:%|per ?cent) (?:salt )?(?:of|by) (?:the )?(?:weight of (?:the )?)?|\bby (?:the )?weight of (?:the )?)"
_WAYS = (
    (re.compile(rf"{_OF}water\b|\bby water weight\b"), Convention.OF_WATER),
    (
        re.compile(rf"{_OF}(?:both|total|whole|everything|all)\b|\b(?:both together|in total)\b"),
        Convention.EQUILIBRIUM,
    ),
    (re.compile(rf"{_OF}(?!brine|salt|weight|the\b)[a-z]"), Convention.OF_PRODUCE),
)
"""What a percent is said to be of; the first that fits."""


@dataclass(frozen=True, slots=True)
class _Given:
    """The measures in a question: grams of salt, finished brine, and what is salted, by its name.

    `wrong`: one of them is no weight, or there is more than one of salt.
    """

    packed: Packed = field(default_factory=Packed)
    things: tuple[str, ...] = ()
    salt: Decimal | None = None
    brine: Amount | None = None
    wrong: bool = False

    @property
    def thing(self) -> str:
        return listed(list(self.things))

    @property
    def weighed(self) -> bool:
        return bool(self.packed.produce_g or self.packed.water_g)

    @property
    def kind(self) -> Kind | None:
        """The kind of ferment that what is salted makes; None for what is no vegetable."""
        if OTHER_BASE.search(self.thing):
            return None
        return kind_named_in(self.thing) or (ANY if VEGETABLES.search(self.thing) else None)

    @property
    def may_be_vegetable(self) -> bool:
        return not OTHER_BASE.search(self.thing)


def asked(said: str, plan: Plan | None) -> Told | None:
    """The answer to a question that names what is salted and by how much; None for anything else."""
    text = _tidy(in_figures(_WITH_SALT.sub("salt included", said[:LONGEST])))
    if _CURING.search(text):
        return _cured(text)
    if not re.search(r"\b(?:salt|salty|brine)\b", text) or _REPORT.search(text):
        return None
    found = _PERCENT.search(text)
    percent = Decimal(found[1]) if found else None
    given = _given(_PERCENT.sub(" ", text))
    if given.wrong or (percent is not None and percent >= 100):
        return None
    if given.salt is not None:
        return None if percent is not None else _percent_of(text, given)
    return _salt_for(text, given, percent, plan) if _asks(text, percent) else None


def _asks(text: str, percent: Decimal | None) -> bool:
    """Whether it asks how much salt, or whether a percent of it is enough."""
    if percent is not None and _ENOUGH.search(text):
        return True
    found = _HOW_MUCH.search(text)
    return found is not None and (found["crystal"] is None or is_salt(f"{found['crystal']} salt"))


def _cured(text: str) -> Told | None:
    """How much of a salt with nitrite in it is never worked out."""
    if not re.search(r"\bhow (?:much|many)\b", text) or not _given(_PERCENT.sub(" ", text)).weighed:
        return None
    hazard = named("cured meat")
    return Told(
        hazard.says.rstrip("."), (f"{capital(hazard.source)}.", DEFERRAL), {"salt_g": None}, refused=True
    )


def _percent_of(text: str, given: _Given) -> Told | None:
    if not (_HOW_SALTY.search(text) or _ENOUGH.search(text)) or given.brine is not None or not given.weighed:
        return None
    return answered(
        Question(
            given.packed,
            salt=given.salt,
            kind=given.kind,
            thing=given.thing,
            vegetable=given.may_be_vegetable,
        )
    )


def _salt_for(text: str, given: _Given, percent: Decimal | None, plan: Plan | None) -> Told | None:
    if percent is not None and given.brine is not None:
        return brine_answered(given.brine, percent, _way(text, given) or BRINE, None)
    if given.brine is not None or not given.weighed:
        return None
    if percent is None and (given.kind is None or _planned(given.thing, plan)):
        return None
    way = _way(text, given)
    told = answered(
        Question(given.packed, percent, way, None, given.kind, given.thing, given.may_be_vegetable)
    )
    if not MEAT.search(given.thing):
        return told
    return replace(told, lines=(*told.lines, str(named("cured meat")), DEFERRAL))


def _planned(thing: str, plan: Plan | None) -> bool:
    """Whether the plan itself states a share of salt for that, by which it is then answered."""
    asked_for = {_stem(word) for word in thing.split()}
    amounts = [] if plan is None else [amount for step in plan.steps for amount in step.amounts]
    shared = [name for each in amounts if each.unit == "%" and is_salt(each.name) for name in each.of]
    return any(_stem(name.casefold().split()[-1]) in asked_for for name in shared if name.strip())


def _stem(word: str) -> str:
    return word.removesuffix("s").removesuffix("e")


def _tidy(said: str) -> str:
    plain = unicodedata.normalize("NFKC", said[:LONGEST]).casefold().replace("’", "'").replace("-", " ")
    plain = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    return re.sub(r"\s+", " ", re.sub(r"[^\w\s.%/]|(?<!\d)\.|\.(?!\d)", " ", plain)).strip()


def _way(text: str, given: _Given) -> Way | None:
    """What the percent is said to be of; None where it was not said, or there is no weight of it."""
    said = next((convention for pattern, convention in _WAYS if pattern.search(text)), None)
    if given.brine and said is not Convention.OF_WATER:
        return BRINE
    if said is not None and (given.brine or given.packed.base_g(said)):
        return Way(said, bool(_INCLUDED.search(text)))
    alone = given.packed.water_g and not given.packed.produce_g
    return BRINE if alone and "brine" in text.split() else None


# ---------------------------------------------------------------- measures


def _given(text: str) -> _Given:
    found = _Given()
    for number, unit, words in _MEASURE.findall(re.sub(r"\s+", " ", text)):
        found = _with(found, measured(Decimal(number), unit, words.strip()))
    return found


def _with(found: _Given, amount: Amount) -> _Given:
    """One more measure counted in."""
    words, packed, none = amount.name.split(), found.packed, Decimal(0)
    volume = amount.millilitres
    if "salt" in words:
        return replace(
            found, salt=amount.grams, wrong=found.wrong or amount.grams is None or found.salt is not None
        )
    if "brine" in words:
        return replace(found, brine=amount, wrong=found.wrong or found.brine is not None)
    if "water" in words:
        grams = amount.grams if volume is None else water_g(volume)
        return replace(found, packed=Packed(packed.produce_g, packed.water_g + (grams or none)))
    more = Packed(packed.produce_g + (amount.grams or none), packed.water_g)
    nameless = bool(packed.produce_g) and not (amount.name and found.things)
    unclear = nameless or _VESSEL.search(amount.name) is not None
    return replace(
        found,
        packed=more,
        things=(*found.things, amount.name) if amount.name else found.things,
        wrong=found.wrong or unclear or amount.grams is None,
    )


# ---------------------------------------------------------------- a ferment of the plan


def of_plan(said: str, plan: Plan | None) -> Told | None:
    """The answer to "how salty is it", by the ferment of the plan that is named, or else every one of it."""
    found = _OF_PLAN.match(_tidy(said))
    if found is None or plan is None:
        return None
    named = _EMPTY.sub(" ", next((part for part in found.groups() if part), "")).split()
    meant = [batch for batch in batches(plan) if _is_named(batch, plan, named)]
    return _told(meant, plan) if meant else None


def _is_named(batch: Batch, plan: Plan, words: list[str]) -> bool:
    step = plan.steps[batch.step]
    own = f"{step.name} {step.component} {' '.join(name for _, each in batch.salted for name in each.of)}"
    stems = {_stem(word) for word in re.findall(r"[a-z]+", own.casefold())}
    return all(_stem(word) in stems for word in words)


def _told(meant: list[Batch], plan: Plan) -> Told:
    lines = [line for batch in meant[:MOST_FERMENTS] for line in _salt_of(batch, plan)]
    every = [pair for batch in meant for pair in batch.judged or ()]
    caution = any(each.verdict is not Verdict.USUAL for each in every)
    facts = {"ferments": [plan.steps[batch.step].name for batch in meant]}
    return Told(lines[0], (*lines[1:], *([DEFERRAL] if caution else [])), facts)


def _salt_of(batch: Batch, plan: Plan) -> list[str]:
    """Grams of salt for what it is packed with, and how that stands to what is published."""
    name, judged = plan.steps[batch.step].name, batch.judged
    if batch.packed is None or batch.salt_g is None:
        return [f"{name}: its percent of salt is not known, because {batch.unknown}"]
    low, high = (weight(grams) for grams in batch.salt_g)
    water = f" and {weight(batch.packed.water_g)} of water" if batch.packed.water_g else ""
    told = f"{name}: {low if low == high else f'{low} to {high}'} of salt for {weight(batch.packed.produce_g)}{water}"
    return [told, *dict.fromkeys(str(each) for each in judged or ())]


MOST_FERMENTS = 3
"""Ferments told of in one answer."""
