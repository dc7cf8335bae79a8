"""Clocks of food out of temperature control, as a cook speaks of them, presses buttons, answers."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from scheduler.commands import Command, Understood
from scheduler.domain import clocks
from scheduler.domain.kitchen.holding import Kind
from scheduler.domain.nudges import Policy
from scheduler.ports import UnitOfWork
from scheduler.service import loose_clocks
from scheduler.service.answers import Answer, Caution, Refused
from scheduler.service.clock_answers import TENTHS, ClockRef, ClockTold, NoClock
from scheduler.service.clock_keeping import Keeper
from scheduler.service.clock_search import Known, alike, every_one, loose, meant
from scheduler.service.deeds import Deed, Verb
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View

PRESSED = {Verb.COLD: "cold", Verb.WARM: "warm", Verb.RULE: "rule"}
STARTS = {"cooling": Kind.COOLING, "out": Kind.OUT}
FIGURE = re.compile(r"(-?\d{1,3}(?:[.,]\d)?) ?(?:degrees?|°)? ?([cf])?(?:elsius|ahrenheit)?", re.IGNORECASE)
ELSEWHERE = re.compile(r"kitchen|room|here|oven|fridge|freezer|cellar|larder|outside")
NOT_RUNNING = Refused("That clock is not running any more.")


# ---------------------------------------------------------------- what was said


def follow(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """What was said of a clock: `understood.detail` begins with what of it."""
    turn.change(lambda uow: _follow(Keeper(uow, turn, scene, policy), understood))


def _follow(told: Keeper, understood: Understood) -> Answer:
    act, *rest = understood.detail.split()
    if act == "start":
        return told.start(understood, STARTS[rest[0]], " ".join(rest[1:]))
    figure = float(rest.pop(0)) if act == "reading" else None
    name = " ".join(rest)
    every = every_one(told.uow, told.scene, told.policy.rules)
    found = meant(every, told.scene, name, understood.steps)
    if not found:
        return _none(told, act, name, every)
    if len(found) > 1 and act != "ask":
        return NoClock(name, tuple(each.name for each in found))
    return _do(told, act, found[0], understood, figure)


def _none(told: Keeper, act: str, name: str, every: list[Known]) -> Answer:
    if act == "ask" and name:
        scene = told.scene
        return Caution(scene.view, scene.incoming.text, scene.now, scene.zone, told.policy.rules)
    return NoClock(name, tuple(each.name for each in every))


def _do(told: Keeper, act: str, clock: Known, understood: Understood, figure: float | None = None) -> Answer:
    at = max(told.moment(understood.at), clock.clock.started)
    if act == "reading" and figure is not None:
        return told.measure(clock, at, figure)
    if act in ("stop", "cold", "eaten"):
        return told.stop(clock, at, cold=act == "cold")
    simple: dict[str, Callable[[], Answer]] = {
        "fridge": lambda: told.in_the_cold(clock, at),
        "warm": lambda: told.ask_how_warm(clock),
        "later": lambda: told.put_off(clock, understood.until),
        "rule": lambda: told.told(ClockTold.RULE, clock),
    }
    return simple.get(act, lambda: told.told(ClockTold.ASKED, clock))()


# ---------------------------------------------------------------- what was pressed, or answered


def press(turn: Turn, scene: Scene, view: View, deed: Deed, policy: Policy) -> None:
    """A button of a message about a plan's clock."""
    ref = ClockRef(view.id, deed.step, deed.occurrence or clocks.OWN)
    turn.change(lambda uow: _press(Keeper(uow, turn, scene, policy), ref, deed))


def press_loose(turn: Turn, scene: Scene, deed: Deed, policy: Policy) -> None:
    """A button of a message about a clock that belongs to no plan: the message says which."""
    shown = loose_clocks.clock_of(scene.shown) if scene.shown is not None else None
    ref = ClockRef(loose="" if shown is None else shown.id)
    turn.change(lambda uow: _press(Keeper(uow, turn, scene, policy), ref, deed))


def _press(told: Keeper, ref: ClockRef, deed: Deed) -> Answer:
    clock = _with_ref(told, ref)
    if clock is None:
        return NOT_RUNNING
    if deed.verb is Verb.COLD and deed.minutes is not None:
        return told.measure(clock, told.moment(None), deed.minutes / TENTHS)
    return _do(told, PRESSED[deed.verb], clock, Understood(Command.CLOCK))


def answered(turn: Turn, scene: Scene, said: Understood, question: dict[str, Any], policy: Policy) -> bool:
    """Whether the words are the temperature that was asked for: a bare figure, or one as it is noted."""
    found = FIGURE.fullmatch(scene.words)
    unit = "C" if found is None or found[2] is None else found[2].upper()
    text = said.detail if found is None else f"{found[1].replace(',', '.')} {unit}"
    celsius = clocks.celsius_in(text)
    if celsius is None:
        return False
    ref = ClockRef(question["plan"], question["step"], question["number"], question["loose"])
    turn.change(lambda uow: _measured(Keeper(uow, turn, scene, policy), ref, celsius))
    return True


def _measured(told: Keeper, ref: ClockRef, celsius: float) -> Answer:
    clock = _with_ref(told, ref)
    return NOT_RUNNING if clock is None else told.measure(clock, told.moment(None), celsius)


def take_back(turn: Turn, scene: Scene, asked: dict[str, Any], policy: Policy) -> None:
    """Undo of what was just said of a clock that belongs to no plan."""
    turn.change(lambda uow: Keeper(uow, turn, scene, policy).take_back(asked))


def _with_ref(told: Keeper, ref: ClockRef) -> Known | None:
    every = every_one(told.uow, told.scene, told.policy.rules)
    found = next((each for each in every if each.ref == ref), None)
    shown = told.scene.shown
    kept = loose_clocks.clock_of(shown) if shown is not None else None
    return loose(kept, told.scene) if found is None and kept is not None and kept.id == ref.loose else found


def loose_reading(
    uow: UnitOfWork, turn: Turn, scene: Scene, understood: Understood, policy: Policy
) -> Answer | None:
    """A temperature that names no step, where it names the food of a clock which belongs to no plan."""
    celsius = clocks.celsius_in(understood.detail)
    if celsius is None:
        return None
    told = Keeper(uow, turn, scene, policy)
    loose = [each for each in every_one(uow, scene, policy.rules) if each.ref.plan is None]
    mine = [each for each in loose if alike(each.name, scene.words)]
    return told.measure(mine[0], told.moment(understood.at), celsius) if len(mine) == 1 else None


def maybe_of(view: View, text: str, said: str) -> tuple[str, Deed] | None:
    """The food, and what takes it down, that a temperature without a name may be of: the one whose clock runs."""
    celsius, every = clocks.celsius_in(text), clocks.under_way(view.plan, view.progress, view.now)
    if celsius is None or len(every) != 1 or ELSEWHERE.search(said):
        return None
    clock = every[0]
    return clock.name, Deed(Verb.COLD, view.id, clock.step, clock.number, minutes=round(celsius * TENTHS))
