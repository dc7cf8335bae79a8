"""A day, what is next, and the whole plan, each in one short message."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from bot.wording.agenda import Entry, agenda, days_in_brief, line, on_day, running_lines
from bot.wording.clock_words import clock_lines
from bot.wording.facts import Facts
from bot.wording.lines import message, numbered, short, some
from bot.wording.running import touch_buttons
from bot.wording.talk import timer_lines
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.progress import State, still_to_do
from scheduler.domain.stages import About
from scheduler.domain.timetable import Slot
from scheduler.records import Button
from scheduler.service.answers import Accepted, DayIs, NextIs, PlanIs, Proposed, Said
from scheduler.service.deeds import Verb

MOST_OF_A_DAY = 9
"""Lines of a day's list: eight things, and how many more."""

SOON = timedelta(hours=2)
"""How far ahead something may lie that is offered to be marked."""

LAST_WORDS = "That was the last step. To the table."


def day_is(answer: DayIs) -> Said:
    return day_card(Facts(answer.view), answer.day)


def day_card(facts: Facts, day: date) -> Said:
    """The things of a day in order of time, what runs on, and the meal."""
    entries = on_day(facts, day)
    return message(
        _day_heading(facts, day, entries),
        *some([line(facts, entry) for entry in entries], MOST_OF_A_DAY),
        *(running_lines(facts, 2) if _is_today(facts, day) else []),
        *_done_on(facts, day),
        _table(facts, day),
        buttons=[facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)],
    )


def _day_heading(facts: Facts, day: date, entries: list[Entry]) -> str:
    named = f"Today, {words.date_name(day)}" if _is_today(facts, day) else words.date_name(day)
    if not entries:
        past = day < hours.local(facts.now, facts.zone).date()
        return f"{named}: over" if past else f"{named}: nothing to do"
    when = f"at {facts.clock(entries[0].at)}" if entries[0].at >= facts.now else "at once"
    return f"{named}: {numbered(len(entries), 'thing')}, {'the first ' if len(entries) > 1 else ''}{when}"


def _is_today(facts: Facts, day: date) -> bool:
    return hours.local(facts.now, facts.zone).date() == day


def _done_on(facts: Facts, day: date) -> list[str]:
    """The names of what was finished on that day already."""
    ended = [
        short(facts.step(number).name, 30)
        for number, standing in enumerate(facts.view.progress.standings)
        if standing.state is State.DONE and standing.ended is not None and not standing.assumed
        if hours.local(standing.ended, facts.zone).date() == day
    ]
    return [f"Done: {words.listed(some(ended, 4, '{} more'))}"] if ended else []


def _table(facts: Facts, day: date) -> str:
    serve = facts.view.serve
    return f"On the table at {facts.clock(serve)}" if hours.local(serve, facts.zone).date() == day else ""


# ---------------------------------------------------------------- what is next


def next_is(answer: NextIs) -> Said:
    """What to do now or next, what runs, and the three things after that."""
    facts = Facts(answer.view)
    timers = [
        *clock_lines(answer.clocks, facts.zone, facts.now),
        *timer_lines(answer.timers, facts.zone, facts.now),
    ]
    if not still_to_do(answer.view.progress):
        return message(LAST_WORDS, *timers)
    busy = [slot for slot in answer.view.running() if facts.is_hands_on(slot.step)]
    entries = agenda(facts)
    if busy:
        return _under_way(facts, busy[0], entries, timers)
    if not entries:
        return message(
            "Nothing to begin; now it is a matter of waiting",
            *running_lines(facts, 4),
            *timers,
            *_meal(facts),
        )
    first, *later = entries
    return message(
        _next_heading(facts, first),
        *_about_next(facts, first),
        *running_lines(facts, 4),
        *timers,
        *_afterwards(facts, later),
        buttons=_next_buttons(facts, first),
    )


def _meal(facts: Facts) -> list[str]:
    return [f"The meal is served {facts.at(facts.view.serve)}."]


def _under_way(facts: Facts, slot: Slot, entries: list[Entry], timers: list[str]) -> Said:
    others = [each for each in running_lines(facts) if each != f"Running: {facts.running(slot.step)}"]
    return message(
        facts.called(slot.step, f"Under way: {facts.titled(slot.step)}, until {facts.brief(slot.end)}"),
        *others,
        *timers,
        *_afterwards(facts, entries),
        buttons=[facts.button("Done", Verb.DONE, slot.step), facts.button("Today", Verb.DAY)],
    )


def _next_heading(facts: Facts, entry: Entry) -> str:
    """ "Next, at 19:30, Dev: Grind the batter"."""
    opening = "Now" if entry.at <= facts.now else f"Next, {facts.at(entry.at)}"
    return f"{opening}{_lead(entry)}: {entry.text}"


def _lead(entry: Entry) -> str:
    return f", {entry.lead}" if entry.lead else ""


def _about_next(facts: Facts, entry: Entry) -> list[str]:
    planned = f"It was planned for {facts.brief(entry.at)}. " if entry.at < facts.now else ""
    if entry.about is About.START:
        return [planned + facts.room(entry.step)]
    return [planned] if planned else []


def _afterwards(facts: Facts, entries: Iterable[Entry]) -> list[str]:
    """The next three things of different kinds."""
    kinds: dict[tuple[About, int], Entry] = {}
    for entry in entries:
        kinds.setdefault((entry.about, entry.step), entry)
    return [f"Then {line(facts, entry, dated=True)}" for entry in list(kinds.values())[:3]] or _meal(facts)


def _next_buttons(facts: Facts, entry: Entry) -> list[Button]:
    today = facts.button("Today", Verb.DAY)
    soon = entry.at <= facts.now + SOON
    if entry.about is About.TEND and entry.occurrence is not None and soon:
        return [*touch_buttons(facts, entry.step, entry.occurrence), today]
    if entry.about is About.START:
        if not soon:
            return [facts.why(entry.step, "Why then"), today]
        why = facts.why(entry.step, "Why now" if entry.at <= facts.now else "Why then")
        return [facts.did_it(entry.step), why, today]
    return [today]


def coming(facts: Facts, besides: int | None = None) -> str:
    """ "Next, at 16:25: Bake the casserole."; empty where that is what was just spoken of."""
    if not still_to_do(facts.view.progress):
        return LAST_WORDS
    entries = agenda(facts)
    if not entries:
        running = [facts.running(slot.step) for slot in facts.view.running()]
        return f"Running: {words.listed(some(running, 2, '{} more'))}." if running else ""
    return "" if entries[0].step == besides else f"{_next_heading(facts, entries[0])}."


# ---------------------------------------------------------------- the whole plan


def plan_is(answer: PlanIs) -> Said:
    """Where the plan stands and the days to come in brief."""
    facts = Facts(answer.view)
    states = [
        standing.state for standing in answer.view.progress.standings if standing.state is not State.DROPPED
    ]
    done = sum(state is State.DONE for state in states)
    return message(
        f"{short(facts.plan.title)}: served {facts.at(answer.view.serve)}",
        f"{done} of {words.counted(len(states), 'step')} done.",
        *running_lines(facts),
        *days_in_brief(facts, 7),
        coming(facts),
        buttons=[facts.button("What's next", Verb.NEXT), facts.button("Today", Verb.DAY)],
    )


def proposed(answer: Proposed) -> Said:
    """A plan that fits, before it is taken into use."""
    facts = Facts(answer.view)
    return message(
        f"{short(facts.plan.title)} fits: served {facts.at(answer.view.serve)}",
        _first(facts, facts.now),
        *days_in_brief(facts, 5),
        *some([f"- {short(warning, 200)}" for warning in answer.warnings], 4, "- and {} more to know"),
        f"Under way beside it: {words.listed([short(title, 30) for title in answer.beside[:3]])}."
        if answer.beside
        else "",
        buttons=[facts.button("Use this plan", Verb.USE), facts.button("Not this one", Verb.DISCARD)],
    )


def _first(facts: Facts, now: datetime) -> str:
    """The first thing to do, and how soon that is."""
    entries = [entry for entry in agenda(facts) if entry.about is not About.BUY]
    if not entries:
        return ""
    wait = entries[0].at - now
    in_time = f", in {words.length(wait)}" if 0 < wait.total_seconds() < 86400 else ""
    return f"It begins {facts.at(entries[0].at)}{in_time}{_lead(entries[0])}: {entries[0].text}."


def accepted(answer: Accepted) -> Said:
    facts = Facts(answer.view)
    return message(
        f"{short(facts.plan.title)} is in use",
        *_meal(facts),
        coming(facts),
        "I will write when it is time. You need not keep this chat open.",
        buttons=[facts.button("What's next", Verb.NEXT), facts.button("The whole plan", Verb.PLAN)],
    )
