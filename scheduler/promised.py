"""A bet in a cook's words: what it is on, what goes wrong, and what would mend it."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler import words
from scheduler.domain.plan import Attention, Plan
from scheduler.domain.presence import Presence
from scheduler.domain.progress import Progress, at_the_start
from scheduler.domain.promise import AS_MANY, Bet, Break, Trouble, breaks_of
from scheduler.domain.slack.room import moment
from scheduler.domain.timetable import Timetable
from scheduler.mending import Mend

KEPT = "Whatever nature does within its ranges, the meal is on time."
UNSHOWN = "Whether the meal is on time whatever nature does could not be shown either way."


def bet(plan: Plan, timetable: Timetable, lost: Break) -> str:
    """ "If “Simmer the beans” takes more than 1 h 20 min, the meal is late." """
    return f"If {_condition(plan, timetable, lost)}, {trouble(plan, timetable, lost.trouble)}."


def warning(plan: Plan, timetable: Timetable, now: datetime, progress: Progress | None = None) -> str | None:
    """One sentence for whoever is to agree to a timetable that is a bet, about the least of what loses it."""
    if len(timetable.slots) > AS_MANY:
        return None
    wager = Bet(plan, timetable, now, progress or at_the_start(plan))
    lost = None if wager.kept() else next(breaks_of(wager), None)
    if lost is None:
        return None
    # That the meal is late says enough here; which step is not done by then, `check` tells.
    wrong = "the meal is late" if lost.trouble.rule == "late" else trouble(plan, timetable, lost.trouble)
    return f"This is a bet: if {_condition(plan, timetable, lost)}, {wrong}."


def _condition(plan: Plan, timetable: Timetable, lost: Break) -> str:
    if lost.beyond is not None:
        (one,) = lost.draw
        word = "more" if one.lasts > lost.beyond else "less"
        return f"“{plan.steps[one.step].name}” takes {word} than {words.length(lost.beyond)}"
    each = [f"“{plan.steps[one.step].name}” takes {words.length(one.lasts)}" for one in lost.draw]
    return f"{each[0]}, for instance" if len(each) == 1 else words.listed(each)


def trouble(plan: Plan, timetable: Timetable, found: Trouble) -> str:
    """What goes wrong, as a clause."""
    step = f"“{plan.steps[found.step].name}”"
    other = "" if found.other is None else f"“{plan.steps[found.other].name}”"
    at = words.day_and_clock(moment(found.at), plan.zone)
    if found.rule == "late":
        return f"the meal is late: {step} is not done by {words.clock(timetable.serve, plan.zone)}"
    if found.rule == "early":
        return f"{step} is ready too long before the meal for what it keeps"
    if found.rule == "kept":
        return _kept_too_long(plan, found, step, other)
    if found.rule == "hours":
        return _nobody(plan, timetable, found, step, at)
    if found.rule == "unseen":
        return f"{step} ends {at}, does not keep, and nobody is awake and at home"
    if found.rule == "busy":
        return f"{step} and {other} need the same hands {at}"
    if found.rule == "gear":
        return f"{step} and {other} need the same gear {at}"
    if found.rule == "long":
        return f"{step} has to go on for longer than {_longest(plan, found)}"
    if found.rule == "soon":
        return f"{step} has to begin {at}, {_too_soon(plan, found, other)}"
    return f"{step} is cut short {at}"


def _too_soon(plan: Plan, found: Trouble, other: str) -> str:
    if found.other is None:
        return "before it may"
    waits = plan.link(plan.steps[found.other], plan.steps[found.step]).shortest
    return f"too soon after {other}" if waits else f"before {other} is over"


def _kept_too_long(plan: Plan, found: Trouble, step: str, other: str) -> str:
    before = None if found.other is None else plan.steps[found.other]
    keeps = plan.link(before, plan.steps[found.step]).longest if before else None
    if not keeps:
        return f"{step} cannot follow {other} at once"
    return f"{step} cannot follow {other} within {words.length(keeps)}"


def _nobody(plan: Plan, timetable: Timetable, found: Trouble, step: str, at: str) -> str:
    """A start or a going on at a moment when nobody is there."""
    attended = plan.steps[found.step].attention is not Attention.UNATTENDED
    shut = moment(found.at)
    verb = "goes on past" if attended and _is_end_of_hours(plan, found, shut) else "has to begin"
    return f"{step} {verb} {at}, when nobody who may do it is awake and at home"


def _is_end_of_hours(plan: Plan, found: Trouble, at: datetime) -> bool:
    day = timedelta(days=1)
    presence = Presence(plan, at - day, at + day)
    cooks = plan.cooks_of(plan.steps[found.step])
    return any(at == end for cook in cooks for _, end in presence.home(cook.name))


def _longest(plan: Plan, found: Trouble) -> str:
    longest = plan.steps[found.step].range.longest
    return words.length(longest) if longest else "it may"


# ---------------------------------------------------------------- mends


def mended(plan: Plan, mend: Mend) -> str:
    """A change as an order a cook would give."""
    step = f"“{plan.steps[mend.step].name}”"
    if mend.begin is not None:
        word = "later" if mend.later else "earlier"
        text = f"begin {step} {word}, {words.day_and_clock(mend.begin, plan.zone)}"
    elif mend.longest is not None:
        text = f"plan {step} at its longest, {words.length(mend.longest)}, in place of the usual time"
    elif mend.home is not None:
        since, until = mend.home
        same = words.days_ahead(until, plan.zone, since) == 0
        end = words.clock(until, plan.zone) if same else words.day_and_clock(until, plan.zone)
        text = f"{_who(plan, mend)} awake and at home {words.day_and_clock(since, plan.zone)} to {end}"
    else:
        keeps = words.length(mend.keeps or timedelta(0))
        text = f"if what comes of {step} may stand for {keeps}, write “keeps: {keeps}” there"
    return text[0].upper() + text[1:]


def _who(plan: Plan, mend: Mend) -> str:
    return mend.cook if mend.cook and len(plan.kitchen.cooks) > 1 else "somebody"
