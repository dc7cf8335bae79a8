"""One of every message about food out of temperature control, for the gallery."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from bot.wording import Wording
from scheduler.domain.clocks import Act, OfClock
from scheduler.domain.kitchen.holding import Clock, Kind
from scheduler.domain.kitchen.rules import RULES, STRICTER
from scheduler.domain.marks import Mark, MarkKind
from scheduler.domain.stages import About, Stage
from scheduler.service import answers as say
from scheduler.service.answers import Said
from scheduler.service.clock_answers import ClockRef
from scheduler.service.clock_answers import ClockTold as Told
from tests.wording_kitchen import ZONE, Kitchen, day, nudge, step

STEW = "Bake the stew"
SINCE = day("11-20 14:00")
MIN = timedelta(minutes=1)
MEASURED = ((SINCE + 80 * MIN, 24.0),)
PLACES = {"of plan": ClockRef(7, step(STEW), 1), "loose": ClockRef(loose="telegram:1")}


def clock_messages(kitchen: Kitchen, words: Wording) -> Iterator[tuple[str, Said]]:
    """Every message by name."""
    yield from _nudges(kitchen, words)
    name = kitchen.plan.steps[step(STEW)].component
    for kind in Kind:
        for stage, minutes in ((Stage.CLOSING, 90), (Stage.MISSED, 120)):
            due = say.ClockDue(
                name, Clock(kind, SINCE), stage, SINCE + 120 * MIN, STRICTER, ZONE, SINCE + minutes * MIN
            )
            yield f"clock due {kind} {stage}", words.answer(due)
        for about in Told if kind in (Kind.COOLING, Kind.OUT) else ():
            for place, ref in PLACES.items():
                for minutes in (10, 85, 500):
                    is_list = "rule" if about is Told.RULE else "clock"
                    yield (
                        f"{is_list} {about} {kind} {place} {minutes}",
                        words.answer(_told(name, about, kind, ref, minutes)),
                    )
    for rules in RULES.values():
        told = say.ClockIs(Told.RULE, name, Clock(Kind.COOLING, SINCE), PLACES["loose"], rules, ZONE, SINCE)
        yield f"rule {rules.name}", words.answer(told)
    yield "no clock", words.answer(say.NoClock())
    yield "no clock named", words.answer(say.NoClock(name))
    yield "which clock", words.answer(say.NoClock("", (name, "rice", "soup")))
    lines = ((name, "21 C or below in the middle", SINCE + 120 * MIN),) * 5
    yield "next with clocks", words.answer(say.NextIs(kitchen.view("11-20 14:00"), (), lines))
    yield "next without plan", words.answer(say.TimersAre((), ZONE, SINCE, lines))


def _told(name: str, about: Told, kind: Kind, ref: ClockRef, minutes: int) -> say.ClockIs:
    at, now = SINCE + 90 * MIN, SINCE + minutes * MIN
    measured = about in (Told.MEASURED, Told.STOPPED)
    clock = Clock(kind, SINCE, MEASURED if measured else ())
    return say.ClockIs(about, name, clock, ref, STRICTER, ZONE, now, at, 24.0 if measured else None)


def _nudges(kitchen: Kitchen, words: Wording) -> Iterator[tuple[str, Said]]:
    for kind in Kind:
        text = OfClock(Act.START, 1, kind).as_text()
        begun = Mark(MarkKind.CLOCK, SINCE, SINCE, "clock", step(STEW), text=text)
        for stage, at in ((Stage.CLOSING, "15:30"), (Stage.WAITING, "15:45"), (Stage.MISSED, "16:00")):
            asked = nudge(About.CLOCK, stage, STEW, "11-20 16:00", 1)
            yield f"clock {kind} {stage}", words.nudge(asked, kitchen.view(f"11-20 {at}", begun))
