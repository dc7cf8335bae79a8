"""What is answered of food out of temperature control. Food is never called safe."""

from __future__ import annotations

from collections.abc import Sequence

from bot.wording.clock_words import OneClock, few_buttons, rule, titled, undo_button
from bot.wording.lines import capital, message, quoted, short, some
from scheduler import words
from scheduler.domain import clocks
from scheduler.domain.kitchen.hazards import DEFERRAL
from scheduler.domain.kitchen.holding import Clock, Miss, State, limits, verdict
from scheduler.domain.kitchen.written import degrees
from scheduler.domain.nudges.clocks import whole
from scheduler.domain.plan import MINUTE
from scheduler.records import Button
from scheduler.service.answers import ClockIs, NoClock, Said
from scheduler.service.clock_answers import ClockTold


def clock_is(answer: ClockIs) -> Said:
    """What was started, stopped, measured or asked of a clock."""
    of = OneClock(answer.name, answer.clock, answer.ref, answer.rules, answer.zone, answer.now)
    return TOLD[answer.about](of, answer)


def _started(of: OneClock, answer: ClockIs) -> Said:
    if of.next is None:
        return _asked(of, answer)
    new = answer.about is ClockTold.STARTED
    heading = f"The clock runs{'' if new else ' already'}: {short(of.name, 40)}, {of.since.lower()}"
    return _standing(of, heading, undo_button(of) if new else [])


def _back(of: OneClock, answer: ClockIs) -> Said:
    return _standing(of, f"Taken back. The clock runs: {short(of.name, 40)}, {of.since.lower()}")


def _gone(of: OneClock, answer: ClockIs) -> Said:
    return message(f"Taken back: the clock of {short(of.name, 40)}")


def _asked(of: OneClock, answer: ClockIs) -> Said:
    ran = words.length(of.now.replace(second=0, microsecond=0) - of.clock.started)
    return _standing(of, f"{titled(of.name)}: {of.since.lower()}, {ran}")


def _standing(of: OneClock, heading: str, undo: Sequence[Button] = ()) -> Said:
    """Where it stands: what was not shown to be met, and what comes next."""
    missed = _missed(of)
    coming = of.next
    lines = [f"Next: {of.by(coming)}, {of.left(coming)} left."] if coming and not _throw_away(of) else []
    told = [] if coming is None or missed else [rule(coming)]
    return message(heading, *missed, *lines, *told, DEFERRAL, buttons=[*few_buttons(of), *undo])


def _missed(of: OneClock) -> list[str]:
    """What was due and not shown to be so in time, what was surely missed first, and what the rule says then."""
    told = verdict(of.clock, of.rules, of.now).missed
    strictest: dict[float | None, Miss] = {}
    for miss in told:
        strictest.setdefault(miss.limit.to_c, miss)
    every = sorted(strictest.values(), key=lambda miss: (not miss.shown, miss.limit.then.again))
    return some([_miss(of, miss) for miss in every], 2, "And {} more limits are not shown to have been met.")


def _miss(of: OneClock, miss: Miss) -> str:
    limit, at = miss.limit, of.brief(whole(miss.limit.at))
    if of.out:
        return f"Its time was up at {at}: {limit.then.says} ({limit.source})."
    shown = "was not met" if miss.shown else "is not shown to have been met"
    then = limit.then.says if miss.shown else f"if it was not, {limit.then.says}"
    return f"{capital(limit.says)} by {at} {shown}: {then} ({limit.source})."


def _throw_away(of: OneClock) -> bool:
    """Whether a limit was surely missed after which the food cannot go on."""
    found = verdict(of.clock, of.rules, of.now)
    return any(miss.shown and not miss.limit.then.again for miss in found.missed)


def _measured(of: OneClock, answer: ClockIs) -> Said:
    heading = f"Noted: {short(of.name, 40)} at {degrees(answer.celsius or 0.0)}, {of.brief(answer.now)}"
    if verdict(of.clock, of.rules, of.now).state is State.MET:
        met = f"Every limit was met in time, by {of.rules.edition}. It goes on in the cold."
        return message(heading, met, *_met(of, answer), DEFERRAL, buttons=undo_button(of))
    standing = _standing(of, heading, undo_button(of))
    first, *rest = standing.text.splitlines()
    return message(first, *_met(of, answer), *rest, buttons=standing.buttons)


def _met(of: OneClock, answer: ClockIs) -> list[str]:
    """The limits that this reading was the first to show met."""
    celsius = answer.celsius
    if of.out or celsius is None:
        return []
    before = Clock(of.clock.kind, of.clock.started, of.clock.readings[:-1])
    left = {limit.rule for limit in limits(of.clock, of.rules)}
    met = [limit for limit in limits(before, of.rules) if limit.rule not in left]
    return some([f"Met: {limit.rule} ({limit.source})." for limit in met], 3, "and {} more limits met")


def _stopped(of: OneClock, answer: ClockIs) -> Said:
    ran = words.length(max((answer.at or of.now) - of.clock.started, MINUTE * 0))
    missed = _missed(OneClock(of.name, of.clock, of.ref, of.rules, of.zone, answer.at or of.now))
    return message(
        f"Clock stopped: {short(of.name, 40)}, after {ran}",
        *missed,
        *(_met(of, answer) if not missed else []),
        *([DEFERRAL] if missed or answer.celsius is not None else []),
        buttons=undo_button(of),
    )


def _later(of: OneClock, answer: ClockIs) -> Said:
    coming = of.next
    if coming is None:
        return _standing(of, f"{titled(of.name)}: its time is up")
    again = (
        f"I will say so again at {of.brief(answer.at)}."
        if answer.at is not None
        else f"I will write at {of.brief(whole(coming.at))}."
    )
    return message(
        f"{titled(of.name)}: {of.left(coming)} left, until {of.brief(whole(coming.at))}",
        f"By then: {coming.says}. {again}",
        rule(coming),
        DEFERRAL,
        buttons=few_buttons(of),
    )


def _still_warm(of: OneClock, answer: ClockIs) -> Said:
    coming = of.next
    return message(
        f"How warm is it in the middle? {titled(of.name)}",
        "Say it like this: 30 C",
        f"Next: {of.by(coming)}, {of.left(coming)} left." if coming else "",
    )


def _rule(of: OneClock, answer: ClockIs) -> Said:
    """Every limit of the clock by itself, as the rules chosen have it."""
    plain = limits(Clock(of.clock.kind, of.clock.started), of.rules)
    lines = [
        f"- {capital(limit.rule or limit.says)} ({limit.source}). Else {limit.then.says}." for limit in plain
    ]
    heading = f"{'Food that is out' if of.out else 'Food that cools'}, by {of.rules.edition}"
    return message(heading, *some(lines, 6, "- and {} more"), DEFERRAL, buttons=few_buttons(of)[:2])


def _in_the_cold(of: OneClock, answer: ClockIs) -> Said:
    cold = degrees(clocks.coldest(of.clock, of.rules))
    return _standing(
        of, f"{titled(of.name)}: in the cold; the clock runs on until it is {cold} in the middle"
    )


TOLD = {
    ClockTold.STARTED: _started,
    ClockTold.RUNS: _started,
    ClockTold.STOPPED: _stopped,
    ClockTold.MEASURED: _measured,
    ClockTold.ASKED: _asked,
    ClockTold.LATER: _later,
    ClockTold.WARM: _still_warm,
    ClockTold.RULE: _rule,
    ClockTold.IN_THE_COLD: _in_the_cold,
    ClockTold.BACK: _back,
    ClockTold.GONE: _gone,
}


def no_clock(answer: NoClock) -> Said:
    """None runs for what was named, or it is not clear which is meant."""
    named = f" for {quoted(answer.name, 30)}" if answer.name else ""
    if len(answer.others) > 1 or (answer.others and answer.name):
        listed = words.listed([short(each, 30) for each in answer.others[:4]])
        return message(f"Which clock do you mean? {capital(listed)}", "Say it with its name.")
    return message(
        f"No clock is running{named}", "To start one, say for instance: start the clock for the rice"
    )
