"""A plan file read value by value: every value sound by itself, nothing yet compared with anything else.

When values are wrong the rest is still read, so that a cook hears of everything at once: what is wrong is
noted, left out or stood in for, and the remainder read again.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from scheduler.planfile.problems import nearest, one_of
from scheduler.planfile.shape import (
    ComponentFile,
    CookFile,
    CoreFile,
    KitchenFile,
    Part,
    PlanFile,
    RipensFile,
    StepFile,
    TendFile,
)
from scheduler.planfile.sheet import Sheet, inside
from scheduler.planfile.text import TextError
from scheduler.planfile.values import MOST_AMOUNTS
from scheduler.planfile.yaml import Path

MOST_STEPS = 500

_SHAPES = {
    "list_type": "a list, each item on a line that begins with '- '",
    "too_short": "at least one",
    "too_long": f"at most {MOST_AMOUNTS} of them",
}
_NO_STEP = {"name": "(unnamed)", "unattended": "1 h"}
_NO_COMPONENT = {"name": "(unnamed)", "steps": [_NO_STEP]}
_STAND_INS: dict[str | int, object] = {
    "name": "(unnamed)",
    "title": "(untitled)",
    "crockbell": "1",
    "steps": [_NO_STEP],
}


def drafted(sheet: Sheet) -> PlanFile | None:
    """The values of a plan file; None when too little is left to make sense of.

    Whatever is wrong is noted on the sheet.
    """
    steps = [path for path in sheet.tree.values if len(path) == 4 and path[0::2] == ("components", "steps")]
    if len(steps) > MOST_STEPS:
        sheet.refuse(steps[MOST_STEPS], f"at most {MOST_STEPS}", f"{len(steps)} steps")
        return None
    try:
        return PlanFile.model_validate(sheet.tree.root)
    except ValidationError as error:
        wrong = error.errors(include_url=False, include_input=False)
    _note(sheet, wrong)
    try:
        return PlanFile.model_validate(_repaired(sheet, wrong))
    except ValidationError:
        return None  # no list of components: that has been noted, and there is nothing else to say


def _note(sheet: Sheet, wrong: list[ErrorDetails]) -> None:
    for error in wrong:
        if error["type"] == "extra_forbidden":
            _note_unknown(sheet, sheet.written(error["loc"]))
    for error in wrong:
        if error["type"] == "missing":
            _note_missing(sheet, error["loc"])
        elif error["type"] != "extra_forbidden":
            _note_value(sheet, error)


def _note_unknown(sheet: Sheet, path: Path) -> None:
    known, holds = list(_fields_of(path[:-1])), sheet.at(path[:-1])
    near = nearest(str(path[-1]), known)
    written = holds if isinstance(holds, dict) else {}
    sheet.refuse_key(path, one_of([key for key in known if key not in written] or known), near=near)
    if near is not None:
        sheet.doubt((*path[:-1], near))


def _fields_of(path: Path) -> dict[str, str]:
    """The keys that the mapping at `path` may have, and what each of them is."""
    fields = {field.alias or key: field for key, field in _model_of(path).model_fields.items()}
    meanings = {key: (field.description or "").rstrip(".") for key, field in fields.items()}
    return {key: meaning[:1].lower() + meaning[1:] for key, meaning in meanings.items()}


def _model_of(path: Path) -> type[Part]:
    match path:
        case ("kitchen",):
            return KitchenFile
        case ("kitchen", "cooks", _):
            return CookFile
        case ("components", _):
            return ComponentFile
        case ("components", _, "steps", _):
            return StepFile
        case ("components", _, "steps", _, "tend"):
            return TendFile
        case ("components", _, "steps", _, "core"):
            return CoreFile
        case ("components", _, "steps", _, "ripens"):
            return RipensFile
    return PlanFile


def _note_missing(sheet: Sheet, where: Path) -> None:
    path = (*sheet.written(where[:-1]), where[-1])
    if sheet.sound(path):
        meaning = _fields_of(path[:-1])[str(where[-1])]
        sheet.refuse(path, f"the key '{where[-1]}': {meaning}", f"no '{where[-1]}'")


def _note_value(sheet: Sheet, error: ErrorDetails) -> None:
    reason = error.get("ctx", {}).get("error")
    path = sheet.written(error["loc"])
    if not isinstance(reason, TextError):
        sheet.refuse(path, _SHAPES.get(error["type"], "keys with their values"))
    elif error["loc"][-1] == "[key]":
        sheet.refuse_key(path, reason.expected, reason.found)
    else:
        sheet.refuse(path, reason.expected, reason.found)


def _repaired(sheet: Sheet, wrong: Iterable[ErrorDetails]) -> object:
    root = deepcopy(sheet.tree.root)
    for error in wrong:
        *above, last = _replaceable(error["loc"])
        holds = inside(root, above)
        if isinstance(holds, list) and isinstance(last, int):
            holds[last] = deepcopy(_NO_STEP if len(above) > 1 else _NO_COMPONENT)
        elif isinstance(holds, dict) and last in _STAND_INS:
            holds[last] = deepcopy(_STAND_INS[last])
        elif isinstance(holds, dict):
            holds.pop(last, None)
    return root


def _replaceable(path: Path) -> Path:
    """The part of `path` down to a key of the plan, the kitchen, a component or a step."""
    match path:
        case ("components", int(), "steps", int(), *_):
            return path[:5]
        case ("components", int(), *_):
            return path[:3]
        case ("kitchen", *_):
            return path[:2]
    return path[:1]
