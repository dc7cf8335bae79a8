"""What moves, what cannot hold, and at which hour it would."""

from __future__ import annotations

from collections.abc import Iterable

from bot.wording.facts import Facts
from bot.wording.lines import button, one_line, short, some
from scheduler import words
from scheduler.explain import Misfit, Remedy
from scheduler.facts import FactKind
from scheduler.records import Button
from scheduler.seeking import may_be_too_late
from scheduler.service.answers import Moved
from scheduler.service.deeds import Deed, Verb


def moved_lines(facts: Facts, moved: Iterable[Moved], most: int = 5) -> list[str]:
    """ "Moved: Simmer the beans, now 13:55, was 13:40", at most so many lines."""
    named = [(short(facts.step(each.step).name, 40), each) for each in moved]
    lines = [f"Moved: {name}, now {facts.brief(one.now)}, was {facts.brief(one.was)}" for name, one in named]
    return some(lines, most, "and {} more moved")


def would_move(facts: Facts, moved: Iterable[Moved], most: int = 5) -> list[str]:
    """ "Simmer the beans would move to 13:55, from 13:40", at most so many lines."""
    named = [(short(facts.step(each.step).name, 40), each) for each in moved]
    lines = [
        f"{name} would move to {facts.brief(one.now)}, from {facts.brief(one.was)}" for name, one in named
    ]
    return some(lines, most, "and {} more would move")


def because(misfit: Misfit, most: int) -> list[str]:
    """The facts in conflict, one to a line; where there are too many, those that everyone knows are not told."""
    facts = list(misfit.because)
    if len(facts) > most:
        telling = _telling(misfit)
        facts = [*telling, *(fact for fact in facts if fact not in telling)]
    return some([f"- {short(fact, 160)}" for fact in facts], most, "- and {} more")


def no_longer_fits(misfit: Misfit, zone: str, most: int = 3) -> list[str]:
    """Why the hour cannot hold, and which one could."""
    reasons = [one_line(fact) for fact in _telling(misfit)]
    why = f"Why: {short('; '.join(some(reasons, most, 'and {} more')), 220)}." if reasons else ""
    return [why, earliest(misfit, zone)]


def _telling(misfit: Misfit) -> list[str]:
    """The facts but for the hour and the time of day, which everyone knows; all where there are no others."""
    known = (FactKind.NOW, FactKind.SERVE)
    pairs = zip(misfit.facts, misfit.because, strict=False)
    return [text for fact, text in pairs if fact.kind not in known] or list(misfit.because)


def cannot(misfit: Misfit, zone: str, then: str = "", still: str = "", ending: str = "") -> str:
    """ "Sat 12 Dec 19:30 cannot hold any more."; where the hour is not in the way, that the plan is not kept to."""
    of_the_hour = not misfit.facts or any(fact.kind is FactKind.SERVE for fact in misfit.facts)
    what = words.day_and_clock(misfit.serve, zone) if of_the_hour else "the plan"
    said = f"{then}{what} {still}cannot {'hold' if of_the_hour else 'be kept to'}{ending}."
    return f"{said[:1].upper()}{said[1:]}"


def earliest(misfit: Misfit, zone: str) -> str:
    hours = [remedy.serve for remedy in misfit.remedies if remedy.moves_the_hour]
    if not hours:
        return "I found no other hour that fits."
    first = min(hours)
    if not misfit.proven:
        return f"An hour that fits: {words.day_and_clock(first, zone)}."
    which = "earliest"
    if may_be_too_late(misfit.facts):
        which = "next" if first > misfit.serve else "nearest"
    return f"The {which} hour that fits: {words.day_and_clock(first, zone)}."


def hour_buttons(misfit: Misfit, plan: int, zone: str, put_off: Deed | None = None) -> list[Button]:
    """One for each other hour that was worked out and fits; with it goes what was put off for it."""
    step, until = (None, None) if put_off is None else (put_off.step, put_off.until)
    return [
        button(
            f"Serve {_hour(remedy, misfit, zone)}",
            Deed(Verb.SERVE, plan, step, at=remedy.serve, until=until),
        )
        for remedy in misfit.remedies
        if remedy.moves_the_hour
    ]


def _hour(remedy: Remedy, misfit: Misfit, zone: str) -> str:
    """ "20:45" on the same day, else "Sun 13 Dec 12:30"."""
    if words.days_ahead(remedy.serve, zone, misfit.serve) == 0:
        return words.clock(remedy.serve, zone)
    return words.day_and_clock(remedy.serve, zone)
