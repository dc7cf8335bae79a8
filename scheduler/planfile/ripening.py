"""A starter in a plan file: how long it takes to get ripe, in place of how long the cook says it takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from decimal import Decimal

from scheduler import words
from scheduler.domain.kitchen.loaf import weighed_feed
from scheduler.domain.kitchen.ripeness import NotRipening, Ripeness, refuse_feed, ripe
from scheduler.domain.kitchen.starter import Ripens
from scheduler.domain.plan import Attention, Range, Step
from scheduler.planfile.outline import Entry
from scheduler.planfile.sheet import Sheet

UNTIL = "domed and just about to fall"
"""The sign of a ripe starter, where a plan names none of its own (common practice, no source)."""

ALIKE = Decimal("1.15")
"""Weights within this of a ratio are still taken for it: scales and spoons (our choice)."""

A_FEED = "a feed that somebody makes"
WARM = "a temperature at which a starter ripens"


Span = tuple[timedelta, timedelta | None]


def ripened(
    sheet: Sheet, entry: Entry, attention: Attention | None, span: Span | None
) -> tuple[Span | None, str | None, timedelta | None]:
    """The shortest and longest time of a step, the sign it ends by, and how long as a rule.

    What is written stands; a starter of which no time is written takes as long as the sum says.
    """
    draft, worked = entry.draft, _worked(sheet, entry, attention)
    if worked is None or span is not None:
        return span, draft.until, draft.usually
    return (worked.shortest, worked.longest), draft.until or UNTIL, draft.usually or worked.usually


def _worked(sheet: Sheet, entry: Entry, attention: Attention | None) -> Ripeness | None:
    """How long a step takes that ripens a starter; None where it does not, or where something is wrong with it."""
    draft = entry.draft.ripens
    path = (*entry.path, "ripens")
    if draft is None or not sheet.sound(path) or not _belongs(sheet, entry, attention):
        return None
    try:
        refuse_feed(draft.ratio)
    except NotRipening as error:
        sheet.refuse((*path, "ratio"), f"{A_FEED}: {error}")
        return None
    try:
        return ripe(draft.ratio, draft.at)
    except NotRipening as error:
        sheet.refuse((*path, "at"), f"{WARM}: {error}")
        return None


def _belongs(sheet: Sheet, entry: Entry, attention: Attention | None) -> bool:
    """Whether nothing else in the step speaks against it."""
    draft, path = entry.draft, (*entry.path, "ripens")
    if attention is Attention.HANDS_ON:
        sheet.refuse_key(path, "a step that is 'nearby' or 'unattended'", "'ripens' on a hands-on step")
    elif draft.core is not None:
        sheet.refuse_key(path, "one of 'core' and 'ripens'", "'ripens' beside 'core'")
    elif draft.ferment is not None:
        sheet.refuse_key(path, "one of 'ferment' and 'ripens'", "'ripens' beside 'ferment'")
    elif draft.ripens is not None and draft.at is not None and draft.at != draft.ripens.at:
        sheet.refuse((*entry.path, "at"), f"{draft.ripens.at:g} C, as 'ripens' has it, or nothing")
    return sheet.sound(path) and sheet.sound((*entry.path, "at"))


def by_the_rule(step: Step) -> Ripeness | None:
    """How long a step takes that ripens a starter and says nothing else of how long; None for any other."""
    if step.ripens is None:
        return None
    worked = ripe(step.ripens.feed, step.ripens.at_c)
    as_worked = (step.range.shortest, step.range.longest) == (worked.shortest, worked.longest)
    return worked if as_worked else None


def on_ripening(steps: Sequence[Step]) -> Iterator[str]:
    """What a cook is told of starters: where the time comes from, and what does not go together."""
    for step in steps:
        if step.ripens is not None:
            yield from _on_time(step, step.ripens)
            yield from _on_weights(step, step.ripens, steps)


def _on_time(step: Step, ripens: Ripens) -> Iterator[str]:
    """That the time is from memory, or that what is written instead is far from it."""
    worked = ripe(ripens.feed, ripens.at_c)
    lasting = words.span(Range(worked.shortest, worked.longest))
    fed = f"fed {ripens.feed} at {ripens.at_c:g} C, by growth rates and a rule of thumb, from memory"
    if by_the_rule(step) is not None:
        yield f"“{step.name}” takes {lasting}, {fed}."
    elif step.range.shortest > worked.longest or (step.range.longest or worked.longest) < worked.shortest:
        yield f"“{step.name}”: your {words.span(step.range)} counts; it would be {lasting}, {fed}."


def _on_weights(step: Step, ripens: Ripens, steps: Sequence[Step]) -> Iterator[str]:
    """That what is weighed out before it in its component is another feed."""
    before = [each for each in steps if each.component == step.component and each.number < step.number]
    weighed = [(each, feed) for each in before for feed in [weighed_feed(each.amounts)] if feed is not None]
    if weighed and not 1 / ALIKE <= weighed[-1][1].growth / ripens.feed.growth <= ALIKE:
        named, feed = weighed[-1]
        yield f"“{named.name}” weighs out {feed.by_one_part()}, and “{step.name}” counts on {ripens.feed}."
