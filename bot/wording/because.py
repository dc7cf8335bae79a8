"""A clause for each kind of reason that a step is when it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.wording.lines import quoted, short
from scheduler import words
from scheduler.domain.heats import sums_up
from scheduler.domain.hours import Weekly
from scheduler.domain.plan import MINUTE, NO_TIME, Attention, Plan, Step
from scheduler.domain.progress import State
from scheduler.heat_words import wanted_for
from scheduler.reasons import Because, Reason, Reasons
from scheduler.words import DAYS, date_name


@dataclass(frozen=True)
class Telling:
    """Reasons asked for their clauses. Times are told as from `seen`: by the clock alone on that day.

    `name_length`: characters of a step's name at most.
    """

    plan: Plan
    found: Reasons
    seen: datetime
    name_length: int = 40

    # ------------------------------------------------------------ times and names

    def when(self, at: datetime | None) -> str:
        return "" if at is None else words.brief(at, self.plan.zone, self.seen)

    def span(self, since: datetime, until: datetime | None) -> str:
        """ "from 22:30", "from 08:00 to 17:45", "from Fri 22:30 to Sat 07:00"."""
        if until is None:
            return f"from {self.when(since)}"
        near = words.days_ahead(until, self.plan.zone, since) == 0
        last = words.clock(until, self.plan.zone) if near else self.when(until)
        return f"from {self.when(since)} to {last}"

    def name(self, number: int | None) -> str:
        """ "“Simmer the beans”", or "it" for the step that was asked about."""
        if number is None:
            return "the meal"
        return "it" if number == self.found.step else self.quoted(number)

    def quoted(self, number: int) -> str:
        return quoted(self.plan.steps[number].name, self.name_length)

    def step(self, reason: Reason) -> Step:
        return self.plan.steps[reason.step if reason.step is not None else self.found.step]

    # ------------------------------------------------------------ one reason

    def clause(self, reason: Reason) -> str:
        """One reason, without a full stop; begins small."""
        return CLAUSES[reason.because](self, reason)

    def later(self, reason: Reason) -> bool:
        """Whether a reason is one for no later."""
        return any(reason is other for other in self.found.no_later)

    def must(self, reason: Reason) -> str:
        """ "has to begin by 13:40" or "cannot begin before 13:40"; empty for the step asked about."""
        if reason.by is None or (reason.step == self.found.step and not reason.end):
            return ""
        act = "be over" if reason.end else "begin"
        return f"{'has to' if self.later(reason) else 'cannot'} {act} {self.limit(reason)}"

    def limit(self, reason: Reason) -> str:
        if not self.later(reason) and reason.by == self.found.earliest:
            return "sooner"
        return f"{'by' if self.later(reason) else 'before'} {self.when(reason.by)}"


# ---------------------------------------------------------------- a clause for each kind


def takes(step: Step) -> str:
    """ "takes 25 min", "takes at least 12 h", "may take 1 h 45 min"."""
    shortest, longest = step.range.planned()
    if step.range.by_nature:
        known = "usually takes" if step.range.usually else "may take"
        return f"{known} {words.length(shortest)}"
    least = "at least " if longest is None or longest > shortest else ""
    wanted = f", for {wanted_for(step)}" if sums_up(step) else ""
    return f"takes {least}{words.length(shortest)}{wanted}"


def _length(told: Telling, reason: Reason) -> str:
    must = told.must(reason)
    also = f" and {must}" if must else ""
    return f"{told.name(reason.step)} {takes(told.step(reason))}{also}"


def _longest(told: Telling, reason: Reason) -> str:
    return f"{told.name(reason.step)} takes {words.length(reason.length or NO_TIME)} at most"


def _keeps(told: Telling, reason: Reason) -> str:
    within = f"within {words.length(reason.length)}" if reason.length else "at once"
    before, after = told.name(reason.step), told.name(reason.other)
    if reason.other is None:
        waits = f"may wait {words.length(reason.length)}" if reason.length else "may not wait"
        return f"{before} {waits} for the meal at {told.when(reason.at)}"
    if reason.at is None or told.later(reason):
        return f"{after} has to follow {before} {within}"
    return f"{after} has to follow {before} {within} and cannot begin before {told.when(reason.at)}"


def _wait(told: Telling, reason: Reason) -> str:
    least = words.length(reason.length or NO_TIME)
    return f"{told.name(reason.other)} begins at least {least} after {told.name(reason.step)}"


def _serve(told: Telling, reason: Reason) -> str:
    return f"the meal is at {told.when(reason.at)}"


def _now(told: Telling, reason: Reason) -> str:
    at = reason.at or reason.by
    return "that is now" if at == told.found.earliest else f"it is {told.when(at)} now"


def _hours(told: Telling, reason: Reason) -> str:
    """ "you are out from 08:00 to 17:00, and “Strain the drink” has to begin by 07:45"."""
    step = told.step(reason)
    must = told.must(reason)
    if must and not told.later(reason) and reason.by == reason.until:
        must = f"cannot {'be over' if reason.end else 'begin'} sooner"
    if must and told.later(reason) and reason.by and reason.since and reason.since - reason.by == MINUTE:
        must = f"has to {'be over' if reason.end else 'begin'} before that"
    then = f", so {told.name(reason.step)} {must}" if must else ""
    if reason.since is None:
        who = "you have" if len(told.plan.kitchen.cooks) == 1 else "someone has"
        return f"{who} to be awake and at home for {told.name(reason.step)}"
    if reason.by is None and reason.step != told.found.step:
        then = f", and {told.name(reason.step)} {need(told.plan, [step], 'needs')}"
    return f"{absent(told, step, reason.asleep)} {gap(told, reason)}{then}"


def need(plan: Plan, steps: Sequence[Step], verb: str) -> str:
    someone = "you" if len(plan.kitchen.cooks) == 1 else "someone"
    waits = all(step.attention is Attention.UNATTENDED for step in steps)
    return f"{verb} {someone} there{' to begin' if waits else ''}"


def gap(told: Telling, reason: Reason) -> str:
    if told.later(reason) and reason.since is not None:
        return told.span(reason.since, reason.until)
    return "until then" if reason.until == told.found.earliest else f"until {told.when(reason.until)}"


def absent(told: Telling, step: Step, asleep: bool) -> str:
    cooks = told.plan.cooks_of(step)
    where = "asleep" if asleep else "out"
    if len(told.plan.kitchen.cooks) == 1:
        return f"you are {where}"
    if len(cooks) == 1:
        return f"{short(cooks[0].name, 20)} is {where}"
    return "everyone is asleep" if asleep else "nobody is up and at home"


def _only(told: Telling, reason: Reason) -> str:
    step = told.step(reason)
    begins = "begin " if step.attention is not Attention.HANDS_ON else "be done "
    must = told.must(reason)
    when = " and ".join(part for part in (_between(step), _on(step)) if part)
    return f"{told.name(reason.step)} may only {begins}{when}{f', so it {must}' if must else ''}"


def _between(step: Step) -> str:
    pairs = [f"between {each.start:%H:%M} and {each.end:%H:%M}{_days(each)}" for each in step.between]
    return words.listed(pairs)


def _days(hours: Weekly) -> str:
    if len(hours.days) == 7:
        return ""
    return f" on {words.listed([DAYS[day] for day in sorted(hours.days)])}"


def _on(step: Step) -> str:
    days = [DAYS[day] if isinstance(day, int) else date_name(day) for day in step.on]
    return f"on {words.listed(days)}" if days else ""


def _put_off(told: Telling, reason: Reason) -> str:
    return f"{told.name(reason.step)} was put off until {told.when(reason.by)}"


def _begun(told: Telling, reason: Reason) -> str:
    if reason.step == told.found.step and told.found.state is State.RUNNING:
        return _under_way(told, reason)
    return f"{told.name(reason.step)} {'ends' if reason.end else 'began'} at {told.when(reason.by)}"


def _over(told: Telling, reason: Reason) -> str:
    return f"{told.name(reason.step)} was over at {told.when(reason.by)}"


def _under_way(told: Telling, reason: Reason) -> str:
    lasting = told.step(reason).range
    began = f"it began at {told.when(told.found.start)}"
    if lasting.by_nature or lasting.longest is None:
        return f"{began} and is expected to end at {told.when(reason.by)}"
    return f"{began} and may last {words.length(lasting.longest)} at most"


def _cook(told: Telling, reason: Reason) -> str:
    alone = len(told.plan.kitchen.cooks) == 1
    cook = short(reason.name or "", 20)
    if not reason.facts:
        return f"{'your' if alone else f'{cook}’s'} hands are with {_held(told, reason)}"
    busy = _until(told, reason)
    return f"{'you have' if alone else f'{cook} has'} one pair of hands{f', which {busy}' if busy else ''}"


def _gear(told: Telling, reason: Reason) -> str:
    name = reason.name or ""
    count = words.counted(told.plan.kitchen.gear.get(name, 0), name)
    if not reason.facts:
        heat = told.step(reason).oven if name == "oven" else None
        if heat is not None:
            return f"the oven is at {heat} C for {_held(told, reason)}"
        held = f"the only {name} is in use" if count.startswith("1 ") else f"all {count} are in use, one"
        return f"{held} for {_held(told, reason)}"
    busy = _until(told, reason)
    only = "is" if count.startswith("1 ") else "are"
    taken = f", {'which' if only == 'is' else 'one of which'} {busy}" if busy else ""
    return f"there {only} only {count}{taken}{HEAT if name == 'oven' else ''}"


HEAT = ", and an oven holds one temperature at a time"


def _held(told: Telling, reason: Reason) -> str:
    """ "“Bake the pie” until 16:00" before the step asked about, "from 17:30" after it."""
    name = "" if reason.step is None else told.quoted(reason.step)
    if reason.until is not None and reason.until <= told.found.start:
        return f"{name} until {told.when(reason.until)}"
    return f"{name} from {told.when(reason.since)}"


def _until(told: Telling, reason: Reason) -> str:
    if reason.step is None or reason.since is None or reason.until is None:
        return ""
    return f"{told.quoted(reason.step)} has {told.span(reason.since, reason.until)}"


def _fresh(told: Telling, reason: Reason) -> str:
    if reason.length is None:
        return f"earlier, {told.name(reason.step)} would only go on for longer, and freshness comes first"
    made = "what it makes" if reason.step == told.found.step else f"what {told.name(reason.step)} makes"
    waits = f"would only wait longer for {told.name(reason.other)} at {told.when(reason.at)}"
    return f"earlier, {made} {waits}, and freshness comes first"


def _follows(told: Telling, reason: Reason) -> str:
    return f"it follows {told.name(reason.step)} at once"


def _room(told: Telling, reason: Reason) -> str:
    return f"that leaves {words.length(reason.length or NO_TIME)} in hand"


def _mark(told: Telling, reason: Reason) -> str:
    return "starts fall on marks of the clock"


CLAUSES: dict[Because, Callable[[Telling, Reason], str]] = {
    Because.NOW: _now,
    Because.SERVE: _serve,
    Because.LENGTH: _length,
    Because.KEEPS: _keeps,
    Because.HOURS: _hours,
    Because.ONLY: _only,
    Because.COOK: _cook,
    Because.GEAR: _gear,
    Because.PUT_OFF: _put_off,
    Because.LONGEST: _longest,
    Because.WAIT: _wait,
    Because.MARK: _mark,
    Because.BEGUN: _begun,
    Because.OVER: _over,
    Because.FRESH: _fresh,
    Because.FOLLOWS: _follows,
    Because.ROOM: _room,
}
