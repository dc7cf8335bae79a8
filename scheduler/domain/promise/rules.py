"""What really counts in a kitchen, asked of what was really done; in whole minutes, for speed.

Every rule is read from the plan and the timetable's own hours, not from the network: what the executor does is
judged by someone else. Marks of the clock do not count here: real ends do not keep to them.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.links import live_links
from scheduler.domain.plan import MINUTE, Attention, Plan, Step
from scheduler.domain.progress import Progress, State, latest_after
from scheduler.domain.promise.executor import Done
from scheduler.domain.promise.lengths import by_choice
from scheduler.domain.promise.openings import Opening, Openings
from scheduler.domain.slack.room import minute
from scheduler.domain.timetable import Timetable, next_mark


@dataclass(frozen=True, slots=True)
class Trouble:
    """One rule broken: `step` is what breaks it, at that minute; `other` what it has to do with.

    Rules: late (for the table), early (it does not keep until the meal), kept (too long before what follows),
    soon (begun before it may be), short and long (what the cook lets last), hours (nobody is there), unseen (it
    ends, does not keep, and nobody is there), busy (two things at once want the same hands), gear (they want the
    same thing).
    """

    rule: str
    step: int
    at: int
    other: int | None = None


class Rules:
    """Worked out once for a plan at a moment; then asked about one day's work after another."""

    def __init__(
        self, plan: Plan, timetable: Timetable, now: datetime, progress: Progress, openings: Openings
    ) -> None:
        self.plan, self.progress, self.openings = plan, progress, openings
        now = next_mark(now, MINUTE)
        self.serve, self.now = minute(timetable.serve), minute(now)
        self.waiting = {s.number for s in plan.steps if progress.state(s.number) is State.WAITING}
        self.links: list[tuple[int, int, int, int | None]] = []
        self.table: list[tuple[int, int, int | None]] = []
        self.ended: list[tuple[int, int, int, int | None]] = []
        for link in live_links(plan, progress.dropped):
            least = link.shortest // MINUTE
            most = None if link.longest is None else link.longest // MINUTE
            ended = progress.of(link.before).ended
            if link.after is None:
                self.table.append((link.before, least, most))
            elif ended is not None and link.after in self.waiting:
                limit = latest_after(link, ended, now)
                late = None if limit is None else minute(limit)
                self.ended.append((link.before, link.after, minute(ended + link.shortest), late))
            elif link.after in self.waiting:
                self.links.append((link.before, link.after, least, most))
        self.hands = [s.number for s in plan.steps if s.attention is Attention.HANDS_ON]
        self.gear = {
            name: (count, [(s.number, s.gear.count(name)) for s in plan.steps if name in s.gear])
            for name, count in plan.kitchen.gear.items()
        }
        self.ovens = [(s.number, s.oven) for s in plan.steps if s.oven is not None]
        self.lengths = {
            slot.step: by_choice(plan.steps[slot.step], slot, now, progress)
            for slot in timetable.slots
            if not plan.steps[slot.step].range.by_nature and progress.state(slot.step) is not State.DONE
        }
        self.hours = {s.number: _by_cook(openings.of(s)) for s in plan.steps if s.number in self.waiting}
        matters = [s for s in plan.steps if s.attention is Attention.UNATTENDED and not s.fresh_for]
        self.seen = {s.number: openings.seen(s) for s in matters}

    def broken(self, done: Mapping[int, Done]) -> Trouble | None:
        """The first thing that went wrong, by the clock; None when nothing did."""
        return min(self.troubles(done), key=lambda trouble: (trouble.at, trouble.rule), default=None)

    def troubles(self, done: Mapping[int, Done]) -> Iterator[Trouble]:
        """Everything that went wrong."""
        for number, each in done.items():
            yield from self._hours(self.plan.steps[number], each)
            yield from self._length(number, each)
        yield from self._order(done)
        yield from self._shared(done)

    def _hours(self, step: Step, done: Done) -> Iterator[Trouble]:
        number = step.number
        if number in self.waiting:
            put_off = self.progress.of(number).not_before
            if done.start < self.now or (put_off and done.start < minute(next_mark(put_off, MINUTE))):
                yield Trouble("soon", number, done.start)
            yield from self._there(number, done)
        seen = self.seen.get(number)
        if seen is not None and not any(a <= done.end <= b for a, b in seen):
            yield Trouble("unseen", number, done.end)

    def _there(self, number: int, done: Done) -> Iterator[Trouble]:
        cook = done.cook if done.cook in self.hours[number] else None
        openings = self.hours[number].get(cook, ())
        index = bisect_right(openings, done.start, key=lambda opening: opening.first) - 1
        opening = openings[index] if index >= 0 else None
        if opening is None or done.start > opening.last:
            yield Trouble("hours", number, done.start)
        elif opening.stay is not None and done.end > opening.stay:
            yield Trouble("hours", number, opening.stay)

    def _length(self, number: int, done: Done) -> Iterator[Trouble]:
        least, most = self.lengths.get(number, (0, None))
        if done.end - done.start < least:
            yield Trouble("short", number, done.end)
        if most is not None and done.end - done.start > most:
            yield Trouble("long", number, done.start + most)

    def _order(self, done: Mapping[int, Done]) -> Iterator[Trouble]:
        for before, after, least, most in self.links:
            if before not in done or after not in done:
                continue
            gap = done[after].start - done[before].end
            if gap < least:
                yield Trouble("soon", after, done[after].start, before)
            if most is not None and gap > most:
                yield Trouble("kept", after, done[before].end + most, before)
        for before, after, first, last in self.ended:
            if done[after].start < first:
                yield Trouble("soon", after, done[after].start, before)
            if last is not None and done[after].start > last:
                yield Trouble("kept", after, last, before)
        for before, least, most in self.table:
            if before in done and done[before].end > self.serve - least:
                yield Trouble("late", before, self.serve - least)
            if before in done and most is not None and done[before].end < self.serve - most:
                yield Trouble("early", before, done[before].end + most)

    def _shared(self, done: Mapping[int, Done]) -> Iterator[Trouble]:
        hands = [(done[n], n) for n in self.hands if n in done]
        for cook in {each.cook for each, _ in hands}:
            mine = [(each, n, 1) for each, n in hands if each.cook == cook]
            yield from self._crowded(mine, 1, "busy")
        for count, users in self.gear.values():
            if sum(need for _, need in users) > count:
                yield from self._crowded(
                    [(done[n], n, need) for n, need in users if n in done], count, "gear"
                )
        yield from self._heats([(done[n], n, oven) for n, oven in self.ovens if n in done])

    def _crowded(self, users: list[tuple[Done, int, int]], count: int, rule: str) -> Iterator[Trouble]:
        for each, number, _ in users:
            if number in self.waiting:
                others = [(n, need) for o, n, need in users if o.start <= each.start < o.end]
                if sum(need for _, need in others) > count:
                    other = next((n for n, _ in others if n != number), None)
                    yield Trouble(rule, number, each.start, other)

    def _heats(self, users: list[tuple[Done, int, int | None]]) -> Iterator[Trouble]:
        for each, number, heat in users:
            if number in self.waiting:
                others = [(n, h) for o, n, h in users if o.start <= each.start < o.end]
                if len({h for _, h in others}) > self.plan.kitchen.ovens:
                    other = next((n for n, h in others if h != heat), None)
                    yield Trouble("gear", number, each.start, other)


def _by_cook(openings: Iterable[Opening]) -> dict[str | None, list[Opening]]:
    """In order; those of one cook never overlap."""
    found: dict[str | None, list[Opening]] = {}
    for opening in openings:
        found.setdefault(opening.cook, []).append(opening)
    return found
