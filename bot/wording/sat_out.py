""" "The duck sat out three hours": how long it was, what the published limits say of that, what it depends on."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from bot.understanding import instants
from bot.understanding.patterns import listed, spoken
from bot.understanding.plainwords import bare, plain
from bot.understanding.saidtime import Said as SaidTimes
from bot.understanding.timewords import split
from bot.wording import limits as put
from bot.wording.lines import beware, message, short
from scheduler import words
from scheduler.domain import hours
from scheduler.domain.cooling import cools, heats, is_cold
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.holding import Clock, Kind, State, Verdict, limits, verdict
from scheduler.domain.kitchen.rules import Rules
from scheduler.domain.plan import Step
from scheduler.domain.progress import State as Stands
from scheduler.service.answers import Caution, Said
from scheduler.service.view import View

STOOD = spoken(
    r"(?:sat|sit|sits|sitting|stood|standing|stands|stay|stayed|lying|lain|been|left|forgotten|forgot|was|were|is|are|kept)"
    r" (?:\w+ ){0,5}?(?:out(?! of the oven)|unrefrigerated|(?:on|at) the (?:counter|side|worktop|bench|table)"
    r"|(?:at|in) room temp\w*)",
    r"(?:left|been|was|forgot|forgotten) (?:\w+ ){0,4}on the (?:stove|hob|cooker) (?:all |over ?)night",
    r"after (?:\w+ ){1,4}(?:out\b|on the (?:counter|side|worktop|bench)|out of the fridge|(?:at|in) room temp\w*)",
)
"""Said of food that is neither held hot nor cold."""

NOT_FOOD = spoken(
    r"(?:i|we) (?:have |had )?(?:been|was|were|am|are) (?:\w+ )?out",
    "power(?: cut)?|electricity|fridge (?:was|is|has been) out|lights?",
)
"""It is the cook who was out, or the power."""

NIGHT = spoken("over ?night", "all night", "the (?:whole|entire) night")
A_NIGHT = timedelta(hours=8)
"""At least so long is a night (common usage, no source); longer than any published limit."""

TWICE = spoken("twice", "two times")
ALL_DAY = spoken("all day", "the (?:whole|entire) day")

Spell = tuple[timedelta, str]
"""How long food was out, and in words."""


def sat_out(answer: Caution) -> Said | None:
    """What the limits say of food that stood out; None where that is not what is told, or not for how long."""
    now = answer.now or (answer.view.now if answer.view else None)
    said = bare(plain(answer.said)).replace("?", " ").strip(" .,;:")
    if now is None or not STOOD.search(said) or NOT_FOOD.search(said):
        return None
    zone = answer.zone if answer.now or answer.view is None else answer.view.zone
    spell = how_long(said, now, zone)
    if spell is None:
        return None
    step = None if answer.view is None else _last_of(answer.view, answer.said)
    if answer.view is not None and step is not None and _on_purpose(answer.view, step):
        return _as_planned(spell[1], step, answer.rules)
    if split(said).gone_by and split(said).ago is None:
        return _was_out(spell, answer.rules, (zone, now))
    return _told(spell, answer.rules, (zone, now), _of_the_plan(answer.view, step, answer.rules))


def _told(spell: Spell, rules: Rules, here: put.Brief, known: str) -> Said:
    clock = Clock(Kind.OUT, here[1] - spell[0])
    found = verdict(clock, rules, here[1])
    told = (*put.out_lines(limits(clock, rules), found, here), *put.from_cold(rules, spell[0]))
    lines = [f"- {put.capital(line)}." for line in told]
    return message(_heading(spell, found, here), *lines, known, f"{put.counted_from(rules)}.", DEFERRAL)


def _was_out(spell: Spell, rules: Rules, here: put.Brief) -> Said:
    """Of a spell on a day that is over: how long it was counts, nothing is left of it."""
    found = verdict(Clock(Kind.OUT, here[1] - spell[0]), rules, here[1])
    heading = (
        _heading(spell, found, here) if found.state is State.PASSED else f"{spell[1]}: that much is used up"
    )
    lines = [f"- {put.capital(line)}." for line in put.allowances(rules.standing)]
    return message(heading, *lines, f"{put.counted_from(rules)}.", DEFERRAL)


def _as_planned(lasted: str, step: Step, rules: Rules) -> Said:
    """Of what ferments or rises, which is not to be hot or cold."""
    return message(
        f"{lasted}: by the plan it stands out, in “{short(step.name)}”",
        "The limits on standing out are for food that is to be kept hot or cold:",
        *(f"- {put.capital(line)}." for line in put.allowances(rules.standing)),
        *beware(step)[:1],
        DEFERRAL,
    )


def _heading(spell: Spell, found: Verdict, here: put.Brief) -> str:
    length, lasted = spell
    if found.state is not State.PASSED:
        until = put.moment(found.until or here[1], here)
        left = f"{words.length(found.left)} left, until {until}" if found.left else "that is the limit"
        return f"{lasted}: {left}"
    passed = [words.length(miss.limit.at - (here[1] - length)) for miss in found.missed]
    limit = "limit" if len(passed) == 1 else "limits"
    return f"{lasted}: past the {limit} of {words.listed(passed)}; {found.missed[0].limit.then.says}"


# ---------------------------------------------------------------- how long


def how_long(said: str, now: datetime, zone: str) -> Spell | None:
    """How long it was out, from plain words; None where they do not tell."""
    times = split(said)
    lasted = _lasted(times, now, zone)
    if lasted is not None and TWICE.search(said):
        return 2 * lasted, f"Out twice, {words.length(2 * lasted)} in all"
    if NIGHT.search(said) and (lasted is None or lasted < A_NIGHT):
        return A_NIGHT, "Out for a night"
    if lasted is None:
        return (A_NIGHT, "Out for the day") if ALL_DAY.search(said) else None
    at_most = "up to " if _by_part(times) else ""
    return lasted, f"Out for {at_most}{words.length(lasted)}"


def _lasted(times: SaidTimes, now: datetime, zone: str) -> timedelta | None:
    """Where only a part of the day was said ("since this morning"), from its first hour."""
    if times.length is not None and times.clock is None:
        return times.length if times.ago is None else None
    since = instants.past(times, now, zone)
    if since is not None and times.part is not None and _by_part(times):
        since = min(since, _first_hour(times.part, since, zone))
    return None if since is None else now - since


def _by_part(times: SaidTimes) -> bool:
    """Whether a part of a day is all that says when it began."""
    return times.part is not None and not (times.clock or times.ago or times.length)


def _first_hour(part: str, near: datetime, zone: str) -> datetime:
    there = hours.local(near, zone)
    return hours.instant(there.replace(tzinfo=None, hour=instants.PART_HOURS[part][0], minute=0), zone)


# ---------------------------------------------------------------- what the plan knows


def _of_the_plan(view: View | None, step: Step | None, rules: Rules) -> str:
    """What the plan knows of the food that is spoken of; or that nobody said."""
    if view is None or step is None:
        return "Whether it was hot, cold or raw, I do not know."
    name, standing = short(step.name, 40), view.progress.of(step.number)
    until = "" if standing.ended is None else f", until {view.brief(standing.ended)}"
    if heats(step):
        return f"By the plan it was heated in “{name}”{until}{_keeps(step)}."
    if is_cold(step):
        return f"By the plan it was cold in “{name}”{until}{_keeps(step)}."
    if cools(view.plan, step):
        return f"By the plan it cools in “{name}”, which has limits too: {put.first_document(rules.cooling)}."
    return f"By the plan it was last in “{name}”; whether it was hot, cold or raw, I do not know."


def _keeps(step: Step) -> str:
    """A plan's keeping time is for food kept as it should be."""
    return "" if step.keeps is None else f"; that it keeps {words.length(step.keeps)} changes nothing here"


def _on_purpose(view: View, step: Step) -> bool:
    """Whether it is under way and is to stand neither hot nor cold: a ferment, a dough that rises."""
    if view.progress.state(step.number) is not Stands.RUNNING or heats(step) or is_cold(step):
        return False
    return step.ferment is not None or step.ripens is not None or step.range.by_nature


def _last_of(view: View, said: str) -> Step | None:
    """The step under way, or else the one that ended last, of what is spoken of."""
    spoken_of = _stems(split(bare(plain(said))).text)
    begun = [
        (standing.ended is None, standing.started or standing.ended, step)
        for step in view.plan.steps
        if (standing := view.progress.of(step.number)).started or standing.ended
        if spoken_of & _stems(f"{step.component} {step.name}".casefold())
    ]
    return max(begun, key=lambda each: each[:2], default=(False, None, None))[2]


AROUND = frozenset(
    listed("been left stood standing sitting lying over overnight night room temperature counter side")
)
"""Words about standing out, and no food."""


def _stems(text: str) -> set[str]:
    """How the longer words begin, those in capitals (times) left out."""
    return {word[:4] for word in re.findall(r"[^\W\d_A-Z]{4,}", text) if word not in AROUND}
