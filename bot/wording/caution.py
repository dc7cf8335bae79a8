"""Questions about safety: which published limits apply. Food is never called safe."""

from __future__ import annotations

from bot.wording.facts import Facts
from bot.wording.lines import message, one_line, short
from bot.wording.sat_out import sat_out
from scheduler import heat_words, words
from scheduler.domain.kitchen.hazards import DEFERRAL, caution, hazard, hazards_in
from scheduler.domain.kitchen.hazards.attached import hazards_of
from scheduler.domain.plan import NO_TIME, Step
from scheduler.domain.progress import State
from scheduler.service.answers import Caution, Said

MOST_LIMITS = 3
USUAL = ("holding", "cooling")
"""What is told when the question names nothing that is known."""


def caution_is(answer: Caution) -> Said:
    """The limits that the question is about, and those of the steps it names; of food that stood out, what is left."""
    stood = sat_out(answer)
    if stood is not None:
        return stood
    asked = [str(each) for each in hazards_in(answer.said)]
    planned = [] if answer.view is None else _of_steps(Facts(answer.view), answer.said)
    told = list(dict.fromkeys([*asked, *planned])) or [str(hazard(word)) for word in USUAL]
    return message(
        "If in doubt, leave it out of the meal",
        "I cannot judge food from here. The published limits:",
        *(f"- {short(each, 220)}" for each in told[:MOST_LIMITS]),
        DEFERRAL,
    )


def _of_steps(facts: Facts, said: str) -> list[str]:
    """The cautions of steps whose name or part of the meal is spoken of."""
    spoken = {word[:4] for word in one_line(said).casefold().split() if len(word) > 3}
    meant = [step for step in facts.plan.steps if _meant(step, spoken)]
    written = [caution(one_line(step.caution)) for step in meant if step.caution]
    heated = [line for step in meant if (line := _heated_so_far(facts, step))]
    return [*heated, *written, *(str(hazard) for step in meant for hazard in hazards_of(step, facts.plan))]


def _heated_so_far(facts: Facts, step: Step) -> str:
    """What one under way that is to meet a published limit has met by now, or how long it has still to go."""
    started = facts.view.progress.of(step.number).started
    if step.floor is None or started is None or facts.state(step.number) is not State.RUNNING:
        return ""
    lasted = max(facts.now - started, NO_TIME)
    if lasted >= step.floor:
        return heat_words.had(step, lasted, facts.quoted(step.number))
    gone = f"{words.length(lasted)} of {words.length(step.floor)}"
    return f"{facts.quoted(step.number)} has had {gone}; not met yet: {heat_words.still_for(step, lasted)}"


def _meant(step: Step, spoken: set[str]) -> bool:
    own = f"{step.component} {step.name}".casefold().split()
    return any(word[:4] in spoken for word in own if len(word) > 3)
