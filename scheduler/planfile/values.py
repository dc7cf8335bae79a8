"""The values of a plan file as pydantic types: how each is read, and how the JSON Schema shows it.

Every value is text when it gets here; the grammars of `plantext` and `planfigures` turn it into what it
means, and what they refuse comes out as a TextError inside pydantic's ValidationError.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, datetime, timedelta
from enum import StrEnum
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, PlainValidator
from pydantic import WithJsonSchema as Shown

from scheduler.domain.hours import Hours, Weekly
from scheduler.domain.kitchen import core
from scheduler.domain.kitchen.salt import KINDS
from scheduler.domain.kitchen.starter import Feed
from scheduler.planfile import figures as figures
from scheduler.planfile import text as text
from scheduler.planfile.figures import Quantity
from scheduler.planfile.text import TextError

VERSION = 1
MOST_COOKS = 20
MOST_PIECES = 99
MOST_SERVED = 10_000
MOST_AMOUNTS = 100

Shape = dict[str, Any]


def _text(grammar: Callable[[str], object], expected: str) -> PlainValidator:
    """Reads text by `grammar`; anything but text is refused as not being what was expected."""

    def read(value: object) -> object:
        if not isinstance(value, str):
            raise TextError(expected)
        return grammar(value)

    return PlainValidator(read)


def _listed(expected: str) -> BeforeValidator:
    """One value stands for a list of one."""

    def read(value: object) -> object:
        if isinstance(value, str):
            return [value]
        if not isinstance(value, list) or not value:
            raise TextError(expected)
        return value

    return BeforeValidator(read)


def keyed(expected: str) -> BeforeValidator:
    """A mapping that is not empty."""

    def read(value: object) -> object:
        if not isinstance(value, dict) or not value:
            raise TextError(expected)
        return value

    return BeforeValidator(read)


def _string(pattern: str, *examples: str) -> Shape:
    return {"type": "string", "pattern": f"^{pattern}$", "examples": list(examples)}


def _words(longest: int) -> Shape:
    return {"type": "string", "minLength": 1, "maxLength": longest}


def _number(lowest: int, highest: int) -> Shape:
    """A number, or one that a loader which makes everything text has read."""
    return {"type": ["integer", "string"], "minimum": lowest, "maximum": highest, "pattern": "^[0-9]{1,6}$"}


def _one_or_more(shape: Shape) -> Shape:
    return {"anyOf": [shape, {"type": "array", "items": shape, "minItems": 1}]}


def _whole(lowest: int, highest: int) -> PlainValidator:
    return _text(
        lambda given: figures.count(given, lowest, highest), f"a whole number from {lowest} to {highest}"
    )


def _positive(length: timedelta) -> timedelta:
    if not length:
        raise TextError("a time longer than nothing")
    return length


def _lasting(given: str) -> tuple[timedelta, timedelta | None]:
    shortest, longest = text.span_of(given)
    return _positive(shortest), longest


def _version(given: str) -> int:
    if given.strip() != str(VERSION):
        raise TextError(f"{VERSION}, the version of the format that is read here")
    return VERSION


def _either(kinds: Iterable[str]) -> str:
    names = [str(kind) for kind in kinds]
    return f"{', '.join(names[:-1])} or {names[-1]}"


def _one_of(kinds: type[StrEnum]) -> Callable[[str], object]:
    def read(given: str) -> object:
        found = [kind for kind in kinds if kind == given.strip().casefold()]
        if not found:
            raise TextError(_either(kinds))
        return found[0]

    return read


def _choice(kinds: Iterable[str]) -> Shape:
    return {"enum": [str(kind) for kind in kinds]}


_A_FERMENT = _either(KINDS)


def _ferment_kind(given: str) -> str:
    if given.strip().casefold() not in KINDS:
        raise TextError(_A_FERMENT)
    return given.strip().casefold()


_NAME = _words(text.LONGEST_NAME)
_DURATION = _string(text.DURATION, "25 min", "2 h 30 min", "7 d")
_RANGE = _string(text.RANGE, "25 min", "7 d to 10 d", "at least 12 h")
_HOURS = _string(f"{text.STRETCH}(?: ?[,;] ?{text.STRETCH})*", "07:00-22:30", "mon-fri 08:30-17:45")
_WEEKLY = _string(f"{text.WEEKLY}(?: ?[,;] ?{text.WEEKLY})*", "09:00-12:00", "sat 09:00-12:00")
_ON = _string(f"(?:{text.DAYS}|{text.DATE})", "sat", "mon-fri", "2026-12-12")
_AMOUNT: Shape = {
    "anyOf": [
        {"type": "number", "exclusiveMinimum": 0},
        _string(figures.AMOUNT, "900 g", "1.2 L", "8 pieces", "2.5 % of turnips"),
    ]
}
_LENGTH = _text(lambda given: _positive(text.duration(given)), text.A_DURATION)

Name = Annotated[str, _text(text.name, "a name"), Shown(_NAME)]
MaybeName = Annotated[str | None, _text(text.name, "a name"), Shown(_NAME)]
MaybeWords = Annotated[str | None, _text(text.words, "some text"), Shown(_words(text.LONGEST_TEXT))]
Length = Annotated[timedelta, _LENGTH, Shown(_DURATION)]
MaybeLength = Annotated[timedelta | None, _LENGTH, Shown(_DURATION)]
Lasting = Annotated[tuple[timedelta, timedelta | None] | None, _text(_lasting, text.A_RANGE), Shown(_RANGE)]
Wait = Annotated[tuple[timedelta, timedelta | None] | None, _text(text.span_of, text.A_RANGE), Shown(_RANGE)]
Lead = Annotated[
    timedelta | None, _text(figures.lead, figures.A_LEAD), Shown(_string(figures.LEAD, "2 d before"))
]
Heat = _string(figures.TEMPERATURE, "19 C", "66 F")
MaybeCelsius = Annotated[float | None, _text(figures.celsius, figures.A_TEMPERATURE), Shown(Heat)]
Celsius = Annotated[float, _text(figures.celsius, figures.A_TEMPERATURE), Shown(Heat)]
Thickness = Annotated[
    float,
    _text(figures.thickness_mm, figures.A_THICKNESS),
    Shown(_string(figures.THICKNESS, "40 mm", "4 cm", "1.5 in")),
]
CoreShape = Annotated[core.Shape, _text(_one_of(core.Shape), _either(core.Shape)), Shown(_choice(core.Shape))]
CoreFood = Annotated[
    core.Food | None, _text(_one_of(core.Food), _either(core.Food)), Shown(_choice(core.Food))
]
FeedRatio = Annotated[Feed, _text(figures.feed, figures.A_FEED), Shown(_string(figures.FEED, "1:5:5"))]
FermentKind = Annotated[str | None, _text(_ferment_kind, _A_FERMENT), Shown({"enum": list(KINDS)})]
MaybeOven = Annotated[int | None, _text(figures.oven_heat, figures.AN_OVEN), Shown(Heat)]
YesOrNo = Annotated[
    bool,
    _text(figures.yes_or_no, figures.YES_OR_NO),
    Shown({"enum": [True, False, "true", "false", "yes", "no"]}),
]
Names = Annotated[list[Name], _listed("a name or a list of names"), Shown(_one_or_more(_NAME))]

Span = Annotated[Hours, _text(text.hours, text.SOME_HOURS)]
WallHours = Annotated[list[Span] | None, _listed(text.SOME_HOURS), Shown(_one_or_more(_HOURS))]
WeeklySpan = Annotated[tuple[Weekly, ...], _text(text.weekly_hours, text.WEEKLY_HOURS)]
Between = Annotated[list[WeeklySpan], _listed(text.WEEKLY_HOURS), Shown(_one_or_more(_WEEKLY))]
Days = Annotated[tuple[int | date, ...], _text(text.days, text.A_DAY)]
On = Annotated[list[Days], _listed(text.A_DAY), Shown(_one_or_more(_ON))]
Amount = Annotated[Quantity, _text(figures.quantity, figures.AN_AMOUNT), Shown(_AMOUNT)]
Amounts = Annotated[
    dict[Name, Amount],
    Field(max_length=MOST_AMOUNTS),
    keyed("amounts such as {turnips: 900 g, salt: 2.5 % of turnips}"),
]
Pieces = Annotated[int, _whole(0, MOST_PIECES), Shown(_number(0, MOST_PIECES))]
Gear = Annotated[dict[Name, Pieces], keyed("gear with its count, such as {burner: 4, oven: 1}")]
Version = Annotated[int, _text(_version, "1"), Shown({"enum": [VERSION, str(VERSION)]})]
Served = Annotated[int | None, _whole(1, MOST_SERVED), Shown(_number(1, MOST_SERVED))]
Moment = Annotated[
    datetime | None,
    _text(text.local_datetime, text.A_MOMENT),
    Shown(_string(text.MOMENT, "2026-12-12 19:30")),
]
CookCount = Annotated[
    int,
    _text(lambda given: figures.count(given, 1, MOST_COOKS), "a number of cooks, or their names"),
    Shown(_number(1, MOST_COOKS)),
]
