"""Questions about safety: which published limits apply. Food is never called safe."""

from __future__ import annotations

from bot.wording.facts import Facts
from bot.wording.lines import message, one_line, short
from scheduler.domain.kitchen.hazards import DEFERRAL, caution, hazard, hazards_in
from scheduler.domain.plan import Step
from scheduler.service.answers import Caution, Said

MOST_LIMITS = 3
USUAL = ("holding", "cooling")
"""What is told when the question names nothing that is known."""


def caution_is(answer: Caution) -> Said:
    """The limits that the question is about, and those of the steps it names."""
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
    return [
        caution(one_line(step.caution)) for step in facts.plan.steps if step.caution and _meant(step, spoken)
    ]


def _meant(step: Step, spoken: set[str]) -> bool:
    own = f"{step.component} {step.name}".casefold().split()
    return any(word[:4] in spoken for word in own if len(word) > 3)
