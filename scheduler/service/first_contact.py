"""The first words with a cook: where they are, when they are awake, and how to send a plan."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from scheduler.commands import ZonesMeant
from scheduler.planfile import text as plantext
from scheduler.records import ChatStage
from scheduler.service import drafts, menu
from scheduler.service.answers import AskHours, Help, HoursUnclear, Settled, Welcome, ZoneUnclear
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn

Zones = Callable[[str], ZonesMeant]

Waking = Callable[[str], str | None]
"""Waking hours as a plan file writes them, from a cook's words; None when that is not certain."""

FIRST = "first contact"
YES = frozenset({"y", "yes", "yes please", "yep", "yeah", "ok", "right", "correct"})
UP_AND_TO_BED = "the hour you get up and the hour you go to bed"


def as_a_plan_has_it(said: str) -> str | None:
    """Waking hours said just as a plan file has them."""
    try:
        plantext.weekly_hours(said)
    except plantext.TextError:
        return None
    return said


def meet(turn: Turn, scene: Scene, source: bytes | None, zones: Zones, waking: Waking) -> None:
    """One step of getting to know each other. A plan that comes too early is kept and taken afterwards."""
    if source is not None:
        _note(turn, source=source.decode("utf-8", errors="replace"))
    said = "" if source is not None else scene.incoming.text.strip()
    if menu.is_command(said, "help"):
        turn.say(Help(ready=False))
    elif turn.chat.stage is ChatStage.NEW:
        turn.chat.stage = ChatStage.ZONE
        _ask_again(turn, scene)
    elif not said or menu.is_command(said, "start"):
        _ask_again(turn, scene)
    elif turn.chat.stage is ChatStage.ZONE:
        _hear_zone(turn, scene, said, zones)
    else:
        _hear_hours(turn, scene, said, waking)


def _note(turn: Turn, **known: Any) -> None:
    """Keep what there is so far: the plan that came too early, the zones that were offered."""
    turn.ask(**{**_noted(turn), **known, "kind": FIRST})


def _noted(turn: Turn) -> dict[str, Any]:
    question = turn.chat.question or {}
    return question if question.get("kind") == FIRST else {}


def _ask_again(turn: Turn, scene: Scene) -> None:
    """The question that is open, with a word about the plan that waits for its answer."""
    held = "source" in _noted(turn)
    if turn.chat.stage is ChatStage.ZONE:
        turn.say(Welcome(scene.incoming.sender, held))
    else:
        turn.say(AskHours(turn.chat.zone or "UTC", scene.now, held))


def _hear_zone(turn: Turn, scene: Scene, said: str, zones: Zones) -> None:
    zone = _picked(scene, _noted(turn).get("offered", ()))
    meant = ZonesMeant((zone,), certain=True) if zone else zones(said)
    if meant.certain:
        turn.chat.zone = meant.names[0]
        turn.chat.stage = ChatStage.HOURS
        _ask_again(turn, scene)
    else:
        _note(turn, offered=list(meant.names))
        turn.say(ZoneUnclear(said, meant.names))


def _picked(scene: Scene, offered: Sequence[str]) -> str | None:
    """One of the zones that were offered, by its number, or by yes where there is one."""
    if scene.words in YES and len(offered) == 1:
        return offered[0]
    return next((zone for number, zone in enumerate(offered, 1) if scene.words == str(number)), None)


def _hear_hours(turn: Turn, scene: Scene, said: str, waking: Waking) -> None:
    awake = waking(said)
    if awake is None:
        turn.say(HoursUnclear(said, UP_AND_TO_BED))
        return
    held = _noted(turn).get("source")
    turn.chat.awake = awake
    turn.chat.stage = ChatStage.READY
    turn.chat.question = None
    turn.say(Settled(turn.chat.zone or "UTC", awake))
    if held is not None:
        drafts.take_plan(turn, scene, str(held).encode())
