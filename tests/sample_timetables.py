"""Plans and timetables made by hand, for tests of what is drawn and exported."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta

from scheduler.domain.hours import Weekly, instant
from scheduler.domain.plan import Attention, Component, Cook, Kitchen, Plan, Range, Step, Tend
from scheduler.domain.timetable import Slot, Timetable, Touch, in_order

EVERY_DAY = frozenset(range(7))
WEEKDAYS = frozenset(range(5))

H, N, U = Attention.HANDS_ON, Attention.NEARBY, Attention.UNATTENDED


@dataclass(frozen=True)
class Draft:
    """A step before it is numbered; `minutes` is its length, `keeps` in minutes, `after` component names."""

    name: str
    attention: Attention
    minutes: int
    keeps: int = 0
    until: str | None = None
    tend: Tend | None = None
    cook: str | None = None
    after: tuple[str, ...] = ()


def tend(name: str, every: timedelta, lasting: timedelta | None = None) -> Tend:
    return Tend(name, every, lasting, timedelta(minutes=2))


def cook(name: str, away: tuple[Weekly, ...] = (), awake: tuple[int, int] = (7, 22)) -> Cook:
    return Cook(name, (Weekly(EVERY_DAY, time(awake[0]), time(awake[1], 30)),), away)


AT_WORK = (Weekly(WEEKDAYS, time(8, 30), time(17, 45)),)


def plan_of(
    title: str,
    serve: str,
    zone: str,
    parts: dict[str, list[Draft]],
    cooks: tuple[Cook, ...] = (cook("Ada", AT_WORK),),
    serves: int | None = 8,
) -> Plan:
    """A plan from drafts; `serve` is the local serving hour."""
    last: dict[str, int] = {}
    components = []
    number = 0
    for name, drafts in parts.items():
        steps: list[Step] = []
        for draft in drafts:
            follows = [steps[-1].number] if steps else []
            follows += [last[other] for other in draft.after]
            steps.append(_step(number, name, draft, tuple(follows)))
            number += 1
        last[name] = number - 1
        components.append(Component(name, tuple(steps)))
    return Plan(
        title, zone, Kitchen(cooks), tuple(components), instant(datetime.fromisoformat(serve), zone), serves
    )


def _step(number: int, component: str, draft: Draft, follows: tuple[int, ...]) -> Step:
    lasting = timedelta(minutes=draft.minutes)
    return Step(
        number,
        component,
        draft.name,
        draft.attention,
        Range(lasting, lasting, draft.until),
        follows,
        keeps=timedelta(minutes=draft.keeps) if draft.keeps else None,
        tend=draft.tend,
        cook=draft.cook,
    )


def timetable_of(plan: Plan) -> Timetable:
    """Every step as late as it may be, as though everything kept and no cook ever slept."""
    serve = plan.serve or datetime(2026, 12, 12, 18, 30, tzinfo=UTC)
    ends: dict[int, datetime] = {}
    slots: list[Slot] = []
    for number in reversed(plan.order):
        step = plan.steps[number]
        end = ends.get(number, serve)
        start = end - step.range.planned()[0]
        slots.append(
            Slot(
                number,
                start,
                end,
                start - timedelta(hours=1),
                start,
                start + timedelta(minutes=30),
                step.cook,
            )
        )
        for before in step.follows:
            ends[before] = min(ends.get(before, serve), start)
    return Timetable(serve, in_order(slots), tuple(_touches(plan, slots)))


def _touches(plan: Plan, slots: list[Slot]) -> list[Touch]:
    touches = []
    for slot in slots:
        if tending := plan.steps[slot.step].tend:
            until = slot.end if tending.lasting is None else slot.start + tending.lasting
            at, count = slot.start + tending.every, 1
            while at <= min(until, slot.end):
                touches.append(Touch(slot.step, count, at, at))
                at, count = at + tending.every, count + 1
    return touches


DAY = timedelta(days=1)
H1, D1 = 60, 24 * 60
