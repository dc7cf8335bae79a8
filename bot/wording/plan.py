"""A plan that arrives, does not fit, moves to another hour, or goes."""

from __future__ import annotations

from bot.wording import ways
from bot.wording.days import coming
from bot.wording.facts import Facts
from bot.wording.hours import because, earliest, moved_lines, would_move
from bot.wording.lines import button, message, numbered, short
from scheduler import words
from scheduler.planfile import Problem
from scheduler.records import Button
from scheduler.service.answers import (
    AskServe,
    BadFile,
    Discarded,
    HourFits,
    HourMoved,
    NoFit,
    Said,
    Stopped,
)
from scheduler.service.deeds import Deed, Verb

MOST_PROBLEMS = 8
MOST_FACTS = 7
"""Lines for the facts in conflict: nearly always all, for any may be the one to do something about."""
MOST_TO_TELL = 10
"""Lines for the facts and the ways out together, so that a message needs no scrolling."""


def bad_file(answer: BadFile) -> Said:
    """Every problem on a line of its own, as many as fit."""
    shown = answer.problems[:MOST_PROBLEMS]
    room = (80, 150) if len(shown) < 3 else (40, 70) if len(shown) < 5 else (40, 45)
    lines = [_problem(problem, *room) for problem in shown]
    left = len(answer.problems) - len(lines)
    return message(
        f"Put right {numbered(len(answer.problems), 'thing')} in this plan and send it again",
        "Nothing of it was kept.",
        *lines,
        f"and {left} more" if left > 0 else "",
    )


def _problem(problem: Problem, most_found: int, most: int) -> str:
    """Where few are wrong there is room for all of a reason and its source."""
    where, found = f"- Line {problem.line}, column {problem.column}", short(problem.found, most_found)
    if problem.nearest:
        return f"{where}: {found}. Did you mean {short(problem.nearest, 30)}?"
    return f"{where}: found {found}, expected {short(problem.expected, most)}"


def ask_serve(answer: AskServe) -> Said:
    return message(
        f"Say when it is to be on the table: {short(answer.title)}",
        "For instance: Saturday 19:30, or: sat or sun, 12:00-14:00, or: as soon as possible.",
    )


def no_fit(answer: NoFit) -> Said:
    """What stands in the way, in the plan's own words, and the hours that would do."""
    zone, misfit = answer.plan.zone, answer.misfit
    if answer.shown:
        return _more_ways(answer)
    hour = words.day_and_clock(misfit.serve, zone)
    why = (
        "These cannot all be true:"
        if misfit.proven
        else "I ran out of time looking. These seem to be in the way:"
    )
    return message(
        f"{short(answer.plan.title, 40)} cannot be served {_on(hour)}",
        why if misfit.because else "",
        *because(misfit, min(MOST_FACTS, MOST_TO_TELL - len(misfit.remedies))),
        *(ways.listed(answer) or [earliest(misfit, zone)]),
        "Nothing was changed." if answer.under_way else "",
        buttons=ways.buttons(answer, _leave(answer)),
    )


def _more_ways(answer: NoFit) -> Said:
    """Those that the first message had no buttons for."""
    return message(
        f"More ways to serve {short(answer.plan.title, 40)}",
        *ways.listed(answer)[1:],
        buttons=ways.buttons(answer, _leave(answer)),
    )


def _leave(answer: NoFit) -> Button:
    if answer.under_way:
        return button("Leave it as it is", Deed(Verb.KEEP, answer.plan_id))
    return button("Not this plan", Deed(Verb.DISCARD, answer.plan_id))


def _on(hour: str) -> str:
    """ "Sat 12 Dec 19:30" in a sentence."""
    day, _, clock = hour.rpartition(" ")
    return f"on {day} at {clock}"


def discarded(answer: Discarded) -> Said:
    return message(f"Put aside: {short(answer.title)}", "Send it again, or another, when you like.")


def stopped(answer: Stopped) -> Said:
    return message(
        f"Stopped: {short(answer.title)}", "You will hear no more about it, unless you say undo now."
    )


def hour_fits(answer: HourFits) -> Said:
    """Another hour would do: what would move, before it is moved."""
    facts = Facts(answer.view)
    now = facts.view.serve
    return message(
        f"{words.day_and_clock(answer.serve, facts.zone)} fits. Move the meal?",
        f"As things stand it is served {facts.at(now)}.",
        *would_move(facts, answer.moved),
        "" if answer.moved else "Nothing else would move.",
        buttons=[
            facts.button(f"Move it to {facts.clock(answer.serve)}", Verb.SERVE, at=answer.serve),
            facts.button("Leave it as it is", Verb.KEEP),
        ],
    )


def hour_moved(answer: HourMoved) -> Said:
    facts = Facts(answer.view)
    return message(
        f"The meal is now served {facts.at(answer.view.serve)}",
        *moved_lines(facts, answer.moved),
        coming(facts),
        buttons=[
            facts.button("What's next", Verb.NEXT),
            facts.button("The whole plan", Verb.PLAN),
            facts.button("Undo", Verb.UNDO),
        ],
    )
