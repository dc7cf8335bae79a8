"""Plans in a few lines for tests, without the plan file's reader; timetables by hand; and random plans."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

from hypothesis import strategies as st

from scheduler.domain.hours import Dated, Hours, Span, Weekly, instant
from scheduler.domain.plan import MINUTE, Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.domain.progress import Mark, MarkKind
from scheduler.domain.timetable import Slot, Timetable, Touch, in_order

PARIS = "Europe/Paris"
UNITS = {
    "d": timedelta(days=1),
    "h": timedelta(hours=1),
    "min": timedelta(minutes=1),
    "s": timedelta(seconds=1),
}
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def span(text: str) -> timedelta:
    """ "2 h 30 min" as a length of time."""
    parts = re.findall(r"(\d+) (d|h|min|s)\b", text)
    if not parts or " ".join(f"{n} {unit}" for n, unit in parts) != text:
        raise ValueError(f"not a length of time: {text!r}")
    return sum((int(n) * UNITS[unit] for n, unit in parts), timedelta(0))


def at(text: str, zone: str = PARIS) -> datetime:
    """ "2026-12-12 19:30" on the local clock, as a UTC instant."""
    return instant(datetime.fromisoformat(text), zone)


def utc(text: str) -> datetime:
    """ "2026-12-12 19:30" in UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def hours(*texts: str) -> Hours:
    """ "07:00-22:30", "mon-fri 08:30-17:45" or "2026-12-10 18:00-23:00", as a plan file writes them."""
    return tuple(_hours(text) for text in texts)


def _hours(text: str) -> Span:
    when, _, clock = text.rpartition(" ")
    start, end = (time.fromisoformat(part) for part in clock.split("-"))
    if when[:1].isdigit():
        day = date.fromisoformat(when)
        return Dated(datetime.combine(day, start), datetime.combine(day, end))
    first, _, last = when.partition("-")
    weekdays = range(DAYS.index(first or "mon"), DAYS.index(last or first or "sun") + 1)
    return Weekly(frozenset(weekdays), start, end)


def lasting(text: str, until: str | None = None, usually: str | None = None) -> Range:
    """ "25 min", "7 d to 10 d" or "at least 12 h", as a plan file writes them."""
    if text.startswith("at least "):
        shortest, longest = span(text.removeprefix("at least ")), None
    else:
        short, _, long = text.partition(" to ")
        shortest, longest = span(short), span(long or short)
    return Range(shortest, longest, until, span(usually) if usually else None)


def tend(name: str, every: str, lasting: str | None = None, hands_on: str = "2 min") -> Tend:
    return Tend(name, span(every), span(lasting) if lasting else None, span(hands_on))


@dataclass(frozen=True)
class Draft:
    """A step that has no number yet; `after` names steps or components."""

    step: Step
    after: tuple[str, ...] = ()


@dataclass(frozen=True)
class Part:
    name: str
    drafts: tuple[Draft, ...]
    optional: bool = False


def step(
    name: str,
    *,
    hands_on: str | None = None,
    nearby: str | None = None,
    unattended: str | None = None,
    until: str | None = None,
    usually: str | None = None,
    keeps: str | None = None,
    wait: str | None = None,
    after: Iterable[str] = (),
    between: Iterable[str] = (),
    on: Iterable[int | date] = (),
    gear: Iterable[str] = (),
    oven: int | None = None,
    cook: str | None = None,
    tend: Tend | None = None,
) -> Draft:
    """One step, in the words of a plan file; exactly one of the three attentions says how long it lasts."""
    given = {Attention.HANDS_ON: hands_on, Attention.NEARBY: nearby, Attention.UNATTENDED: unattended}
    ((attention, length),) = ((key, text) for key, text in given.items() if text is not None)
    waits = lasting(wait) if wait else None
    built = Step(
        0,
        "",
        name,
        attention,
        lasting(length, until, usually),
        keeps=span(keeps) if keeps else None,
        wait=(waits.shortest, waits.longest) if waits else None,
        between=tuple(each for each in hours(*between) if isinstance(each, Weekly)),
        on=tuple(on),
        gear=tuple(gear),
        oven=oven,
        cook=cook,
        tend=tend,
    )
    return Draft(built, tuple(after))


def component(name: str, *drafts: Draft, optional: bool = False) -> Part:
    return Part(name, drafts, optional)


def cook(name: str, awake: Iterable[str] = ("07:00-22:30",), away: Iterable[str] = ()) -> Cook:
    return Cook(name, hours(*awake), hours(*away))


def plan(
    *parts: Part,
    cooks: Iterable[Cook] = (),
    gear: Mapping[str, int] | None = None,
    zone: str = PARIS,
    serve: str | None = None,
    title: str = "A meal",
) -> Plan:
    """A plan; one cook, Ada, awake from 07:00 to 22:30, unless others are given."""
    numbers = _numbers(parts)
    components = []
    for part in parts:
        steps: list[Step] = []
        for draft in part.drafts:
            number = numbers[part.name, draft.step.name]
            follows = [steps[-1].number] if steps else []
            follows += [_named(numbers, name) for name in draft.after]
            steps.append(replace(draft.step, number=number, component=part.name, follows=tuple(follows)))
        components.append(Component(part.name, tuple(steps), part.optional))
    kitchen = Kitchen(tuple(cooks) or (cook("Ada"),), dict(gear or {}))
    return Plan(title, zone, kitchen, tuple(components), at(serve, zone) if serve else None)


def _numbers(parts: Iterable[Part]) -> dict[tuple[str, str], int]:
    keys = [(part.name, draft.step.name) for part in parts for draft in part.drafts]
    return {key: number for number, key in enumerate(keys)}


def _named(numbers: Mapping[tuple[str, str], int], name: str) -> int:
    """The step of that name, or the last step of the component of that name."""
    steps = [number for (_, own), number in numbers.items() if own == name]
    return steps[0] if steps else max(number for (part, _), number in numbers.items() if part == name)


def number_of(made: Plan, name: str) -> int:
    """The number of the step with that name."""
    (number,) = (each.number for each in made.steps if each.name == name)
    return number


# ---------------------------------------------------------------- timetables and marks by hand


def slot(made: Plan, name: str, start: str, end: str, cook: str | None = None) -> Slot:
    """A slot between two local times, with no window; a hands-on step takes its first cook unless told."""
    number = number_of(made, name)
    begins, ends = at(start, made.zone), at(end, made.zone)
    if cook is None and made.steps[number].attention is Attention.HANDS_ON:
        cook = made.cooks_of(made.steps[number])[0].name
    return Slot(number, begins, ends, begins, begins, begins, cook)


def timetable(made: Plan, serve: str, *slots: Slot, touches: Iterable[Touch] = ()) -> Timetable:
    return Timetable(at(serve, made.zone), in_order(slots), tuple(touches))


def moved(
    given: Timetable,
    number: int,
    start: datetime | None = None,
    end: datetime | None = None,
    cook: str | None = None,
) -> Timetable:
    """The timetable with one slot changed, and every window closed up to its start."""
    slots = []
    for each in given.slots:
        begins = start or each.start if each.step == number else each.start
        changed = replace(each, start=begins, earliest=begins, latest=begins, last_call=begins)
        if each.step == number:
            changed = replace(changed, end=end or each.end, cook=cook or each.cook)
        slots.append(changed)
    return replace(given, slots=in_order(slots))


def mark(
    kind: MarkKind,
    number: int,
    about: datetime,
    said: datetime | None = None,
    until: datetime | None = None,
    occurrence: int | None = None,
    batch: str | None = None,
) -> Mark:
    """A mark on a step, said when it is about, in a batch of its own unless told otherwise."""
    said = said or about
    return Mark(kind, about, said, batch or f"{kind} {number} {said:%d %H:%M:%S}", number, occurrence, until)


# ---------------------------------------------------------------- random plans

NOW = utc("2026-11-28 09:00")
"""When random plans are timed from: a Saturday."""

SERVED = utc("2026-12-12 18:00")
"""When random plans are served: the evening of a Saturday two weeks later."""

SHORT = st.sampled_from([5, 10, 12, 15, 20, 30])
LONG = st.sampled_from([30, 45, 60, 90])
WAITS = st.sampled_from([(30, 60), (60, 180), (120, 120), (480, 900), (720, 1080), (1440, 4320)])
KEEPS = st.sampled_from([None, "45 min", "4 h", "1 d", "5 d"])
GEAR = st.sampled_from([(), (), ("burner",), ("burner", "burner"), ("mixer",)])
OVENS = st.sampled_from([None, None, 160, 200])
HOURS = st.sampled_from([(), (), ("08:00-21:00",)])
ON = st.sampled_from([(), (), (), (1, 2, 3, 4, 5, 6), (0, 2, 4, 5, 6)])
AWAY = st.sampled_from([(), (), ("mon-fri 08:30-17:45",), ("2026-12-10 18:00-22:00",)])
AWAKE = st.sampled_from([("07:00-22:30",), ("mon-fri 06:30-22:30", "sat-sun 08:00-23:30")])
MINUTES = {Attention.HANDS_ON: SHORT, Attention.NEARBY: LONG}


@st.composite
def _steps(draw: st.DrawFn, name: str, last: bool, earlier: tuple[str, ...], cooks: int) -> Draft:
    attention = draw(st.sampled_from(list(Attention)))
    waits = attention is Attention.UNATTENDED
    shortest, longest = draw(WAITS) if waits else (draw(MINUTES[attention]),) * 2
    if attention is Attention.NEARBY:
        longest += draw(st.sampled_from([0, 0, 30]))
    nature = draw(st.booleans()) and longest > shortest
    built = Step(
        0,
        "",
        name,
        attention,
        Range(shortest * MINUTE, longest * MINUTE, "it looks ready" if nature else None),
        keeps=_kept(draw(KEEPS), last or nature),
        wait=draw(st.sampled_from([None, None, None, (10 * MINUTE, 60 * MINUTE)])) if earlier else None,
        gear=() if waits else draw(GEAR),
        oven=draw(OVENS) if attention is Attention.NEARBY else None,
        cook=draw(st.sampled_from([None, None, "Ada", "Noor"][: 3 + (cooks > 1)])),
        between=tuple(each for each in hours(*draw(HOURS)) if isinstance(each, Weekly)),
        on=draw(ON),
        tend=draw(_tends(shortest * MINUTE)) if not nature and attention is not Attention.HANDS_ON else None,
    )
    return Draft(built, draw(st.sampled_from([(), (), earlier[-1:]])))


def _kept(text: str | None, must: bool) -> timedelta | None:
    """Last steps, and those that nature ends, always keep for a while, so that most plans can be served."""
    return span(text) if text else (span("6 h") if must else None)


def _tends(shortest: timedelta) -> st.SearchStrategy[Tend | None]:
    often = max(20 * MINUTE, shortest // 4 // (5 * MINUTE) * (5 * MINUTE))
    return st.sampled_from([None, None, Tend("Stir", often, None, 2 * MINUTE)])


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Small plans of one to four components of one to five steps, most of which can be served at SERVED."""
    cooks = draw(st.integers(1, 2))
    parts: list[Part] = []
    for letter in "ABCD"[: draw(st.integers(1, 4))]:
        count = draw(st.integers(1, 5))
        earlier = tuple(part.name for part in parts)
        drafts = []
        for n in range(count):
            before = earlier if n == 0 else ()
            drafts.append(draw(_steps(f"{letter}{n}", n == count - 1, before, cooks)))
        parts.append(Part(letter, tuple(drafts)))
    people = [cook(name, draw(AWAKE), draw(AWAY)) for name in ("Ada", "Noor")[:cooks]]
    return plan(*parts, cooks=people, gear={"burner": 2, "mixer": 1, "oven": 1})
