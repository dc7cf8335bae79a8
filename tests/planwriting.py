"""Plans made at random, and plan files written from them: the other half of the reader, for tests."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import yaml
from hypothesis import assume
from hypothesis import strategies as st

from scheduler.domain.hours import Dated, Hours, Span, Weekly, exists, instant, local
from scheduler.domain.kitchen.amounts import Amount, plain
from scheduler.domain.plan import Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.planfile.text import written

DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
ZONES = ("Europe/Paris", "Asia/Kolkata", "America/St_Johns", "Pacific/Auckland")
GEAR = {"burner": 2, "oven": 1, "stone mortar": 1}
EASY = "abcdefghij éßñç-'(),:#&*!%@?>|{}[]"

lengths = st.one_of(
    st.integers(1, 600).map(lambda minutes: timedelta(minutes=minutes)),
    st.integers(1, 300).map(lambda seconds: timedelta(seconds=seconds)),
    st.integers(1, 30).map(lambda days: timedelta(days=days)),
)
texts = st.text(EASY, min_size=1, max_size=30).map(lambda text: " ".join(text.split())).filter(bool)
clocks = st.builds(time, st.integers(0, 23), st.integers(0, 59))
dates = st.dates(date(2020, 1, 1), date(2035, 12, 31))


@st.composite
def weekly(draw: st.DrawFn) -> Weekly:
    days = draw(st.frozensets(st.integers(0, 6), min_size=1))
    start, end = draw(clocks), draw(clocks)
    assume(start != end)
    return Weekly(days, start, end)


@st.composite
def dated(draw: st.DrawFn, zone: str) -> Dated:
    start = datetime.combine(draw(dates), draw(clocks))
    end = start + timedelta(minutes=draw(st.integers(1, 5000)))
    assume(exists(start, zone) and exists(end, zone))
    return Dated(start, end)


def hours(zone: str, least: int) -> st.SearchStrategy[Hours]:
    return st.lists(weekly() | dated(zone), min_size=least, max_size=3).map(tuple)


@st.composite
def ranges(draw: st.DrawFn) -> Range:
    shortest = draw(lengths)
    longest = draw(st.one_of(st.none(), st.just(shortest), lengths.map(lambda more: shortest + more)))
    if not draw(st.booleans()):
        return Range(shortest, longest)
    usually = draw(st.one_of(st.none(), st.just(longest or shortest * 2)))
    assume(longest is not None or usually is not None)
    return Range(shortest, longest, draw(texts), usually)


@st.composite
def tends(draw: st.DrawFn, lasts: Range) -> Tend | None:
    longest = lasts.longest or lasts.usually or lasts.shortest
    every = timedelta(seconds=draw(st.integers(2, max(2, int(longest.total_seconds())))))
    lasting = draw(st.one_of(st.none(), st.just(longest)))
    hands_on = timedelta(seconds=draw(st.integers(1, int(every.total_seconds()) - 1)))
    if draw(st.booleans()) or every > longest:
        return None
    return Tend(draw(texts), every, lasting, hands_on)


@st.composite
def amounts(draw: st.DrawFn) -> tuple[Amount, ...]:
    units = draw(st.lists(st.sampled_from(["g", "kg", "ml", "L", "cup", "", "pieces"]), max_size=3))
    given = [
        Amount(f"thing {number}", Decimal(draw(st.integers(1, 99999))) / 100, unit)
        for number, unit in enumerate(units)
    ]
    weighed = [amount for amount in given if amount.grams is not None]
    if draw(st.booleans()) and weighed:
        share = Decimal(draw(st.integers(1, 1000))) / 10
        grams = sum((amount.grams or Decimal(0) for amount in weighed), Decimal(0)) * share / 100
        given.append(Amount("salt", share, "%", tuple(amount.name for amount in weighed), grams))
    return tuple(given)


@st.composite
def steps(draw: st.DrawFn, component: str, place: int, earlier: list[Step], cooks: list[str]) -> Step:
    number = len(earlier)
    others = draw(st.lists(st.sampled_from(range(number)), max_size=2)) if number else []
    follows = tuple(dict.fromkeys([*([number - 1] if place else []), *others]))
    keeps = [earlier[before].keeps for before in follows]
    waits = ranges().map(lambda span: (span.shortest, span.longest))
    wait = draw(st.one_of(st.none(), waits)) if follows else None
    if wait is not None:
        assume(all(kept is None or wait[0] <= kept for kept in keeps))
    attention, lasts = draw(st.sampled_from(list(Attention))), draw(ranges())
    return Step(
        number=number,
        component=component,
        name=f"Step {place} {draw(texts)}",
        attention=attention,
        range=lasts,
        follows=follows,
        keeps=draw(st.one_of(st.none(), lengths)),
        wait=wait,
        gear=tuple(draw(st.lists(st.sampled_from(["burner", "stone mortar"]), max_size=2, unique=True))),
        oven=draw(st.one_of(st.none(), st.integers(30, 300))),
        at=draw(st.one_of(st.none(), st.integers(-300, 900).map(lambda tenths: tenths / 10))),
        cook=draw(st.one_of(st.none(), st.sampled_from(cooks))),
        optional=draw(st.booleans()),
        between=draw(st.lists(weekly(), max_size=2).map(tuple)),
        on=draw(st.lists(st.integers(0, 6) | dates, max_size=3, unique=True).map(tuple)),
        tend=None if attention is Attention.HANDS_ON else draw(tends(lasts)),
        amounts=draw(amounts()),
        buy=draw(st.one_of(st.none(), lengths)),
        caution=draw(st.one_of(st.none(), texts)),
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Any plan a file can hold, but for remarks and the lines steps stand on."""
    zone = draw(st.sampled_from(ZONES))
    cooks = tuple(
        Cook(name, draw(hours(zone, 1)), draw(hours(zone, 0)))
        for name in draw(st.sampled_from([["Cook"], ["Ada", "Noor"]]))
    )
    done: list[Step] = []
    components = []
    for number in range(draw(st.integers(1, 3))):
        name, first = f"Part {number} {draw(texts)}", len(done)
        for place in range(draw(st.integers(1, 3))):
            done.append(draw(steps(name, place, done, [cook.name for cook in cooks])))
        components.append(Component(name, tuple(done[first:]), draw(st.booleans())))
    at = datetime.combine(draw(dates), draw(clocks))
    assume(exists(at, zone))
    serve = draw(st.sampled_from([None, instant(at, zone)]))
    serves = draw(st.one_of(st.none(), st.integers(1, 500)))
    return Plan(draw(texts), zone, Kitchen(cooks, GEAR), tuple(components), serve, serves)


# ---------------------------------------------------------------- writing


def write(plan: Plan) -> str:
    """The plan as a plan file."""
    at = None if plan.serve is None else f"{local(plan.serve, plan.zone):%Y-%m-%d %H:%M}"
    whole = {
        "crockbell": 1,
        "title": plan.title,
        "serves": plan.serves,
        "serve": at,
        "zone": plan.zone,
        "kitchen": {
            "cooks": {
                cook.name: _without_nothing({"awake": _hours(cook.awake), "away": _hours(cook.away)})
                for cook in plan.kitchen.cooks
            },
            "gear": dict(plan.kitchen.gear),
        },
        "components": [
            {
                "name": component.name,
                "optional": component.optional,
                "steps": [_step(plan, step) for step in component.steps],
            }
            for component in plan.components
        ],
    }
    return str(yaml.safe_dump(_without_nothing(whole), sort_keys=False, allow_unicode=True))


def _without_nothing(mapping: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in mapping.items() if value is not None and value != []}


def _step(plan: Plan, step: Step) -> dict[str, Any]:
    after = [plan.steps[number] for number in step.follows]
    tend = step.tend
    return _without_nothing(
        {
            "name": step.name,
            step.attention.value: _range(step.range.shortest, step.range.longest),
            "until": step.range.until,
            "usually": step.range.usually and written(step.range.usually),
            "at": None if step.at is None else f"{step.at} C",
            "oven": None if step.oven is None else f"{step.oven} C",
            "keeps": step.keeps and written(step.keeps),
            "wait": step.wait and _range(*step.wait),
            "gear": list(step.gear),
            "cook": step.cook,
            "optional": step.optional,
            "between": _hours(step.between),
            "on": [str(on) if isinstance(on, date) else DAY_NAMES[on] for on in step.on],
            "buy": step.buy and f"{written(step.buy)} before",
            "caution": step.caution,
            "amounts": {amount.name: _amount(amount) for amount in step.amounts} or None,
            "after": [f"{other.component} / {other.name}" for other in after],
            "tend": tend
            and _without_nothing(
                {
                    "name": tend.name,
                    "every": written(tend.every),
                    "for": tend.lasting and written(tend.lasting),
                    "hands-on": written(tend.hands_on),
                }
            ),
        }
    )


def _range(shortest: timedelta, longest: timedelta | None) -> str:
    if longest is None:
        return f"at least {written(shortest)}"
    return written(shortest) if longest == shortest else f"{written(shortest)} to {written(longest)}"


def _amount(amount: Amount) -> str:
    unit = f"% of {' + '.join(amount.of)}" if amount.unit == "%" else amount.unit
    return f"{plain(amount.quantity)} {unit}".strip()


def _hours(spans: Hours | tuple[Weekly, ...]) -> list[str]:
    return [_span(span) for span in spans]


def _span(span: Span) -> str:
    if isinstance(span, Dated):
        return f"{span.start:%Y-%m-%d %H:%M} - {span.end:%Y-%m-%d %H:%M}"
    end = "24:00" if span.end == time() else f"{span.end:%H:%M}"
    return f"{', '.join(DAY_NAMES[day] for day in sorted(span.days))} {span.start:%H:%M}-{end}"
