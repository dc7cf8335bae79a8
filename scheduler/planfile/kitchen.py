"""The kitchen, the zone and the serving hour of a plan file, from values that are sound by themselves."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from itertools import chain
from zoneinfo import ZoneInfoNotFoundError, available_timezones

from scheduler.domain.hours import Dated, Hours, exists, instant, zone_named
from scheduler.domain.plan import Cook, Kitchen
from scheduler.planfile.problems import nearest, quoted
from scheduler.planfile.shape import CookFile, KitchenFile
from scheduler.planfile.sheet import Sheet
from scheduler.planfile.text import key
from scheduler.planfile.yaml import Path

ONE_COOK = "Cook"


def known_zone(name: str) -> bool:
    """Whether that is the name of an IANA time zone."""
    try:
        zone_named(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False  # OSError: "Europe" is a folder of zones, and a very long name no file's
    return True


def zone_of(sheet: Sheet, name: str | None, cook_has: str) -> str | None:
    """The plan's zone, or the cook's own where it names none; None when there is no such zone."""
    if name is None or known_zone(name):
        return name or cook_has
    near = nearest(name, available_timezones(), in_part=True)
    sheet.refuse(("zone",), "the name of a time zone, such as Europe/Paris", near=near)
    return None


def serve_of(sheet: Sheet, at: datetime | None, zone: str | None) -> datetime | None:
    """The serving hour as an instant."""
    if at is None or zone is None or not _clock_shows(sheet, ("serve",), at, zone):
        return None
    return instant(at, zone)


def _clock_shows(sheet: Sheet, path: Path, at: datetime, zone: str) -> bool:
    if exists(at, zone):
        return True
    found = f"{at:%Y-%m-%d %H:%M}, which the clocks in {zone} skip as they go forward"
    sheet.refuse(path, "a time that the clocks show", found)
    return False


def kitchen_of(sheet: Sheet, written: KitchenFile | None, zone: str | None, awake: Hours) -> Kitchen:
    """Who and what there is to cook with; `awake` is the cook's own, where the file says nothing."""
    draft = written or KitchenFile.model_construct()
    up = _hours(sheet, ("kitchen", "awake"), draft.awake, zone) or awake
    away = _hours(sheet, ("kitchen", "away"), draft.away, zone)
    return Kitchen(_cooks(sheet, draft, zone, up, away), _gear(sheet, draft.gear))


def _hours(sheet: Sheet, path: Path, written: Iterable[Hours] | None, zone: str | None) -> Hours:
    items = list(written or ())
    for number, item in enumerate(items):
        ends = [end for span in item if isinstance(span, Dated) for end in (span.start, span.end)]
        for end in ends if zone else ():
            _clock_shows(sheet, (*path, number), end, zone or "")
    return tuple(chain.from_iterable(items))


def _cooks(sheet: Sheet, draft: KitchenFile, zone: str | None, up: Hours, away: Hours) -> tuple[Cook, ...]:
    if isinstance(draft.cooks, int):
        names = [ONE_COOK] if draft.cooks == 1 else [f"{ONE_COOK} {n + 1}" for n in range(draft.cooks)]
        return tuple(Cook(name, up, away) for name in names)
    own = (
        draft.cooks
        if isinstance(draft.cooks, dict)
        else dict.fromkeys(draft.cooks, CookFile.model_construct())
    )
    refuse_twins(sheet, ("kitchen", "cooks"), draft.cooks, "cooks")
    return tuple(
        Cook(
            name,
            _hours(sheet, ("kitchen", "cooks", name, "awake"), hours.awake, zone) or up,
            _hours(sheet, ("kitchen", "cooks", name, "away"), hours.away, zone) or away,
        )
        for name, hours in own.items()
    )


def _gear(sheet: Sheet, pieces: dict[str, int]) -> dict[str, int]:
    refuse_twins(sheet, ("kitchen", "gear"), pieces, "pieces of gear")
    return {key(name): count for name, count in pieces.items()}


def refuse_twins(sheet: Sheet, path: Path, names: Iterable[str], kind: str) -> None:
    """Note every name in a list or mapping that is an earlier one again, whatever the capitals."""
    seen: dict[str, str] = {}
    keyed = isinstance(sheet.at(sheet.written(path)), dict)
    for number, name in enumerate(names):
        if key(name) in seen:
            refuse = sheet.refuse_key if keyed else sheet.refuse
            refuse(
                (*path, name if keyed else number), f"{kind} with names of their own", f"{quoted(name)} again"
            )
        seen.setdefault(key(name), name)
