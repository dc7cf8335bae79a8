"""What would mend a bet: changes to the plan or its times, each tried out before it is named.

Nothing that ferments is cut short, and nothing is heated less. A change is named only when the promise was found
kept with it, as far as that bet goes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import partial

from scheduler.domain.hours import Dated, local
from scheduler.domain.kitchen.hazards.guards import may_stand_longer
from scheduler.domain.plan import Attention, Cook, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.promise import Bet, Break
from scheduler.domain.slack.room import moment
from scheduler.domain.timetable import Timetable
from scheduler.keeping import Solve, moved_start, surer

KEEPS = tuple(
    timedelta(minutes=m) for m in (10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720, 1080, 1440)
)
"""The lengths of keeping that are tried, the shortest first."""

UP = tuple(timedelta(minutes=m) for m in (30, 60, 90, 120, 180, 240))
"""How long someone stays up, or comes home sooner, as far as is tried."""


@dataclass(frozen=True)
class Mend:
    """A change after which one bet is none; `wholly`: nor is anything else then.

    One of these is there: `begin`, when `step` begins then (`later` or sooner than now planned); `keeps`, how long
    what `step` made has to keep; `home`, when `cook` has to be awake and at home; `longest`, `step` planned so.
    """

    step: int
    wholly: bool = False
    begin: datetime | None = None
    later: bool = False
    keeps: timedelta | None = None
    home: tuple[datetime, datetime] | None = None
    cook: str | None = None
    longest: timedelta | None = None


def mends(bet: Bet, lost: Break, solve: Solve) -> tuple[Mend, ...]:
    """The changes that mend one break, the least disturbing first: a start moved, another length planned for,
    someone staying up, and what would have to keep.
    """
    if not lost.towards:
        return ()
    ways = (_begin(bet, lost, solve), _longest(bet, lost, solve), _home(bet, lost), _keeps(bet, lost))
    return tuple(mend for way in ways for mend in way)


def _tried(bet: Bet, lost: Break, plan: Plan, timetable: Timetable | None, mend: Mend) -> Mend | None:
    """The mend if it does and makes no other bet, and whether it does wholly."""
    if timetable is None:
        return None
    mended, step = Bet(plan, timetable, bet.now, bet.progress), lost.steps[0]
    if not mended.kept(()) or not mended.kept_towards(step, lost.towards):
        return None
    if timetable is not bet.timetable and any(_lost_by(bet, mended, n) for n in bet.unsure):
        return None
    return replace(mend, wholly=mended.kept())


def _lost_by(bet: Bet, mended: Bet, step: int) -> bool:
    return any(bet.kept_towards(step, to) and not mended.kept_towards(step, to) for to in (1, -1))


# ---------------------------------------------------------------- other times


def _begin(bet: Bet, lost: Break, solve: Solve) -> Iterator[Mend]:
    timetable = solve(bet.plan, (moved_start(bet, lost),))
    if timetable is None:
        return
    first = _first_of(bet.plan, lost.steps[0])
    old, new = bet.timetable.slot(first), timetable.slot(first)
    if old is not None and new is not None and old.start != new.start:
        mend = Mend(first, begin=new.start, later=new.start > old.start)
        if tried := _tried(bet, lost, bet.plan, timetable, mend):
            yield tried


def _first_of(plan: Plan, number: int) -> int:
    """The step whose start carries this one along, nothing being allowed to wait between them."""
    tied = [link.before for link in plan.links_into[number] if link.tied]
    fixed = [n for n in tied if plan.steps[n].range.planned()[0] == plan.steps[n].range.planned()[1]]
    return _first_of(plan, fixed[0]) if len(fixed) == 1 else number


def _longest(bet: Bet, lost: Break, solve: Solve) -> Iterator[Mend]:
    step = bet.plan.steps[lost.steps[0]]
    longest = step.range.longest
    if step.range.usually is None or longest is None or longest == step.range.usually:
        return
    plan = changed(bet.plan, replace(step, range=replace(step.range, usually=None)))
    first = solve(plan, ())
    timetable = surer(plan, first, bet.now, bet.progress, solve) if first else None
    if tried := _tried(bet, lost, plan, timetable, Mend(step.number, longest=longest)):
        yield tried


# ---------------------------------------------------------------- someone there


def _home(bet: Bet, lost: Break) -> Iterator[Mend]:
    if lost.trouble.rule not in ("hours", "unseen", "kept"):
        return
    step, at = bet.plan.steps[lost.trouble.step], moment(lost.trouble.at)
    slot = bet.timetable.slot(step.number)
    name = step.cook or (slot.cook if slot and slot.cook else bet.plan.kitchen.cooks[0].name)
    hours = Presence(bet.plan, at - timedelta(days=3), at + timedelta(days=3)).home(name)
    shut = max((end for _, end in hours if end <= at), default=None)
    opens = min((start for start, _ in hours if start > at), default=None)

    def there(since: datetime, until: datetime) -> Mend | None:
        plan = _at_home(bet.plan, name, since, until)
        return _tried(bet, lost, plan, bet.timetable, Mend(step.number, home=(since, until), cook=name))

    if shut is not None and (stays := _least(UP, lambda more: there(shut, shut + more))):
        yield stays
    if opens is not None and (comes := _least(UP, lambda more: there(opens - more, opens))):
        yield comes


def _least(lengths: Sequence[timedelta], tried: Callable[[timedelta], Mend | None]) -> Mend | None:
    """The mend by the least length that does; where the greatest does not, no less would."""
    found = tried(lengths[-1]) if lengths else None
    low, high = -1, len(lengths) - 1
    while found and high - low > 1:
        middle = (low + high) // 2
        mend = tried(lengths[middle])
        low, high = (low, middle) if mend else (middle, high)
        found = mend or found
    return found


def _at_home(plan: Plan, name: str, since: datetime, until: datetime) -> Plan:
    there = Dated(*(local(at, plan.zone).replace(tzinfo=None) for at in (since, until)))

    def stays(cook: Cook) -> Cook:
        return replace(cook, home=(*cook.home, there)) if cook.name == name else cook

    return replace(plan, kitchen=replace(plan.kitchen, cooks=tuple(map(stays, plan.kitchen.cooks))))


# ---------------------------------------------------------------- what keeps


def _keeps(bet: Bet, lost: Break) -> Iterator[Mend]:
    for number in dict.fromkeys((lost.steps[0], lost.trouble.other)):
        step = None if number is None else bet.plan.steps[number]
        if step is None or not _may_keep(bet.plan, step):
            continue
        longer = [keeps for keeps in KEEPS if keeps > step.fresh_for]
        if least := _least(longer, partial(_kept, bet, lost, step)):
            yield least


def _may_keep(plan: Plan, step: Step) -> bool:
    """What nature ends, or what nobody is warned of: a caution may well be about letting it stand.

    Never what gets worse with time, nor what is to be cooled next, whatever would be gained.
    """
    if not may_stand_longer(plan, step):
        return False
    return step.range.by_nature or (step.caution is None and step.attention is not Attention.HANDS_ON)


def _kept(bet: Bet, lost: Break, step: Step, keeps: timedelta) -> Mend | None:
    plan = changed(bet.plan, replace(step, keeps=keeps))
    return _tried(bet, lost, plan, bet.timetable, Mend(step.number, keeps=keeps))


def changed(plan: Plan, step: Step) -> Plan:
    """The plan with one step in place of the one of its number."""
    components = tuple(
        replace(part, steps=tuple(step if each.number == step.number else each for each in part.steps))
        for part in plan.components
    )
    return replace(plan, components=components)
