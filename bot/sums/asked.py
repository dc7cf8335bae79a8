"""Questions about one amount in plain words, taken apart."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from bot.sums import amounts
from bot.sums.scale import how_many, quantity_in
from bot.sums.told import Told, WrongFigure
from bot.understanding.given import FIGURE, UNIT
from bot.understanding.plainwords import bare, plain
from scheduler import units
from scheduler.domain.kitchen.amounts import UNITS

NUMBER = rf"(?:(?:\d{{1,4}} )?\d{{1,2}}/\d{{1,2}}|{FIGURE})"
SO_MUCH = rf"(?:(?P<figure>{NUMBER})|(?P<part>half(?: an?)?|an?|1)) ?(?P<unit>{UNIT})"
OF = r"(?: of)?(?: the)? (?P<name>[a-z][a-z ]*?)"
INTO = rf"(?P<into>{UNIT})"
ASK = r"(?:(?:what|how much) (?:is|are|would be) |(?:please )?convert |turn )?"
PEOPLE = r"(?: people| guests| persons)?"
HALF = "0.5"


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], tuple[re.Pattern[str], ...]]:
    """To scale an amount; the same asked back to front; and to put one in another measure."""
    scale = re.compile(
        rf"(?:scale|convert) (?P<what>.+?) from (?P<before>\d+){PEOPLE} to (?P<after>\d+){PEOPLE}"
    )
    back = re.compile(
        rf"(?P<what>{FIGURE} .+?) (?:is )?for (?P<before>\d+){PEOPLE}[ ,.]+"
        rf"(?:so )?(?:how much|what)(?: is (?:it|that))? for (?P<after>\d+){PEOPLE}"
    )
    measures = (
        rf"how (?:many|much)(?: in)? {INTO} (?:(?:is|are)(?: there)?(?: in)?|in|to|would be|do|does|make|makes) "
        rf"{SO_MUCH}(?:{OF})?(?: weigh| make| come to| be)?",
        rf"{ASK}{SO_MUCH}(?:{OF})? (?:in|into|to|as) {INTO}",
        rf"(?:how much|what) (?:do|does|will|would) {SO_MUCH}{OF} weigh",
        rf"(?:what is )?the weight of {SO_MUCH}{OF}",
    )
    return scale, back, tuple(re.compile(pattern) for pattern in measures)


def answered(said: str) -> Told | None:
    """The answer to such a question; None for all other words."""
    words = bare(plain(said)).replace("?", "").strip(" .,")
    scale, back, measures = _patterns()
    found = scale.fullmatch(words) or back.fullmatch(words)
    if found:
        return _scaled(found)
    asked = next((match for pattern in measures if (match := pattern.fullmatch(words))), None)
    return None if asked is None else _told(lambda: _measured(asked))


def _scaled(found: re.Match[str]) -> Told | None:
    what, _, name = found["what"].partition(" of ")
    try:
        given = quantity_in(what)
    except WrongFigure:
        return None  # "scale the plan from 8 to 12" is about no amount
    before, after = found["before"], found["after"]
    return _told(lambda: amounts.for_others(given, name, how_many("from", before), how_many("to", after)))


def _measured(asked: re.Match[str]) -> Told:
    figure = asked["figure"] or (HALF if asked["part"].startswith("half") else "1")
    given = quantity_in(f"{figure.replace(',', '.')} {asked['unit']}")
    name = (asked["name"] or "").strip()
    if "into" not in asked.re.groupindex:
        return amounts.weighed(given, name)
    return amounts.in_unit(given, name, _unit(asked["into"]))


def _unit(written: str) -> str:
    """A unit of the domain's tables; the other ones are read, not written."""
    known = UNITS.get(written)
    if known is None:
        other = units.OTHERS[written]
        raise WrongFigure(f"I answer in g, kg, oz, lb, ml, L, tsp, tbsp or cups, not in {other}")
    return known


def _told(answer: Callable[[], Told]) -> Told:
    """What cannot be answered is said so: it was asked all the same."""
    try:
        return answer()
    except WrongFigure as error:
        return Told(str(error), refused=True)
