"""Setting the scene: what is known when a turn begins, read from the store."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.commands import Target
from scheduler.domain.progress import State
from scheduler.domain.stages import About
from scheduler.ports import Planner, Store, UnitOfWork
from scheduler.records import Chat, Incoming, Letter, PlanRow, PlanStatus
from scheduler.service.scene import Scene
from scheduler.service.view import View, view_of

FRESH = timedelta(hours=18)
"""How long a nudge counts as what the cook is answering."""

LATELY = 2
"""Of how many plans that are over the last mark can still be taken back."""


def scene_of(
    store: Store, chat: Chat, incoming: Incoming, now: datetime, batch: str, planner: Planner
) -> Scene:
    """The plans under way, the one spoken of first, what was asked last, and the message in hand."""
    if chat.id is None:
        raise ValueError("the chat was never stored")
    with store() as uow:
        views = [view_of(uow, row, now) for row in _under_way(uow, chat, chat.id)]
        replied = uow.outbox.by_receipt(chat.id, incoming.reply_to) if incoming.reply_to else None
        about_a_step = replied is not None and replied.step is not None
        letter = replied if about_a_step else _fresh(uow.outbox.latest_nudge(chat.id), now)
        shown = replied or (None if incoming.data else _with_buttons(uow, chat.id, now))
        draft = None if views else _draft(uow, chat.id, now)
    views.sort(key=lambda view: (letter is None or view.id != letter.plan, _soonest(view)))
    scene = Scene(chat, incoming, now, batch, tuple(views), planner, shown=shown, draft=draft)
    return replace(scene, asked=_asked(scene.view, letter), asked_letter=letter)


def led_by_plan(store: Store, scene: Scene, plan: int | None) -> Scene:
    """The scene with that plan meant first, also when it is a draft or over; never another chat's.

    Without any plan when there is no such plan; as it was when none is named.
    """
    if plan is None or (scene.view and scene.view.id == plan):
        return scene
    with store() as uow:
        row = uow.plans.get(plan)
        if row is None or row.chat != scene.chat.id:
            return replace(scene, views=())
        return scene.led_by(view_of(uow, row, scene.now))


def with_what_is_over(store: Store, scene: Scene) -> Scene:
    """The scene with the plans that ended lately: their last mark can be taken back too."""
    with store() as uow:
        rows = uow.plans.of_chat(scene.chat.id or 0, PlanStatus.FINISHED)[:LATELY]
        views = [view_of(uow, row, scene.now) for row in rows]
    over = [view for view in views if view.marks and scene.now - view.marks[-1].said < FRESH]
    return replace(scene, views=(*scene.views, *over))


def _under_way(uow: UnitOfWork, chat: Chat, number: int) -> list[PlanRow]:
    """The plans under way. Those of a cook who was away go on with this turn, before anything else is done."""
    rows = uow.plans.of_chat(number, PlanStatus.ACTIVE)
    if chat.barred is not None:
        paused = uow.plans.of_chat(number, PlanStatus.PAUSED)
        rows += [replace(row, status=PlanStatus.ACTIVE, revision=row.revision + 1) for row in paused]
    return rows


def _fresh(letter: Letter | None, now: datetime) -> Letter | None:
    """A nudge that the cook may still be answering without saying so."""
    fresh = letter is not None and letter.sent is not None and now - letter.sent <= FRESH
    return letter if fresh else None


def _with_buttons(uow: UnitOfWork, chat: int, now: datetime) -> Letter | None:
    """The last message that has buttons."""
    lately = uow.outbox.history(chat, now - FRESH)
    return next((letter for letter in reversed(lately) if letter.buttons), None)


def _draft(uow: UnitOfWork, chat: int, now: datetime) -> View | None:
    """The plan proposed last, if it can still be taken into use."""
    found = [row for row in uow.plans.of_chat(chat, PlanStatus.DRAFT) if row.timetable and row.serve > now]
    return view_of(uow, found[0], now) if found else None


def _soonest(view: View) -> datetime:
    return min((slot.start for slot in view.upcoming()), default=view.serve)


def _asked(view: View | None, letter: Letter | None) -> Target | None:
    """What the cook was last asked about, if it is still to be answered."""
    if view is None or letter is None or letter.step is None or letter.plan != view.id:
        return None
    if letter.about is About.CLOCK:
        return None  # what is said to it is about the food, not about a step
    step = view.step(letter.step)
    if letter.about is About.TEND and step.tend is not None:
        over = (step.number, letter.occurrence) in view.progress.touched
        return None if over else Target(step.number, step.tend.name, tend=True)
    over = view.progress.state(step.number) in (State.DONE, State.DROPPED)
    return None if over else Target(step.number, step.name)
