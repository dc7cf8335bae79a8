"""With a timetable in force: as few steps moved as can be, and those as little as can be."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scheduler.domain.progress import overdue
from scheduler.solver.ranges import DAY

if TYPE_CHECKING:
    from scheduler.solver.model import Model


def steady(model: Model) -> Any:
    """What is overdue first; then as few steps moved as can be, and those as little as can be."""
    late = [
        model.at(model.starts[link.after])
        for link in overdue(model.task.plan, model.task.progress, model.task.now)
        if link.after is not None
    ]
    moved, distance = [], []
    for step in model.waiting():
        slot = model.task.previous.slot(step.number) if model.task.previous else None
        if slot is None:
            continue
        was = model.minute(slot.start)
        start = model.at(model.starts[step.number])
        moves = model.cp.new_bool_var(f"moves{step.number}")
        model.cp.add(start == was).only_enforce_if(~moves)
        far = model.cp.new_int_var(0, 2 * (model.last - model.first) + 2 * DAY, f"far{step.number}")
        model.cp.add(far >= start - was)
        model.cp.add(far >= was - start)
        moved.append(moves)
        distance.append(far)
    reach = (2 * (model.last - model.first) + 2 * DAY) * max(1, len(distance)) + 1
    return sum(late) * reach * (len(moved) + 1) + sum(moved) * reach + sum(distance)
