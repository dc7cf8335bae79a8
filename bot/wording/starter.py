"""What messages say about a starter that ripens: how it was fed, and where its time comes from."""

from __future__ import annotations

from scheduler.changes import ChangeKind
from scheduler.planfile.ripening import by_the_rule
from scheduler.service.view import View


def fed(view: View, number: int) -> str:
    """ "Fed 1:5:5, at 22 C. How long is a rule of thumb, from memory."; nothing for any other step."""
    step = view.step(number)
    if step.ripens is None:
        return ""
    at_c = step.ripens.at_c if step.at is None else step.at
    said = f"Fed {step.ripens.feed}, at {at_c:g} C."
    if any(
        change.kind is ChangeKind.LASTS and change.step == number and change.took is not None
        for change in view.row.changes
    ):
        return f"{said} How long is counted from your own last times."
    return said if by_the_rule(step) is None else f"{said} How long is a rule of thumb, from memory."
