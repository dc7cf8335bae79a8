"""A timetable as a picture for a phone: see `draw`."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from bot.picture.facts import Scene
from bot.picture.layout import lay_out
from scheduler.domain.plan import Plan
from scheduler.domain.timetable import Timetable

Form = Literal["png", "svg"]


def draw(plan: Plan, timetable: Timetable, *, now: datetime | None = None, form: Form = "png") -> bytes:
    """The timetable as a PNG or SVG picture, 1080 pixels wide and as tall as it needs to be.

    The days before the last are drawn over dates, the last day over hours. `now`, an aware instant, is
    marked where it falls inside. The same arguments give the same bytes. Raises ValueError for a naive
    `now` or another form.
    """
    from bot.picture import paint  # matplotlib takes a while to import

    if now is not None and now.tzinfo is None:
        raise ValueError("the present moment needs its offset from UTC")
    if form not in ("png", "svg"):
        raise ValueError(f"a picture is drawn as png or svg, not as {form!r}")
    scene = Scene(plan, timetable, now)
    return paint.painted(lay_out(scene, paint.measure), scene, form)
