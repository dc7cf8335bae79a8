"""What there is to do, in order of time: the lines of a day, and days in brief."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import groupby

from bot.wording.facts import Facts
from bot.wording.lines import capital, numbered, short, some
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.kitchen.totals import has_to_be_bought
from scheduler.domain.nudges.outlook import Outlook
from scheduler.domain.nudges.policy import Policy
from scheduler.domain.nudges.running import looks
from scheduler.domain.plan import NO_TIME
from scheduler.domain.progress import State
from scheduler.domain.stages import About, Stage

ON_ITS_WAY = (State.WAITING, State.RUNNING)


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing to do: `text`, and before it who is to do it or what is asked (`lead`).

    `work` is the time it takes a cook; `count` of touches of one kind, the last of them at `last`.
    """

    at: datetime
    about: About
    step: int
    text: str
    work: timedelta = NO_TIME
    occurrence: int | None = None
    count: int = 1
    last: datetime | None = None
    lead: str = ""


def agenda(facts: Facts) -> list[Entry]:
    """Everything that someone has yet to do or to look at, in order of time."""
    found = [*_beginnings(facts), *_touches(facts), *_looks(facts), *_shopping(facts)]
    return sorted(found, key=lambda entry: (entry.at, entry.step, entry.occurrence or 0))


def on_day(facts: Facts, day: date) -> list[Entry]:
    """The entries of one local date, many touches of one kind as one."""
    return list(_folded([entry for entry in agenda(facts) if _day_of(facts, entry) == day]))


def _day_of(facts: Facts, entry: Entry) -> date:
    """The local date it is to be done on: today for what is overdue."""
    return hours.local(max(entry.at, facts.now), facts.zone).date()


def _outlook(facts: Facts) -> Outlook:
    view = facts.view
    return Outlook(view.plan, view.timetable, view.progress, Policy(), facts.now)


def _stuck(facts: Facts) -> set[int]:
    """Steps that follow one whose time to begin has passed: they wait until that is settled."""
    missed = [
        step.number
        for step, slot in _outlook(facts).to_begin
        if max(slot.last_call, slot.start) + Policy().grace < facts.now
    ]
    return {after for number in missed for after in facts.downstream(number)}


def _beginnings(facts: Facts) -> Iterator[Entry]:
    view = facts.view
    stuck = _stuck(facts)
    for step, slot in _outlook(facts).to_begin:
        if step.number in stuck:
            continue
        work = slot.end - slot.start if facts.is_hands_on(step.number) else NO_TIME
        at = max(slot.start, min(view.progress.of(step.number).not_before or slot.start, slot.last_call))
        yield Entry(
            at, About.START, step.number, facts.titled(step.number), work, lead=facts.cook(step.number)
        )


def _touches(facts: Facts) -> Iterator[Entry]:
    progress, stuck = facts.view.progress, _stuck(facts)
    overtaken = {
        (each.step, each.occurrence) for each in facts.view.timetable.touches if each.at <= facts.now
    }
    for touch in facts.view.timetable.touches:
        tend, key = facts.step(touch.step).tend, (touch.step, touch.occurrence)
        if tend is None or key in progress.touched or progress.state(touch.step) not in ON_ITS_WAY:
            continue
        waiting = progress.state(touch.step) is State.WAITING and touch.at < facts.now
        if waiting or touch.step in stuck or (touch.step, touch.occurrence + 1) in overtaken:
            continue
        at = max(touch.at, progress.put_off.get(key, touch.at))
        named = f"{short(tend.name)} ({facts.component(touch.step)})"
        yield Entry(at, About.TEND, touch.step, named, tend.hands_on, touch.occurrence)


def _looks(facts: Facts) -> Iterator[Entry]:
    """The first look of each day still to come."""
    said: set[tuple[int, date]] = set()
    for nudge in looks(_outlook(facts)):
        day = nudge.step or 0, hours.local(nudge.due, facts.zone).date()
        if nudge.due >= facts.now and nudge.stage is not Stage.MISSED and day not in said:
            said.add(day)
            yield Entry(nudge.due, About.LOOK, day[0], facts.titled(day[0]), lead="have a look")


def _shopping(facts: Facts) -> Iterator[Entry]:
    for slot in facts.view.upcoming():
        step = facts.step(slot.step)
        if step.buy is not None and slot.start - step.buy >= facts.now:
            yield Entry(
                slot.start - step.buy,
                About.BUY,
                slot.step,
                shopping_for(facts, slot.step),
                lead="have bought",
            )


def shopping_for(facts: Facts, number: int) -> str:
    """ "duck legs, coarse salt and thyme", or what the step is called."""
    amounts = [amount for amount in facts.step(number).amounts if has_to_be_bought(amount)]
    names = [short(amount.name, 30) for amount in amounts]
    return words.listed(some(names, 4, "{} more")) or f"what {facts.quoted(number)} needs"


def _folded(entries: list[Entry]) -> Iterator[Entry]:
    """Three touches of one kind or more on a day become one entry, at the first of them."""
    for entry in entries:
        alike = [each for each in entries if each.about is About.TEND and each.step == entry.step]
        if entry.about is not About.TEND or len(alike) < 3:
            yield entry
        elif entry is alike[0]:
            work = sum((each.work for each in alike), NO_TIME)
            yield replace(entry, work=work, count=len(alike), last=alike[-1].at)


# ---------------------------------------------------------------- lines


def line(facts: Facts, entry: Entry, dated: bool = False) -> str:
    """ "07:10 Feed the starter (Country loaf)"."""
    overdue = entry.at < facts.now and words.days_ahead(entry.at, facts.zone, facts.now) < 0
    at = facts.brief(entry.at) if dated or overdue else facts.clock(entry.at)
    often = f", {entry.count} times, until {facts.clock(entry.last)}" if entry.last else ""
    return f"{at} {f'{capital(entry.lead)}: ' if entry.lead else ''}{entry.text}{often}"


def running_lines(facts: Facts, most: int = 3) -> list[str]:
    """ "Running: Turnips ferment, day 3 of 7 to 10"."""
    lines = [f"Running: {facts.running(slot.step)}" for slot in facts.view.running()]
    return some(lines, most, "and {} more running")


def days_in_brief(facts: Facts, most: int) -> list[str]:
    """ "Thu 10 Dec: 3 things, 35 min of work, from 18:00"; days with touches only in one line together."""
    entries = agenda(facts)
    lines: list[str] = []
    only: list[str] = []
    quiet = 0
    for day, found in groupby(entries, lambda entry: _day_of(facts, entry)):
        folded = list(_folded(list(found)))
        if all(entry.about is About.TEND for entry in folded):
            quiet += 1
            only += [entry.text for entry in folded]
        else:
            lines.append(_day_in_brief(facts, day, folded))
    return [*some(lines, most, "and {} days more"), *_quiet_days(quiet, only)]


def _day_in_brief(facts: Facts, day: date, entries: list[Entry]) -> str:
    work = sum((entry.work for entry in entries), NO_TIME)
    worked = f", {words.length(work)} of work" if work else ""
    start = facts.clock(entries[0].at)
    return f"{words.date_name(day)}: {numbered(len(entries), 'thing')}{worked}, from {start}"


def _quiet_days(count: int, names: Iterable[str]) -> list[str]:
    if not count:
        return []
    named = words.listed(some(dict.fromkeys(names), 3, "{} more"))
    return [f"On {words.counted(count, 'other day')} only: {named}"]
