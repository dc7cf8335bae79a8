"""A plan as it stands, and the phrases that follow from it: names, times, what comes after what."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cached_property

from bot.wording.lines import button, quoted, short
from scheduler import words
from scheduler.domain.links import live_links
from scheduler.domain.plan import MINUTE, Attention, Link, Step
from scheduler.domain.progress import State, starts_itself
from scheduler.domain.timetable import Slot
from scheduler.planfile.kitchen import ONE_COOK
from scheduler.records import Button
from scheduler.service.deeds import Deed, Verb
from scheduler.service.guarding import cooled_by
from scheduler.service.view import View

A_DAY = timedelta(days=1)
COUNTED_IN_DAYS = timedelta(days=2)
STEM = 4


class Facts:
    """A view, asked for its phrases, every time on the plan's own clock; `now` is the whole minute."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.plan = view.plan
        self.zone = view.zone
        self.now = view.now.replace(second=0, microsecond=0)

    # ------------------------------------------------------------ times

    def clock(self, at: datetime) -> str:
        return words.clock(at, self.zone)

    def brief(self, at: datetime) -> str:
        return words.brief(at, self.zone, self.now)

    def when(self, at: datetime) -> str:
        return words.when(at, self.zone, self.now)

    def at(self, at: datetime) -> str:
        return words.at_time(at, self.zone, self.now)

    def between(self, first: datetime, last: datetime) -> str:
        """ "between 09:00 and 12:00 today", or "from Friday 20:00 to Saturday 08:00"."""
        if words.days_ahead(last, self.zone, first) == 0:
            clock, when = self.clock(last), self.when(last)
            named = when if when.startswith(clock) else f"{clock} on {when.removesuffix(clock).strip()}"
            return f"between {self.clock(first)} and {named}"
        return f"from {self.when(first)} to {self.when(last)}"

    # ------------------------------------------------------------ names

    def step(self, number: int) -> Step:
        return self.plan.steps[number]

    def component(self, number: int) -> str:
        return short(self.step(number).component, 30)

    def titled(self, number: int) -> str:
        """The step's name, and in brackets what it belongs to where the name does not tell."""
        step = self.step(number)
        name = short(step.name)
        return name if self._tells(step) else f"{name} ({self.component(number)})"

    def quoted(self, number: int, beside: int | None = None) -> str:
        """The name in quotation marks; beside a step of the same part of the meal that is enough."""
        same = beside is not None and self.step(beside).component == self.step(number).component
        return quoted(self.step(number).name if same else self.titled(number), 90)

    def _tells(self, step: Step) -> bool:
        part = next(part for part in self.plan.components if part.name == step.component)
        said = step.name.casefold()
        stems = [word[:STEM] for word in part.name.casefold().split() if len(word) > 2]
        return len(part.steps) == 1 or not stems or any(stem in said for stem in stems)

    def cook(self, number: int) -> str:
        """Whose it is, where there is more than one cook and it is someone's; else empty.

        Empty too for the cook without a name of their own, who is spoken to.
        """
        slot = self.slot(number)
        cook = self.step(number).cook or (slot.cook if slot else None)
        alone = len(self.plan.kitchen.cooks) == 1 or cook == ONE_COOK
        return short(cook, 20) if cook and not alone else ""

    def order(self, number: int) -> str:
        """The name as an order to whoever it is for: "Dev: Grind the batter"."""
        cook = self.cook(number)
        return f"{cook}: {self.titled(number)}" if cook else self.titled(number)

    def called(self, number: int, phrase: str) -> str:
        """A phrase of ours, said to whoever it is for: "Dev, still to do: Grind the batter"."""
        cook = self.cook(number)
        return f"{cook}, {phrase[:1].lower()}{phrase[1:]}" if cook else phrase

    # ------------------------------------------------------------ the timetable

    def slot(self, number: int) -> Slot | None:
        return self.view.timetable.slot(number)

    def start(self, number: int, otherwise: datetime) -> datetime:
        slot = self.slot(number)
        return otherwise if slot is None else slot.start

    def state(self, number: int) -> State:
        return self.view.progress.state(number)

    @cached_property
    def links(self) -> tuple[Link, ...]:
        return live_links(self.plan, self.view.progress.dropped)

    def after(self, number: int) -> list[tuple[Link, Slot]]:
        """What follows a step and is still to begin, soonest first; the table is not among it."""
        found = [
            (link, slot)
            for link in self.links
            if link.before == number and link.after is not None
            if self.state(link.after) is State.WAITING and (slot := self.slot(link.after)) is not None
        ]
        return sorted(found, key=lambda pair: (pair[1].start, pair[1].step))

    def by_itself(self, number: int) -> list[Slot]:
        """The waits that begin by themselves when the step ends."""
        return [
            slot
            for link, slot in self.after(number)
            if link.tied and starts_itself(self.plan, self.step(slot.step))
        ]

    def purpose(self, number: int) -> str:
        """ ", so that “Bake the casserole” can begin at 16:25", or when it goes to the table."""
        following = self.after(number)
        if not following:
            return self._for_table(number)
        alone = self.by_itself(number)
        later = self.after(alone[0].step) if alone else []
        slot = (later or following)[0][1]
        if slot.start < self.end_if_begun(number):
            return f", and {self.quoted(slot.step, number)} waits for it"
        return f", so that {self.quoted(slot.step, number)} can begin {self.at(slot.start)}"

    def end_if_begun(self, number: int) -> datetime:
        """When it ends if it is begun as planned, or now where that is later."""
        slot, shortest = self.slot(number), self.step(number).range.planned()[0]
        if slot is None:
            return self.now + shortest
        return max(slot.end, self.now + shortest) if self.state(number) is State.WAITING else slot.end

    def then(self, number: int) -> str:
        """ ", then “Drain the beans”", with its time where it does not follow at once."""
        following, end = self.after(number), self.end_if_begun(number)
        if not following:
            return self._for_table(number)
        slot = following[0][1]
        later = f" {self.at(slot.start)}" if slot.start > end else ""
        return f", then {self.quoted(slot.step, number)}{later}"

    def downstream(self, number: int) -> list[int]:
        """Every step still to begin that follows, however far, by start."""
        found: dict[int, Slot] = {}
        reach = [number]
        while reach:
            fresh = [slot for _, slot in self.after(reach.pop()) if slot.step not in found]
            found.update({slot.step: slot for slot in fresh})
            reach += [slot.step for slot in fresh]
        return sorted(found, key=lambda step: (found[step].start, step))

    def _for_table(self, number: int) -> str:
        feeds = any(link.before == number and link.after is None for link in self.links)
        return f", for the table {self.at(self.view.serve)}" if feeds else ""

    # ------------------------------------------------------------ how long

    def length(self, number: int) -> str:
        """ "25 min", "12 h to 18 h", "7 d to 10 d, until sour"."""
        lasting = self.step(number).range
        sign = f", until {short(lasting.until)}" if lasting.until else ""
        return f"{words.span(lasting)}{sign}"

    def running(self, number: int) -> str:
        """ "Turnips ferment, day 3 of 7 to 10" or "Soak the beans, until 13:15"."""
        slot, standing = self.slot(number), self.view.progress.of(number)
        end = standing.expected or (slot.end if slot else None)
        started = standing.started or (slot.start if slot else self.now)
        if end is None or end - started < COUNTED_IN_DAYS:
            return self.titled(number) + (f", until {self.brief(end)}" if end else "")
        day = (self.now - started) // A_DAY + 1
        return f"{self.titled(number)}, day {day} of {self._days(number, end - started)}"

    def _days(self, number: int, planned: timedelta) -> str:
        lasting = self.step(number).range
        most = round((lasting.longest or planned) / A_DAY) if lasting.by_nature else round(planned / A_DAY)
        least = round(lasting.shortest / A_DAY)
        return f"{least} to {most}" if lasting.by_nature and 0 < least < most else f"{most}"

    def room(self, number: int) -> str:
        """How long its beginning can wait."""
        slot = self.slot(number)
        if slot is None:
            return ""
        cold_by = cooled_by(self.view, self.step(number))
        last_call = slot.last_call if cold_by is None else min(slot.last_call, cold_by)
        if last_call < self.now:
            last = f"The last call was {self.brief(last_call)}: begin" if last_call > slot.start else "Begin"
            return f"{last} at once."
        if last_call - max(self.now, slot.start) < MINUTE:
            return "There is no time to spare."
        return f"It can wait until {self.when(last_call)}."

    def minutes_left(self, number: int) -> int:
        """Whole minutes until its last call; 0 when that is past."""
        slot = self.slot(number)
        return 0 if slot is None else max(0, int((slot.last_call - self.now) / MINUTE))

    # ------------------------------------------------------------ buttons

    def other_ways(self) -> Button:
        """Asks what else would fit, besides another hour."""
        return self.button("Other ways", Verb.WAYS)

    def button(
        self,
        label: str,
        verb: Verb,
        step: int | None = None,
        occurrence: int | None = None,
        at: datetime | None = None,
        until: datetime | None = None,
        minutes: int | None = None,
    ) -> Button:
        return button(label, Deed(verb, self.view.row.id, step, occurrence, at, until, minutes))

    def is_hands_on(self, number: int) -> bool:
        return self.step(number).attention is Attention.HANDS_ON

    def did_it(self, number: int) -> Button:
        """What a cook says who has just done as asked: done, or for a wait that it is on."""
        if self.is_hands_on(number):
            return self.button("Done", Verb.DONE, number)
        return self.button("Started", Verb.START, number)

    def snooze(self, number: int) -> list[Button]:
        """Ten minutes, or five, where there is so long."""
        left = self.minutes_left(number)
        return [self.button(f"In {by} min", Verb.LATER, number, minutes=by) for by in (10, 5) if by <= left][
            :1
        ]

    def why(self, number: int, label: str = "Why now") -> Button:
        return self.button(label, Verb.WHY, number)
