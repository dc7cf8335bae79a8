"""The rest of the conversation: getting to know each other, questions back, timers, quiet, help."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.wording.clock_words import clock_lines
from bot.wording.course import given_until
from bot.wording.facts import Facts
from bot.wording.lines import LABEL, button, capital, message, quoted, short, some
from scheduler import words
from scheduler.records import Button
from scheduler.service.answers import (
    AsItWas,
    AskHours,
    AskHowLate,
    AskUntil,
    AskWhich,
    Confirm,
    Failed,
    Help,
    HoursUnclear,
    NoPlan,
    QuietUntil,
    Refused,
    Said,
    Settled,
    Timer,
    TimerGone,
    TimersAre,
    TimerSet,
    Unclear,
    Undelivered,
    Welcome,
    ZoneUnclear,
)
from scheduler.service.deeds import Deed, Verb

HOW_TO_SEND = "A .yaml file, or its text pasted here, beginning with crockbell: 1."
SEND_A_PLAN = "Send a plan: a .yaml file, or its text pasted here, beginning with crockbell: 1."

HELD = "I have your plan, and will read it as soon as I know that."

WHICH = {
    Verb.DONE: "Which one is done?",
    Verb.START: "Which one has begun?",
    Verb.SKIP: "Which one shall I skip?",
}

YES = {
    Verb.STOP: "Stop it",
    Verb.LEAVE_OUT: "Leave it out",
    Verb.SKIP: "Skip it",
    Verb.RUINED: "It is lost",
    Verb.AGAIN: "Make it again",
    Verb.SERVE: "Move it",
}


# ---------------------------------------------------------------- getting to know each other


def welcome(answer: Welcome) -> Said:
    name = f", {short(answer.name, 30)}" if answer.name.strip() else ""
    return message(
        f"Hello{name}. Tell me where your kitchen is",
        "A big city near you will do, or a time zone such as Europe/Paris.",
        HELD if answer.held else "",
        "I am Crockbell. I time meals that take days, and tell you when there is something to do.",
    )


def zone_unclear(answer: ZoneUnclear) -> Said:
    """The nearest zones by number, so that a number answers as well."""
    nearest = [short(zone, 40) for zone in answer.nearest[:3]]
    lines = [f"I do not know {quoted(answer.said, 40)}."]
    if not nearest:
        lines.append("Try a big city in the same time zone.")
    elif len(nearest) == 1:
        lines.append(f"Did you mean {nearest[0]}? Say yes, or name a big city in your time zone.")
    else:
        lines.append("Did you mean one of these? Say its number, or name a big city in your time zone.")
        lines += [f"{number}. {zone}" for number, zone in enumerate(nearest, start=1)]
    return message("Say once more where your kitchen is", *lines)


def ask_hours(answer: AskHours) -> Said:
    return message(
        "Now say when you are awake",
        "For instance: 7 to half past ten. Or: weekdays 6:30-22:30, weekends 8 to midnight.",
        HELD if answer.held else "",
        f"Your zone is {short(answer.zone, 40)}: it is {words.clock(answer.now, answer.zone)} there now.",
    )


def hours_unclear(answer: HoursUnclear) -> Said:
    return message(
        "Say once more when you are awake",
        f"I cannot read {quoted(answer.said, 60)}. I need {short(answer.expected, 100)}.",
        "For instance: 07:00-22:30. Or: weekdays 6:30-22:30, weekends 8-23:30.",
    )


def settled(answer: Settled) -> Said:
    return message(
        "Now send me a plan",
        HOW_TO_SEND,
        f"Your zone is {short(answer.zone, 40)}, and you are awake {short(answer.awake, 80)}.",
        "Say help to see what else I understand.",
    )


# ---------------------------------------------------------------- questions back


def refused(answer: Refused) -> Said:
    return message(*answer.why.split("\n"), buttons=[button(label, deed) for label, deed in answer.instead])


def ask_which(answer: AskWhich) -> Said:
    """The choices by number, so that a number or a name can answer as well."""
    choices = answer.choices[:4]
    named = [f"{number}. {short(label)}" for number, (label, _) in enumerate(choices, start=1)]
    labels = [_numbered(number, label) for number, (label, _) in enumerate(choices, start=1)]
    asked = next((text for verb, text in WHICH.items() if verb == answer.verb), "Which one do you mean?")
    buttons = [button(label, deed) for label, (_, deed) in zip(labels, choices, strict=True)]
    return message(asked, *named, buttons=buttons)


def _numbered(number: int, label: str) -> str:
    """The name itself where a button can hold it; else with its number in front."""
    name = short(label)
    return name if len(name) <= LABEL else f"{number}. {name}"


def confirm(answer: Confirm) -> Said:
    yes = button(YES.get(answer.yes.verb, "Yes"), answer.yes)
    return message(answer.question, buttons=[yes, button("No", Deed(Verb.KEEP, answer.plan))])


def ask_until(answer: AskUntil) -> Said:
    facts, number = Facts(answer.view), answer.step
    tend = facts.step(number).tend
    touch = answer.occurrence is not None and tend is not None
    name = short(tend.name) if tend is not None and touch else facts.titled(number)
    labels = [facts.brief(choice) for choice in answer.choices]
    return message(
        f"Until when? {name}",
        "" if touch else given_until(facts, number) or facts.room(number),
        "Name a time, or how long." if labels else "Name a time.",
        buttons=[
            facts.button(f"Until {label}", Verb.LATER, number, answer.occurrence, until=choice)
            for label, choice in zip(labels, answer.choices, strict=True)
        ],
    )


def ask_how_late(answer: AskHowLate) -> Said:
    facts = Facts(answer.view)
    return message(
        "How late are you? Say it like this: 40 min late",
        "I will move what comes next, and say what cannot be moved.",
        buttons=[facts.button("What's next", Verb.NEXT)],
    )


def as_it_was(answer: AsItWas) -> Said:
    return message("All right, it stays as it is")


# ---------------------------------------------------------------- timers and quiet


def timer(label: str) -> Said:
    """A timer that has run out."""
    return message(f"{capital(short(label))}: time is up" if label.strip() else "Time is up")


def timer_set(answer: TimerSet) -> Said:
    name = f"{capital(short(answer.label))}: " if answer.label.strip() else ""
    due = words.clock(answer.due, answer.zone)
    return message(f"{name or 'Timer: '}{words.length(answer.length)}, until {due}")


def timer_gone(answer: TimerGone) -> Said:
    name = f": {short(answer.label)}" if answer.label.strip() else ""
    if answer.found:
        return message(f"Timer taken off{name}")
    return message(f"No such timer is running{name}")


def timer_lines(timers: Sequence[Timer], zone: str, now: datetime, most: int = 3) -> list[str]:
    """ "Timer: eggs, until 13:46", at most so many lines."""
    lines = [
        f"Timer: {f'{short(label, 40)}, ' if label.strip() else ''}until {words.brief(due, zone, now)}"
        for label, due in timers
    ]
    return some(lines, most, "and {} more timers")


def timers_are(answer: TimersAre) -> Said:
    lines = [
        *clock_lines(answer.clocks, answer.zone, answer.now),
        *timer_lines(answer.timers, answer.zone, answer.now, 8),
    ]
    if not lines:
        return message("No timer is running", "To set one, say for instance: timer 10 min eggs")
    return message(*lines)


def quiet_until(answer: QuietUntil) -> Said:
    if answer.until <= answer.now:
        return message("No longer quiet", "I will write whenever there is something to do.")
    return message(
        f"Quiet until {words.when(answer.until, answer.zone, answer.now)}",
        "Only what would be lost by waiting will still come, and timers.",
    )


# ---------------------------------------------------------------- help


def help_(answer: Help) -> Said:
    if not answer.ready:
        return message(
            "Tell me first where your kitchen is, and when you are awake",
            SEND_A_PLAN.replace("Send", "Then send", 1),
        )
    return message(
        "Say it as you would in the kitchen, for instance:",
        "- done, or: drained the peas at 8:40",
        "- in 10 minutes, or: remind me at 20:15",
        "- what's next, what is on tomorrow, the whole plan",
        "- when is the loaf baked, or: why so late",
        "- half an hour late, or: dinner at 20:30",
        "- skip it, the sauce is ruined, undo",
        "- timer 6 min eggs, how much salt, what do I need to buy",
        "- the soup is off the heat, soup at 30 C, stop the clock",
        "- quiet until 7 am, stop",
        SEND_A_PLAN,
    )


def no_plan(answer: NoPlan) -> Said:
    return message("There is no plan under way", SEND_A_PLAN)


def unclear(answer: Unclear) -> Said:
    if not answer.ready:
        return message("I did not understand that", "Say help to see what I understand.")
    return message(
        f"I did not understand {quoted(answer.said, 60)}",
        "Nothing was changed. Say help to see what I understand.",
        buttons=NEXT_AND_TODAY,
    )


def failed(answer: Failed) -> Said:
    return message("Please say that again", "Something went wrong on my side, and nothing was changed.")


def undelivered(answer: Undelivered) -> Said:
    return message(
        answer.what,
        "The full message would not go through; this is its first line. Say what's next for the rest.",
    )


NEXT_AND_TODAY: tuple[Button, ...] = (button("What's next", Deed(Verb.NEXT)), button("Today", Deed(Verb.DAY)))
"""For answers that know of no plan: they are about whichever is under way."""
