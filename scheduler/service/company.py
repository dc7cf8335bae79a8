"""More or fewer at the table: every amount follows, no time does; what is done already is not done again."""

from __future__ import annotations

import json
from dataclasses import replace

from scheduler.changes import Change, ChangeKind
from scheduler.commands import Understood
from scheduler.domain.nudges import Policy
from scheduler.domain.progress import Mark, MarkKind
from scheduler.planfile.values import MOST_SERVED
from scheduler.ports import UnitOfWork
from scheduler.records import PlanRow, PlanStatus
from scheduler.service import doing, drafts, timers
from scheduler.service.acting import Result
from scheduler.service.acting import Said as SaidBy
from scheduler.service.answers import Answer, Refused, ServesChanged
from scheduler.service.deeds import Deed, Verb
from scheduler.service.scene import Scene
from scheduler.service.turn import Turn
from scheduler.service.view import View, view_of

UNKNOWN = "The plan does not say how many it serves: write “serves: 8” in it, say, and send it again."


def so_many(turn: Turn, scene: Scene, understood: Understood, policy: Policy) -> None:
    """As many as was said: for the plan under way, or else for the one that was proposed."""
    view = scene.view or scene.draft
    if view is None:
        turn.say(timers.no_plan(scene))
    else:
        cook_for(turn, scene, view, understood.detail, policy)


def cook_for(turn: Turn, scene: Scene, view: View, said: str, policy: Policy) -> None:
    """Scale one plan; `said` is "10", "+2" or "-1". A question that was open about it stays open."""
    serves = _meant(view, said)
    if isinstance(serves, Refused):
        turn.say(serves)
        return
    change = Change(ChangeKind.SERVES, serves=serves)
    if view.row.status is PlanStatus.DRAFT:
        _scale_draft(turn, scene, view, change)
    else:
        result = scaled(view, change, scene.said)
        others = tuple(each.plan.title for each in scene.views if each.id != view.id)
        answer = ServesChanged(view, result.view, others)
        doing.keep(turn, replace(result, answer=answer), view, policy)


def _meant(view: View, said: str) -> int | Refused:
    before = view.plan.serves
    if before is None:
        return Refused(UNKNOWN)
    serves = before + int(said) if said[:1] in "+-" else int(said)
    if serves == before:
        return Refused(f"The plan is for {before} as it is.")
    if not 1 <= serves <= MOST_SERVED:
        return Refused(f"The plan is for {before}: say for how many it is to be, from 1 to {MOST_SERVED}.")
    return serves


def scaled(view: View, change: Change, said: SaidBy) -> Result:
    """The plan under way with its amounts scaled. The timetable stands: nothing that is timed changes."""
    mark = Mark(
        MarkKind.CHANGED, view.now, view.now, said.batch, by=said.by, text=json.dumps(change.as_json())
    )
    after = view.with_changes((*view.row.changes, change)).with_marks((mark,))
    return Result(after, ServesChanged(view, after), (mark,), save=True)


def _scale_draft(turn: Turn, scene: Scene, view: View, change: Change) -> None:
    others = tuple(each for each in view.row.changes if each.kind is not ChangeKind.SERVES)
    as_written = view.with_changes(others).plan.serves
    after = view.with_changes(others if change.serves == as_written else (*others, change))
    if view.row.timetable is None and (scene.chat.question or {}).get("kind") != "serve":
        drafts.retime(turn, scene, after, after.row)
        return
    _ask_again(turn, scene, view)

    def store(uow: UnitOfWork) -> Answer:
        stored: PlanRow = uow.plans.save(after.row, view.row.revision)
        return ServesChanged(view, view_of(uow, stored, scene.now))

    turn.change(store)


def _ask_again(turn: Turn, scene: Scene, view: View) -> None:
    """The hour is still to be said, or the plan still to be taken into use."""
    if view.row.timetable is None:
        turn.ask(kind="serve", plan=view.id)
    else:
        yes, no = Deed(Verb.USE, view.id), Deed(Verb.DISCARD, view.id)
        turn.ask(kind="confirm", yes=yes.encode(), no=no.encode())
