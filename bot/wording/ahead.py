"""What is said ahead of time: a heads-up, shopping, an early start, the day's card."""

from __future__ import annotations

from datetime import timedelta

from bot.wording.agenda import shopping_for
from bot.wording.amounts import amounts_line, amounts_listed, equipment
from bot.wording.begin import how
from bot.wording.days import day_card
from bot.wording.facts import Facts
from bot.wording.lines import beware, message
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.kitchen.totals import has_to_be_bought
from scheduler.domain.plan import NO_TIME
from scheduler.domain.presence import Presence, holding
from scheduler.domain.stages import Nudge
from scheduler.service.answers import Said
from scheduler.service.deeds import Verb
from scheduler.service.view import View

A_DAY = timedelta(days=1)


def soon(nudge: Nudge, view: View) -> Said:
    """Work that begins shortly, for which things are to be brought out or the cook to come home."""
    facts, number = Facts(view), nudge.step or 0
    step, start = facts.step(number), facts.start(nudge.step or 0, nudge.subject)
    ahead = f"In {words.length(start - facts.now)}, at" if start > facts.now else "At"
    return message(
        facts.called(number, f"{ahead} {facts.clock(start)}: {facts.titled(number)}"),
        _be_home(facts, number),
        f"Have ready: {amounts_listed(step.amounts)}" if step.amounts else "",
        equipment(step),
        how(facts, number),
        *beware(step),
        buttons=[facts.why(number, "Why then"), facts.button("Today", Verb.DAY)],
    )


def _be_home(facts: Facts, number: int) -> str:
    """A word to whoever is still out."""
    start = facts.start(number, facts.now)
    home = Presence(facts.plan, facts.now - A_DAY, max(start, facts.now) + A_DAY).someone(facts.step(number))
    return "" if holding(home, facts.now) else f"Be at home by {facts.clock(start)}."


def buy(nudge: Nudge, view: View) -> Said:
    """What to buy for a step, and by when."""
    facts, number = Facts(view), nudge.step or 0
    step, start = facts.step(number), facts.start(nudge.step or 0, nudge.expires)
    by = start - (step.buy or NO_TIME)
    return message(
        f"Buy {'today' if by > facts.now else 'now'}: {shopping_for(facts, number)}",
        amounts_line(each for each in step.amounts if has_to_be_bought(each)),
        f"Have it by {facts.when(by)}." if by > facts.now else "",
        f"It is for {facts.quoted(number)}, which begins {facts.at(start)}.",
        buttons=[facts.why(number, "Why then"), facts.button("Today", Verb.DAY)],
    )


def early(nudge: Nudge, view: View) -> Said:
    """The evening before a step soon after waking."""
    facts, number = Facts(view), nudge.step or 0
    step, start = facts.step(number), facts.start(nudge.step or 0, nudge.subject)
    tomorrow = words.days_ahead(start, facts.zone, facts.now) == 1
    opening = (
        f"Tomorrow starts early, {facts.clock(start)}"
        if tomorrow
        else f"An early start, {facts.brief(start)}"
    )
    return message(
        facts.called(number, f"{opening}: {facts.titled(number)}"),
        f"Put out tonight what you can: {amounts_listed(step.amounts)}" if step.amounts else "",
        how(facts, number),
        facts.room(number),
        *beware(step),
        buttons=[facts.why(number, "Why so early"), facts.button("What's next", Verb.NEXT)],
    )


def card(nudge: Nudge, view: View) -> Said:
    """The morning's card."""
    facts = Facts(view)
    return day_card(facts, hours.local(nudge.subject, facts.zone).date())
