"""Whether a timetable's promise is kept whatever nature does; if not, the least that breaks it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import combinations, islice, product

from scheduler.domain.plan import MINUTE, Plan
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.promise.bet import Bet
from scheduler.domain.promise.executor import Draw, Executor
from scheduler.domain.promise.rules import Trouble
from scheduler.domain.timetable import Timetable

AS_MANY = 250
"""Steps beyond which nothing is said: the check would take seconds."""

TOGETHER = 3
"""How many steps off their planned length are looked for to explain a break, before all of them are."""

MOST_BREAKS, LARGE = 6, 100
"""How many breaks are given at most, and how many steps make a plan so large that one has to do."""

MOST_DRAWS = 2000
"""How many draws are tried to find one that breaks it when one step off its length is not enough."""


@dataclass(frozen=True, slots=True)
class Lasting:
    """A step and how long it lasts."""

    step: int
    lasts: timedelta


@dataclass(frozen=True)
class Break:
    """Steps off their planned length, every other one lasting as planned, and what goes wrong then.

    `towards` is 1 where one step alone breaks it by lasting too long, -1 by ending too soon, 0 where it takes
    several. `beyond`, where every length farther off was seen to break it too: the last one at which all is well.
    """

    draw: tuple[Lasting, ...]
    trouble: Trouble
    towards: int = 0
    beyond: timedelta | None = None

    @property
    def steps(self) -> tuple[int, ...]:
        return tuple(lasting.step for lasting in self.draw)


@dataclass(frozen=True)
class Promise:
    """`kept` True: there is an executor that is never late. False: it is a bet, lost by each of `breaks`, the least
    first. None: not shown either way.
    """

    kept: bool | None
    breaks: tuple[Break, ...] = ()


def promise(plan: Plan, timetable: Timetable, now: datetime, progress: Progress | None = None) -> Promise:
    """The promise of a timetable. A break of one step is given for each step and direction that has one, up to six."""
    if len(timetable.slots) > AS_MANY:
        return Promise(None)
    bet = Bet(plan, timetable, now, progress or at_the_start(plan))
    if bet.kept():
        return Promise(True)
    breaks = tuple(islice(breaks_of(bet), MOST_BREAKS if len(timetable.slots) <= LARGE else 1))
    return Promise(False if breaks else None, breaks)


def breaks_of(bet: Bet) -> Iterator[Break]:
    """Every way in which one step alone breaks it, at the length nearest to the planned one; or else one way in
    which several do.
    """
    if not bet.kept(()):
        return  # it does not even hold as planned
    found = False
    for step, towards in bet.lost():
        one = break_by(bet, step, towards)
        if one is not None:
            found = True
            yield one
    if not found:
        yield from _jointly(bet)


def break_by(bet: Bet, step: int, towards: int) -> Break | None:
    """The break of one step that alone loses the bet, longer (1) or shorter (-1): at its length nearest to plan."""
    planned, last = bet.planned[step], bet.room(step, towards)
    good = _good(bet, step, towards, last)
    executor = survivor(bet, {step: planned + towards * (good + 1)})
    if executor is None:
        return None
    lengths = [planned + towards * off for off in (good + 1, (good + 1 + last) // 2, last)]
    troubles = [bet.rules.broken(executor.run({**bet.planned, step: length})) for length in lengths]
    if troubles[0] is None:
        return None
    beyond = (planned + towards * good) * MINUTE if all(troubles) else None
    return Break((Lasting(step, lengths[0] * MINUTE),), troubles[0], towards, beyond)


def survivor(bet: Bet, lost: Mapping[int, int]) -> Executor | None:
    """Whoever does best against a break, given as lengths in minutes: an executor that is never late short of it."""
    if len(lost) == 1:
        ((step, length),) = lost.items()
        off = length - bet.planned[step]
        return bet.executor(bet.up_to(step, off - (1 if off > 0 else -1)))
    return bet.executor(bet.free(tuple(lost)[:-1])) or bet.executor(bet.free(()))


def _good(bet: Bet, step: int, towards: int, last: int) -> int:
    """How far the step may be off its planned length in one direction with nothing going wrong."""
    good, bad = 0, last
    while bad - good > 1:
        middle = (good + bad) // 2
        if bet.executor(bet.up_to(step, towards * middle)) is not None:
            good = middle
        else:
            bad = middle
    return good


def _jointly(bet: Bet) -> Iterator[Break]:
    """The fewest steps that break it together, with a draw that the best executor at hand does not survive."""
    sets = [s for count in range(2, TOGETHER + 1) for s in combinations(bet.unsure, count)]
    for steps in [*sets, bet.unsure]:
        if len(steps) > 1 and not bet.kept(steps):
            found = _several(bet, steps)
            if found is not None:
                yield found
                return


def _several(bet: Bet, steps: tuple[int, ...]) -> Break | None:
    executor = survivor(bet, dict.fromkeys(steps, 0))
    if executor is None:
        return None
    for draw in _draws(bet, steps):
        trouble = bet.rules.broken(executor.run(draw))
        if trouble is not None:
            return Break(tuple(Lasting(n, draw[n] * MINUTE) for n in steps), trouble)
    return None


def _draws(bet: Bet, steps: tuple[int, ...]) -> Iterator[Draw]:
    """Ends and quarters of the ranges, every one of the steps off its planned length."""
    marks = [_marks(bet.planned[n], *bet.ranges[n]) for n in steps]
    wide = len(steps) > TOGETHER
    for lengths in islice(product(*([m[:2] for m in marks] if wide else marks)), MOST_DRAWS):
        chosen: Mapping[int, int] = dict(zip(steps, lengths, strict=True))
        yield {**bet.planned, **chosen}


def _marks(planned: int, low: int, high: int) -> list[int]:
    quarters = [low + (high - low) * k // 4 for k in range(1, 4)]
    return [at for at in dict.fromkeys([high, low, *quarters]) if at != planned]
