"""Messages taken apart, for the tests of the wording."""

from __future__ import annotations

from bot.wording import Wording
from scheduler.domain.stages import About, Nudge, Stage
from scheduler.service.answers import Answer, Consequence, Said
from scheduler.service.deeds import Deed
from scheduler.service.view import View
from tests.wording_kitchen import Kitchen, nudge

KITCHEN = Kitchen()
BEFORE = KITCHEN.fresh("11-10 08:00")
BEANS, CARROTS, LOAF = "Soak the chickpeas", "Carrots ferment", "Bake the loaf"


def put(what: Answer | Said) -> Said:
    return what if isinstance(what, Said) else Wording().answer(what)


def lines(what: Answer | Said) -> list[str]:
    return put(what).text.split("\n")


def labels(what: Answer | Said) -> list[str]:
    return [button.label for button in put(what).buttons]


def deeds(what: Answer | Said) -> list[Deed]:
    return [Deed.decode(button.data) for button in put(what).buttons]


def said(asked: Nudge, view: View, consequence: Consequence | None = None) -> Said:
    return Wording().nudge(asked, view, consequence)


def start(
    name: str, planned: str, stage: Stage = Stage.NOW, now: str | None = None, occurrence: int = 0
) -> Said:
    """The message about beginning a step, at its planned start unless told otherwise."""
    view = KITCHEN.view(now or planned, unsaid=[name])
    return said(nudge(About.START, stage, name, planned, occurrence), view)
