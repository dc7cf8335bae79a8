"""A plan at a moment as bounds on starts and ends, each bound with the fact it comes from.

Every constraint is one of two kinds: one moment lies at most so long after another, or a moment lies in given
hours or on a mark. Shared hands and gear are not among them (see `refute`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime

from scheduler.domain.plan import FIVE_MINUTES, MINUTE, Attention, Link, Plan, Step
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, State, end_bounds, latest_after, live_links, may_miss_mark
from scheduler.domain.slack.room import Place, minute
from scheduler.domain.timetable import Slot, next_mark
from scheduler.facts import NOW, SERVE, Fact, FactKind, facts_of
from scheduler.reasons.constraints import Cause, Constraints, Edge, Hours, Limit, Ranges, end_of, start_of
from scheduler.reasons.records import Because

LIVE = (State.WAITING, State.RUNNING)


class Network:
    """What binds the steps of a plan at a moment; built once, then asked with fewer and fewer facts kept."""

    def __init__(self, plan: Plan, progress: Progress, now: datetime, serve: datetime) -> None:
        self.plan, self.progress, self.at = plan, progress, now
        self.now, self.serve = minute(next_mark(now, MINUTE)), minute(serve)
        self.facts = facts_of(plan, progress)
        self.links = live_links(plan, progress.dropped)
        self.off_mark = may_miss_mark(plan, progress, now)
        spare = plan.horizon()
        self.presence = Presence(plan, min(now, serve) - spare, max(now, serve) + spare)
        self.known = (minute(self.presence.since), minute(self.presence.until))
        self._hours: dict[tuple[int, bool, int, str], list[Ranges]] = {}

    def state(self, number: int) -> State:
        return self.progress.state(number)

    def live(self) -> Iterator[Step]:
        """The steps that are waiting or under way."""
        return (step for step in self.plan.steps if self.state(step.number) in LIVE)

    def lengths(self, step: Step, kept: frozenset[Fact]) -> tuple[int, int | None]:
        """The shortest and longest a step not begun may last, in minutes."""
        shortest, longest = step.range.planned()
        there = Fact(FactKind.LENGTH, step=step.number) in kept
        return shortest // MINUTE if there else 1, None if longest is None else longest // MINUTE

    def constraints(self, kept: frozenset[Fact]) -> Constraints:
        """What holds when only these facts do: order, longest lengths and real times always hold."""
        edges: list[Edge] = []
        hours: dict[int, list[Hours]] = {}
        limits: list[Limit] = []
        for step in self.plan.steps:
            if self.state(step.number) is State.WAITING:
                edges += self._lengths(step, kept)
                limits += self._limits(step, kept)
                for moment, found in self._hours_of(step, kept):
                    hours.setdefault(moment, []).append(found)
            elif self.state(step.number) is not State.DROPPED:
                limits += self._real(step, kept)
        for link in self.links:
            bound = self._link(link, kept)
            edges += [each for each in bound if isinstance(each, Edge)]
            limits += [each for each in bound if isinstance(each, Limit)]
        return Constraints(tuple(edges), hours, tuple(limits))

    # ------------------------------------------------------------ one step

    def _lengths(self, step: Step, kept: frozenset[Fact]) -> Iterator[Edge]:
        n = step.number
        least, most = self.lengths(step, kept)
        fact = Fact(FactKind.LENGTH, step=n)
        yield Edge(start_of(n), end_of(n), -least, Cause(Because.LENGTH, _if(fact, kept), n, length=least))
        if most is not None:
            yield Edge(end_of(n), start_of(n), most, Cause(Because.LONGEST, step=n, length=most))

    def _limits(self, step: Step, kept: frozenset[Fact]) -> Iterator[Limit]:
        n = step.number
        if NOW in kept:
            yield Limit(start_of(n), self.now, False, Cause(Because.NOW, frozenset({NOW})))
        put_off, fact = self.progress.of(n).not_before, Fact(FactKind.PUT_OFF, step=n)
        if put_off is not None and fact in kept:
            at = minute(next_mark(put_off, MINUTE))
            yield Limit(start_of(n), at, False, Cause(Because.PUT_OFF, frozenset({fact}), n))

    def _real(self, step: Step, kept: frozenset[Fact]) -> Iterator[Limit]:
        """What has begun has its real times, and ends when it may."""
        n, standing = step.number, self.progress.of(step.number)
        begun = Cause(Because.BEGUN, step=n)
        if standing.started is not None:
            yield from _fixed(start_of(n), minute(standing.started), begun)
        if standing.ended is not None:
            yield from _fixed(end_of(n), minute(standing.ended), Cause(Because.OVER, step=n))
        elif standing.state is State.RUNNING:
            first, last = end_bounds(step, standing, self.at)
            facts = _if(Fact(FactKind.LENGTH, step=n), kept)
            soonest = minute(first) if facts else self.now
            yield Limit(end_of(n), soonest, False, Cause(Because.BEGUN, facts, n))
            if last is not None:
                yield Limit(end_of(n), minute(last), True, begun)

    # ------------------------------------------------------------ hours and marks

    def _hours_of(self, step: Step, kept: frozenset[Fact]) -> Iterator[tuple[int, Hours]]:
        n = step.number
        least, most = self.lengths(step, kept)
        choice = least != most
        mark = Hours(Cause(Because.MARK, step=n), [], self.known, grid=5)
        if not self._shared_start(step, kept) and n not in self.off_mark and step.grain == FIVE_MINUTES:
            yield start_of(n), mark
        if choice and self._end_on_mark(step):
            yield end_of(n), mark
        length = _if(Fact(FactKind.LENGTH, step=n), kept) if least > 1 else frozenset[Fact]()
        for kind, because in ((FactKind.HOURS, Because.HOURS), (FactKind.ONLY, Because.ONLY)):
            facts = _if(Fact(kind, step=n), kept)
            if not facts:
                continue
            for end in (False, True) if choice or step.attention is Attention.UNATTENDED else (False,):
                rests = facts | (length if step.attention is not Attention.UNATTENDED and not end else set())
                for ranges in self._ranges(step, end, least, kind):
                    cause = Cause(because, rests, n, length=self._inside(step, end, least))
                    yield (end_of if end else start_of)(n), Hours(cause, ranges, self.known)

    def _ranges(self, step: Step, end: bool, least: int, kind: FactKind) -> list[Ranges]:
        key = (step.number, end, least, kind.value)
        if key not in self._hours:
            made = self._home if kind is FactKind.HOURS else self._only
            self._hours[key] = list(made(step, end, least))
        return self._hours[key]

    def _home(self, step: Step, end: bool, least: int) -> Iterator[Ranges]:
        unattended = step.attention is Attention.UNATTENDED
        if end and unattended and step.fresh_for:
            return
        if step.attention is Attention.HANDS_ON:
            pieces = [self.presence.home(cook.name) for cook in self.plan.cooks_of(step)]
        else:
            pieces = [self.presence.someone(step)]
        inside = self._inside(step, end, least)
        found = [(minute(a), minute(b) - inside) for piece in pieces for a, b in piece]
        yield _joined(pair for pair in found if pair[0] <= pair[1])

    @staticmethod
    def _inside(step: Step, end: bool, least: int) -> int:
        """How long before the end of its hours a start has to lie; an end may lie on it."""
        return 0 if end else 1 if step.attention is Attention.UNATTENDED else max(1, least)

    def _only(self, step: Step, end: bool, least: int) -> Iterator[Ranges]:
        if end and step.attention is not Attention.HANDS_ON:
            return
        inside = 0 if end else max(1, least) if step.attention is Attention.HANDS_ON else 1
        epoch = self.presence.since
        slot = Slot(step.number, epoch, epoch, epoch, epoch, epoch)
        for stretches, _ in Place(self.plan, slot, 1, self.presence).only:
            yield [(a, b - inside) for a, b in stretches if b - inside >= a]

    def _shared_start(self, step: Step, kept: frozenset[Fact]) -> bool:
        """Whether it starts the moment something else ends that is not over yet, mark or no mark."""
        return any(
            link.after == step.number and link.tied and self._open_end(link.before)
            for link in self.links
            if Fact(FactKind.KEEPS, step=link.before, other=link.after) in kept
        )

    def _end_on_mark(self, step: Step) -> bool:
        """An end that is chosen falls on the mark of what is tied to it, else on a mark of its own."""
        tied = [link.after for link in self.links if link.before == step.number and link.tied]
        marks = [n for n in tied if n is not None and n not in self.off_mark]
        if any(self.plan.steps[n].grain == FIVE_MINUTES for n in marks):
            return True
        return not (tied or step.grain < FIVE_MINUTES or step.number in self.off_mark)

    def _open_end(self, number: int) -> bool:
        if self.state(number) is State.RUNNING:
            first, last = end_bounds(self.plan.steps[number], self.progress.of(number), self.at)
            return first != last
        return self.state(number) is State.WAITING

    # ------------------------------------------------------------ two steps, or a step and the table

    def _link(self, link: Link, kept: frozenset[Fact]) -> list[Edge | Limit]:
        before, after = link.before, link.after
        least = link.shortest // MINUTE
        most = None if link.longest is None else link.longest // MINUTE
        if after is None:
            return self._table(before, least, most or 0, kept) if SERVE in kept else []
        if self.state(after) is not State.WAITING:
            return []
        start, end = start_of(after), end_of(before)
        found: list[Edge | Limit] = [
            Edge(end, start, -least, Cause(Because.WAIT, step=before, other=after, length=least))
        ]
        fact = Fact(FactKind.KEEPS, step=before, other=after)
        if most is None or fact not in kept:
            return found
        cause = Cause(Because.KEEPS, frozenset({fact}), before, after, most)
        ended = self.progress.of(before).ended
        if ended is None:
            return [*found, Edge(start, end, most, cause)]
        limit = latest_after(link, ended, self.at)
        return found if limit is None else [*found, Limit(start, minute(limit), True, cause)]

    def _table(self, before: int, least: int, most: int, kept: frozenset[Fact]) -> list[Edge | Limit]:
        if self.state(before) is State.DONE:
            return []
        late = Cause(Because.SERVE, frozenset({SERVE}), before)
        no_later = Limit(end_of(before), self.serve - least, True, late)
        fact = Fact(FactKind.KEEPS, step=before)
        if fact not in kept:
            return [no_later]
        soon = Cause(Because.KEEPS, frozenset({SERVE, fact}), before, length=most)
        return [no_later, Limit(end_of(before), self.serve - most, False, soon)]


def _if(fact: Fact, kept: frozenset[Fact]) -> frozenset[Fact]:
    return frozenset({fact}) if fact in kept else frozenset()


def _fixed(moment: int, at: int, cause: Cause) -> tuple[Limit, Limit]:
    return Limit(moment, at, True, cause), Limit(moment, at, False, cause)


def _joined(pieces: Iterable[tuple[int, int]]) -> Ranges:
    joined: Ranges = []
    for low, high in sorted(pieces):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined
