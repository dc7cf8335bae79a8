"""The steps of a plan file, numbered in the order they are written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.planfile.shape import ComponentFile, PlanFile, StepFile
from scheduler.planfile.yaml import Path


@dataclass(frozen=True, slots=True)
class Entry:
    """One step: its number in the plan, its component and place there, where it is written, its values."""

    number: int
    component_number: int
    place: int
    component: ComponentFile
    draft: StepFile

    @property
    def path(self) -> Path:
        return ("components", self.component_number, "steps", self.place)

    @property
    def label(self) -> str:
        """A name that is nobody else's."""
        return f"{self.component.name} / {self.draft.name}"


def outline_of(draft: PlanFile) -> list[Entry]:
    """Every step, so that `number` is its place in the list."""
    return list(_entries(draft))


def _entries(draft: PlanFile) -> Iterator[Entry]:
    number = 0
    for component_number, component in enumerate(draft.components):
        for place, step in enumerate(component.steps):
            yield Entry(number, component_number, place, component, step)
            number += 1
