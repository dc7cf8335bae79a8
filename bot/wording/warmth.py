"""What another temperature makes of what ferments and rises, and what was counted on for it."""

from __future__ import annotations

from bot.wording.days import coming
from bot.wording.facts import Facts
from bot.wording.hours import cannot, moved_lines, no_longer_fits
from bot.wording.lines import button, message, some
from scheduler import words
from scheduler.changes import changed
from scheduler.records import Button
from scheduler.service.answers import NotKnown, Reckoned, Reestimate, Said
from scheduler.service.deeds import Deed, Verb

MOST = 3


def found_lines(facts: Facts, found: tuple[Reestimate | NotKnown, ...]) -> list[str]:
    """Step by step, with the range and what says so; ends with the question where there is one."""
    told = some((_line(facts, each) for each in found), MOST + 1, "And {} more.")
    asked = [each for each in found if isinstance(each, Reestimate)]
    if not asked:
        return told
    return [*told, _sources(asked), "Count on that from now on? Nothing is moved until you say so."]


def _line(facts: Facts, each: Reestimate | NotKnown) -> str:
    if isinstance(each, NotKnown):
        return f"{facts.quoted(each.step)}: {each.why}, so I leave it as planned and ask you to look."
    before, after = facts.step(each.step).range, changed(facts.plan, (each.change,)).steps[each.step].range
    return (
        f"{facts.quoted(each.step)} was counted on at {each.planned_c:g} C: at {each.said_c:g} C from now on about "
        f"{words.span(after)} in all, not {words.span(before)}."
    )


def _sources(asked: list[Reestimate]) -> str:
    names = dict.fromkeys(str(source) for each in asked for source in each.pace.sources)
    return f"An estimate, from {'; '.join(names)}."


def reckon_buttons(facts: Facts, found: tuple[Reestimate | NotKnown, ...], step: int | None) -> list[Button]:
    """ "Count on that" and "Leave it", where something is asked."""
    said = [each.said_c for each in found if isinstance(each, Reestimate)]
    if not said:
        return []
    deed = Deed(Verb.RECKON, facts.view.id, step, minutes=round(said[0] * 10))
    return [button("Count on that", deed), facts.button("Leave it", Verb.KEEP)]


def reckoned(answer: Reckoned) -> Said:
    """What is counted on now, and what moves for it or no longer fits."""
    facts = Facts(answer.view)
    told = [
        f"{facts.quoted(change.step or 0)}: {words.span(facts.step(change.step or 0).range)}."
        for change in answer.changes
    ]
    misfit = answer.misfit
    held = [] if misfit is None else [cannot(misfit, facts.zone, ending=" now")]
    more = [] if misfit is None else no_longer_fits(misfit, facts.zone)
    return message(
        f"I count on {answer.changes[0].at_c:g} C from now on",
        *some(told, MOST + 1, "And {} more."),
        *moved_lines(facts, answer.moved),
        *held,
        *more,
        coming(facts) if misfit is None else "",
        buttons=[
            *([] if misfit is None else [facts.other_ways()]),
            facts.button("What's next", Verb.NEXT),
            facts.button("Undo", Verb.UNDO),
        ],
    )
